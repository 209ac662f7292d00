"""Kernel room: trains of change gears out of those owned, exact for a ratio and the nearest to it."""

from bisect import bisect_left, insort
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations_with_replacement
from math import log, prod

from calc.kernel.errors import OutOfRange

#: Trains listed at most, exact and nearest; there may be many more.
EXACT_MOST, NEAREST_MOST = 12, 8
#: How far past the last that is kept a train is still looked at, for what a float rounds off.
EDGE = 1 + 1e-9
#: Teeth left between a wheel’s rim and the shaft it passes: common practice, no source.
CLEAR = 15
WHEEL = (8, 400)
WHEELS_MOST = 60
WHEEL_REASON = "They are the teeth of the wheels owned; one that is owned twice is written twice."

Pairs = Mapping[int, Sequence[tuple[int, int]]]


@dataclass(frozen=True, slots=True, order=True)
class Train:
    """Drivers and driven, pair by pair; the first driver stands where the motion comes from."""

    drivers: tuple[int, ...]
    driven: tuple[int, ...]

    @property
    def ratio(self) -> Fraction:
        return Fraction(prod(self.drivers), prod(self.driven))

    @property
    def clears(self) -> bool:
        """Whether the wheels of each stud stay clear of the shaft or the stud beside it."""
        if len(self.drivers) == 1:
            return True
        (first, second), (onto, last) = self.drivers, self.driven
        return second <= first + onto - CLEAR and onto <= second + last - CLEAR


@dataclass(frozen=True, slots=True, kw_only=True)
class Trains:
    """What the gears owned give."""

    exact: tuple[Train, ...]
    exact_count: int  # of all there are, listed or not
    nearest: tuple[Train, ...]  # none where one is exact


def check_wheels(field: str, wheels: Sequence[int]) -> None:
    """Refuse a list that is too short, too long, or holds what is no wheel."""
    low, high = WHEEL
    if not 2 <= len(wheels) <= WHEELS_MOST or not all(low <= wheel <= high for wheel in wheels):
        raise OutOfRange(field, f"2 to {WHEELS_MOST} wheels, each of {low} to {high} teeth", WHEEL_REASON)


def trains_for(wheels: Sequence[int], wanted: Fraction) -> Trains:
    """Trains of one pair or two with that ratio, drivers over driven; where none is exact, the nearest.

    Parameters
    ----------
    wheels : sequence of int
        Teeth of the wheels owned, each as often as it is owned. [count]
    wanted : Fraction
        Product of the drivers over product of the driven. [-] above 0

    Notes
    -----
    One pair goes before two, and of two pairs those that gear least up and down. A driver and a driven
    wheel of one count cancel, so that such a train is one of a pair already.
    """
    simple = _simple(wheels)
    pairs = _pairs(wheels)
    exact = [train for train in simple if train.ratio == wanted]
    exact += sorted(set(_exact_pairs(pairs, wanted)), key=_strain)
    if exact:
        return Trains(exact=tuple(exact[:EXACT_MOST]), exact_count=len(exact), nearest=())
    return Trains(exact=(), exact_count=0, nearest=_nearest(simple, pairs, wanted))


def _simple(wheels: Sequence[int]) -> list[Train]:
    """Every train of one driver and one driven gear."""
    kinds = sorted(set(wheels), reverse=True)
    return [
        Train((one,), (two,))
        for one in kinds
        for two in kinds
        if one != two or wheels.count(one) > 1
    ]  # fmt: skip


def _pairs(wheels: Sequence[int]) -> dict[int, list[tuple[int, int]]]:
    """Every two of the wheels by their product; what is owned once is in no pair twice."""
    pairs: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for one, two in combinations_with_replacement(sorted(set(wheels)), 2):
        if one != two or wheels.count(one) > 1:
            pairs[one * two].append((one, two))
    return pairs


def _exact_pairs(pairs: Pairs, wanted: Fraction) -> Iterator[Train]:
    for product, drivers in pairs.items():
        if product % wanted.numerator == 0:
            driven = pairs.get(product // wanted.numerator * wanted.denominator, ())
            yield from _of_products(drivers, driven)


def _nearest(simple: Sequence[Train], pairs: Pairs, wanted: Fraction) -> tuple[Train, ...]:
    """The trains nearest to a ratio, one to a ratio: outwards from each pair of drivers."""
    found: dict[Fraction, Train] = {}
    errors: list[float] = []
    products, aim = sorted(pairs), float(wanted)
    for out, train in sorted((abs(one.drivers[0] / one.driven[0] - aim), one) for one in simple):
        if len(errors) == NEAREST_MOST and out > errors[-1] * EDGE:
            break
        _keep(found, errors, train, wanted)
    for product, drivers in pairs.items():
        place = bisect_left(products, product / aim)
        for walk in (range(place - 1, -1, -1), range(place, len(products))):
            for at in walk:
                if len(errors) == NEAREST_MOST and abs(product / products[at] - aim) > errors[-1] * EDGE:
                    break
                for train in _of_products(drivers, pairs[products[at]]):
                    _keep(found, errors, train, wanted)
    order = sorted(found.values(), key=lambda train: (abs(train.ratio - wanted), _strain(train)))
    return tuple(order[:NEAREST_MOST])


def _keep(found: dict[Fraction, Train], errors: list[float], train: Train, wanted: Fraction) -> None:
    """Keep a train where it is the first of its ratio, or strains less than the one that is kept."""
    ratio = train.ratio
    kept = found.get(ratio)
    if kept is None:
        insort(errors, abs(float(ratio - wanted)))
        del errors[NEAREST_MOST:]
    if kept is None or _strain(train) < _strain(kept):
        found[ratio] = train


def _of_products(drivers: Sequence[tuple[int, int]], driven: Sequence[tuple[int, int]]) -> Iterator[Train]:
    """Trains of these pairs that cancel no gear, paired as they strain least."""
    for ours in drivers:
        for theirs in driven:
            if not set(ours) & set(theirs):
                yield min((Train(ours, theirs), Train(ours, theirs[::-1])), key=_strain)


def _strain(train: Train) -> tuple[int, bool, float, tuple[int, ...], tuple[int, ...]]:
    """Fewest wheels first, then those that clear each other, then what gears least up or down in a pair."""
    steps = [abs(log(one / two)) for one, two in zip(train.drivers, train.driven, strict=True)]
    return len(train.drivers), not train.clears, round(max(steps), 9), train.drivers, train.driven


def train_text(train: Train) -> str:
    """A train as a sum: ``40 / 100``, ``(56 × 44) / (40 × 100)``."""
    drivers, driven = (" × ".join(map(str, side)) for side in (train.drivers, train.driven))
    return f"{drivers} / {driven}" if len(train.drivers) == 1 else f"({drivers}) / ({driven})"


def train_words(train: Train) -> str:
    """A train for people: ``40 driving 100``, ``56 × 44 driving 40 × 100``."""
    drivers, driven = (" × ".join(map(str, side)) for side in (train.drivers, train.driven))
    return f"{drivers} driving {driven}"


def missing_prime(wheels: Sequence[int], wanted: Fraction) -> int | None:
    """The greatest prime of the ratio that no wheel owned has in it, and that a wheel may have."""
    for prime in range(WHEEL[1], 1, -1):
        in_ratio = wanted.numerator % prime == 0 or wanted.denominator % prime == 0
        is_prime = all(prime % low for low in range(2, int(prime**0.5) + 1))
        if in_ratio and is_prime and all(wheel % prime for wheel in wheels):
            return prime
    return None
