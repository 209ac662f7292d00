"""Kernel room: what the builder must know about a fit before cutting."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from calc.kernel.fit_tables import MEMORY, NAMES
from calc.kernel.fit_words import micrometres, size_text
from calc.kernel.fit_zones import Zone
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text
from calc.kernel.working import Caution


def cautions(zones: Sequence[Zone], measured: tuple[Zone, Fraction] | None) -> Iterator[Caution]:
    """Every caution of a fit, the weightiest first.

    Parameters
    ----------
    zones : sequence of Zone
        The sides that were entered.
    measured : (Zone, Fraction), optional
        The side that is made already, and its size. [mm]
    """
    if measured is not None:
        yield from _of_measured(*measured)
    yield from _of_memory(zones)
    for found in zones:
        yield from _of_halving(found)


def _both(mm: Fraction) -> str:
    return f"{size_text(mm)} mm ({decimal_text(mm / INCH, 4)} in)"


def _of_measured(found: Zone, size: Fraction) -> Iterator[Caution]:
    """That the side already made is outside its own grade, and whether it can still be put right."""
    side, symbol = found.symbol.side, found.symbol.text
    other = "shaft" if side == "hole" else "hole"
    still = f"The {other} is worked out to suit it all the same."
    if size > found.upper:
        can = "" if side == "hole" else " It can still be turned down."
        text = f"The {side} is already over its upper limit by {_both(size - found.upper)}"
        yield Caution(
            code=f"{side}-over", text=f"{text}: {symbol} ends at {_both(found.upper)}.{can} {still}"
        )
    elif size < found.lower:
        can = "" if side == "shaft" else " It can still be opened out."
        text = f"The {side} is under its lower limit by {_both(found.lower - size)}"
        yield Caution(
            code=f"{side}-under",
            text=f"{text}: {symbol} begins at {_both(found.lower)}.{can} {still}",
        )


def _of_memory(zones: Sequence[Zone]) -> Iterator[Caution]:
    """That a cell in use was remembered, not read."""
    remembered = dict.fromkeys(one for found in zones for one in found.cells if one.how == MEMORY)
    for one in remembered:
        yield Caution(
            code="from-memory",
            text=(
                f"{one.column} {one.span} stands in the {NAMES[one.table]} from memory: no page of it "
                "was read. Look it up in the standard before the work depends on it."
            ),
        )


def _of_halving(found: Zone) -> Iterator[Caution]:
    """That an odd grade is halved exactly, where the older text let it be rounded."""
    grade = found.tolerance_um
    is_odd = grade.denominator == 1 and grade.numerator % 2 == 1
    if found.symbol.letters.lower() == "js" and is_odd and 7 <= found.symbol.place <= 11:
        text = (
            f"{found.symbol.text} is half of {micrometres(grade)} µm each way, exactly "
            f"{micrometres(grade / 2)}. The older text let it be halved from the even figure below, "
            f"to {micrometres((grade - 1) / 2)} (Machine Drawing, note to the tables)."
        )
        yield Caution(code="js-halved", text=text)
