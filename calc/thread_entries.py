"""Calc room: threads and drills as a builder writes them, to the names the kernel knows, with an echo."""

import re
from collections.abc import Iterator
from fractions import Fraction

from calc import measures
from calc.calculation import Input
from calc.kernel.drills import MOST, SIZE_REASON, Drill, drill_of, name_of, size_text, table
from calc.kernel.errors import NotInTable, OutOfRange
from calc.kernel.threads import Thread
from calc.kernel.threads_names import thread_named
from calc.kernel.units import Unit
from calc.kernel.wording import decimal_text, mixed_text

LIST_HINT = "Write drills with commas, and runs of them: #1 to #60, A to Z, 1/16 to 1/2 in by 1/32."
#: A drill larger than this was meant in another unit, or by its number.
_LIKELY = Fraction(80)
_NUMBER = re.compile(r"(?:#|(?:no|number)\b\.?)\s*([0-9]{1,2})", re.IGNORECASE)
_LETTER = re.compile(r"(?:letter\s+)?([A-Z])(?:\s+drill)?", re.IGNORECASE)


def read_thread(_field: Input, text: str) -> tuple[str, str]:
    """A thread, by the name that can be read in one way only: ``1/4 BSF``."""
    try:
        thread = thread_named(text)
    except (OutOfRange, NotInTable) as error:
        raise measures.EntryError(str(error)) from error
    return thread.name, f"{thread.name}, {_pitch_words(thread)}"


def _pitch_words(thread: Thread) -> str:
    if thread.tpi is not None:
        return f"{mixed_text(thread.tpi)} threads to the inch"
    return f"pitch {decimal_text(thread.pitch, 4)} mm"


def read_drill(_field: Input, text: str, unit: Unit) -> tuple[str, str]:
    """One drill, by its name: ``#24``, ``Q``, ``7/32``, ``5.1 mm``."""
    drill = _drill(text, unit)
    return drill.name, size_text(drill)


def read_drills(field: Input, text: str, unit: Unit) -> tuple[tuple[str, ...], str]:
    """Drills owned, with commas, and runs of them: ``#1 to #60, 1/16 to 1/2 in by 1/64, 5.1 mm``."""
    if len(text) > measures.LONGEST_LIST:
        raise measures.EntryError(
            f"That is {len(text)} characters long, and {measures.LONGEST_LIST} are the most. {LIST_HINT}"
        )
    names: dict[str, None] = {}
    for piece in text.split(","):
        if not piece.strip():
            raise measures.EntryError(f"There is a comma with nothing beside it. {LIST_HINT}")
        for drill in _run(piece.strip(), unit):
            names[drill.name] = None
            if len(names) > (field.most or MOST):
                raise measures.EntryError(
                    f"There are more than {field.most or MOST} drills in the list. {field.reason}".strip()
                )
    drills = sorted((drill_of(field.name, name) for name in names), key=lambda drill: drill.mm)
    if len(drills) == 1:
        return tuple(names), f"1 drill, {size_text(drills[0])}"
    return tuple(names), f"{len(drills)} drills, {drills[0].name} to {drills[-1].name}"


def _drill(text: str, unit: Unit) -> Drill:
    plain = " ".join(text.split())
    number, letter = _NUMBER.fullmatch(plain), _LETTER.fullmatch(plain)
    if number or letter:
        name = f"#{int(number[1])}" if number else letter[1].upper() if letter else ""
    else:
        measure = measures.parse_length(plain, unit)
        if measure.base > _LIKELY or measure.base <= 0:
            raise measures.EntryError(
                f"{measure.typed()} is no drill. {_meant(measure.figures)}{SIZE_REASON}"
            )
        name = name_of(measure.base, inches=measure.unit in measures.INCH_UNITS)
    try:
        return drill_of("drill", name)
    except (OutOfRange, NotInTable) as error:
        raise measures.EntryError(str(error)) from error


def _meant(figures: str) -> str:
    """What a bare figure that is too large may have meant."""
    by_number = f"#{figures} or " if re.fullmatch(r"[1-9]|[1-7][0-9]|80", figures) else ""
    return f"Is it {by_number}{figures} mm? "


def _run(piece: str, unit: Unit) -> Iterator[Drill]:
    """One piece of a list: a drill, or all from one to another, by a step or as the table has them."""
    found = re.fullmatch(r"(.+?)\s+to\s+(.+?)(?:\s+by\s+(.+))?", piece, re.IGNORECASE)
    if found is None:
        yield _drill(piece, unit)
        return
    last = _drill(found[2], unit)
    first = _drill(_with_unit(found[1], found[2]), unit)
    kinds = {_kind(first), _kind(last)}
    if len(kinds) > 1:
        raise measures.EntryError(f"“{piece[:30]}” begins and ends with drills of two kinds. {LIST_HINT}")
    low, high = sorted((first.mm, last.mm))
    if found[3] is None:
        yield from (drill for kind, drill in table() if kind in kinds and low <= drill.mm <= high)
        return
    if kinds & {"number", "letter"}:
        raise measures.EntryError(f"Drills by number and letter go without “by”. {LIST_HINT}")
    step = measures.parse_length(_with_unit(found[3], found[2]), unit).base
    if step <= 0 or (high - low) / step > MOST:
        raise measures.EntryError(f"“{piece[:30]}” has no step that can be used. {LIST_HINT}")
    for place in range(int((high - low) / step) + 1):
        yield drill_of("drill", name_of(low + place * step, inches=kinds == {"fraction"}))


def _with_unit(text: str, other: str) -> str:
    """A bare figure takes the unit written at the other end of the run."""
    word = re.search(r"[a-z\"]+\.?$", other.strip(), re.IGNORECASE)
    bare = re.fullmatch(r"[0-9 ./-]+", text.strip())
    return f"{text} {word[0]}" if bare and word and word[0].lower() in measures.LENGTH_WORDS else text


def _kind(drill: Drill) -> str:
    if drill.name.startswith("#"):
        return "number"
    if drill.name.isalpha():
        return "letter"
    return "metric" if drill.name.endswith(" mm") else "fraction"
