"""What the mass of a piece asks for, what it hands back, and how it is spoken of."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import mass as limits
from calc.kernel.bolt_circle import unit_of
from calc.kernel.keyway_entries import size_text
from calc.kernel.mass import mass
from calc.kernel.wording import exact, fixed

WORDS = {
    "round": "Round bar", "square": "Square bar", "hexagon": "Hexagon bar", "flat": "Flat bar or plate",
    "tube": "Tube", "disc": "Disc", "ring": "Ring or rim",
}  # fmt: skip
MATERIALS = {
    "none": "Not from the table", "grey-iron": "Grey cast iron", "malleable-iron": "Malleable or SG iron",
    "steel": "Mild steel", "stainless": "Stainless steel", "brass": "Brass", "bronze": "Bronze",
    "gunmetal": "Gunmetal", "copper": "Copper", "aluminium": "Aluminium", "cast-aluminium": "Cast aluminium",
    "lead": "Lead", "ptfe": "PTFE",
}  # fmt: skip


def headline(_inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    return f"{weight_text(results['mass_kg'])} kg"


def weight_text(figure: Any) -> str:
    """A mass to four figures or so: ``25.45``, ``0.0312``, ``190.5``."""
    value = Fraction(figure)
    places = next((places for least, places in ((100, 1), (10, 2), (1, 3)) if value >= least), 4)
    return fixed(exact(value), places)


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    sizes = {name: exact(inputs[name]) for name in ("across", "length")}
    return subject_typed(inputs, {name: size_text(size, unit_of(size)) for name, size in sizes.items()})


def subject_typed(inputs: dict[str, Any], typed: Mapping[str, str]) -> str:
    """What was asked, sizes as they were typed."""
    pieces = f", {inputs['pieces']} off" if inputs["pieces"] > 1 else ""
    name = inputs["material"]
    word = MATERIALS[name] if name == "ptfe" else MATERIALS[name].lower()
    of = "" if name == limits.NO_MATERIAL else f", {word}"
    return f"Mass, {WORDS[inputs['form']].lower()} {typed['across']} by {typed['length']}{of}{pieces}"


MASS = Calculation(
    key="mass",
    title="Mass",
    summary="What bar, plate, tube, a disc or a rim weighs, from the lightest to the heaviest it may be.",
    about="For ordering metal, for lifting, and for balancing a wheel. Give the section, the length and the "
    "material, or a density of your own; the table’s range is worked as well, since no two melts are alike. "
    "Holes, spokes, fillets and rounded corners are not counted: work a wheel as a rim and a boss.",
    example={"form": "ring", "across": "14 in", "inside_diameter": "12 1/2 in", "length": "1 3/4 in",
             "material": "grey-iron"},
    revision=1,
    inputs=(
        Input(
            name="form",
            label="Section",
            kind="choice",
            help="A disc is a short round bar, a ring or rim a short tube.",
            choices=tuple(WORDS.items()),
        ),
        Input(
            name="across",
            label="Across",
            kind="length",
            help="Diameter, outside of a tube; side; across the flats; width.",
            low=limits.SIZE_MM[0],
            high=limits.SIZE_MM[1],
            reason=limits.SIZE_REASON,
        ),
        Input(
            name="length",
            label="Length",
            kind="length",
            help="Of one piece; thickness of a disc, width of a rim.",
            low=limits.LENGTH_MM[0],
            high=limits.LENGTH_MM[1],
            reason=limits.LENGTH_REASON,
        ),
        Input(
            name="thickness",
            label="Thickness or wall",
            kind="length",
            optional=True,
            help="Of a flat; the wall of a tube or ring.",
            low=limits.SIZE_MM[0],
            high=limits.SIZE_MM[1],
            reason=limits.SIZE_REASON,
        ),
        Input(
            name="inside_diameter",
            label="Inside diameter",
            kind="length",
            optional=True,
            help="Of a tube or ring, instead of its wall.",
            low=limits.SIZE_MM[0],
            high=limits.SIZE_MM[1],
            reason=limits.SIZE_REASON,
        ),
        Input(
            name="material",
            label="Material",
            kind="choice",
            default="none",
            help="Takes its density from the table. Or your own below.",
            choices=tuple(MATERIALS.items()),
        ),
        Input(
            name="density",
            label="Density",
            kind="density",
            optional=True,
            help="7200 kg/m3, 7.2 g/cm3, 0.26 lb/in3.",
            low=limits.DENSITY[0],
            high=limits.DENSITY[1],
            reason=limits.DENSITY_REASON,
        ),
        Input(
            name="pieces",
            label="Pieces",
            kind="count",
            default="1",
            help="How many alike.",
            low=Fraction(limits.COUNT[0]),
            high=Fraction(limits.COUNT[1]),
            reason=limits.COUNT_REASON,
        ),
    ),
    outputs=(
        Output(name="area_mm2", unit="square millimetre", help="Area of the section."),
        Output(name="volume_cm3", unit="cubic centimetre", help="Volume of one piece."),
        Output(name="density_kg_m3", unit="kilogram per cubic metre", help="Density in use."),
        Output(name="mass_each_kg", unit="kilogram", help="Mass of one piece."),
        Output(name="mass_kg", unit="kilogram", help="Mass of all."),
        Output(name="mass_low_kg", unit="kilogram", help="By the lowest density of the material."),
        Output(name="mass_high_kg", unit="kilogram", help="By the highest."),
        Output(name="inside_diameter_mm", unit="millimetre", help="Inside a tube or ring."),
    ),
    function=mass,
    headline=headline,
    subject=subject,
    subject_typed=subject_typed,
)  # fmt: skip
