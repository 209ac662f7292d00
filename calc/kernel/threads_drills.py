"""Kernel room: which drill for a thread: those tables give, those refused, and the clearance drill."""

from dataclasses import dataclass
from fractions import Fraction

from calc.kernel.drills import Drill, drill_of, nearest, stock
from calc.kernel.tables import read_table
from calc.kernel.threads import Thread, drill_name
from calc.kernel.working import COMMON

#: What is drilled for where no table gives a drill: so much of the full thread; one pitch under, metric.
USUAL_PERCENT = Fraction(75)
#: A clearance drill is so much over the thread where none was read.
CLEARANCE = Fraction(102, 100)
DERIVED = "derived"


@dataclass(frozen=True, slots=True)
class Offer:
    """A tapping drill that may be used, how it is known and what for."""

    drill: Drill
    origin: str
    use: str = ""


@dataclass(frozen=True, slots=True)
class Misprint:
    """A drill printed somewhere for the thread, and why it is not used."""

    drill: Drill
    why: str


def tapping_drills(thread: Thread) -> list[Offer]:
    """The drills of the thread's own table, the one for steel first; none is below the core."""
    listed = [
        Offer(drill_of("thread", one.drill), one.origin, one.use)
        for one in thread.drills
        if drill_of("thread", one.drill).mm >= thread.core
    ]
    return listed or [_worked_out(thread)]


def _worked_out(thread: Thread) -> Offer:
    """The drill nearest to the usual hole, where no table gives one."""
    if thread.series == "M":
        hole = thread.major - thread.pitch
    else:
        hole = thread.hole(USUAL_PERCENT, thread.form.other or thread.form.full)
    core = thread.core
    return Offer(nearest([drill for drill in stock() if drill.mm >= core], hole), DERIVED)


def below_core(thread: Thread) -> list[Drill]:
    """Drills printed in the thread's own table that are below its core."""
    listed = [drill_of("thread", one.drill) for one in thread.drills]
    return [drill for drill in listed if drill.mm < thread.core]


def misprints(thread: Thread) -> list[Misprint]:
    """Drills printed elsewhere for this thread that do not suit it."""
    return [
        Misprint(drill_of("thread", drill_name(row["drill"])), row["why"])
        for row in read_table("thread_misprints", "drills").rows
        if row["thread"] == thread.name
    ]


def clearance_drill(thread: Thread) -> Offer | None:
    """The drill a screw goes through freely; None where the table of drills has none so large."""
    if thread.clearance is not None:
        return Offer(drill_of("thread", thread.clearance.drill), thread.clearance.origin)
    least = CLEARANCE * thread.major
    found = next((drill for drill in stock() if drill.mm >= least), None)
    return Offer(found, COMMON) if found else None


def across_flats(thread: Thread) -> tuple[Fraction, str] | None:
    """Across the flats of the hexagon, and how it is known; None where no figure is kept. [mm]"""
    for row in read_table("spanners", "flats").rows:
        if row["series"] == thread.series and row["size"] == thread.size:
            size = sum((Fraction(part) for part in row["across_flats"].split()), Fraction())
            return size * (1 if row["unit"] == "mm" else Fraction(254, 10)), row["origin"]
    return None
