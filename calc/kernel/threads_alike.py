"""Kernel room: threads that start in one another by hand and are not the same."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from calc.kernel.tables import read_table
from calc.kernel.threads import Thread, threads
from calc.kernel.wording import decimal_text, fixed


@dataclass(frozen=True, slots=True)
class Alike:
    """Another thread that may be taken for this one."""

    thread: Thread
    apart_percent: Fraction  # over the thread, in per cent of the larger
    is_same: bool  # the same form, diameter and pitch under another name
    origin: str


def look_alikes(thread: Thread) -> list[Alike]:
    """The threads a list of pairs puts beside this one, the nearest first."""
    by_name = {one.name: one for one in threads()}
    found = [
        _alike(thread, by_name[other], row["origin"])
        for row in read_table("thread_pairs", "pairs").rows
        for one, other in ((row["one"], row["other"]), (row["other"], row["one"]))
        if one == thread.name
    ]
    return sorted(found, key=lambda one: (not one.is_same, one.apart_percent, one.thread.name))


def _alike(thread: Thread, other: Thread, origin: str) -> Alike:
    larger = max(thread.major, other.major)
    same = (thread.form, thread.major, thread.pitch) == (other.form, other.major, other.pitch)
    return Alike(other, 100 * abs(thread.major - other.major) / larger, same, origin)


def row_of(alike: Alike) -> Mapping[str, object]:
    """A look-alike as the results hold it."""
    other = alike.thread
    return {
        "thread": other.name,
        "major_diameter_mm": float(other.major),
        "pitch_mm": float(other.pitch),
        "flank_angle_deg": float(other.form.angle_deg),
        "apart_percent": float(alike.apart_percent),
        "is_same": alike.is_same,
        "origin": alike.origin,
    }


def words_of(thread: Thread, alike: Alike) -> str:
    """How a look-alike differs, in words: ``M6x1 (5.5 % smaller, pitch 1 mm, 60°)``."""
    other = alike.thread
    which = "smaller" if other.major < thread.major else "larger"
    apart = (
        f"{fixed(alike.apart_percent, 1)} % {which}" if alike.apart_percent else "the same over the thread"
    )
    tpi = f"{decimal_text(other.tpi, 2)} to the inch" if other.tpi else f"{decimal_text(other.pitch, 4)} mm"
    return f"{other.name} ({apart}, pitch {tpi}, {decimal_text(other.form.angle_deg, 1)}°)"
