"""Kernel room: the cutter for a bevel or a helical gear, by its formative number of teeth, never rounded."""

from collections.abc import Iterator
from typing import Any

from calc.kernel.spur_gear_cutters import Cutter, cutter_for, cutters
from calc.kernel.spur_gear_entries import MILLING, figure, line
from calc.kernel.wording import fixed
from calc.kernel.working import Caution, Step

#: Nearer to a whole number than this, it is that number: a float that should be 135 may be a hair below.
HAIR = 1e-9


def snapped(teeth: float) -> float:
    """A formative number as it is, or the whole number that it misses only by a float's last places."""
    whole = round(teeth)
    return float(whole) if abs(teeth - whole) <= HAIR * teeth else teeth


def cutter_results(teeth: float, cutter_set: str) -> dict[str, Any]:
    """The cutter under the names of the results; none where the teeth are fewer than any range."""
    cutter = cutter_for(teeth, cutter_set)
    return {
        "cutter_number": cutter.number if cutter else None,
        "cutter_from_teeth": cutter.lowest if cutter else None,
        "cutter_to_teeth": cutter.highest if cutter else None,
    }


def next_cutter(teeth: float, cutter_set: str) -> Cutter | None:
    """The next cutter up where the number falls between two ranges; None where it lies inside one."""
    cutter = cutter_for(teeth, cutter_set)
    if cutter is None or cutter.highest is None or teeth <= cutter.highest:
        return None
    return cutter_for(cutter.highest + 1, cutter_set)


def cutter_line(label: str, teeth: float, cutter_set: str) -> Step | None:
    """The line that picks the cutter, ``label`` before its number and range; None where none serves."""
    cutter = cutter_for(teeth, cutter_set)
    if cutter is None:
        return None
    lows = ", ".join(str(one.lowest) for one in cutters(cutter_set))
    return line(
        f"{label} {cutter.number}, marked {cutter.range_text}: where its range begins",
        (
            "the greatest lowest number not above the formative teeth",
            f"the greatest of {lows} not above {figure(teeth)}",
        ),
        str(cutter.lowest),
        unit="teeth",
        source=MILLING,
    )


def cutter_cautions(called: str, teeth: float, cutter_set: str, *, is_metric: bool) -> Iterator[Caution]:
    """What must be known about the cutter: none serves, between two ranges, numbered the other way."""
    cutter, raw = cutter_for(teeth, cutter_set), fixed(teeth, 2)
    if cutter is None:
        yield Caution(
            code="no-cutter",
            text=(
                f"{called}, formative {raw}: no cutter of the set serves so few, the sets begin at 12. It "
                "wants a form tool made for it, or generating."
            ),
        )
        return
    other = next_cutter(teeth, cutter_set)
    if other is not None:
        yield Caution(
            code="cutter-between",
            text=(
                f"{called}, formative {raw}, falls between two ranges: No. {cutter.number}, "
                f"{cutter.range_text}, is taken and not No. {other.number}, {other.range_text}, because a "
                "cutter for more teeth than there are leaves the flanks too straight. It is never rounded up."
            ),
        )
    reversed_number = cutter.reversed_number
    if is_metric and reversed_number:
        yield Caution(
            code="numbered-other-way",
            text=(
                "Some metric sets are numbered the other way, 1 for 12 and 13 teeth and 8 for a rack (from "
                f"memory): there {called[0].lower()}{called[1:]} take No. {reversed_number}. Go by the range "
                f"marked on the cutter, {cutter.range_text}, not by its number."
            ),
        )
