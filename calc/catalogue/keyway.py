"""What a keyway asks for, what it hands back, and how it is spoken of."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import keyway_entries as limits
from calc.kernel.keyway import MEASURES, PLACES, keyway
from calc.kernel.keyway_entries import INCH_STANDARDS, NAMES, is_inch_size, is_metric_size, size_text
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, exact, fixed

_PLACE_WORDS = {"shaft": "in the shaft", "hub": "in the hub"}
_MEASURE_WORDS = {
    "side_depth": "Side depth {place}, at the keyway wall",
    "crown_depth": "Depth {place} from its crown, on the centre line",
    "over_work": "{over}",
}
_OVER_WORDS = {
    "shaft": "Over the shaft, shaft less crown depth",
    "hub": "Across the bore, bore and crown depth",
}
_END_WORDS = {"": "", "_min": ", at least", "_max": ", at most"}


def key_text(standard: str, results: dict[str, Any]) -> str:
    """The key by its size: ``1/4 in``, ``1/4 × 3/16 in``, ``6 × 6 mm``."""
    if results.get("key_number"):
        wide, across = (limits.inch_text(exact(results[f"key_{one}_mm"])) for one in ("width", "diameter"))
        return f"Woodruff {results['key_number']}, {wide} × {across} in"
    width, height = exact(results["key_width_mm"]), exact(results["key_height_mm"])
    unit = limits.unit_of(standard)
    wide, high = limits.plain_size(width, unit), limits.plain_size(height, unit)
    if unit == 1:
        return f"{wide} × {high} mm"
    return f"{wide} in" if wide == high else f"{wide} × {high} in"


def shaft_text(inputs: dict[str, Any]) -> str:
    """The shaft in the measure it was made to, as near as its size tells: ``1 1/8 in``, ``20 mm``."""
    shaft = exact(inputs["shaft_diameter"])
    unit = limits.unit_of(inputs["standard"])
    if is_inch_size(shaft) != is_metric_size(shaft):
        unit = INCH if is_inch_size(shaft) else Fraction(1)
    return size_text(shaft, unit)


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    standard = inputs["standard"]
    key = f"{key_text(standard, results)} {'taper ' if results.get('taper_one_in') else ''}key"
    if results["shaft_over_work_mm"] is None:
        return f"{key}: its depths were not read"
    unit, places = limits.unit_of(standard), 3 if standard in INCH_STANDARDS else 2
    over, across = (fixed(exact(results[f"{one}_over_work_mm"]) / unit, places) for one in PLACES)
    return f"{key}: {over} over the shaft, {across} across the bore"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    return subject_typed(inputs, {})


def subject_typed(inputs: dict[str, Any], typed: Mapping[str, str]) -> str:
    """The same with the shaft as it was typed."""
    shaft = typed.get("shaft_diameter") or shaft_text(inputs)
    number = inputs.get("key_number")
    kind = {"taper": "Taper keyway", "woodruff": "Woodruff keyway"}.get(inputs.get("kind", ""), "Keyway")
    named = f" {decimal_text(Fraction(number), 1)}" if kind.startswith("Woodruff") and number else ""
    return f"{kind}{named}, {shaft} shaft, {NAMES[inputs['standard']]}"


def _depth_outputs() -> list[Output]:
    return [
        Output(
            name=f"{place}_{measure}{end}_mm",
            unit="millimetre",
            help=_MEASURE_WORDS[measure].format(place=_PLACE_WORDS[place], over=_OVER_WORDS[place])
            + f"{_END_WORDS[end]}.",
        )
        for place in PLACES
        for measure in MEASURES
        for end in ("", "_min", "_max")
    ]


def _limit_outputs(name: str, words: str) -> list[Output]:
    return [
        Output(name=f"{name}_min_mm", unit="millimetre", help=f"{words}, at least."),
        Output(name=f"{name}_max_mm", unit="millimetre", help=f"{words}, at most."),
    ]


KEYWAY = Calculation(
    key="keyway",
    title="Keyway",
    summary="Parallel, taper or Woodruff key for a shaft: its keyway over the shaft and across the bore.",
    revision=1,
    about=(
        "The key that a standard gives a shaft, and how deep it is cut in shaft and hub: at the wall, on "
        "the centre line, and over the work as it is measured. No depth is printed without saying where "
        "it is measured from. The nominal size picks the key; a bore measured over its size moves only "
        "what is measured across it."
    ),
    example={
        "shaft_diameter": "1 1/8 in",
        "standard": "b17.1",
    },
    inputs=(
        Input(
            name="shaft_diameter",
            label="Shaft",
            kind="length",
            help="Nominal diameter: 1 1/8 in, 20 mm. It picks the key.",
            low=limits.SHAFT_MM[0],
            high=limits.SHAFT_MM[1],
            reason=limits.SHAFT_REASON,
        ),
        Input(
            name="standard",
            label="Standard",
            kind="choice",
            help="Choose the standard the drawing names; they give different keys for many shafts.",
            choices=(
                ("bs46", "BS 46, inch"),
                ("b17.1", "ANSI B17.1, inch"),
                ("iso773", "ISO 773 (DIN 6885, BS 4235), metric"),
            ),
        ),
        Input(
            name="kind",
            label="Kind of key",
            kind="choice",
            default="parallel",
            help="Taper keys by B17.1 and Woodruff keys by B17.2, both with ANSI B17.1, inch.",
            choices=(("parallel", "parallel"), ("taper", "taper"), ("woodruff", "Woodruff")),
        ),
        Input(
            name="key_number",
            label="Number of a Woodruff key",
            kind="number",
            optional=True,
            help="Only for a Woodruff key: 404 is 1/8 × 1/2 in, 202.5 is 1/16 × 5/16 in.",
            low=limits.NUMBER[0],
            high=limits.NUMBER[1],
            reason=limits.NUMBER_REASON,
        ),
        Input(
            name="section",
            label="Section",
            kind="choice",
            default=limits.PREFERRED,
            seldom=True,
            help="A square key, or a flatter one of the same width.",
            choices=(
                (limits.PREFERRED, "as the standard prefers"),
                ("square", "square"),
                ("rectangular", "rectangular"),
            ),
        ),
        Input(
            name="fit",
            label="Fit of the key",
            kind="choice",
            default=limits.USUAL,
            seldom=True,
            help="Free, normal or close by ISO 773, normal as a rule; class 1 by B17.1; BS 46 has none.",
            choices=(
                (limits.USUAL, "as the standard has it"),
                ("free", "free"),
                ("normal", "normal"),
                ("close", "close"),
                ("1", "class 1"),
            ),
        ),
        Input(
            name="key_width",
            label="Width of the key",
            kind="length",
            optional=True,
            seldom=True,
            help="Only for another key of the standard than the shaft's own: 1/4 in, 8 mm.",
            low=limits.WIDTH_MM[0],
            high=limits.WIDTH_MM[1],
            reason=limits.WIDTH_REASON,
        ),
        Input(
            name="bore_measured",
            label="Bore as measured",
            kind="length",
            optional=True,
            help="The hub's bore as it came out: 1.1258 in. The sizes of the hub are worked from it.",
            low=limits.BORE_MM[0],
            high=limits.BORE_MM[1],
            reason=limits.BORE_REASON,
        ),
    ),
    outputs=(
        Output(name="section", unit="", help="Section of the key in use."),
        Output(name="fit", unit="", help="Class of fit in use; none by BS 46."),
        Output(name="key_width_mm", unit="millimetre", help="Width of the key."),
        Output(name="key_height_mm", unit="millimetre", help="Height of the key."),
        Output(
            name="chord_rise_mm",
            unit="millimetre",
            help="From the corners of the keyway to the top of shaft or bore.",
        ),
        *_depth_outputs(),
        *_limit_outputs("shaft_width", "Width of the keyway in the shaft"),
        *_limit_outputs("hub_width", "Width of the keyway in the hub"),
        *_limit_outputs("key_width", "Width of the key"),
        *_limit_outputs("length", "Length of the key"),
        *_limit_outputs("key_height", "Height of the key"),
        Output(name="taper_one_in", unit="count", help="Slope of a taper key, on one face: one in this."),
        Output(name="key_number", unit="", help="Number of a Woodruff key."),
        Output(
            name="key_diameter_mm", unit="millimetre", help="Diameter of a Woodruff key, and of its cutter."
        ),
        Output(name="key_flat_mm", unit="millimetre", help="Flat of a Woodruff key below its centre."),
    ),
    function=keyway,
    headline=headline,
    subject=subject,
    subject_typed=subject_typed,
)
