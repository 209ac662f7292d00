"""What a builder might type into any entry of any sum: within its limits, at their edges, a step outside."""

from fractions import Fraction
from math import ceil, floor
from string import ascii_letters

from hypothesis import strategies as st

from calc.calculation import Calculation, Input
from calc.kernel.drills import table as drill_table
from calc.kernel.tapers import tapers
from calc.kernel.threads import threads
from calc.kernel.units import INCH

#: Kinds that are one figure with limits, and what is written after a figure in the base unit.
BASE_UNITS = {
    "count": "", "angle": " deg", "length": " mm", "pitch": " DP", "module": " MOD", "number": "",
    "torque": " N m", "power": " W", "stress": " MPa", "rpm": " rpm", "speed": " m/min",
}  # fmt: skip
#: The same in another unit: how much of the base unit one of it is, exactly.
OTHER_UNITS = {"length": (" in", INCH), "angle": (" min", Fraction(1, 60)), "power": (" kW", Fraction(1000))}
#: Where a sum has no limits of its own.
USUAL = (Fraction(0), Fraction(1000))


def text_of(value: Fraction, unit: str) -> str:
    """An exact figure as a builder may type it, a fraction where it has no end."""
    sign, value = ("-" if value < 0 else ""), abs(value)
    for places in range(13):
        if (value * 10**places).denominator == 1:
            whole, part = divmod(int(value * 10**places), 10**places)
            return f"{sign}{whole}.{part:0{places}d}{unit}" if places else f"{sign}{whole}{unit}"
    return f"{sign}{value.numerator}/{value.denominator}{unit}"


def limits_of(field: Input) -> tuple[Fraction, Fraction]:
    """The limits of an entry, or usual ones where it has none."""
    low = USUAL[0] if field.low is None else field.low
    return low, max(USUAL[1], low + 1) if field.high is None else field.high


def edges_of(field: Input) -> dict[str, tuple[str, str]]:
    """At each limit of an entry, and one step outside it, as typed in the base unit."""
    unit = BASE_UNITS[field.kind]
    step = Fraction(1) if field.kind == "count" else Fraction(1, 10**6)
    return {
        name: (text_of(limit, unit), text_of(limit + way * step, unit))
        for name, limit, way in (("low", field.low, -1), ("high", field.high, 1))
        if limit is not None
    }


def _on_grid(low: Fraction, high: Fraction, parts: int) -> st.SearchStrategy[Fraction]:
    """Whole numbers of so many parts of one, between two limits."""
    first, last = ceil(low * parts), floor(high * parts)
    return st.integers(first, max(first, last)).map(lambda many: min(Fraction(many, parts), high))


def _figures(field: Input) -> st.SearchStrategy[Fraction]:
    low, high = limits_of(field)
    if field.kind == "count":
        near = st.integers(int(low), min(int(high), int(low) + 80))
        return st.one_of(near, near, st.integers(int(low), int(high))).map(Fraction)
    middle = min(high, low + 60)
    near = [_on_grid(low, middle, parts) for parts in (64, 1000, 3)]
    return st.one_of(*near, _on_grid(low, high, 10_000), st.sampled_from([low, high]))


def _one_figure(field: Input) -> st.SearchStrategy[str]:
    def typed(value: Fraction, other: bool) -> str:
        if other and field.kind in OTHER_UNITS:
            unit, worth = OTHER_UNITS[field.kind]
            return text_of(value / worth, unit)
        return text_of(value, BASE_UNITS[field.kind])

    return st.builds(typed, _figures(field), st.booleans())


def _joined(field: Input, strategy: st.SearchStrategy[str], longest: int) -> st.SearchStrategy[str]:
    return st.lists(strategy, min_size=1, max_size=min(field.most or longest, longest)).map(", ".join)


_GEARS = st.sampled_from([*range(20, 66, 5), 24, 28, 32, 44, 48, 56, 63, 64, 72, 86, 100, 127]).map(str)
_CIRCLES = st.integers(15, 66).map(str)
_SYMBOLS = st.builds(
    lambda letters, grade: f"{letters}{grade}",
    st.one_of(st.sampled_from(list(ascii_letters)), st.sampled_from(["js", "JS", "za", "ZC", "cd", "EF"])),
    st.integers(1, 18),
)
_DRILLS = st.one_of(
    st.sampled_from([drill.name for _, drill in drill_table()]),
    st.fractions(Fraction(1, 4), Fraction(60), max_denominator=20).map(lambda size: text_of(size, " mm")),
)


def _counts_of(field: Input) -> st.SearchStrategy[str]:
    low, high = limits_of(field)
    return _GEARS if high > 127 else st.integers(int(low), int(high)).map(str)


def texts(field: Input) -> st.SearchStrategy[str]:
    """Entries of this kind, most of which can be used."""
    if field.kind in BASE_UNITS:
        return _one_figure(field)
    one_to_many = st.integers(1, 200).map(lambda many: f"1:{many}")
    by_kind: dict[str, st.SearchStrategy[str]] = {
        "choice": st.sampled_from([value for value, _ in field.choices] or [""]),
        "circles": st.lists(st.lists(_CIRCLES, min_size=1, max_size=6).map(",".join), min_size=1, max_size=3)
        .map(" / ".join),
        "counts": _joined(field, _counts_of(field), 12),
        "symbol": _SYMBOLS,
        "thread": st.sampled_from([one.name for one in threads()]),
        "drill": _DRILLS,
        "drills": _joined(field, _DRILLS, 12),
        "taper": st.sampled_from([one.name for one in tapers()]),
        "rate": st.one_of(one_to_many, st.sampled_from(["5/8 in/ft", "0.6 in/ft", "50 mm/m", "8:1"])),
        "expansion": st.sampled_from(["11.4e-6", "6.7e-6 per degF", "1e-6", "1e-4"]),
    }  # fmt: skip
    if field.kind == "lengths":
        low, high = limits_of(field)
        near = _on_grid(low, min(high, low + 3), 1000)
        return _joined(field, near.map(lambda size: text_of(size, " mm")), 6)
    return by_kind.get(field.kind, st.just(field.default or ""))


def entries(calculation: Calculation) -> st.SearchStrategy[dict[str, str]]:
    """A set of entries: each at random, some left out; or the sum's example with a few of them otherwise."""
    example = dict(calculation.example)
    drawn = {}
    for field in calculation.inputs:
        own = texts(field)
        if field.name in example:
            own = st.one_of(own, st.just(example[field.name]))
        left_out = field.optional or field.default is not None
        drawn[field.name] = st.one_of(st.just(""), own) if left_out else own
    at_random = st.fixed_dictionaries(drawn)
    otherwise = st.sets(st.sampled_from(list(drawn)), max_size=3)
    changed = st.builds(
        lambda every, names: example | {name: every[name] for name in names}, at_random, otherwise
    )
    return st.one_of(changed, changed, at_random)
