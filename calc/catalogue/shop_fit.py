"""What a workshop fit asks for, what it hands back, and how it is spoken of."""

from collections.abc import Mapping
from typing import Any

from calc.calculation import Calculation, Input
from calc.catalogue.inch_fit import OUTPUTS, inches, shaft_headline
from calc.kernel import shop_fit as limits


def fit_words(inputs: dict[str, Any]) -> str:
    """The fit with its class where it runs: ``forced``, ``running X``."""
    return f"running {inputs['running_class']}" if inputs["fit"] == "running" else str(inputs["fit"])


def headline(_inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    return shaft_headline(results)


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    return subject_typed(inputs, {})


def subject_typed(inputs: dict[str, Any], typed: Mapping[str, str]) -> str:
    """The same with the nominal as it was typed."""
    nominal = typed.get("nominal") or f"{inches(inputs['nominal'])} in"
    return f"Workshop fit of 1914, {nominal} {fit_words(inputs)}"


SHOP_FIT = Calculation(
    key="shop-fit",
    title="Workshop fits of 1914",
    summary="Limits of a shaft in a hole reamed to size, running, push, driving or forced.",
    revision=1,
    about=(
        "What the shops of 1914 left on or took off a shaft for a hole reamed to its nominal size. Old "
        "drawings that only say “driving fit” were made to allowances such as these. They are a record of "
        "practice, not a standard in force."
    ),
    example={
        "nominal": "1 1/2 in",
        "fit": "forced",
    },
    inputs=(
        Input(
            name="nominal",
            label="Nominal size",
            kind="length",
            help="The hole, reamed to exactly this: 1 1/2 in.",
            low=limits.NOMINAL[0],
            high=limits.NOMINAL[1],
            reason=limits.NOMINAL_REASON,
        ),
        Input(
            name="fit",
            label="Fit",
            kind="choice",
            help="As the old table names it.",
            choices=(
                ("running", "running, with play for oil"),
                ("push", "push, home by hand"),
                ("driving", "driving, with a hammer"),
                ("forced", "forced, in a press"),
            ),
        ),
        Input(
            name="running_class",
            label="Class of a running fit",
            kind="choice",
            help="Only a running fit has one.",
            default="X",
            choices=(
                ("X", "X, engine and other easy work"),
                ("Y", "Y, high speeds and average work"),
                ("Z", "Z, fine tool work"),
            ),
        ),
    ),
    outputs=OUTPUTS,
    function=limits.shop_fit,
    headline=headline,
    subject=subject,
    subject_typed=subject_typed,
)
