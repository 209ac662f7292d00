"""Kernel room: the name of a thread as a builder writes it, to the thread; two readings are refused."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import NoReturn

from calc.kernel.errors import NotInTable, OutOfRange
from calc.kernel.threads import Thread, inch_value, threads
from calc.kernel.wording import decimal_text

FIELD = "thread"
HINT = "Write it with its series: 1/4 BSF, 2 BA, 1/4x40 ME, 10-32 UNF, M6x1, 1/4 BSP."
#: The longest name worth reading.
LONGEST = 40

#: Every way a series is written, without full stops, and what it is; two where it may be either.
SERIES_WORDS: dict[str, tuple[str, ...]] = {
    "bsw": ("BSW",), "whit": ("BSW",), "whitworth": ("BSW",), "w": ("BSW",),
    "bsf": ("BSF",),
    "bsb": ("BSB",), "brass": ("BSB",),
    "bsp": ("BSP",), "bspp": ("BSP",), "g": ("BSP",), "gas": ("BSP",), "pipe": ("BSP",),
    "ba": ("BA",),
    "me": ("ME",),
    "unc": ("UNC",), "unf": ("UNF",), "un": ("UNC", "UNF"),
    "m": ("M",),
}  # fmt: skip
#: Series that are known by name and have no table here.
NO_TABLE = {
    "bspt": "taper pipe thread", "r": "taper pipe thread", "rc": "taper pipe thread",
    "rp": "pipe thread for a taper screw", "npt": "American taper pipe thread",
    "nps": "American pipe thread", "cei": "cycle thread, of 60°", "bsc": "cycle thread, of 60°",
    "cycle": "cycle thread, of 60°", "unef": "extra fine Unified thread", "uns": "special Unified thread",
    "nc": "American National thread", "nf": "American National thread", "acme": "Acme thread",
    "tr": "trapezoidal thread", "bsbc": "brass thread of the cycle trade",
}  # fmt: skip
#: Words that may stand in a name and change nothing.
FILLING = {"x", "tpi", "in", "ins", "inch", "no", "number", "thread", "threads", "mm"}
#: Series whose sizes are inches, for names that leave the series out.
INCH_SERIES = ("BSW", "BSF", "BSB", "ME", "BSP", "UNC", "UNF")

_SIZE = (
    r"(?P<whole>[0-9]+)\s*[- ]\s*(?P<part>[0-9]+/[1-9][0-9]*)|(?P<figure>[0-9]+/[1-9][0-9]*|[0-9]*\.?[0-9]+)"
)
_PITCH = r"(?P<whole_pitch>[0-9]+)\s+(?P<part_pitch>1/2)|(?P<pitch>[0-9]*\.?[0-9]+)"
_NUMBERS = re.compile(rf"(?:{_SIZE})(?:\s*[-x@,/ ]\s*(?:{_PITCH}))?")
_SIGNS = str.maketrans({"×": "x", "*": "x", "–": "-", "−": "-", "”": '"', "″": '"', "\u00a0": " "})


@dataclass(frozen=True, slots=True)
class _Asked:
    """What the figures of a name say."""

    size: Fraction
    pitch: Fraction | None  # the second figure: threads to the inch, or millimetres in a metric name
    is_number: bool  # "#10", "no 10"
    is_inch: bool  # "1 in", '1"'


def thread_named(text: str) -> Thread:
    """The thread a name means.

    Parameters
    ----------
    text : str
        The name: ``1/4 BSF``, ``1/4-26 BSF``, ``2 BA``, ``1/4x40 ME``, ``10-32 UNF``, ``G 1/4``, ``M6``.

    Returns
    -------
    Thread
        The thread, by its table.

    Raises
    ------
    OutOfRange
        The name may mean two threads, or gives no series; the readings are named.
    NotInTable
        There is no such thread in the tables, or no table of the series.
    """
    plain = _plain(text)
    words = [word for word in re.findall(r"[a-z]+", plain) if word not in FILLING]
    series = _series_of(text, [word for word in words if word not in ("coarse", "fine") or "m" not in words])
    asked = _figures(text, plain)
    if not series:
        _no_series(text, asked, metric=" mm" in plain)
    found = [thread for thread in threads() if thread.series in series and _fits(thread, asked)]
    if series == ("M",) and asked.pitch is None:
        # A metric name without its pitch is the coarse one, by ISO 965.
        found = [thread for thread in found if thread.coarse == ("fine" not in words)]
    if series == ("ME",) and asked.pitch is None and found:
        _two_ways(text, found, always=True)
    if len(found) > 1:
        _two_ways(text, found)
    if not found:
        _not_there(text, series, asked)
    return found[0]


def _plain(text: str) -> str:
    plain = " ".join(text.translate(_SIGNS).lower().split())
    if not plain or len(plain) > LONGEST:
        raise NotInTable(FIELD, f"That is no name of a thread. {HINT}")
    plain = re.sub(r"(?<=[a-z])\.", "", plain)
    # A series stands by itself in 2BA, G1/4, M6x1 and 40ME: a space on each side of a word reads them all.
    return re.sub(r"(?<=[0-9\"])(?=[a-z])|(?<=[a-z])(?=[0-9.])", " ", plain)


def _series_of(text: str, words: Sequence[str]) -> tuple[str, ...]:
    """The series a name gives; none where it gives no word."""
    for word in words:
        if word in NO_TABLE:
            raise NotInTable(FIELD, f"{_short(text)} is a {NO_TABLE[word]}: there is no table of it here.")
        if word not in SERIES_WORDS:
            raise NotInTable(FIELD, f"“{_short(word)}” is no series of threads known here. {HINT}")
    found = {SERIES_WORDS[word] for word in words}
    if len(found) > 1:
        raise OutOfRange(FIELD, f"{_short(text)} names two series", HINT)
    return next(iter(found), ())


def _figures(text: str, plain: str) -> _Asked:
    """The figures of a name: the size, and after it threads to the inch or the pitch."""
    is_number = "#" in plain or bool(re.search(r"\b(no|number)\b", plain))
    is_inch = '"' in plain or bool(re.search(r"\b(in|ins|inch)\b", plain))
    bare = " ".join(re.sub(r"[a-wyz]+|[#\"]", " ", plain).split())
    bare = re.sub(r"\s*\bx\b\s*|x", "x", bare).strip("x -")
    found = _NUMBERS.fullmatch(bare)
    if found is None:
        raise NotInTable(FIELD, f"“{_short(text)}” is no name of a thread. {HINT}")
    whole, part, figure = found["whole"], found["part"], found["figure"]
    size = int(whole) + Fraction(part) if part else Fraction(figure)
    pitch = Fraction(found["pitch"]) if found["pitch"] else None
    if found["whole_pitch"]:
        pitch = int(found["whole_pitch"]) + Fraction(found["part_pitch"])
    return _Asked(size, pitch, is_number, is_inch)


def _fits(thread: Thread, asked: _Asked) -> bool:
    """Whether a thread is of the size asked, and of the pitch where one was."""
    if thread.size.startswith("#"):
        at_size = not asked.is_inch and asked.size == int(thread.size[1:])
    else:
        at_size = not asked.is_number and asked.size == inch_value(thread.size)
    if thread.series == "BA":
        at_size = asked.size == int(thread.size) and not asked.is_inch
    pitch = thread.pitch if thread.tpi is None else thread.tpi
    return at_size and asked.pitch in (None, pitch)


# ---- refusals ----------------------------------------------------------------------------------------------


def _short(text: str) -> str:
    return text.strip() if len(text.strip()) <= 20 else f"{text.strip()[:19]}…"


def _told(thread: Thread) -> str:
    """A thread for a list of readings, so that it can be told from the others and typed."""
    size = thread.size
    return f"{size} ({thread.name})" if size.startswith("#") else thread.name


def _either(found: Sequence[Thread]) -> str:
    names = [_told(thread) for thread in found[:8]]
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} or {names[-1]}"


def _two_ways(text: str, found: Sequence[Thread], *, always: bool = False) -> NoReturn:
    reason = f"Write {_either(found)}."
    if always:
        reason += " Which sizes are 32 and which 40 to the inch differs from one list to the next."
        raise OutOfRange(FIELD, f"{_short(text)} wants its threads to the inch", reason)
    raise OutOfRange(FIELD, f"{_short(text)} can be read in {len(found)} ways", reason)


def _no_series(text: str, asked: _Asked, *, metric: bool) -> NoReturn:
    """A name without its series: the threads it may be."""
    series = ("M",) if metric else INCH_SERIES if asked.is_inch else (*INCH_SERIES, "BA", "M")
    found = [thread for thread in threads() if thread.series in series and _fits(thread, asked)]
    if not found:
        raise NotInTable(FIELD, f"“{_short(text)}” is no thread of the tables. {HINT}")
    more = (
        " Cycle threads of 26 to the inch are of 60° and are not in the tables." if asked.pitch == 26 else ""
    )
    raise OutOfRange(FIELD, f"{_short(text)} gives no series", f"It may be {_either(found)}.{more}")


def _not_there(text: str, series: Sequence[str], asked: _Asked) -> NoReturn:
    """No such thread: what the series has at that size, what has that pitch, or where the series ends."""
    same = [
        thread
        for thread in threads()
        if thread.series in series and _fits(thread, _Asked(asked.size, None, asked.is_number, asked.is_inch))
    ]
    if not same:
        sizes = list(dict.fromkeys(thread.size for thread in threads() if thread.series in series))
        where = "ISO metric" if series == ("M",) else " and ".join(series)
        raise NotInTable(
            FIELD, f"There is no {_short(text)} in the tables: {where} goes by {', '.join(sizes)}."
        )
    said = " and ".join(_pitch_words(thread) for thread in same)
    others = [
        thread
        for thread in threads()
        if thread.series in INCH_SERIES and thread.series != "BSP" and _fits(thread, asked)
    ]
    more = f" With that pitch there is {_either(others)}." if others and series != ("M",) else ""
    raise NotInTable(FIELD, f"There is no {_short(text)} in the tables: {said}.{more}")


def _pitch_words(thread: Thread) -> str:
    if thread.tpi is None:
        return f"{thread.name} has a pitch of {decimal_text(thread.pitch, 4)} mm"
    return f"{thread.name} has {decimal_text(thread.tpi, 2)} threads to the inch"
