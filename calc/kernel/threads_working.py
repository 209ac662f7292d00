"""Kernel room: the sizes of a thread, line by line, from its pitch and its form."""

from fractions import Fraction

from calc.kernel.drills import Drill
from calc.kernel.tables import read_source
from calc.kernel.threads import Thread
from calc.kernel.threads_lines import Lines
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text
from calc.kernel.working import WORKED_HERE

#: The words a line uses for the number of threads to the inch.
TPI = "threads to the inch"


def part_text(part: Fraction) -> str:
    """A figure of a form in pitches, all its places: ``1.280654``, ``1.2``."""
    return decimal_text(part, 6)


def sizes(lines: Lines, thread: Thread) -> None:
    """The pitch, the diameters and the depth."""
    source = read_source(thread.source).short
    lines.table("Diameter over the thread", thread.major, source)
    _pitch(lines, thread, source)
    part = part_text(thread.form.pitch_part)
    if thread.form.radius is not None:
        lines.length(
            "Depth of the thread" + (", rounded to 0.001 mm first" if thread.rounded else ""),
            f"{part} × pitch", f"{part} × {{}}", [thread.pitch],
            lambda pitch: thread.form.pitch_part * pitch, source,
        )  # fmt: skip
        _less(lines, thread, "Pitch diameter", thread.drop, "depth", 1)
        _less(lines, thread, "Core diameter", thread.drop, "depth", 2)
        return
    for label, part_of_pitch in (
        ("Pitch diameter", thread.form.pitch_part),
        ("Core diameter, of the nut", thread.form.full),
        ("Diameter at the root of the screw", thread.form.root),
    ):
        _under(lines, thread, label, part_of_pitch, source)


def _pitch(lines: Lines, thread: Thread, source: str) -> None:
    if thread.tpi is None:
        lines.table("Pitch", thread.pitch, source)
        return
    inch = "1" if thread.unit == INCH else "25.4"
    lines.length(
        "Pitch", f"{inch} / {TPI}", f"{inch} / {{}}", [], lambda tpi: Fraction(inch) / tpi, plain=[thread.tpi]
    )


def _less(lines: Lines, thread: Thread, label: str, depth: Fraction, word: str, times: int) -> None:
    """The diameter less so many depths."""
    many = f"{times} × " if times > 1 else ""
    lines.length(
        label, f"major diameter − {many}{word}", f"{{}} − {many}{{}}", [thread.major, depth],
        lambda major, deep: major - times * deep, WORKED_HERE,
    )  # fmt: skip


def _under(lines: Lines, thread: Thread, label: str, part: Fraction, source: str) -> None:
    """The diameter less so much of the pitch."""
    text = part_text(part)
    lines.length(
        label, f"major diameter − {text} × pitch", f"{{}} − {text} × {{}}", [thread.major, thread.pitch],
        lambda major, pitch: major - part * pitch, source,
    )  # fmt: skip


def engagement(lines: Lines, thread: Thread, drill: Drill, base: Fraction) -> None:
    """How much of the full thread a drill leaves."""
    text = part_text(base)
    lines.per_cent(
        f"Engagement left by the drill {drill.name}, of {text} pitches",
        f"100 × (major diameter − drill) / ({text} × pitch)",
        f"100 × ({{}} − {{}}) / ({text} × {{}})",
        [thread.major, drill.mm, thread.pitch],
        lambda major, hole, pitch: 100 * (major - hole) / (base * pitch),
    )


def wanted_hole(lines: Lines, thread: Thread, wanted: Fraction, base: Fraction) -> None:
    """The hole that leaves the engagement wanted."""
    text, per_cent = part_text(base), decimal_text(wanted, 4)
    lines.length(
        f"Hole for {per_cent} % of {text} pitches",
        f"major diameter − {text} × pitch × engagement / 100",
        f"{{}} − {text} × {{}} × {{}} / 100",
        [thread.major, thread.pitch],
        lambda major, pitch, share: major - base * pitch * share / 100,
        plain=[wanted],
    )
