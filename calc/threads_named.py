"""Threads by their names, for rooms outside the sums: sizes, drills, look-alikes, names found in words."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache

from calc.answers.thread_words import ORIGINS, drill_words, unit_of
from calc.kernel.errors import NotInTable, OutOfRange
from calc.kernel.tables import read_source
from calc.kernel.threads import Thread
from calc.kernel.threads_alike import look_alikes, words_of
from calc.kernel.threads_drills import across_flats, clearance_drill, tapping_drills
from calc.kernel.threads_names import thread_named
from calc.kernel.units import in_or_mm
from calc.kernel.wording import decimal_text, fixed, mixed_text
from calc.measures import EntryError

#: The longest name in the tables has eleven signs; twice that is room for any series to come.
LONGEST_NAME = 24
LONGEST_TYPED = 40


@dataclass(frozen=True, slots=True)
class Known:
    """A size in words, the share of a full thread it leaves where it is a drill, and how it is known."""

    words: str
    known: str
    leaves: str = ""


@dataclass(frozen=True, slots=True)
class Named:
    """A thread of the tables with all that is said of it; every size in words with its unit."""

    name: str  # as the sums on threads write it: `M6x1`
    shown: str  # as it is read on a page: `M6 × 1`
    over: str
    over_mm: float
    pitch: str
    tapping: Known
    clearance: Known | None
    spanner: Known | None
    known: str  # how its diameter and pitch are known
    source: str


@dataclass(frozen=True, slots=True)
class Near:
    """Another thread of the same engine that starts in or on this one by hand."""

    name: str
    shown: str
    words: str
    is_same: bool  # the same thread under another name


@dataclass(frozen=True, slots=True)
class Found:
    """A thread that some words speak of: as it stands there, and the name it means or why it has none."""

    as_written: str
    name: str
    refused: str = ""


def named(text: str) -> Named:
    """What is known of the thread that a name means.

    Parameters
    ----------
    text : str
        The name as a builder writes it: ``1/4 BSF``, ``M6``, ``2 BA``, ``1/4 x 40 ME``.

    Returns
    -------
    Named
        The thread, with its tapping drill and what that leaves, its clearance drill, its spanner.

    Raises
    ------
    EntryError
        The name is of no table, or can be read in two ways; the message says what may be meant.
    """
    try:
        return _named(thread_named(text).name)
    except (OutOfRange, NotInTable) as error:
        raise EntryError(str(error)) from error


def shown(name: str) -> str:
    """A name as it is read on a page: ``M6 × 1`` for ``M6x1``."""
    return re.sub(r"(?<=\d)x(?=\d)", " × ", name)


def near_among(names: Iterable[str]) -> dict[str, tuple[Near, ...]]:
    """Of names of the tables, each that has a look-alike among the others, with those; the nearest first."""
    there = set(names)
    found = {
        name: tuple(
            Near(one.thread.name, shown(one.thread.name), words_of(thread, one), one.is_same)
            for one in look_alikes(thread)
            if one.thread.name in there
        )
        for name, thread in ((name, thread_named(name)) for name in sorted(there))
    }
    return {name: others for name, others in found.items() if others}


@lru_cache(maxsize=512)
def _named(name: str) -> Named:
    thread = thread_named(name)
    return Named(
        name=name,
        shown=shown(name),
        over=_length(thread, thread.major, 4),
        over_mm=float(thread.major),
        pitch=_pitch(thread),
        tapping=_tapping(thread),
        clearance=_clearance(thread),
        spanner=_spanner(thread),
        known=ORIGINS.get(thread.origin, thread.origin),
        source=read_source(thread.source).short,
    )


def _pitch(thread: Thread) -> str:
    if thread.tpi is not None:
        return f"{mixed_text(thread.tpi)} to the inch"
    return f"{decimal_text(thread.pitch, 4)} mm"


def _tapping(thread: Thread) -> Known:
    offer = tapping_drills(thread)[0]
    leaves = f"{fixed(thread.engagement(offer.drill.mm), 1)} %"
    return Known(_drill(offer.drill.name, offer.drill.mm), ORIGINS.get(offer.origin, offer.origin), leaves)


def _clearance(thread: Thread) -> Known | None:
    offer = clearance_drill(thread)
    if offer is None:
        return None
    return Known(_drill(offer.drill.name, offer.drill.mm), ORIGINS.get(offer.origin, offer.origin))


def _drill(name: str, mm: object) -> str:
    words, size = drill_words(name, mm)
    return words if words.endswith(" mm") else f"{words} = {size}"


def _spanner(thread: Thread) -> Known | None:
    flats = across_flats(thread)
    if flats is None:
        return None
    return Known(_length(thread, flats[0], 3), ORIGINS.get(flats[1], flats[1]))


def _length(thread: Thread, mm: Fraction, inch_places: int) -> str:
    """A length in the unit the thread is worked in."""
    if unit_of(thread) == "inch":
        return f"{in_or_mm(mm, 'inch', inch_places)} in"
    return f"{decimal_text(mm, 3)} mm"


# ---- names in words ----------------------------------------------------------------------------------------

_INCHES = r"(?:[0-9]+[ .-])?[0-9]{1,2}/[0-9]{1,2}|(?:#|No\.? ?)?[0-9]{1,2}"
_SERIES = r"B\.?S\.?(?:W|F|B|PP?)\.?|B\.?A\.?|(?-i:M\.?E\.?)|UNC|UNF|Whit(?:worth)?"
#: A pitch is a small figure; a larger one after the size, or one in inches, is how long a screw is.
_METRIC = r"M ?[0-9]{1,2}(?:\.[0-9])?(?: ?[x×*] ?[0-4]?\.?[0-9]+(?![\d/]|\.\d| ?in\b)| fine)?"
_BY_INCH = rf"(?:{_INCHES})[\"”″]?(?: ?[x×-] ?[0-9]{{1,2}})?(?: ?tpi)?(?: in)? ?(?:{_SERIES})"
_PIPE = r"G ?[0-9]{1,2}/[0-9]{1,2}"
_IN_WORDS = re.compile(rf"(?<![\w/.-])(?:{_METRIC}|{_BY_INCH}|{_PIPE})(?:(?!\w)|(?=[x×*]\d))", re.IGNORECASE)


def found_in(text: str) -> tuple[Found, ...]:
    """The threads that words speak of, each once, in the order they stand there.

    Only a name with its series is taken for one: ``Stud 1/4 BSF``, ``tap M6``, ``nuts 2 BA``. One that can
    be read in two ways is found without a name, and says what it may mean.
    """
    found: dict[str, Found] = {}
    for match in _IN_WORDS.finditer(" ".join(text.split())):
        one = _read(match[0])
        found.setdefault(one.name or one.as_written.casefold(), one)
    return tuple(found.values())


@lru_cache(maxsize=4096)
def _read(written: str) -> Found:
    try:
        # `1.1/8` is one and an eighth, as some lists write it.
        return Found(written, thread_named(re.sub(r"\.(?=\d+/)", " ", written)).name)
    except (OutOfRange, NotInTable) as refused:
        size, times, _ = written.replace("x", "×").replace("*", "×").partition("×")
        # `M6 x 4` is a short screw of M6: no pitch of that size, so the figure is a length.
        if times and written[0] in "Mm":
            return _read(size.strip())
        return Found(written, "", str(refused))
