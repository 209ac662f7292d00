"""How words, sizes and numbers of teeth are searched: the same, however they are written."""

import re
from collections.abc import Sequence
from fractions import Fraction

#: Fractions that have a sign of their own; each is read as if it were written out.
_SIGNS = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_TEETH = re.compile(r"(\d)\s*-?\s*(?:teeth|tooth|t)\b")
_MILLIMETRES = re.compile(r"(\d)\s+mm\b")
_BINARY = r"(\d+)/(2|4|8|16|32|64|128)(?![\d/])"
_FRACTION = re.compile(rf"(?<![\d./])(?:(\d+)[ .-])?{_BINARY}")
_NUMBER = re.compile(r"(?<![\d.])(\d*\.\d+|\d+)([a-z]*)")
#: What may be typed as a size: the fraction or decimal, and a unit, which is not looked for.
_UNIT = r"(?:\s*(?:\"|″|”|''|in\.?|inch|inches|mm))?"
_ASKED_FRACTION = re.compile(rf"(?<!\S)(?:(\d+)[ .-])?{_BINARY}{_UNIT}(?!\S)")
_ASKED_NUMBER = re.compile(rf"(?<!\S)(\d*\.\d+){_UNIT}(?!\S)")
_ASKED_WORD = re.compile(r"\d+[a-z]*")
_PIECE = re.compile(r"</?(\d+)(\.\d+)?([a-z]*)(>?)")
_RUNNING = re.compile(r"<?[a-z]?-?0*(\d{1,9})>?")
_ASCII = re.compile(r"[\x20-\x7e]+")


# ---- what is searched ------------------------------------------------------------------------------------


def fold(text: str) -> str:
    """Text as it is searched: small letters, `57 T` as `57t`, and after it every number by itself.

    Such a number stands between its own borders, so that `57t` is not found in `157t`, and a fraction stands
    there as the decimal it is: `Turned to 1 3/16` has `<1.1875>` after it.
    """
    small = _small(text)
    numbers = _numbers(small)
    return " ".join([small, *(f"<{number}>" for number in numbers)])


def _small(text: str) -> str:
    for sign, written in _SIGNS.items():
        text = text.replace(sign, f" {written}")
    return _MILLIMETRES.sub(r"\1mm", _TEETH.sub(r"\1t", text.casefold()))


def _numbers(small: str) -> list[str]:
    """Every number of a text, each once; behind a stroke what is found as a fraction, inside `5 3/8` too."""
    found: list[str] = []
    for whole, top, bottom in _FRACTION.findall(small):
        part = Fraction(int(top), int(bottom))
        found += [decimal(int(whole or 0) + part), f"/{decimal(part)}", *([whole] if whole else [])]
    for figures, letters in _NUMBER.findall(_FRACTION.sub(" ", small)):
        if "." not in figures:
            found.append(figures + letters)
            continue
        number = _plain(figures)
        found += [number, f"/{number}"] if _is_binary(Fraction(number)) else [number]
    return list(dict.fromkeys(found))


def _is_binary(value: Fraction) -> bool:
    """Whether it is below one and would be written as a fraction in a workshop: 0.375 is 3/8."""
    return value < 1 and value.denominator <= 128 and value.denominator & (value.denominator - 1) == 0


def decimal(value: Fraction) -> str:
    """The exact decimal of a fraction whose denominator is a power of two."""
    whole, part = divmod(value, 1)
    places = part.denominator.bit_length() - 1
    figures = f".{part.numerator * 5**places:0{places}}" if part else ""
    return f"{whole}{figures}"


def _plain(figures: str) -> str:
    """A decimal with its nought before the point and none at its end; whole numbers stay, `016` with them."""
    if "." not in figures:
        return figures
    whole, _, part = figures.partition(".")
    part = part.rstrip("0")
    return (whole.lstrip("0") or "0") + (f".{part}" if part else "")


# ---- what is looked for ----------------------------------------------------------------------------------


def sought(text: str) -> list[str]:
    """What must stand in a folded text, every piece of it: plain words, and numbers from their left border.

    A fraction, a number of teeth and a decimal typed with a nought at its end are that number and no other;
    `1.25` finds 1.253 as well, as `por` finds porous. `3/8` is also found in `5 3/8`, as a word of its own.
    """
    small = _small(text).replace("<", " ").replace(">", " ")
    found: list[str] = []

    def fraction(match: re.Match[str]) -> str:
        value = decimal(int(match[1] or 0) + Fraction(int(match[2]), int(match[3])))
        found.append(f"<{value}>" if match[1] else f"</{value}>")
        return " "

    def number(match: re.Match[str]) -> str:
        value = _plain(match[1])
        if "." not in value:
            return match[0]
        found.append(f"<{value}" + (">" if match[1].endswith("0") else ""))
        return " "

    for word in _ASKED_NUMBER.sub(number, _ASKED_FRACTION.sub(fraction, small)).split():
        whole = ">" if re.fullmatch(r"\d+t", word) else ""
        found.append(f"<{word}{whole}" if _ASKED_WORD.fullmatch(word) else word)
    return list(dict.fromkeys(found))


def holds(folded: str, pieces: list[str]) -> bool:
    """Whether every piece stands in a folded text."""
    return all(piece in folded for piece in pieces)


def traces(piece: str) -> list[str]:
    """Letters and figures of which one stands, in whatever case, in any text that the piece is found in.

    Plain texts are narrowed by them in the database before they are folded and held to the piece.
    """
    match = _PIECE.fullmatch(piece)
    if not match:
        return [max(_ASCII.findall(piece), key=len, default="")]
    whole, part, _, _ = match.groups()
    if not part:
        return [whole]
    signs = [sign for sign, written in _SIGNS.items() if decimal(Fraction(written))[1:].startswith(part)]
    return [part if whole == "0" else f"{whole}{part}", "/", *signs]


def numbered(piece: str) -> int | None:
    """The number a thing may go by, of `c-009` or `<9`; None where the piece is no number."""
    match = _RUNNING.fullmatch(piece)
    return int(match[1]) if match else None


# ---- where it stands -------------------------------------------------------------------------------------


def places(pieces: list[str]) -> re.Pattern[str]:
    """What matches the pieces in a text as it was written."""
    return re.compile("|".join(_place(piece) for piece in pieces) or r"(?!)", re.IGNORECASE)


def _place(piece: str) -> str:
    match = _PIECE.fullmatch(piece)
    if not match:
        return re.escape(piece)
    whole, part, letters, end = match.groups()
    if letters == "t" and end:
        return rf"(?<![\d.]){whole}\s*-?\s*(?:teeth|tooth|t)\b"
    if not part:
        return rf"(?<![\d.]){whole}\s*{letters}"
    nought = "0?" if whole == "0" else whole
    ways = [rf"(?<![\d.]){nought}{re.escape(part)}" + (r"0*(?!\d)" if end else "")]
    value = Fraction(f"{whole}{part}")
    if value.denominator & (value.denominator - 1) == 0 and value.denominator <= 128:
        ways += _fractions(int(whole), value % 1)
    return "|".join(ways)


def _fractions(whole: int, part: Fraction) -> list[str]:
    """The ways such a size is written as a fraction, whatever it was reduced to."""
    before = rf"(?<![\d./]){whole}" if whole else r"(?<![\d./])"
    found, bottom = [], part.denominator
    while bottom <= 128:
        found.append(rf"{before}{'[ .-]' if whole else ''}{part * bottom}/{bottom}(?![\d/])")
        bottom *= 2
    signs = [sign for sign, same in _SIGNS.items() if Fraction(same) == part]
    return [*found, *(f"{before if whole else ''} ?{sign}" for sign in signs)]


def excerpt(texts: Sequence[str], pieces: list[str], longest: int = 170) -> list[tuple[str, bool]]:
    """The text that says most of what was looked for, cut to its surroundings: runs, and which are marked."""
    pattern = places(pieces)
    text = max(texts, key=lambda one: len({found[0].casefold() for found in pattern.finditer(one)}))
    text = " ".join(text.split())
    first = pattern.search(text)
    begin, end = _cut(text, first.start() if first else 0, longest)
    runs, at = [], begin
    for match in pattern.finditer(text, begin, end):
        runs += [(text[at : match.start()], False), (match[0], True)]
        at = match.end()
    runs.append((text[at:end], False))
    if begin:
        runs.insert(0, ("… ", False))
    if end < len(text):
        runs.append((" …", False))
    return [run for run in runs if run[0]]


def _cut(text: str, first: int, longest: int) -> tuple[int, int]:
    """Where the excerpt begins and ends, at spaces where there are some near."""
    if len(text) <= longest:
        return 0, len(text)
    begin = max(0, min(first - longest // 3, len(text) - longest))
    if begin:
        space = text.find(" ", begin, first)
        begin = space + 1 if space >= 0 else begin
    end = min(len(text), begin + longest)
    if end < len(text):
        space = text.rfind(" ", max(first, begin) + 1, end)
        end = space if space > begin + longest // 2 else end
    return begin, end
