"""Kernel room: what must be known before a pattern is made to a size."""

from fractions import Fraction

from calc.kernel.casting_books import Left, books, contraction_text
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, mixed_text
from calc.kernel.working import Caution


def cautions(
    *,
    metal: str,
    faces: int,
    is_bore: bool,
    contraction: Fraction,
    left: Left | None,
    entered: Fraction | None,
    casting: Fraction,
    patterns: tuple[Fraction, Fraction],
) -> list[Caution]:
    """Every caution, the weightiest first.

    Parameters
    ----------
    metal : str
        Of the casting.
    faces : int
        How many are machined.
    is_bore : bool
        Whether it is cast smaller.
    contraction : Fraction
        In use. [inch per foot]
    left : Left or None
        The row of the table.
    entered : Fraction or None
        The allowance the builder entered. [mm]
    casting : Fraction
        Its size. [mm]
    patterns : tuple of Fraction
        The pattern with the allowance once and twice. [mm]
    """
    found = []
    if faces:
        found.append(_one_or_both(faces, patterns))
    found.append(
        Caution(
            code="already-included",
            text="If the size entered has contraction in it already, as a pattern’s drawing or a size taken "
            f"with a contraction rule has, nothing more goes on: the pattern is then {_both(casting)}.",
        )
    )
    found += _of_books(metal, contraction)
    found += _of_allowance(left, entered, is_bore)
    return found


def _one_or_both(faces: int, patterns: tuple[Fraction, Fraction]) -> Caution:
    once, twice = patterns
    said = (
        f"machined on one face. On both, as on a diameter, the pattern would be {_both(twice)}"
        if faces == 1
        else f"machined on both faces, as on a diameter. On one alone the pattern would be {_both(once)}"
    )
    return Caution(code="one-or-both", text=f"The allowance is of one face: this size is {said}.")


def _of_books(metal: str, contraction: Fraction) -> list[Caution]:
    every = books(metal)
    found = []
    if len({(book.low, book.high) for book in every}) > 1:
        said = "; ".join(f"{book.text} by {book.where}" for book in every)
        found.append(
            Caution(
                code="books-differ",
                text=f"The books differ, inches to the foot: {said}. In use: "
                f"{contraction_text(contraction)}. A thin or cored casting is held back by its mould and "
                "shrinks less, common practice: ask the foundry.",
            )
        )
    if not any(book.low <= contraction <= book.high for book in every):
        found.append(
            Caution(
                code="in-no-book",
                text=f"No book read here has {contraction_text(contraction)} in to the foot for "
                f"{metal.replace('-', ' ')}.",
            )
        )
    return found


def _of_allowance(left: Left | None, entered: Fraction | None, is_bore: bool) -> list[Caution]:
    if left is None:
        return []
    origin = f"read in {left.where}" if left.origin == "read" else f"from memory, {left.where}"
    span = f"{_inches(left.low)} to {_inches(left.high)} in a face, {origin}"
    if entered is None:
        core = " A core wants 1/32 to 1/16 in more, from memory; the most is in use." if is_bore else ""
        return [
            Caution(
                code="allowance-from-table",
                text=f"The table has {span}; the most is in use, since metal can be taken off.{core}",
            )
        ]
    if entered < left.low:
        return [
            Caution(
                code="allowance-small",
                text=f"Less than the table’s {span}: the tool must get under the skin, which is hard and has "
                "sand in it.",
            )
        ]
    return []


def _inches(mm: Fraction) -> str:
    return mixed_text(mm / INCH)


def _both(mm: Fraction) -> str:
    """A length in inches and millimetres: ``12.63 in (320.81 mm)``."""
    if mm <= 0:
        return "nothing"
    return f"{decimal_text(mm / INCH, 3)} in ({decimal_text(mm, 2)} mm)"
