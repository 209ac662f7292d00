"""Kernel room: from a finished size to the casting's, and from that to the pattern's."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from calc.kernel.bolt_circle import unit_of
from calc.kernel.casting_books import (
    ALLOWANCES,
    CONTRACTION,
    CORE,
    METALS,
    Book,
    Left,
    agreed,
    books,
    contraction_text,
    left_on,
)
from calc.kernel.casting_cautions import cautions
from calc.kernel.errors import NoSolution, NotInTable, OutOfRange, check_within
from calc.kernel.threads_lines import Lines
from calc.kernel.wording import decimal_text
from calc.kernel.working import LOOKED_UP, Outcome, Step, line

SIZE_MM = (Fraction(1), Fraction(5000))
SIZE_REASON = "It is the size on the drawing, as the finished part has it."
FACES = (0, 2)
FACES_REASON = "A size has two ends: count those that are machined; a diameter has both."
ALLOWANCE_MM = (Fraction(1, 10), Fraction(25))
ALLOWANCE_REASON = "It is what is left on one face; a diameter has it twice."
CONTRACTION_IN_FT = (Fraction(1, 100), Fraction(1, 2))
CONTRACTION_REASON = "It is inches to the foot of casting, as on a contraction rule: 3/32, 1/8."
SURFACES = ("outside", "bore")


@dataclass(frozen=True, slots=True, kw_only=True)
class Cast:
    """One size of a casting; millimetres, and inches to the foot."""

    finished: Fraction
    metal: str
    faces: int
    is_bore: bool
    contraction: Fraction
    is_own: bool  # the contraction is the builder's choice
    left: Left | None  # the row of the table
    core: Left | None
    allowance: Fraction | None  # on one face; none where none is machined
    entered: Fraction | None  # the same as it was entered

    def casting(self, faces: int) -> Fraction:
        """The size of the casting with so many faces machined."""
        added = faces * (self.allowance or Fraction())
        return self.finished - added if self.is_bore else self.finished + added

    def pattern(self, faces: int, contraction: Fraction | None = None) -> Fraction:
        """The size of the pattern, or of the core box."""
        return self.casting(faces) * (1 + (self.contraction if contraction is None else contraction) / 12)


def casting_allowance(
    *,
    finished_size: Fraction,
    metal: str,
    faces: int,
    surface: str = "outside",
    contraction: Fraction | None = None,
    allowance: Fraction | None = None,
) -> Outcome:
    """The size of the casting and of its pattern, for one finished size.

    Where the books differ about the metal the contraction must be entered: none is taken unasked.

    Parameters
    ----------
    finished_size : Fraction
        On the drawing. [mm] 1 mm to 5000 mm
    metal : str
        Of the casting. [-] cast-iron or steel or brass or yellow-brass or bronze or gunmetal
        or manganese-bronze or aluminium or zinc or lead or tin
    faces : int
        How many ends of this size are machined; two on a diameter. [count] 0 to 2
    surface : str
        A bore is cast smaller. [-] outside or bore
    contraction : Fraction, optional
        Inches to the foot of casting. [inch per foot] 0.01 in/ft to 0.5 in/ft
    allowance : Fraction, optional
        To be machined off one face. [mm] 0.1 mm to 25 mm

    Returns
    -------
    Outcome
        ``allowance_mm`` [millimetre] on one face, none where none is machined; ``allowance_low_mm``
        [millimetre] and ``allowance_high_mm`` [millimetre] of the table, none where it has no row;
        ``casting_size_mm`` [millimetre]; ``contraction_in_ft`` [inch per foot]; ``pattern_size_mm``
        [millimetre]; ``pattern_one_face_mm`` [millimetre] and ``pattern_both_faces_mm`` [millimetre], what
        the pattern is with the allowance once and twice, none where no face is machined;
        ``contractions`` [-], a row to a book: its contraction, and the pattern by it.

    Raises
    ------
    OutOfRange
        An entry is outside its limits, or the books differ and no contraction was entered.
    NotInTable
        There is no allowance for this metal at this size: enter one.
    NoSolution
        The allowance fills the bore.

    Notes
    -----
    Casting = finished + faces × allowance, for a bore less; pattern = casting × (1 + contraction / 12).
    Without an entry the allowance is the most of the table: what is left can be taken off. A bore from a
    core has the allowance for cores besides.

    Examples
    --------
    >>> casting_allowance(finished_size=Fraction(96), metal="tin", faces=0).results["pattern_size_mm"]
    97.5

    Sources
    -------
    contraction, by four books.
    finish_allowances, read and from memory.

    Checks
    ------
    contraction#narrow, contraction#wide, finish_allowances#iron-diameter, finish_allowances#one-face
    """
    task = _task(finished_size, metal, faces, surface, contraction, allowance)
    if task.casting(faces) <= 0:
        raise NoSolution(
            f"The allowance on {faces} faces fills the bore of {decimal_text(finished_size, 3)} mm.",
            ["Cast it solid, and drill it.", "A lesser allowance."],
        )
    return Outcome(
        results=_results(task),
        working=tuple(_working(task)),
        warnings=tuple(
            cautions(
                metal=metal, faces=faces, is_bore=task.is_bore, contraction=task.contraction, left=task.left,
                entered=task.entered, casting=task.casting(faces),
                patterns=(task.pattern(1), task.pattern(2)),
            )
        ),
        sources=(CONTRACTION, ALLOWANCES) if task.left else (CONTRACTION,),
    )  # fmt: skip


def _task(
    finished: Fraction, metal: str, faces: int, surface: str, contraction: Fraction | None,
    allowance: Fraction | None,
) -> Cast:  # fmt: skip
    for field, value, limits, unit, reason in (
        ("finished_size", finished, SIZE_MM, " mm", SIZE_REASON),
        ("faces", Fraction(faces), FACES, "", FACES_REASON),
        ("contraction", contraction, CONTRACTION_IN_FT, " in/ft", CONTRACTION_REASON),
        ("allowance", allowance, ALLOWANCE_MM, " mm", ALLOWANCE_REASON),
    ):
        check_within(field, value, limits, unit, reason)
    for field, chosen, choices in (("metal", metal, METALS), ("surface", surface, SURFACES)):
        if chosen not in choices:
            raise OutOfRange(field, " or ".join(choices), "It is one of the choices.")
    if allowance is not None and not faces:
        raise OutOfRange("allowance", "left out", "No face is machined, so nothing is left on one.")
    left = left_on(metal, finished) if faces else None
    core = left_on(CORE, finished) if left and surface == "bore" else None
    return Cast(
        finished=finished, metal=metal, faces=faces, is_bore=surface == "bore",
        contraction=_chosen(metal) if contraction is None else contraction, is_own=contraction is not None,
        left=left, core=core, allowance=_allowance(metal, faces, left, core, allowance), entered=allowance,
    )  # fmt: skip


def _chosen(metal: str) -> Fraction:
    """The contraction that every book has; where they differ the builder is asked."""
    found = agreed(metal)
    if found is None:
        said = "; ".join(f"{book.text} by {book.where}" for book in books(metal))
        raise OutOfRange(
            "contraction",
            f"to be chosen, inches to the foot, for {metal.replace('-', ' ')}",
            f"The books differ: {said}. Enter the one to work to, best the foundry’s own.",
        )
    return found


def _allowance(
    metal: str, faces: int, left: Left | None, core: Left | None, entered: Fraction | None
) -> Fraction | None:
    """What is left on one face: as entered, else the most of the table, with what a core wants."""
    if not faces or entered is not None:
        return entered
    if left is None:
        raise NotInTable(
            "allowance",
            f"The table has no allowance for {metal.replace('-', ' ')} of this size: enter what to leave on "
            "a face.",
        )
    return left.high + (core.high if core else 0)


def _results(task: Cast) -> dict[str, Any]:
    core = task.core
    low, high = (
        (task.left.low + (core.low if core else 0), task.left.high + (core.high if core else 0))
        if task.left else (None, None)
    )  # fmt: skip
    both = [None if not task.faces else float(task.pattern(faces)) for faces in (1, 2)]
    return {
        "allowance_mm": None if task.allowance is None else float(task.allowance),
        "allowance_low_mm": None if low is None else float(low),
        "allowance_high_mm": None if high is None else float(high),
        "casting_size_mm": float(task.casting(task.faces)),
        "contraction_in_ft": float(task.contraction),
        "pattern_size_mm": float(task.pattern(task.faces)),
        "pattern_one_face_mm": both[0],
        "pattern_both_faces_mm": both[1] if both[1] is None or both[1] > 0 else None,
        "contractions": [_of_book(task, book) for book in books(task.metal)],
    }


def _of_book(task: Cast, book: Book) -> dict[str, Any]:
    return {
        "book": book.where,
        "contraction": book.text,
        "low_in_ft": float(book.low),
        "high_in_ft": float(book.high),
        "pattern_low_mm": float(task.pattern(task.faces, book.low)),
        "pattern_high_mm": float(task.pattern(task.faces, book.high)),
    }


# ---- the working -----------------------------------------------------------------------------------------


def _working(task: Cast) -> list[Step]:
    lines = Lines(unit_of(task.finished))
    if task.allowance is not None and task.entered is None and task.left:
        lines.table("Left on a face, the most of the table", task.left.high, _where(task.left))
        if task.core:
            lines.table("Besides, for a core, the most", task.core.high, _where(task.core))
            lines.length("Allowance on a face", "face + core", "{} + {}", [task.left.high, task.core.high],
                         lambda face, core: face + core)  # fmt: skip
    casting = task.casting(task.faces)
    if task.allowance is not None:
        sign, way = ("−", -1) if task.is_bore else ("+", 1)
        lines.length(
            "Casting size", f"finished size {sign} faces × allowance", f"{{}} {sign} {task.faces} × {{}}",
            [task.finished, task.allowance],
            lambda size, left: size + way * task.faces * left,
        )  # fmt: skip
    shrink = contraction_text(task.contraction)
    if not task.is_own:
        where = " and ".join(book.where for book in books(task.metal))
        lines.steps.append(line("Contraction", LOOKED_UP, shrink, shrink, "in/ft", f"{where}, read"))
    _pattern_line(lines, "Pattern size", casting, task.contraction, "worked here in exact fractions")
    every = books(task.metal)
    for value in dict.fromkeys(value for book in every for value in (book.low, book.high)):
        where = " and ".join(book.where for book in every if value in (book.low, book.high))
        label = f"Pattern by {contraction_text(value)} in/ft"
        _pattern_line(lines, label, casting, value, f"{where}, read")
    return lines.steps


def _pattern_line(lines: Lines, label: str, casting: Fraction, value: Fraction, source: str) -> None:
    shrink = contraction_text(value)
    own = "contraction" if label == "Pattern size" else shrink
    lines.length(
        label, f"casting size × (1 + {own} / 12)", f"{{}} × (1 + {shrink} / 12)", [casting],
        lambda size: size * (1 + value / 12), source,
    )  # fmt: skip


def _where(left: Left) -> str:
    return f"{left.where}, read" if left.origin == "read" else f"{left.where}, from memory"
