"""Slow, obvious second ways of working things out, for the fast ones to agree with."""

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal, localcontext
from fractions import Fraction
from math import acos, asin, atan, cbrt, cos, degrees, floor, gcd, hypot, pi, radians, sin, sqrt, tan
from typing import Any, NamedTuple

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


TOKEN = re.compile(r"\s*(whole|gcd|angle of inv|inv|a?(?:sin|cos|tan)|[0-9]+(?:\.[0-9]+)?|[-+×*/(),−√²°π])")


def evaluate(text: str) -> Fraction:
    """A line of working worked again: + − × / brackets, gcd, whole, squares and, to forty places, roots.

    π and the functions of an angle in degrees come as near as a float does.
    """
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
    value = _bare_factor(tokens)
    while tokens and tokens[0] in "²°":
        value = value**2 if tokens.pop(0) == "²" else value
    return value


#: What is worked in floats: of an angle in degrees, and the angle in degrees whose involute is given.
FUNCTIONS: Mapping[str, Callable[[float], float]] = {
    "sin": lambda angle: sin(radians(angle)),
    "cos": lambda angle: cos(radians(angle)),
    "tan": lambda angle: tan(radians(angle)),
    "atan": lambda slope: degrees(atan(slope)),
    "asin": lambda share: degrees(asin(share)),
    "inv": lambda angle: tan(radians(angle)) - radians(angle),
    "angle of inv": lambda value: degrees(halved(lambda angle: tan(angle) - angle - value, 0.0, 1.57)),
}


def halved(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a rising function crosses nought, by halving."""
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if function(middle) < 0 else (low, middle)
    return low


def _bare_factor(tokens: list[str]) -> Fraction:
    token = tokens.pop(0)
    if token == "√":
        value = _factor(tokens)
        with localcontext(prec=40):
            return Fraction((Decimal(value.numerator) / Decimal(value.denominator)).sqrt())
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
    if token in FUNCTIONS:
        return Fraction(FUNCTIONS[token](float(_bare_factor(tokens))))
    return Fraction(pi) if token == "π" else Fraction(token)


def in_figures(formula: str, names: Mapping[str, Fraction | int]) -> str:
    """A formula with each name replaced by its figure, the longest names first."""
    for name in sorted(names, key=len, reverse=True):
        formula = re.sub(rf"\b{name}(?=²|\b)", f"({Fraction(names[name])})".replace("-", "−"), formula)
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


# ---- the formulas that the tables of ISO 286 were made from ------------------------------------------------


def it_formula(over: Fraction, upto: Fraction, grade: int) -> float:
    """IT5 to IT18 in micrometres by the formula; D is the geometric mean of the range, the first from 1 mm.

    "Machine Drawing", Table 15.4, p. 222; the multiples of IT5 to IT16 from another page, IT17 and IT18, the
    first range and what is used over 500 mm from memory. The tables are rounded, and they are the authority.
    """
    mean = sqrt(float(over or 1) * float(upto))
    unit = 0.45 * cbrt(mean) + 0.001 * mean if upto <= 500 else 0.004 * mean + 2.1
    return unit * (7, 10, 16, 25, 40, 64, 100, 160, 250, 400, 640, 1000, 1600, 2500)[grade - 5]


def deviation_formula(letter: str, over: Fraction, upto: Fraction, it7: float) -> float:
    """The magnitude of a shaft's deviation in micrometres by the formula; IT7 as tabled. As `it_formula`."""
    mean = sqrt(float(over or 1) * float(upto))
    return {
        "a": 265 + 1.3 * mean if mean <= 120 else 3.5 * mean,
        "b": 140 + 0.85 * mean if mean <= 160 else 1.8 * mean,
        "c": 52 * mean**0.2 if mean <= 40 else 95 + 0.8 * mean,
        "d": 16 * mean**0.44, "e": 11 * mean**0.41, "f": 5.5 * mean**0.41, "g": 2.5 * mean**0.34,
        "n": 5 * mean**0.34,
        "t": it7 + 0.63 * mean, "u": it7 + mean, "v": it7 + 1.25 * mean, "x": it7 + 1.6 * mean,
        "y": it7 + 2 * mean, "z": it7 + 2.5 * mean,
    }[letter]  # fmt: skip


# ---- the tooth of a spur gear, drawn from the involute and measured ----------------------------------------


def unwound(base_radius: float, roll: float, turned: float = 0.0) -> tuple[float, float]:
    """The end of a string unwound from the base circle by an angle of roll, all of it turned about."""
    x = base_radius * (cos(roll) + roll * sin(roll))
    y = base_radius * (sin(roll) - roll * cos(roll))
    return x * cos(turned) - y * sin(turned), x * sin(turned) + y * cos(turned)


def greatest(function: Callable[[float], float], low: float, high: float) -> float:
    """The greatest value of a function with one top, by thirds."""
    for _ in range(120):
        a, b = low + (high - low) / 3, high - (high - low) / 3
        low, high = (a, high) if function(a) < function(b) else (low, b)
    return function(low)


def flank_start(teeth: int, angle: float, thickness: float) -> float:
    """How far from the middle of a tooth of module 1 its flank starts on the base circle. [radian]

    The flank is unwound until it is out at the pitch circle; there the tooth is half its thickness wide.
    """
    base, pitch = teeth / 2 * cos(angle), teeth / 2
    roll = halved(lambda roll: hypot(*unwound(base, roll)) - pitch, 0.0, 10.0)
    x, y = unwound(base, roll)
    return thickness / (2 * pitch) + asin(y / hypot(x, y))


def drawn_chord(teeth: int, angle: float, thickness: float) -> tuple[float, float]:
    """Across the two flanks at the pitch circle of a tooth of module 1, and how far out that chord lies."""
    base, pitch = teeth / 2 * cos(angle), teeth / 2
    roll = halved(lambda roll: hypot(*unwound(base, roll)) - pitch, 0.0, 10.0)
    out, half = unwound(base, roll, -flank_start(teeth, angle, thickness))
    return 2 * abs(half), out


def drawn_span(teeth: int, angle: float, thickness: float, over: int) -> float:
    """Between two parallel anvils that close on the outer flanks of so many teeth of module 1."""
    start = pi * (over - 1) / teeth + flank_start(teeth, angle, thickness)
    base = teeth / 2 * cos(angle)
    return 2 * greatest(lambda roll: -unwound(base, roll, -start)[1], 0.0, start + 0.5)


def drawn_over_pins(teeth: int, angle: float, thickness: float, pin: float) -> float:
    """Over two pins, each let down into a space until the nearest point of the flank is a radius away."""
    base, space = teeth / 2 * cos(angle), pi / teeth
    start = flank_start(teeth, angle, thickness)

    def gap(radius: float) -> float:
        x, y = radius * cos(space), radius * sin(space)
        across = [unwound(base, roll / 1000, -start) for roll in range(3001)]
        nearest = min(range(3001), key=lambda place: hypot(across[place][0] - x, -across[place][1] - y))

        def nearness(roll: float) -> float:
            out, side = unwound(base, roll, -start)
            return -hypot(out - x, -side - y)

        return -greatest(nearness, max(0.0, (nearest - 2) / 1000), (nearest + 2) / 1000) - pin / 2

    middle = halved(gap, base, base + 4 + pin)
    return 2 * middle * (1 if teeth % 2 == 0 else cos(pi / (2 * teeth))) + pin


def rolled_contact(teeth: Sequence[int], tips: Sequence[float], angle: float) -> float:
    """Contact ratio by how far each gear of module 1 turns, from pitch point to tip, in its own pitches."""
    turned = 0.0
    for count, tip in zip(teeth, tips, strict=True):
        base = count / 2 * cos(angle)
        turned += (sqrt(tip**2 - base**2) / base - tan(angle)) * count / (2 * pi)
    return turned


# ---- keyways ----------------------------------------------------------------------------------------------


def rise_by_angle(diameter: float, width: float) -> float:
    """How far a circle stands above a chord, by the angle the chord takes in at the centre."""
    return diameter / 2 * (1 - cos(asin(width / diameter)))


# ---- threads -----------------------------------------------------------------------------------------------


class Cut(NamedTuple):
    """A thread from its triangle: down from over the thread, in pitches on the diameter; the radius."""

    pitch_diameter: float
    nut: float
    screw: float
    radius: float


def thread_from_triangle(angle: float, form: str) -> Cut:
    """The sharp triangle of one pitch, cut off as the form has it, or rounded to touch the flanks.

    Whitworth: a sixth off crest and root. BA: cut to a depth of 0.6 pitch. ISO 68-1: an eighth off the crest,
    a quarter off the root; a round root of the screw takes it to a sixth.
    """
    half = radians(angle / 2)
    sharp = 0.5 / tan(half)
    if form == "ISO":
        return Cut(2 * 3 / 8 * sharp, 2 * 5 / 8 * sharp, 2 * 17 / 24 * sharp, 0.0)
    deep = sharp * 2 / 3 if form == "Whitworth" else 0.6
    # A circle that touches both flanks has its centre its radius over the sine below the sharp corner.
    radius = (sharp - deep) / 2 / (1 / sin(half) - 1)
    return Cut(deep, 2 * deep, 2 * deep, radius)


# ---- tapers ------------------------------------------------------------------------------------------------


def taper_angle(large: float, small: float, length: float) -> float:
    """The angle between the two sides, in degrees, by the law of cosines in the triangle to the point."""
    reach = length * large / (large - small)
    side_squared = reach**2 + (large / 2) ** 2
    return degrees(acos((2 * side_squared - large**2) / (2 * side_squared)))


def turned_points(holes: int, diameter: float, first_angle: float) -> list[tuple[float, float]]:
    """Points on a circle, each turned on from the one before by a complex factor."""
    turn = complex(cos(2 * pi / holes), sin(2 * pi / holes))
    point = diameter / 2 * complex(cos(radians(first_angle)), sin(radians(first_angle)))
    points = []
    for _ in range(holes):
        points.append((point.real, point.imag))
        point *= turn
    return points


# ---- what waits for castings ------------------------------------------------------------------------------


class Waiting(NamedTuple):
    """What waits, by the rules as they are told; parts, castings and lines by their numbers."""

    good: dict[int, int]  # of each casting
    owed: dict[int, int]  # of each line
    promised: dict[int, date | None]  # on each line that owes something
    free: dict[int, int]  # of each casting
    short: dict[tuple[int, int], tuple[int, date | None]]  # part and casting: how many, since when
    waits: dict[int, set[int]]  # castings each part waits for, at whatever remove
    holds: dict[int, set[int]]  # parts each casting holds up
    alone: dict[int, set[int]]  # those of them that wait for nothing else that is cast


def waiting(facts: Any) -> Waiting:
    """What waits for which casting, worked out from nothing.

    A made part waits for nothing. A made part has had its castings, in the order of parts, as far as the good
    ones go; then allotments count, in their order, as far as the good ones go; then the other claims, in the
    order of parts. A casting of another part has only to be here. A part waits for every casting that holds
    up a part to be made before it and not made.
    """
    parts = {part.pk: part for part in facts.parts}
    castings = {event.casting for event in facts.events} | {part.casting for part in facts.parts}
    castings = (castings | {need.casting for need in facts.needs}) - {None}
    good = {casting: _many(facts.events, casting, "accepted") for casting in castings}
    for casting in castings:
        good[casting] -= _many(facts.events, casting, "found bad")
    short, free = {}, {}
    for casting in castings:
        missing, free[casting] = _handed_out(facts, casting, good[casting])
        for part, count in missing.items():
            short[part, casting] = (count, _later(parts[part].since, _bad_day(facts, casting)))
    for need in facts.needs:
        part = parts.get(need.part)
        if part and not part.is_made and part.casting != need.casting and good[need.casting] < need.quantity:
            missing = need.quantity - good[need.casting]
            short[part.pk, need.casting] = (missing, _later(need.since, _bad_day(facts, need.casting)))
    waits = _spread({pk: {c for p, c in short if p == pk} for pk in parts}, facts)
    holds = {c: {pk for pk in parts if c in waits[pk]} for _, c in short}
    alone = {c: {pk for pk in held if waits[pk] == {c}} for c, held in holds.items()}
    owed = {line.pk: owed_on(line, facts.events) for line in facts.lines}
    promised = {line.pk: promised_on(line, facts.events) for line in facts.lines if owed[line.pk]}
    return Waiting(good, owed, promised, free, short, waits, holds, alone)


def owed_on(line: Any, events: Sequence[Any]) -> int:
    """What was ordered and is coming, less the good ones, less those that nobody has looked at."""
    here = [event for event in events if event.line == line.pk]
    ordered = _many(here, line.casting, "ordered") - _many(here, line.casting, "cancelled")
    accepted, rejected = (_many(here, line.casting, kind) for kind in ("accepted", "rejected"))
    unseen = max(_many(here, line.casting, "received") - accepted - rejected, 0)
    return max(ordered - (accepted - _many(here, line.casting, "found bad")) - unseen, 0)


def promised_on(line: Any, events: Sequence[Any]) -> date | None:
    """The last day given for what was owed then, unless as many have come since or are not coming."""
    here = [event for event in events if event.line == line.pk]
    for place in reversed(range(len(here))):
        if here[place].kind in ("ordered", "chased") and here[place].promised_on:
            owed, after = owed_on(line, here[: place + 1]), here[place + 1 :]
            came = _many(after, line.casting, "received") + _many(after, line.casting, "cancelled")
            if owed:
                return here[place].promised_on if came < owed else None
    return None


def _many(events: Sequence[Any], casting: int, kind: str) -> int:
    return sum(event.quantity for event in events if event.kind == kind and event.casting == casting)


def _bad_day(facts: Any, casting: int) -> date | None:
    kinds = ("rejected", "found bad")
    return max((e.on for e in facts.events if e.casting == casting and e.kind in kinds), default=None)


def _later(one: date | None, other: date | None) -> date | None:
    return max((day for day in (one, other) if day), default=None)


def _handed_out(facts: Any, casting: int, good: int) -> tuple[dict[int, int], int]:
    """The good ones given out one by one: what each part is short of, and what is left over."""
    claims = sorted((part for part in facts.parts if part.casting == casting), key=lambda part: part.order)
    short = {part.pk: part.wanted for part in claims}
    queue = [part.pk for part in claims if part.is_made for _ in range(part.wanted)]
    queue += [pk for pk in allotted_one_by_one(facts.events, casting) if pk in short and pk not in queue]
    queue += [part.pk for part in claims for _ in range(part.wanted)]
    for pk in queue:
        if good and short[pk]:
            good, short[pk] = good - 1, short[pk] - 1
    made = {part.pk for part in claims if part.is_made}
    return {pk: count for pk, count in short.items() if count and pk not in made}, good


def allotted_one_by_one(events: Sequence[Any], casting: int) -> list[int]:
    """The part of each one allotted, in their order; one found bad comes off the end of its part’s."""
    given: list[int] = []
    for event in events:
        if event.casting == casting and event.part is not None:
            for _ in range(event.quantity):
                if event.kind == "allotted":
                    given.append(event.part)
                elif event.kind == "found bad" and event.part in given:
                    del given[len(given) - 1 - given[::-1].index(event.part)]
    return given


def _spread(waits: dict[int, set[int]], facts: Any) -> dict[int, set[int]]:
    """What holds up a part holds up all that come after it: told along until nothing new is told."""
    made = {part.pk for part in facts.parts if part.is_made}
    while True:
        before = {pk: set(castings) for pk, castings in waits.items()}
        for part, first in facts.firsts:
            if part in waits and first in waits and not {part, first} & made:
                waits[part] |= waits[first]
        if waits == before:
            return waits
