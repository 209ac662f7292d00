"""Slow, obvious second ways of working things out, for the fast ones to agree with."""

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from math import floor, gcd

#: Plate set A (15 to 20, 21 to 33, 37 to 49): from memory; agrees with the rows read in Machinery's Handbook,
#: 27th edition, p. 1995.
SET_A = ((15, 16, 17, 18, 19, 20), (21, 23, 27, 29, 31, 33), (37, 39, 41, 43, 47, 49))
#: Plate set B: read, US Army course OD1644, milling.
SET_B = ((24, 25, 28, 30, 34, 37, 38, 39, 41, 42, 43), (46, 47, 49, 51, 53, 54, 57, 58, 59, 62, 66))
#: The gears usual with such heads, from memory; 24 is there twice.
GEARS = (24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100)


def plain_settings(divisions: int, ratio: int, faces: Sequence[Sequence[int]]) -> dict[int, tuple[int, int]]:
    """Turns and spaces by circle: a whole turn of the work passes ratio × circle holes, shared out evenly."""
    settings = {}
    for circle in {circle for face in faces for circle in face}:
        share, left = divmod(ratio * circle, divisions)
        if not left:
            settings[circle] = divmod(share, circle)
    return settings


def pin_walk(circle: int, turns: int, holes: int, moves: int) -> Iterator[tuple[int, int]]:
    """Crank turns completed and hole the pin stands in, before each move and after the last, hole by hole."""
    passed = 0
    for _ in range(moves + 1):
        yield passed // circle, passed % circle
        passed += turns * circle + holes


def moves_until_home(circle: int, holes: int) -> int:
    """Moves until the pin is in its first hole again, by moving it."""
    hole, moves = holes % circle, 1
    while hole:
        hole, moves = (hole + holes) % circle, moves + 1
    return moves


def compound_pairs(
    divisions: int, ratio: int, face: Sequence[int]
) -> Iterator[tuple[int, int, int, int, int]]:
    """Every first move and second move, forward or back, of less than a turn each beyond the whole turns."""
    whole = ratio // divisions
    for circle_a in face:
        for circle_b in face:
            if circle_a == circle_b:
                continue
            for holes_b in range(1, circle_b):
                for sign in (1, -1):
                    over, left = divmod(
                        ratio * circle_a * circle_b - sign * holes_b * circle_a * divisions,
                        circle_b * divisions,
                    )
                    if not left and 0 < over < circle_a * (whole + 1) and over % circle_a:
                        yield circle_a, over, circle_b, holes_b, sign


def has_compound(divisions: int, ratio: int, faces: Sequence[Sequence[int]]) -> bool:
    """Whether any pair of moves on one face makes the division exactly."""
    return any(next(compound_pairs(divisions, ratio, face), None) for face in faces)


def plate_turns(divisions: int, ratio: int, turns: int, holes: int, circle: int) -> Fraction:
    """What the plate must turn for one turn of the work, by adding up the moves one by one."""
    crank = sum((turns + Fraction(holes, circle) for _ in range(divisions)), Fraction())
    return ratio - crank


def owned(wanted: Sequence[int], gears: Sequence[int]) -> bool:
    """Whether the gears wanted are among those owned, each as often."""
    return not Counter(wanted) - Counter(gears)


def nearest_error(divisions: int, ratio: int, faces: Sequence[Sequence[int]]) -> Fraction:
    """The least error of one move in degrees, trying every hole of every circle."""
    wanted = Fraction(ratio, divisions)
    return min(
        abs(Fraction(holes, circle) - wanted) * 360 / ratio
        for face in faces
        for circle in face
        for holes in range(1, circle * (ratio // divisions + 1) + 1)
    )


TOKEN = re.compile(r"\s*(whole|gcd|[0-9]+|[-+×*/(),−])")


def evaluate(text: str) -> Fraction:
    """A line of working worked again, in exact fractions: + − × / brackets, gcd and whole."""
    tokens, place = [], 0
    while place < len(text.rstrip()):
        found = TOKEN.match(text, place)
        if found is None:
            raise ValueError(f"cannot work {text!r} again from {text[place:]!r}")
        tokens.append({"×": "*", "−": "-"}.get(found[1], found[1]))
        place = found.end()
    value = _sum(tokens)
    if tokens:
        raise ValueError(f"left over in {text!r}: {tokens}")
    return value


def _sum(tokens: list[str]) -> Fraction:
    value = _product(tokens)
    while tokens and tokens[0] in "+-":
        sign = 1 if tokens.pop(0) == "+" else -1
        value += sign * _product(tokens)
    return value


def _product(tokens: list[str]) -> Fraction:
    value = _factor(tokens)
    while tokens and tokens[0] in "*/":
        value = value * _factor(tokens) if tokens.pop(0) == "*" else value / _factor(tokens)
    return value


def _factor(tokens: list[str]) -> Fraction:
    token = tokens.pop(0)
    if token == "-":
        return -_factor(tokens)
    if token == "(":
        value = _sum(tokens)
        assert tokens.pop(0) == ")"
        return value
    if token == "whole":
        return Fraction(floor(_factor(tokens)))
    if token == "gcd":
        assert tokens.pop(0) == "("
        one = _sum(tokens)
        assert tokens.pop(0) == ","
        two = _sum(tokens)
        assert tokens.pop(0) == ")"
        return Fraction(gcd(int(one), int(two)))
    return Fraction(int(token))


def in_figures(formula: str, names: Mapping[str, Fraction | int]) -> str:
    """A formula with each name replaced by its figure, the longest names first."""
    for name in sorted(names, key=len, reverse=True):
        formula = re.sub(rf"\b{name}\b", f"({Fraction(names[name])})".replace("-", "−"), formula)
    return formula


def shown_value(text: str) -> tuple[Fraction, Fraction]:
    """A value as shown on a line of working, and half a unit of its last place; nought where it is exact."""
    text = text.replace("−", "-")
    angle = re.fullmatch(r"(?:([0-9]+)°)?(?: ?([0-9]+)′)?(?: ?([0-9.]+)″)?", text)
    if angle and text:
        degrees, minutes, seconds = (Fraction(part or 0) for part in angle.groups())
        return degrees + minutes / 60 + seconds / 3600, Fraction(1, 20 * 3600)
    sign = -1 if text.startswith("-") else 1
    total = sum((Fraction(part) for part in text.lstrip("-").split(" ")), Fraction())
    places = len(text.partition(".")[2])
    return sign * total, Fraction(1, 2 * 10**places) if places else Fraction()
