"""What a fit asks for, what it hands back, and how it is spoken of."""

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import fit as limits
from calc.kernel.fit_jobs import GAUGE, GAUGE_REASON, JOBS, symbols
from calc.kernel.fit_words import size_text
from calc.kernel.wording import decimal_text, exact, mixed_text


def _asked(inputs: dict[str, Any]) -> str:
    """The symbols as a drawing writes them: ``H7/p6``, or one of them alone."""
    found = symbols(inputs.get("job"), inputs.get("hole"), inputs.get("shaft"))
    return "/".join(text for text in found if text)


def _nominal(inputs: dict[str, Any]) -> str:
    """In millimetres, as the tables have it; a size of the inch rule by that name as well."""
    mm = Fraction(inputs["nominal"])
    inches, metric = mm * 5 / 127, f"{decimal_text(mm, 4)} mm"
    return metric if 64 % inches.denominator else f"{mixed_text(inches)} in ({metric})"


def play_words(most: Fraction, least: Fraction) -> str:
    """Clearance or interference in millimetres, in words."""
    if least >= 0:
        return f"clearance {size_text(least)} to {size_text(most)} mm"
    if most <= 0:
        return f"interference {size_text(-most)} to {size_text(-least)} mm"
    return f"clearance to {size_text(most)} mm, interference to {size_text(-least)} mm"


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    side = results["to_suit"] or ("hole" if results["hole_upper_mm"] is not None else "shaft")
    low, high = (size_text(exact(results[f"{side}_{which}_mm"])) for which in ("lower", "upper"))
    if results["to_suit"]:
        measured = "shaft" if side == "hole" else "hole"
        size = size_text(Fraction(inputs[f"{measured}_measured"]))
        return f"{side.capitalize()} {low} to {high} mm, to suit a {measured} of {size} mm"
    if results["kind"] is None:
        return f"{_asked(inputs)} on {_nominal(inputs)}: {low} to {high} mm"
    most, least = (exact(results[f"clearance_{which}_mm"]) for which in ("max", "min"))
    return f"{_asked(inputs)} on {_nominal(inputs)}: {play_words(most, least)}"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    return subject_typed(inputs, {})


def subject_typed(inputs: dict[str, Any], typed: Mapping[str, str]) -> str:
    """The same with the nominal as it was typed."""
    return f"Fit, {typed.get('nominal') or _nominal(inputs)} {_asked(inputs)}"


FIT = Calculation(
    key="fit",
    title="Limits and fits",
    summary="Limits of hole and shaft by ISO 286, and what to turn to suit a hole as measured.",
    revision=1,
    about=(
        "Limits of a hole and a shaft by the letters of ISO 286, or by what the fit is for. Enter the "
        "hole or the shaft as it was measured, and the other is given to suit it. The nominal size always "
        "picks the row of the table, never the size made."
    ),
    example={
        "nominal": "1 1/4 in",
        "hole": "H8",
        "shaft": "f7",
        "hole_measured": "1.2530 in",
    },
    inputs=(
        Input(
            name="nominal",
            label="Nominal size",
            kind="length",
            help="The size both are named by: 40 mm or 1 1/4 in.",
            low=limits.NOMINAL[0],
            high=limits.NOMINAL[1],
            reason=limits.NOMINAL_REASON,
        ),
        Input(
            name="hole",
            label="Hole",
            kind="symbol",
            optional=True,
            help="Its symbol, in capitals: H7, H8. Left empty, the shaft alone is worked out.",
        ),
        Input(
            name="shaft",
            label="Shaft",
            kind="symbol",
            optional=True,
            help="In small letters. With H7: g6 slides, k6 is tapped home, p6 is pressed. With H8: f7 runs.",
        ),
        Input(
            name="hole_measured",
            label="Hole as measured",
            kind="length",
            optional=True,
            help="Where the hole is bored already: the shaft’s limits come out to suit it.",
            low=limits.MEASURED[0],
            high=limits.MEASURED[1],
            reason=limits.MEASURED_REASON,
        ),
        Input(
            name="shaft_measured",
            label="Shaft as measured",
            kind="length",
            optional=True,
            help="Where the shaft is turned already: the hole’s limits come out to suit it.",
            low=limits.MEASURED[0],
            high=limits.MEASURED[1],
            reason=limits.MEASURED_REASON,
        ),
        Input(
            name="job",
            label="Job of the fit",
            kind="choice",
            optional=True,
            help="In place of the symbols: leave both empty.",
            choices=tuple((job, f"{job}, {'/'.join(pair)}") for job, pair in JOBS.items()),
        ),
        Input(
            name="gauge_resolution",
            label="Your gauge reads to",
            kind="length",
            optional=True,
            seldom=True,
            help="0.01 mm or 0.0005 in: what is finer is spoken of.",
            low=GAUGE[0],
            high=GAUGE[1],
            reason=GAUGE_REASON,
        ),
    ),
    outputs=(
        Output(name="hole_upper_mm", unit="millimetre", help="Upper limit of the hole."),
        Output(name="hole_lower_mm", unit="millimetre", help="Lower limit of the hole."),
        Output(name="shaft_upper_mm", unit="millimetre", help="Upper limit of the shaft."),
        Output(name="shaft_lower_mm", unit="millimetre", help="Lower limit of the shaft."),
        Output(name="hole_es_um", unit="micrometre", help="Upper deviation of the hole, by its symbol."),
        Output(name="hole_ei_um", unit="micrometre", help="Lower deviation of the hole, by its symbol."),
        Output(name="shaft_es_um", unit="micrometre", help="Upper deviation of the shaft, by its symbol."),
        Output(name="shaft_ei_um", unit="micrometre", help="Lower deviation of the shaft, by its symbol."),
        Output(name="hole_tolerance_um", unit="micrometre", help="Tolerance of the hole."),
        Output(name="shaft_tolerance_um", unit="micrometre", help="Tolerance of the shaft."),
        Output(
            name="clearance_max_mm",
            unit="millimetre",
            help="Greatest clearance, below nought interference.",
        ),
        Output(
            name="clearance_min_mm", unit="millimetre", help="Least clearance, below nought interference."
        ),
        Output(name="kind", unit="", help="Kind of fit, clearance, transition or interference."),
        Output(
            name="to_suit", unit="", help="Made to suit, the side whose limits suit the other as measured."
        ),
    ),
    function=limits.fit,
    headline=headline,
    subject=subject,
    subject_typed=subject_typed,
)
