"""Kernel room: what must be known of a keyway before it is cut."""

from collections.abc import Iterator
from fractions import Fraction

from calc.kernel.keyway_entries import (
    INCH_STANDARDS,
    NAMES,
    TAPER,
    Keyway,
    is_inch_size,
    is_metric_size,
    size_text,
)
from calc.kernel.keyway_keys import TAPER_ONE_IN, Key, key_for_shaft
from calc.kernel.keyway_woodruff import Woodruff
from calc.kernel.units import INCH
from calc.kernel.working import Caution

#: How far a bore may differ from its shaft before it is spoken of: five thousandths of an inch.
BORE_SLACK = Fraction(127, 1000)


def cautions(task: Keyway, key: Key, *, has_depths: bool, moon: Woodruff | None = None) -> Iterator[Caution]:
    """Every caution the answer needs, the weightiest first."""
    if moon is not None:
        yield from _of_woodruff(task, moon)
        yield from _of_bore(task)
        return
    if task.kind == TAPER:
        yield _one_face()
    if not has_depths:
        yield _depths_not_read(key)
    yield from _of_width(task, key)
    yield from _other_standards(task)
    yield from _of_bore(task)
    if task.standard == "bs46" and key.key_width and key.shaft_width:
        yield _fitted_key(key)


def _one_face() -> Caution:
    return Caution(
        code="taper-on-one-face",
        text=(
            "The keyway of the hub slopes 1/8 in to the foot on its floor alone, 1 in "
            f"{TAPER_ONE_IN}: tilt the hub by the whole 0.597°, not by half as for a round taper. The hub’s "
            "sizes are those of the deep end. A key of 1 in 100 does not go into it."
        ),
    )


def _of_woodruff(task: Keyway, moon: Woodruff) -> Iterator[Caution]:
    """That the key does not suit the shaft, and what of it was not read."""
    if moon.suits is None:
        yield Caution(
            code="shafts-not-read",
            text=f"Which shafts the key {moon.number} suits was not read: keep to the drawing.",
        )
    elif not moon.suits.low <= task.shaft <= moon.suits.high:
        suits = f"{size_text(moon.suits.low, INCH)} to {size_text(moon.suits.high, INCH)}"
        yield Caution(
            code="key-not-by-shaft",
            text=(
                f"The key {moon.number} is for shafts of {suits}, and this one is "
                f"{size_text(task.shaft, INCH)}: look at the number again."
            ),
        )
    yield Caution(
        code="cutter-fits-key",
        text=(
            "Limits of the width of Woodruff keys and keyseats were not read: try the key in a seat cut in "
            "a piece of scrap with the same cutter first."
        ),
    )


def _depths_not_read(key: Key) -> Caution:
    return Caution(
        code="depths-not-read",
        text=(
            f"Of the rectangular keys of BS 46 only the sizes were read: this one is {key.size_text}. "
            "Take the depths from the drawing or the standard; none are given here."
        ),
    )


def _of_width(task: Keyway, key: Key) -> Iterator[Caution]:
    """That the key entered is not the one the standard gives this shaft."""
    own = key_for_shaft(task.standard, "", task.shaft)
    if task.key_width is None or (own is not None and own.width == key.width):
        return
    name, shaft = NAMES[task.standard], size_text(task.shaft, task.unit)
    gives = f"{name} gives {own.size_text}" if own is not None else f"{name} gives a shaft of this size none"
    yield Caution(
        code="key-not-by-shaft",
        text=(
            f"The key entered, {key.size_text}, is that of shafts {key.range_text}; for {shaft} {gives}. "
            "The depths are those tabled with the key."
        ),
    )


def _other_standards(task: Keyway) -> Iterator[Caution]:
    """Another standard's key for the same shaft, and a shaft measured in the other measure."""
    if task.standard in INCH_STANDARDS:
        other = next(name for name in INCH_STANDARDS if name != task.standard)
        mine, theirs = (key_for_shaft(name, task.section, task.shaft) for name in (task.standard, other))
        if mine and theirs and mine.width != theirs.width:
            yield Caution(
                code="other-standard",
                text=(
                    f"{NAMES[other]} has a key of {theirs.size_text} for this shaft, "
                    f"{NAMES[task.standard]} {mine.size_text}. Keep to the one the drawing names."
                ),
            )
        if is_metric_size(task.shaft) and not is_inch_size(task.shaft):
            yield _mixed(task, "metric-shaft", "metric", ("iso773",))
    elif is_inch_size(task.shaft) and not is_metric_size(task.shaft):
        yield _mixed(task, "inch-shaft", "inch", INCH_STANDARDS)


def _mixed(task: Keyway, code: str, measure: str, others: tuple[str, ...]) -> Caution:
    unit = Fraction(1) if measure == "metric" else INCH
    found = [(NAMES[name], key_for_shaft(name, task.section, task.shaft)) for name in others]
    words = " and ".join(f"{name} {key.size_text}" for name, key in found if key)
    gives = f" For it {words} would be the key." if words else ""
    return Caution(
        code=code,
        text=f"{size_text(task.shaft, unit)} is a {measure} shaft, and {NAMES[task.standard]} is "
        f"{'an inch' if measure == 'metric' else 'a metric'} standard.{gives}",
    )


def _of_bore(task: Keyway) -> Iterator[Caution]:
    if task.bore_measured is None or abs(task.bore_measured - task.shaft) <= BORE_SLACK:
        return
    more = "larger" if task.bore_measured > task.shaft else "smaller"
    apart = size_text(abs(task.bore_measured - task.shaft), task.unit)
    yield Caution(
        code="bore-and-shaft",
        text=(
            f"The bore measured is {apart} {more} than the shaft entered. "
            "The hub is worked from the bore, the shaft from its own size: look at both again."
        ),
    )


def _fitted_key(key: Key) -> Caution:
    assert key.key_width
    assert key.shaft_width
    made, cut = (
        f"{size_text(one.low, INCH)} to {size_text(one.high, INCH)}"
        for one in (key.key_width, key.shaft_width)
    )
    return Caution(
        code="fitted-key",
        text=f"BS 46 makes the key full, {made}, for a keyway of {cut}: it is fitted by hand to each.",
    )
