"""What an inch fit asks for, what it hands back, and how it is spoken of."""

from collections.abc import Mapping
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import inch_fit as limits
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, exact

LIMITS = tuple(
    Output(name=f"{side}_{end}_mm", unit="millimetre", help=f"{end.capitalize()} limit of the {side}.")
    for side in ("hole", "shaft")
    for end in ("upper", "lower")
)
FROM_NOMINAL = tuple(
    Output(name=f"{side}_{name}_um", unit="micrometre", help=f"{end} limit of the {side}, from the nominal.")
    for side in ("hole", "shaft")
    for name, end in (("es", "Upper"), ("ei", "Lower"))
)
TOLERANCES = tuple(
    Output(name=f"{side}_tolerance_um", unit="micrometre", help=f"Tolerance of the {side}.")
    for side in ("hole", "shaft")
)
PLAY = (
    Output(name="clearance_max_mm", unit="millimetre", help="Greatest clearance, below nought interference."),
    Output(name="clearance_min_mm", unit="millimetre", help="Least clearance, below nought interference."),
    Output(name="kind", unit="", help="Kind of fit, clearance, transition or interference."),
)
OUTPUTS = (*LIMITS, *FROM_NOMINAL, *TOLERANCES, *PLAY)


def inches(mm: Any) -> str:
    """A size of the inputs or results in inches, to five places at most."""
    return decimal_text(exact(mm) / INCH, 5)


def shaft_headline(results: dict[str, Any]) -> str:
    """The limits of the shaft and the play, in inches, in one line."""
    low, high = (inches(results[f"shaft_{end}_mm"]) for end in ("lower", "upper"))
    most, least = results["clearance_max_mm"], results["clearance_min_mm"]
    if results["kind"] == "clearance":
        play = f"clearance {inches(least)} to {inches(most)} in"
    elif results["kind"] == "interference":
        play = f"interference {inches(-most)} to {inches(-least)} in"
    else:
        play = f"clearance to {inches(most)} in, interference to {inches(-least)} in"
    return f"Shaft {low} to {high} in, {play}"


def headline(_inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    return shaft_headline(results)


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    return subject_typed(inputs, {})


def subject_typed(inputs: dict[str, Any], typed: Mapping[str, str]) -> str:
    """The same with the nominal as it was typed."""
    nominal = typed.get("nominal") or f"{inches(inputs['nominal'])} in"
    return f"Inch fit, {nominal} {inputs['fit']}"


INCH_FIT = Calculation(
    key="inch-fit",
    title="Inch fits",
    summary="Limits of hole and shaft by ANSI B4.1: RC, LC, LT, LN and FN.",
    revision=1,
    about=(
        "Limits of a hole and a shaft by the inch fits of ANSI B4.1, from running RC1 to force FN5. Its "
        "letters are not those of ISO 286, and the two must not be mixed on one fit. Interference is a "
        "clearance below nought."
    ),
    example={
        "nominal": "1 in",
        "fit": "RC4",
    },
    inputs=(
        Input(
            name="nominal",
            label="Nominal size",
            kind="length",
            help="The size both are named by: 1 in, 3/4 in.",
            low=limits.NOMINAL[0],
            high=limits.NOMINAL[1],
            reason=limits.NOMINAL_REASON,
        ),
        Input(
            name="fit",
            label="Class of fit",
            kind="choice",
            help="RC runs or slides, LC and LT locate, LN locates without play, FN is pressed or shrunk.",
            choices=tuple((fit, f"{fit}, {limits.WORDS[fit[:2]]}") for fit in limits.FITS),
        ),
    ),
    outputs=OUTPUTS,
    function=limits.inch_fit,
    headline=headline,
    subject=subject,
    subject_typed=subject_typed,
)
