"""What the indexing schedule asks for, what it hands back, and how it is spoken of."""

from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.catalogue.indexing import RATIO
from calc.kernel import indexing_entries as head
from calc.kernel import indexing_schedule as limits
from calc.kernel.wording import move_text, plural


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    moved = move_text(inputs["turns"], inputs["holes"], inputs["circle"])
    every = results["home_every"]
    return (
        f"{moved}, pin home at every move"
        if every == 1
        else f"{moved}, pin home every {plural(every, 'move')}"
    )


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    return f"Indexing schedule, {inputs['divisions']} divisions"


INDEXING_SCHEDULE = Calculation(
    key="indexing-schedule",
    title="Indexing schedule",
    summary="Hole, crank turns and spindle angle at every division of one setting.",
    revision=1,
    about=(
        "Writes the whole round out: for each division the turns made so far, the hole the pin stands in "
        "and the angle. Use it to find the place again after a break, or to check the count half way. A "
        "setting that does not close is refused."
    ),
    example={
        "divisions": "84",
        "ratio": "40",
        "circle": "42",
        "turns": "0",
        "holes": "20",
    },
    inputs=(
        Input(
            name="divisions",
            label="Divisions",
            kind="count",
            help="How many equal divisions round the work.",
            low=Fraction(limits.DIVISIONS[0]),
            high=Fraction(limits.DIVISIONS[1]),
            reason=limits.DIVISIONS_REASON,
        ),
        RATIO,
        Input(
            name="circle",
            label="Circle",
            kind="count",
            help="Holes of the circle in use.",
            low=Fraction(head.CIRCLE[0]),
            high=Fraction(head.CIRCLE[1]),
            reason=head.CIRCLE_REASON,
        ),
        Input(
            name="turns",
            label="Whole turns",
            kind="count",
            default="0",
            help="Whole turns of the crank in one move.",
            low=Fraction(limits.TURNS[0]),
            high=Fraction(limits.TURNS[1]),
            reason=limits.TURNS_REASON,
        ),
        Input(
            name="holes",
            label="Spaces",
            kind="count",
            help="Spaces moved on the circle, besides the whole turns.",
            low=Fraction(0),
            high=Fraction(head.CIRCLE[1] - 1),
            reason=limits.HOLES_REASON,
        ),
    ),
    outputs=(
        Output(name="rows", unit="", help="One row to a division: crank turns so far, hole, spindle angle."),
        Output(
            name="home_every", unit="count", help="Moves between two returns of the pin to its first hole."
        ),
    ),
    function=limits.indexing_schedule,
    headline=headline,
    subject=subject,
)
