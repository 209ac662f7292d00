"""What a casting's size asks for, what it hands back, and how it is spoken of."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import casting_allowance as limits
from calc.kernel.bolt_circle import unit_of
from calc.kernel.casting_allowance import casting_allowance
from calc.kernel.keyway_entries import size_text
from calc.kernel.wording import exact, fixed

METALS = {
    "cast-iron": "Cast iron", "steel": "Steel", "brass": "Brass", "yellow-brass": "Yellow brass",
    "bronze": "Bronze", "gunmetal": "Gunmetal", "manganese-bronze": "Aluminium or manganese bronze",
    "aluminium": "Aluminium", "zinc": "Zinc", "lead": "Lead", "tin": "Tin",
}  # fmt: skip


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    unit = unit_of(exact(inputs["finished_size"]))
    casting, pattern = (
        fixed(exact(results[f"{name}_size_mm"]) / unit, 2 if unit == 1 else 3)
        for name in ("casting", "pattern")
    )
    return f"Pattern {pattern} {'mm' if unit == 1 else 'in'}, casting {casting}"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    size = exact(inputs["finished_size"])
    return subject_typed(inputs, {"finished_size": size_text(size, unit_of(size))})


def subject_typed(inputs: dict[str, Any], typed: Mapping[str, str]) -> str:
    """What was asked, the size as it was typed."""
    faces = ("no face machined", "one face machined", "both faces machined")[inputs["faces"]]
    bore = "bore " if inputs["surface"] == "bore" else ""
    return f"Casting, {bore}{typed['finished_size']} {METALS[inputs['metal']].lower()}, {faces}"


CASTING_ALLOWANCE = Calculation(
    key="casting-allowance",
    title="Casting and pattern",
    summary="A finished size to the casting’s and the pattern’s: what is left to machine, and contraction.",
    about="For making a pattern, or for checking one before it goes to the foundry, one size at a time. The "
    "books differ about contraction, so where they do the choice is yours, best the foundry’s own, and the "
    "pattern by each book stands beside it. Draft, fillets, warping and shake are not in it.",
    example={"finished_size": "12 1/2 in", "metal": "cast-iron", "faces": "2", "contraction": "1/8",
             "allowance": "1/8 in"},
    revision=1,
    inputs=(
        Input(
            name="finished_size",
            label="Finished size",
            kind="length",
            help="As the drawing of the finished part has it: 12 1/2 in.",
            low=limits.SIZE_MM[0],
            high=limits.SIZE_MM[1],
            reason=limits.SIZE_REASON,
        ),
        Input(
            name="metal",
            label="Metal",
            kind="choice",
            help="Of the casting.",
            choices=tuple(METALS.items()),
        ),
        Input(
            name="faces",
            label="Faces machined",
            kind="count",
            help="Of this size: 0, 1 or 2; a diameter has 2.",
            low=Fraction(limits.FACES[0]),
            high=Fraction(limits.FACES[1]),
            reason=limits.FACES_REASON,
        ),
        Input(
            name="surface",
            label="Of what",
            kind="choice",
            default="outside",
            help="A bore is cast smaller.",
            choices=(("outside", "Outside size"), ("bore", "Bore from a core")),
        ),
        Input(
            name="contraction",
            label="Contraction",
            kind="contraction",
            optional=True,
            help="Inches to the foot of casting: 3/32, 1/8. Wanted where the books differ.",
            low=limits.CONTRACTION_IN_FT[0],
            high=limits.CONTRACTION_IN_FT[1],
            reason=limits.CONTRACTION_REASON,
        ),
        Input(
            name="allowance",
            label="Left on a face",
            kind="length",
            optional=True,
            help="The most of the table unless entered; a diameter has it twice.",
            low=limits.ALLOWANCE_MM[0],
            high=limits.ALLOWANCE_MM[1],
            reason=limits.ALLOWANCE_REASON,
        ),
    ),
    outputs=(
        Output(name="allowance_mm", unit="millimetre", help="Left on one face."),
        Output(name="allowance_low_mm", unit="millimetre", help="The least of the table."),
        Output(name="allowance_high_mm", unit="millimetre", help="The most of the table."),
        Output(name="casting_size_mm", unit="millimetre", help="Finished size and what is left on it."),
        Output(name="contraction_in_ft", unit="inch per foot", help="Contraction in use."),
        Output(name="pattern_size_mm", unit="millimetre", help="Casting size × (1 + contraction / 12)."),
        Output(name="pattern_one_face_mm", unit="millimetre", help="With the allowance once."),
        Output(name="pattern_both_faces_mm", unit="millimetre", help="With the allowance twice."),
        Output(name="contractions", unit="", help="A row to a book: its contraction, the pattern by it."),
    ),
    function=casting_allowance,
    headline=headline,
    subject=subject,
    subject_typed=subject_typed,
)  # fmt: skip
