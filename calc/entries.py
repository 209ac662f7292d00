"""Calc room: what was typed against what a calculation asks for; readings to echo, and clean inputs."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from typing import Any

from calc import (
    casting_entries,
    expansion_entries,
    measures,
    quantities,
    scale_entries,
    taper_entries,
    thread_entries,
)
from calc.calculation import Calculation, Input
from calc.kernel import tables
from calc.kernel.units import Unit
from calc.kernel.wording import decimal_text, dms_text
from calc.kernel.working import Outcome


class EntryErrors(Exception):
    """Entries that cannot be used: a message for each field, by its name."""

    def __init__(self, messages: Mapping[str, str]) -> None:
        super().__init__("; ".join(f"{name}: {message}" for name, message in messages.items()))
        self.messages = dict(messages)


@dataclass(frozen=True, slots=True)
class Entries:
    """What was read: an echo for each field, and the inputs in base units for the kernel."""

    readings: dict[str, str]
    inputs: dict[str, Any]


def read_entries(calculation: Calculation, entered: Mapping[str, str], *, unit: Unit = "inch") -> Entries:
    """Read every entry; raises EntryErrors with all that is wrong, not only the first."""
    fields = {field.name: field for field in calculation.inputs}
    errors = {
        name: f"{calculation.title} asks for no “{name}”. It asks for: {', '.join(fields)}."
        for name in entered
        if name not in fields
    }
    readings: dict[str, str] = {}
    inputs: dict[str, Any] = {}
    for name, field in fields.items():
        try:
            inputs[name], readings[name] = _read(field, entered.get(name, ""), unit)
        except measures.EntryError as error:
            errors[name] = error.message
    if errors:
        raise EntryErrors(errors)
    return Entries({name: text for name, text in readings.items() if text}, inputs)


def _read(field: Input, text: str, unit: Unit) -> tuple[Any, str]:
    """The clean value of one entry and its echo; the default stands in for an empty one."""
    if not text.strip():
        if field.default is not None:
            value, reading = _reader(field, unit)(field, field.default)
            return value, f"{reading}, as usual"
        if field.optional:
            return None, ""
        if field.choices:
            raise measures.EntryError(f"Nothing is chosen: {_one_of(field)}. {field.help}")
        raise measures.EntryError(f"Nothing is entered. {field.help}")
    return _reader(field, unit)(field, text)


def _one_of(field: Input) -> str:
    """The choices as they are written: `bs46, b17.1 or iso773`."""
    *first, last = (value for value, _ in field.choices)
    return f"{', '.join(first)} or {last}" if first else last


def _read_count(field: Input, text: str) -> tuple[int, str]:
    value = measures.parse_count(text)
    _within(field, Fraction(value), str(value))
    return value, str(value)


def _read_angle(field: Input, text: str) -> tuple[Fraction, str]:
    measure = measures.parse_angle(text)
    _within(field, measure.base, measure.typed())
    return measure.base, measure.echo()


def _read_length(field: Input, text: str, unit: Unit) -> tuple[Fraction, str]:
    measure = measures.parse_length(text, unit)
    _within(field, measure.base, measure.typed(), inches=measure.unit in ("in", "thou", "ft"))
    return measure.base, measure.echo()


def _read_pitch(field: Input, text: str) -> tuple[Fraction, str]:
    measure = (measures.parse_pitch if field.kind == "pitch" else measures.parse_module)(text)
    _within(field, measure.base, measure.typed())
    return measure.base, measure.echo()


def _read_number(field: Input, text: str) -> tuple[Fraction, str]:
    measure = measures.parse_number(text)
    _within(field, measure.base, measure.typed())
    return measure.base, measure.typed()


def _read_rate(field: Input, text: str) -> tuple[Fraction, str]:
    rate = taper_entries.parse_rate(text)
    _within(field, rate, text.strip())
    return rate, taper_entries.read_rate(rate)


def _read_scale(field: Input, text: str) -> tuple[Fraction, str]:
    scale = scale_entries.parse_scale(text)
    _within(field, scale, text.strip())
    return scale, scale_entries.read_scale(scale)


def _read_contraction(field: Input, text: str) -> tuple[Fraction, str]:
    contraction = casting_entries.parse_contraction(text)
    _within(field, contraction, text.strip())
    return contraction, casting_entries.read_contraction(contraction)


def _read_symbol(_field: Input, text: str) -> tuple[str, str]:
    symbol = measures.parse_symbol(text)
    return symbol, symbol


def _read_counts(field: Input, text: str) -> tuple[tuple[int, ...], str]:
    counts = measures.parse_counts(text)
    _not_too_many(field, len(counts))
    for count in counts:
        _within(field, Fraction(count), str(count))
    return counts, f"{len(counts)}: {', '.join(map(str, counts))}"


def _read_circles(field: Input, text: str) -> tuple[tuple[tuple[int, ...], ...], str]:
    faces = measures.parse_circles(text)
    _not_too_many(field, sum(map(len, faces)))
    for place, face in enumerate(faces, 1):
        if field.most_to_a_face is not None and len(face) > field.most_to_a_face:
            raise measures.EntryError(
                f"Face {place} has {len(face)} circles, and {field.most_to_a_face} are the most on one face. "
                "Part the faces with a stroke: 15,16,17 / 21,23,27."
            )
        for circle in face:
            _within(field, Fraction(circle), str(circle))
    circles = len({circle for face in faces for circle in face})
    words = "1 circle" if circles == 1 else f"{circles} circles"
    return faces, f"{words} on 1 face" if len(faces) == 1 else f"{words} on {len(faces)} faces"


def _read_choice(field: Input, text: str) -> tuple[str, str]:
    wanted = text.strip().lower()
    for value, words in field.choices:
        if wanted in (value.lower(), words.lower()):
            return value, words
    offered = " or ".join(value for value, _ in field.choices)
    raise measures.EntryError(f"“{wanted[:20]}” is not one of the choices: write {offered}.")


def _read_quantity(field: Input, text: str) -> tuple[Fraction, str]:
    quantity = quantities.parse(field.kind, text)
    _within(field, quantity.base, quantity.typed())
    return quantity.base, quantity.echo()


def _read_expansion(field: Input, text: str) -> tuple[Fraction, str]:
    expansion, read = expansion_entries.parse_expansion(text)
    _within(field, expansion, text.strip())
    return expansion, read


def _read_lengths(field: Input, text: str, unit: Unit) -> tuple[tuple[Fraction, ...], str]:
    lengths = quantities.parse_lengths(text, unit)
    _not_too_many(field, len(lengths))
    for measure in lengths:
        _within(field, measure.base, measure.typed(), inches=measure.unit in measures.INCH_UNITS)
    read = ", ".join(measure.echo() for measure in lengths)
    return tuple(measure.base for measure in lengths), f"{len(lengths)}: {read}"


#: What stands after a limit of these kinds.
KIND_UNITS: Mapping[str, str] = {
    "pitch": " DP", "module": " mm",
    "torque": " N m", "power": " W", "stress": " MPa", "expansion": " per °C", "rpm": " turns a minute",
    "speed": " m/min", "mass": " kg", "density": " kg/m³", "contraction": " in/ft",
}  # fmt: skip

READERS: Mapping[str, Callable[[Input, str], tuple[Any, str]]] = {
    "count": _read_count,
    "angle": _read_angle,
    "pitch": _read_pitch,
    "module": _read_pitch,
    "number": _read_number,
    "symbol": _read_symbol,
    "counts": _read_counts,
    "circles": _read_circles,
    "choice": _read_choice,
    "thread": thread_entries.read_thread,
    "taper": taper_entries.read_taper,
    "rate": _read_rate,
    "torque": _read_quantity,
    "power": _read_quantity,
    "stress": _read_quantity,
    "expansion": _read_expansion,
    "rpm": _read_quantity,
    "speed": _read_quantity,
    "scale": _read_scale,
    "mass": _read_quantity,
    "density": _read_quantity,
    "contraction": _read_contraction,
}
#: Readers of what depends on the unit a bare number takes.
UNIT_READERS: Mapping[str, Callable[[Input, str, Unit], tuple[Any, str]]] = {
    "length": _read_length,
    "lengths": _read_lengths,
    "drill": thread_entries.read_drill,
    "drills": thread_entries.read_drills,
}


def _reader(field: Input, unit: Unit) -> Callable[[Input, str], tuple[Any, str]]:
    """The reader for a field's kind; of a length or a drill, with the unit a bare number takes."""
    by_unit = UNIT_READERS.get(field.kind)
    return partial(_with_unit, by_unit, unit) if by_unit else READERS[field.kind]


def _with_unit(
    reader: Callable[[Input, str, Unit], tuple[Any, str]], unit: Unit, field: Input, text: str
) -> tuple[Any, str]:
    return reader(field, text, unit)


def _within(field: Input, value: Fraction, shown: str, *, inches: bool = False) -> None:
    """Refuse a value outside the field's limits, saying the limit in the unit typed, and why it is there."""
    low = field.low is not None and value < field.low
    high = field.high is not None and value > field.high
    if low or high:
        shown = f"{shown[:19]}…" if len(shown) > 20 else shown
        which, limits = "small" if low else "great", limits_text(field, inches=inches)
        raise measures.EntryError(f"{shown} is too {which}: {limits}. {field.reason}".strip())


def _not_too_many(field: Input, number: int) -> None:
    if field.most is not None and number > field.most:
        raise measures.EntryError(
            f"There are {number} in the list, and {field.most} are the most. {field.reason}"
        )


def limits_text(field: Input, *, inches: bool = False) -> str:
    """The limits of a field in words: ``2 to 10000``, ``at least 1 mm``; empty when it has none."""
    low, high = (_limit_text(field, limit, inches) for limit in (field.low, field.high))
    if low and high:
        return f"{low} to {high}"
    return f"at least {low}" if low else f"at most {high}" if high else ""


def _limit_text(field: Input, limit: Fraction | None, inches: bool) -> str:
    if limit is None:
        return ""
    if field.kind == "angle":
        return dms_text(limit, 4)
    if field.kind in ("length", "lengths"):
        inch = measures.MILLIMETRES["in"]
        return f"{decimal_text(limit / inch, 4)} in" if inches else f"{decimal_text(limit, 4)} mm"
    return f"{decimal_text(limit, 6)}{KIND_UNITS.get(field.kind, '')}"


def plain_json(value: Any) -> Any:
    """Inputs and results as JSON holds them: a whole fraction as a count, any other as a number."""
    if isinstance(value, Fraction):
        return value.numerator if value.denominator == 1 else float(value)
    if isinstance(value, Mapping):
        return {name: plain_json(part) for name, part in value.items()}
    if isinstance(value, (list, tuple)):
        return [plain_json(part) for part in value]
    return value


def worked_json(
    calculation: Calculation, entered: Mapping[str, str], inputs: Mapping[str, Any], outcome: Outcome
) -> dict[str, Any]:
    """The one JSON object of a sum that was worked out."""
    return {
        "calculation": calculation.key,
        "revision": calculation.revision,
        "entered": dict(entered),
        "inputs": plain_json(inputs),
        "results": plain_json(outcome.results),
        "working": [
            {
                "label": step.label, "formula": step.formula, "figures": step.figures,
                "value": step.value, "unit": step.unit, "source": step.source,
            }
            for step in outcome.working
        ],
        "warnings": [{"code": caution.code, "text": caution.text} for caution in outcome.warnings],
        "sources": [tables.cite(key) for key in outcome.sources],
    }  # fmt: skip
