"""What a keyway that is broached asks for, what it hands back, and how it is spoken of."""

from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import broaching_entries as limits
from calc.kernel.broaching import broaching
from calc.kernel.keyway_entries import BORE_MM, WIDTH_MM, size_text
from calc.kernel.wording import exact, fixed, plural


def sized(mm: Any, unit: Fraction) -> str:
    """A size as it is worked to, with its unit: three places of an inch, two of a millimetre."""
    value = exact(mm) / unit
    return f"{fixed(value, 2)} mm" if unit == 1 else f"{fixed(value, 3)} in"


def unit_of(inputs: Any) -> Fraction:
    """Millimetres in the unit the sum is worked in, which is that of the key."""
    return limits.unit_of_key(exact(inputs["key_width"]))


def key_text(inputs: Any) -> str:
    """The width of the key as a builder says it: ``1/4 in``, ``8 mm``."""
    return size_text(exact(inputs["key_width"]), unit_of(inputs))


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    unit, passes = unit_of(inputs), results["passes"]
    last = sized(passes[-1]["shim_mm"], unit)
    shim = f", {last} behind the last" if passes[-1]["shims"] else ", no shim"
    many = plural(len(passes), "pass") if len(passes) == 1 else f"{len(passes)} passes"
    return f"{many}{shim}: {sized(results['final_across_mm'], unit)} across the bore"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    return f"Broaching, {size_text(exact(inputs['bore']), unit_of(inputs))} bore, {key_text(inputs)} key"


BROACHING = Calculation(
    key="broaching",
    title="Broaching a keyway",
    summary="Passes of a push broach: the shims behind it out of those owned, and the size across the bore.",
    revision=1,
    about=(
        "The passes of a push broach with the shims that are to hand, and what should measure across the "
        "bore after each. Depth is on the centre line of the keyway, so its corners are a little "
        "shallower. A hub longer than the bush’s guide is refused, for the broach would wander."
    ),
    example={
        "bore": "1.125 in",
        "key_width": "1/4 in",
        "hub_crown_depth": "0.116 in",
        "rise_per_pass": "0.045 in",
        "shims": "0.045, 0.020, 0.006 in",
        "hub_length": "1 3/4 in",
        "guide_length": "2 in",
    },
    inputs=(
        Input(
            name="bore",
            label="Bore",
            kind="length",
            help="The hub’s bore as measured: 1.125 in or 28 mm.",
            low=BORE_MM[0],
            high=BORE_MM[1],
            reason=limits.BORE_REASON,
        ),
        Input(
            name="key_width",
            label="Width of the key",
            kind="length",
            help="That of the broach: 1/4 in or 8 mm.",
            low=WIDTH_MM[0],
            high=WIDTH_MM[1],
            reason=limits.WIDTH_REASON,
        ),
        Input(
            name="hub_crown_depth",
            label="Depth in the hub from its crown",
            kind="length",
            help="On the centre line from the top of the bore: the size across the bore, less the bore.",
            low=limits.DEPTH_MM[0],
            high=limits.DEPTH_MM[1],
            reason=limits.DEPTH_REASON,
        ),
        Input(
            name="rise_per_pass",
            label="Rise of the broach",
            kind="length",
            help="What it takes in one pass: its last tooth less its first.",
            low=limits.RISE_MM[0],
            high=limits.RISE_MM[1],
            reason=limits.RISE_REASON,
        ),
        Input(
            name="shims",
            label="Shims owned",
            kind="lengths",
            optional=True,
            help="Thicknesses with commas: 0.058 in, 0.030 in. Two alike are written twice.",
            low=limits.SHIM_MM[0],
            high=limits.SHIM_MM[1],
            most=limits.MOST_SHIMS,
            reason=limits.SHIM_REASON,
        ),
        Input(
            name="hub_length",
            label="Length of the hub",
            kind="length",
            optional=True,
            help="What the broach is pushed through.",
            low=limits.LENGTH_MM[0],
            high=limits.LENGTH_MM[1],
            reason=limits.HUB_REASON,
        ),
        Input(
            name="guide_length",
            label="Length of the guide",
            kind="length",
            optional=True,
            help="Of the bush in the bore; no shorter than the hub.",
            low=limits.LENGTH_MM[0],
            high=limits.LENGTH_MM[1],
            reason=limits.GUIDE_REASON,
        ),
        Input(
            name="hub_crown_depth_max",
            label="That depth, at most",
            kind="length",
            optional=True,
            seldom=True,
            help="Left empty, what the strictest standard with such a key allows.",
            low=limits.DEPTH_MM[0],
            high=limits.DEPTH_MM[1],
            reason=limits.DEPTH_REASON,
        ),
    ),
    outputs=(
        Output(name="passes", unit="", help="Each pass: its shims, the depth so far, the size across."),
        Output(name="final_depth_mm", unit="millimetre", help="Depth after the last pass, from the crown."),
        Output(name="final_across_mm", unit="millimetre", help="After the last pass, across the bore."),
        Output(name="hub_over_work_mm", unit="millimetre", help="Wanted across the bore."),
        Output(name="hub_over_work_max_mm", unit="millimetre", help="Across the bore, at most."),
        Output(name="hub_side_depth_mm", unit="millimetre", help="Wanted at the keyway wall."),
        Output(
            name="chord_rise_mm", unit="millimetre", help="From the keyway’s corners to the top of the bore."
        ),
    ),
    function=broaching,
    headline=headline,
    subject=subject,
)
