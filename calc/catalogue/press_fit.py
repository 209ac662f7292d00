"""What a press fit asks for, what it hands back, and how it is spoken of."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Kind, Output
from calc.kernel.fit_words import size_text
from calc.kernel.press_fit import press_fit
from calc.kernel.press_fit_entries import LIMITS, MATERIALS
from calc.kernel.press_fit_steps import shown
from calc.kernel.wording import exact


def _size(inputs: dict[str, Any]) -> str:
    return f"{size_text(exact(inputs['interface']))} mm"


def headline(_inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    pressure, hoop, rise = (
        shown(Fraction(results[name]), 1) for name in ("pressure_mpa", "hub_hoop_mpa", "temperature_rise_c")
    )
    return f"Pressure {pressure} MPa, hub stretched by {hoop} MPa, {rise} °C warmer to go on"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    return subject_typed(inputs, {})


def subject_typed(inputs: dict[str, Any], typed: Mapping[str, str]) -> str:
    """The same with the diameter as it was typed."""
    size = typed.get("interface") or _size(inputs)
    return f"Press fit, {size}, {inputs['shaft_material']} in {inputs['hub_material']}"


def _input(
    name: str,
    label: str,
    kind: Kind,
    help_text: str,
    *,
    rule: str = "",
    optional: bool = True,
    seldom: bool = False,
) -> Input:
    low, high, reason = LIMITS[rule or name]
    return Input(
        name=name, label=label, kind=kind, help=help_text, low=low, high=high, reason=reason,
        optional=optional, seldom=seldom,
    )  # fmt: skip


def _material(side: str) -> Input:
    return Input(
        name=f"{side}_material",
        label=f"Material of the {side}",
        kind="choice",
        help="Its constants are taken by name; each can be entered instead.",
        default="steel",
        choices=tuple((name, name) for name in MATERIALS),
    )


PRESS_FIT = Calculation(
    key="press-fit",
    title="Press and shrink fits",
    summary="Pressure, stress at the hub's bore, what it holds, and how hot the hub must be.",
    revision=1,
    about=(
        "Pressure, stress in the hub, push and torque of a press or shrink fit, and how much warmer the "
        "hub must be to go on. Interference is on the diameter. It takes both parts to be plain rings of "
        "even thickness: spokes, keyways and cast skin make the real hub weaker."
    ),
    example={
        "interface": "25 mm",
        "hub_outside": "50 mm",
        "interference": "0.020 mm",
        "length": "20 mm",
        "friction": "0.12",
        "hub_material": "steel",
        "shaft_material": "steel",
    },
    inputs=(
        _input("interface", "Diameter where they meet", "length", "Nominal: 25 mm or 1 in.", optional=False),
        _input("hub_outside", "Outside of the hub", "length", "Its diameter.", optional=False),
        _input("interference", "Interference", "length", "On the diameter, shaft less bore: 0.0015 in.",
               optional=False),
        _input("shaft_bore", "Bore of the shaft", "length", "Its diameter; empty where the shaft is solid."),
        _input("length", "Length in the hub", "length", "For the force and the torque it holds."),
        _input("friction", "Friction", "number", "For force and torque: 0.1 to 0.2 dry, from memory."),
        _material("hub"),
        _material("shaft"),
        Input(name="assembly_clearance", label="Play to slip it on", kind="length", default="0",
              help="What the hot hub is to be larger by: 0.001 in.", low=LIMITS["assembly_clearance"][0],
              high=LIMITS["assembly_clearance"][1], reason=LIMITS["assembly_clearance"][2]),
        _input("hub_strength", "Strength of the hub", "stress", "Your own figure, in tension: 16 ksi.",
               rule="strength"),
        _input("hub_e", "E of the hub", "stress", "Young’s modulus: 110 GPa.", rule="e", seldom=True),
        _input("hub_poisson", "Poisson’s ratio of the hub", "number", "A bare figure: 0.26.", rule="poisson",
               seldom=True),
        _input("hub_expansion", "Expansion of the hub", "expansion", "11.4e-6 per degC or 6.3e-6 per degF.",
               rule="expansion", seldom=True),
        _input("shaft_e", "E of the shaft", "stress", "Young’s modulus: 207 GPa.", rule="e", seldom=True),
        _input("shaft_poisson", "Poisson’s ratio of the shaft", "number", "A bare figure: 0.29.",
               rule="poisson", seldom=True),
    ),
    outputs=(
        Output(name="pressure_mpa", unit="megapascal", help="Pressure where they meet."),
        Output(name="hub_hoop_mpa", unit="megapascal", help="Hoop stress at the hub’s bore."),
        Output(name="shaft_hoop_mpa", unit="megapascal", help="Hoop stress at the shaft’s bore."),
        Output(name="axial_force_n", unit="newton", help="Axial force it holds."),
        Output(name="torque_nm", unit="newton metre", help="Torque it holds."),
        Output(name="temperature_rise_c", unit="degree Celsius", help="Hub warmer than the shaft."),
    ),
    function=press_fit,
    headline=headline,
    subject=subject,
    subject_typed=subject_typed,
)  # fmt: skip
