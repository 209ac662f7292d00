"""Kernel room: the lines of working and what a sum hands back."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any

from calc.kernel.wording import fixed

WORKED_HERE = "worked here in exact fractions"
COMMON = "common practice, no source"
#: What a line says in place of a formula when its figure is read in a table.
LOOKED_UP = "from the table"
#: Places a figure is written out to in full, and the most that one is written to.
_IN_FULL, _MOST_PLACES = 6, 17


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One line of working: what it is, the formula, the figures, the value, its source."""

    label: str  # "Turns of the crank for one division"
    formula: str  # "ratio / divisions"
    figures: str  # "40 / 84"
    value: str  # "10/21", as shown; the next line uses the unrounded figure
    unit: str  # "turn"; "" for a bare count
    source: str  # in words: title and page, "common practice, no source", "worked here in exact fractions"


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution:
    """Something the builder must know about the answer."""

    code: str  # "no-plain", stable, for programs
    text: str  # one or two sentences, for people


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What a sum hands back: results by name, its working, warnings and source keys."""

    results: Mapping[str, Any]
    working: tuple[Step, ...]
    warnings: tuple[Caution, ...] = ()
    sources: tuple[str, ...] = field(default=())


def line(
    label: str, formula: str, figures: str, value: str, unit: str = "", source: str = WORKED_HERE
) -> Step:
    """One line of working; its source is the sum itself unless another is named."""
    return Step(label=label, formula=formula, figures=figures, value=value, unit=unit, source=source)


def figure(value: Fraction, places: int, least: int = 0) -> str:
    """A figure as it goes into a sum: all its places where they are few, else to so many."""
    for few in range(least, _IN_FULL + 1):
        if (value * 10**few).denominator == 1:
            return fixed(value, few)
    return fixed(value, places)


def figures_enough(
    values: Sequence[Fraction], worked: Callable[..., Fraction], places: int, fewest: int
) -> tuple[list[str], str]:
    """The figures of a sum, with as many places as it takes to give the value shown, and that value."""
    shown = fixed(worked(*values), places)
    for few in range(fewest, _MOST_PLACES + 1):
        written = [figure(value, few) for value in values]
        if _gives([Fraction(one.replace("−", "-")) for one in written], worked, places) == shown:
            break
    return written, shown


def _gives(figures: Sequence[Fraction], worked: Callable[..., Fraction], places: int) -> str:
    """What figures come to; nothing where one that is divided by was rounded to nought."""
    try:
        return fixed(worked(*figures), places)
    except ZeroDivisionError:
        return ""
