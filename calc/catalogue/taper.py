"""What a taper asks for, what it hands back, and how it is spoken of."""

from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import taper as limits
from calc.kernel.taper import taper
from calc.kernel.tapers import taper_named
from calc.kernel.wording import decimal_text, exact, fixed


def angle_text(degrees: Any) -> str:
    """An angle as it is set: ``1.43069°``."""
    return f"{fixed(Fraction(degrees), limits.ANGLE_PLACES)}°"


def is_key(inputs: dict[str, Any]) -> bool:
    """Whether it was named as a taper key, which slopes on one face."""
    return bool(inputs.get("name")) and taper_named(inputs["name"]).is_one_face


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    if is_key(inputs):
        return f"Sloping face {angle_text(results['face_angle_deg'])}, the whole rate on one face"
    half, included = (angle_text(results[f"{one}_angle_deg"]) for one in ("half", "included"))
    return f"Compound slide {half}, included angle {included}"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    if inputs.get("name"):
        return f"Taper, {inputs['name']}"
    if inputs.get("rate"):
        rate = exact(inputs["rate"])
        return f"Taper, {decimal_text(rate * 12, 4)} in to the foot"
    if inputs.get("included_angle"):
        return f"Taper, {decimal_text(exact(inputs['included_angle']), 4)}°"
    return "Taper by its diameters and length"


def _length(name: str, label: str, help_text: str, limit: tuple[Fraction, Fraction], reason: str) -> Input:
    return Input(
        name=name, label=label, kind="length", optional=True, help=help_text,
        low=limit[0], high=limit[1], reason=reason,
    )  # fmt: skip


TAPER = Calculation(
    key="taper",
    title="Taper",
    summary="A taper by name, sizes, rate or angle: the compound slide, the tailstock, the sine bar.",
    revision=1,
    about=(
        "One taper in every form it is set by: rate, angles, the compound slide, the tailstock and the "
        "sine bar. The rate is on the diameter; the compound slide is set to half the included angle. The "
        "tailstock’s set-over goes by the whole length between centres, not by the length of the taper."
    ),
    example={"name": "MT2", "work_length": "8 in", "sine_bar": "5 in",},
    inputs=(
        Input(
            name="name",
            label="Taper by name",
            kind="taper",
            optional=True,
            help="MT2, Jarno 6, B&S 7, JT33, taper key 1:100. Or one of the entries below.",
        ),
        Input(
            name="rate",
            label="Rate on the diameter",
            kind="rate",
            optional=True,
            help="1:20, 0.6 in/ft, 50 mm/m.",
            low=limits.RATE[0],
            high=limits.RATE[1],
            reason=limits.RATE_REASON,
        ),
        Input(
            name="included_angle",
            label="Included angle",
            kind="angle",
            optional=True,
            help="Between the two sides, twice what the compound slide is set to.",
            low=limits.ANGLE_DEG[0],
            high=limits.ANGLE_DEG[1],
            reason=limits.ANGLE_REASON,
        ),
        _length("large_diameter", "Large diameter", "With the small one and the length it says the taper.",
                limits.DIAMETER_MM, limits.DIAMETER_REASON),
        _length("small_diameter", "Small diameter", "Any two sizes give the third where the taper is said.",
                limits.DIAMETER_MM, limits.DIAMETER_REASON),
        _length("length", "Length of the taper", "Along the axis.", limits.LENGTH_MM, limits.LENGTH_REASON),
        _length("work_length", "Work between centres", "The whole of it, for setting over the tailstock.",
                limits.LENGTH_MM, limits.LENGTH_REASON),
        _length("sine_bar", "Sine bar", "Between its rollers: 5 in, 100 mm.",
                limits.SINE_BAR_MM, limits.SINE_BAR_REASON),
    ),
    outputs=(
        Output(name="rate", unit="", help="What the diameter changes by in one length."),
        Output(name="taper_per_foot", unit="inch per foot", help="The same on the diameter, to the foot."),
        Output(name="half_angle_deg", unit="degree", help="To the axis: for the compound slide."),
        Output(name="included_angle_deg", unit="degree", help="Between the two sides."),
        Output(name="face_angle_deg", unit="degree", help="Of a face with the whole rate, as a key has."),
        Output(name="large_diameter_mm", unit="millimetre", help="At the large end."),
        Output(name="small_diameter_mm", unit="millimetre", help="At the small end."),
        Output(name="length_mm", unit="millimetre", help="Between them, along the axis."),
        Output(name="tailstock_set_over_mm", unit="millimetre", help="What the tailstock is set over by."),
        Output(name="sine_bar_height_mm", unit="millimetre", help="Under a roller, by the included angle."),
        Output(name="nearest_named", unit="", help="The taper of the table nearest to it."),
        Output(name="nearest_taper_per_foot", unit="inch per foot", help="What that one has to the foot."),
    ),
    function=taper,
    headline=headline,
    subject=subject,
)  # fmt: skip
