"""What the gears of a milled helix ask for, what they hand back, and how they are spoken of."""

from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.catalogue.change_wheels import row_text, thread_entries, wheels_entry
from calc.kernel import milling_lead as limits
from calc.kernel.indexing_entries import RATIO, RATIO_REASON
from calc.kernel.milling_lead import milling_lead
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, exact


def lead_text(lead: Any) -> str:
    """A lead in both units: ``6.16 in (156.464 mm)``."""
    mm = exact(lead)
    return f"{decimal_text(mm / INCH, 4)} in ({decimal_text(mm, 3)} mm)"


def headline(_inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    return row_text((results["exact_trains"] or results["nearest_trains"])[0])


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    return f"Milled helix, lead {lead_text(inputs['lead'])}"


MILLING_LEAD = Calculation(
    key="milling-lead",
    title="Lead by change gears",
    summary="Gears between the table’s screw and the dividing head, for a helix of a lead.",
    revision=1,
    about=(
        "Trains of change gears that turn the dividing head as the table travels, for helical gears and for "
        "flutes of cutters and reamers. Where no train is exact the nearest are told, with what lead and "
        "helix angle are out. Short leads are had by gearing the spindle itself instead of the worm."
    ),
    example={
        "lead": "19.703 in",
        "screw_threads_per_inch": "4",
        "change_gears": "24, 24, 28, 32, 40, 44, 48, 56, 64, 72, 86, 100",
        "work_diameter": "2.598 in",
    },
    inputs=(
        Input(
            name="lead", label="Lead", kind="length",
            help="Along the axis for one turn of the helix: 6.160 in.",
            low=limits.LEAD_MM[0], high=limits.LEAD_MM[1], reason=limits.LEAD_REASON,
        ),
        *thread_entries("screw_", "the screw of the table", "the table’s screw"),
        wheels_entry("change_gears", "Change gears owned"),
        Input(
            name="ratio", label="Ratio of the head", kind="count", default="40",
            help="Turns of the crank for one turn of the spindle.",
            low=Fraction(RATIO[0]), high=Fraction(RATIO[1]), reason=RATIO_REASON,
        ),
        Input(
            name="drive", label="The last gear turns", kind="choice", default="worm",
            help="The worm, or the spindle itself for a short lead.",
            choices=tuple(limits.DRIVES.items()),
        ),
        Input(
            name="work_diameter", label="Diameter of the work", kind="length", optional=True,
            help="Where the helix angle is taken; of a gear its pitch diameter.",
            low=limits.DIAMETER_MM[0], high=limits.DIAMETER_MM[1], reason=limits.DIAMETER_REASON,
        ),
    ),
    outputs=(
        Output(name="machine_lead_mm", unit="millimetre", help="The lead with gears one to one."),
        Output(name="train_ratio", unit="", help="Product of the drivers over product of the driven."),
        Output(name="exact_trains", unit="", help="Trains that give the lead exactly, the simplest first."),
        Output(name="exact_trains_count", unit="count", help="How many there are, listed or not."),
        Output(name="nearest_trains", unit="", help="None exact: the nearest, and what they are out."),
        Output(name="helix_angle_deg", unit="degree", help="To the axis, at the diameter entered."),
    ),
    function=milling_lead,
    headline=headline,
    subject=subject,
)  # fmt: skip
