"""What the strength of a key asks for, what it hands back, and how it is spoken of."""

from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import key_strength as limits
from calc.kernel.broaching_entries import unit_of_key
from calc.kernel.key_strength import key_strength
from calc.kernel.keyway_entries import size_text
from calc.kernel.wording import exact, fixed


def key_unit(inputs: Any) -> Fraction:
    """Millimetres in the unit of the key."""
    return unit_of_key(exact(inputs["key_width"]))


def key_text(inputs: Any) -> str:
    """The key by its section: ``1/4 in × 1/4 in``, ``25 mm × 14 mm``."""
    unit = key_unit(inputs)
    return " × ".join(size_text(exact(inputs[name]), unit) for name in ("key_width", "key_height"))


def headline(_inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    wanted = exact(results["length_wanted_mm"])
    by = "shear" if results["length_for_shear_mm"] >= results["length_for_crushing_mm"] else "crushing"
    return f"{fixed(wanted, 1)} mm, {fixed(wanted / Fraction(254, 10), 3)} in of key wanted, by {by}"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    shaft = size_text(exact(inputs["shaft"]), key_unit(inputs))
    return f"Strength of a key, {key_text(inputs)}, {shaft} shaft"


_LENGTHS = (
    ("shaft", "Shaft", "Its diameter at the key.", limits.SHAFT_MM, limits.SHAFT_REASON),
    ("key_width", "Width of the key", "As made: 1/4 in or 8 mm.", limits.SIZE_MM, limits.SIZE_REASON),
    ("key_height", "Height of the key", "Half of it bears.", limits.SIZE_MM, limits.SIZE_REASON),
)

KEY_STRENGTH = Calculation(
    key="key-strength",
    title="Strength of a key",
    summary="Shear and crushing of a key under a torque, or a power at a speed; the length it wants.",
    revision=1,
    about=(
        "How long a key must be for its torque, by shear along the shaft and by crushing on half its "
        "height; the longer of the two counts. The stresses allowed are the builder’s to enter: they come "
        "from the designer, a standard or a competent person. Rounded ends are not counted."
    ),
    example={
        "power": "5 hp",
        "speed": "210",
        "shaft": "1 1/8 in",
        "key_width": "1/4 in",
        "key_height": "1/4 in",
        "length": "1 1/4 in",
        "allowable_shear": "7000 psi",
        "allowable_crushing": "14000 psi",
    },
    inputs=(
        Input(
            name="torque",
            label="Torque",
            kind="torque",
            optional=True,
            help="120 N m or 90 lbf ft; or a power and a speed instead.",
            low=limits.TORQUE_NM[0],
            high=limits.TORQUE_NM[1],
            reason=limits.TORQUE_REASON,
        ),
        Input(
            name="power",
            label="Power",
            kind="power",
            optional=True,
            help="5 hp or 3 kW, with the speed.",
            low=limits.POWER_W[0],
            high=limits.POWER_W[1],
            reason=limits.POWER_REASON,
        ),
        Input(
            name="speed",
            label="Speed",
            kind="rpm",
            optional=True,
            help="Of this shaft, in turns a minute.",
            low=limits.SPEED_RPM[0],
            high=limits.SPEED_RPM[1],
            reason=limits.SPEED_REASON,
        ),
        *(
            Input(name=name, label=label, kind="length", help=words, low=low, high=high, reason=reason)
            for name, label, words, (low, high), reason in _LENGTHS
        ),
        Input(
            name="length",
            label="Length of the key",
            kind="length",
            optional=True,
            help="What bears, without rounded ends; left empty, only the length wanted is worked out.",
            low=limits.LENGTH_MM[0],
            high=limits.LENGTH_MM[1],
            reason=limits.LENGTH_REASON,
        ),
        Input(
            name="allowable_shear",
            label="Shear allowed",
            kind="stress",
            help="50 MPa, 7000 psi or 3 ton/in2: the strength by your factor of safety.",
            low=limits.STRESS_MPA[0],
            high=limits.STRESS_MPA[1],
            reason=limits.STRESS_REASON,
        ),
        Input(
            name="allowable_crushing",
            label="Crushing allowed",
            kind="stress",
            help="Of the softest of key, shaft and hub.",
            low=limits.STRESS_MPA[0],
            high=limits.STRESS_MPA[1],
            reason=limits.STRESS_REASON,
        ),
    ),
    outputs=(
        Output(name="torque_nm", unit="newton metre", help="Torque through the key."),
        Output(name="force_n", unit="newton", help="Force at the surface of the shaft."),
        Output(name="shear_mpa", unit="megapascal", help="Shear over the length entered."),
        Output(name="crushing_mpa", unit="megapascal", help="Crushing over the length entered."),
        Output(name="length_for_shear_mm", unit="millimetre", help="Length wanted for shear."),
        Output(name="length_for_crushing_mm", unit="millimetre", help="Length wanted for crushing."),
        Output(name="length_wanted_mm", unit="millimetre", help="The greater of the two."),
        Output(name="equal_height_mm", unit="millimetre", help="Height at which both are alike."),
        Output(
            name="length_as_shaft_mm", unit="millimetre", help="Length at which it shears with the shaft."
        ),
    ),
    function=key_strength,
    headline=headline,
    subject=subject,
)
