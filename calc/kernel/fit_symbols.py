"""Kernel room: the symbol of a hole or a shaft, `H7` or `g6`, as its letters and its grade."""

import re
from dataclasses import dataclass

from calc.kernel.errors import OutOfRange

#: Deviations of shafts in the order of the standard; holes have the same in capitals.
LETTERS = (
    "a", "b", "c", "cd", "d", "e", "ef", "f", "fg", "g", "h", "js", "j", "k", "m", "n", "p", "r", "s", "t",
    "u", "v", "x", "y", "z", "za", "zb", "zc",
)  # fmt: skip
#: Standard tolerance grades, the finest first.
GRADES = ("01", "0", *(str(grade) for grade in range(1, 19)))

_SYMBOL = re.compile(r"([A-Za-z]+)\s*([0-9]+)")
EXAMPLES = {"hole": "H7", "shaft": "g6"}


@dataclass(frozen=True, slots=True)
class Symbol:
    """One side of a fit: which side, its deviation's letters and its grade as written."""

    side: str  # "hole" or "shaft"
    letters: str
    grade: str

    @property
    def text(self) -> str:
        """As written on a drawing."""
        return f"{self.letters}{self.grade}"

    @property
    def place(self) -> int:
        """The grade as a number for comparing: IT01 is -1, IT0 is 0, IT7 is 7."""
        return GRADES.index(self.grade) - 1


def read_symbol(side: str, text: str) -> Symbol:
    """The symbol of one side; capitals are holes and small letters shafts.

    Parameters
    ----------
    side : str
        ``hole`` or ``shaft``, also the name of the entry.
    text : str
        The symbol as typed: ``H7``, ``js6``.

    Raises
    ------
    OutOfRange
        It is no symbol, or one of the other side; says what to do.
    """
    found = _SYMBOL.fullmatch(text.strip())
    if found is None:
        raise OutOfRange(
            side, f"“{text.strip()[:12]}” is no symbol of a {side}",
            f"Write the letters of the deviation and the grade, such as {EXAMPLES[side]}.",
        )  # fmt: skip
    letters, grade = found.groups()
    _check_case(side, letters, grade)
    if letters.lower() not in LETTERS:
        offered = " ".join(cased(side, one) for one in LETTERS)
        raise OutOfRange(
            side, f"ISO 286 has no {side} {letters}", f"It has {offered}, each with a grade after it."
        )
    if grade not in GRADES:
        raise OutOfRange(side, f"there is no grade IT{grade[:6]}", "Grades are 01, 0 and 1 to 18.")
    return Symbol(side, letters, grade)


def cased(side: str, letters: str) -> str:
    """Letters as that side writes them: capitals for a hole, small for a shaft."""
    return letters.upper() if side == "hole" else letters.lower()


def _check_case(side: str, letters: str, grade: str) -> None:
    """Refuse a shaft's symbol for a hole, a hole's for a shaft, and capitals mixed with small letters."""
    wanted = cased(side, letters)
    if letters == wanted:
        return
    other = "shaft" if side == "hole" else "hole"
    if letters == cased(other, letters):
        size = "a small letter" if other == "shaft" else "a capital"
        raise OutOfRange(
            side, f"{letters}{grade} is a {other}, for it has {size}",
            f"Write {wanted}{grade} if the {side} is meant, or enter {letters}{grade} as the {other}.",
        )  # fmt: skip
    raise OutOfRange(
        side, f"{letters}{grade} has a capital and a small letter",
        f"Write {wanted}{grade}: a {side} has {'capitals' if side == 'hole' else 'small letters'} only.",
    )  # fmt: skip
