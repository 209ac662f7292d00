"""What a size at its scale asks for, what it hands back, and how it is spoken of."""

from collections.abc import Mapping
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import scale as limits
from calc.kernel.bolt_circle import unit_of
from calc.kernel.keyway_entries import size_text
from calc.kernel.scale import scale
from calc.kernel.wording import decimal_text, exact, fixed


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    unit = unit_of(exact(inputs["full_size"]))
    size = fixed(exact(results["model_size_mm"]) / unit, 3 if unit == 1 else 4)
    return f"Model size {size} {'mm' if unit == 1 else 'in'}"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    size = exact(inputs["full_size"])
    return subject_typed(inputs, {"full_size": size_text(size, unit_of(size))})


def subject_typed(inputs: dict[str, Any], typed: Mapping[str, str]) -> str:
    """What was asked, the size as it was typed."""
    foot = decimal_text(exact(inputs["scale"]) * 12, 4)
    return f"Scale, {typed['full_size']} at {foot} in to the foot"


SCALE = Calculation(
    key="scale",
    title="Scale and stock",
    summary="Full size to scale, the nearest stock, and what rounding to it costs.",
    about="For a size measured on a full-size engine or read from its drawing: the size in the model, and "
    "the bar, sheet or plate to make it from. The next stock not below leaves something to machine; the "
    "nearest either way is for what may be left as it comes, and says how far that is from scale. It scales "
    "a mass too. It does not say whether the part is strong enough: that does not follow the scale.",
    example={
        "full_size": "2 1/2 in", "scale": "4 in to the foot", "allowance": "1/32 in", "system": "imperial",
    },
    revision=1,
    inputs=(
        Input(
            name="full_size",
            label="Full size",
            kind="length",
            help="Of the engine: 5 ft 6 in, 2 1/2 in, 1680 mm.",
            low=limits.SIZE_MM[0],
            high=limits.SIZE_MM[1],
            reason=limits.SIZE_REASON,
        ),
        Input(
            name="scale",
            label="Scale",
            kind="scale",
            help="3 in to the foot, 1:4, 3:8.",
            low=limits.SCALE[0],
            high=limits.SCALE[1],
            reason=limits.SCALE_REASON,
        ),
        Input(
            name="allowance",
            label="To be machined off",
            kind="length",
            default="0",
            help="In all, on the model’s size: on a diameter, both sides together.",
            low=limits.ALLOWANCE_MM[0],
            high=limits.ALLOWANCE_MM[1],
            reason=limits.ALLOWANCE_REASON,
        ),
        Input(
            name="form",
            label="Stock",
            kind="choice",
            default="round",
            help="What it is cut from.",
            choices=(("round", "Round bar"), ("sheet", "Sheet"), ("plate", "Plate"), ("none", "None")),
        ),
        Input(
            name="system",
            label="Sizes of stock",
            kind="choice",
            default="either",
            help="Sheet by gauge goes with inches.",
            choices=(("either", "Either"), ("imperial", "Inches"), ("metric", "Millimetres")),
        ),
        Input(
            name="full_mass",
            label="Mass in full size",
            kind="mass",
            optional=True,
            help="12 ton is of 2,240 lb; 12 short ton, 420 lb, 190 kg.",
            low=limits.MASS_KG[0],
            high=limits.MASS_KG[1],
            reason=limits.MASS_REASON,
        ),
    ),
    outputs=(
        Output(name="inches_to_foot", unit="inch per foot", help="The scale, in inches to the foot."),
        Output(name="model_size_mm", unit="millimetre", help="Full size × scale."),
        Output(name="fraction", unit="", help="The nearest 64th of an inch to it, inches."),
        Output(name="fraction_error_mm", unit="millimetre", help="That less the model size."),
        Output(name="size_with_allowance_mm", unit="millimetre", help="With what is to be machined off."),
        Output(name="stock", unit="", help="The least stock not below that."),
        Output(name="stock_mm", unit="millimetre", help="Its size."),
        Output(name="stock_error_mm", unit="millimetre", help="It less the model size."),
        Output(name="stock_error_percent", unit="per cent", help="The same in per cent of the model size."),
        Output(name="stock_full_size_mm", unit="millimetre", help="The full size it stands for."),
        Output(name="nearest_stock", unit="", help="The stock nearest to the model size, either way."),
        Output(name="nearest_stock_mm", unit="millimetre", help="Its size."),
        Output(name="nearest_stock_error_mm", unit="millimetre", help="It less the model size."),
        Output(name="nearest_stock_error_percent", unit="per cent", help="In per cent of the model size."),
        Output(name="nearest_stock_full_size_mm", unit="millimetre", help="The full size it stands for."),
        Output(name="area_factor", unit="", help="What areas are multiplied by."),
        Output(name="mass_factor", unit="", help="What volumes and masses are multiplied by."),
        Output(name="model_mass_kg", unit="kilogram", help="Mass of the model."),
    ),
    function=scale,
    headline=headline,
    subject=subject,
    subject_typed=subject_typed,
)  # fmt: skip
