"""What indexing asks for, what it hands back, and how it is spoken of."""

from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import indexing_entries as limits
from calc.kernel.indexing import indexing
from calc.kernel.wording import dms_text, plural, setting_text


def headline(_inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    if results["plain"]:
        return setting_text(results["plain"][0])
    if results["direct"]:
        row = results["direct"][0]
        return f"{plural(row['holes'], 'space')} on the direct plate’s ring of {row['circle']}"
    return "No plain setting with these circles"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    if inputs.get("divisions") is not None:
        return f"Indexing, {inputs['divisions']} divisions"
    return f"Indexing, moves of {dms_text(Fraction(inputs['angle']), 2)}"


#: What every sum on a dividing head asks for.
RATIO = Input(
    name="ratio",
    label="Ratio of the head",
    kind="count",
    default="40",
    help="Turns of the crank for one turn of the spindle.",
    low=Fraction(limits.RATIO[0]),
    high=Fraction(limits.RATIO[1]),
    reason=limits.RATIO_REASON,
)

INDEXING = Calculation(
    key="indexing",
    title="Indexing",
    summary="Divide a circle on a dividing head: plain, compound, differential and nearest settings.",
    revision=1,
    about=(
        "Finds every setting of a dividing head that gives a number of divisions or an angle: plain, by "
        "two moves on one face, or with the plate geared to the spindle, each with its proof. Where none "
        "is exact it says what would make one, and what the nearest costs at the last space. It works "
        "with the plates and gears entered, not with a textbook’s."
    ),
    example={
        "divisions": "84",
        "ratio": "40",
        "circles": "15,16,17,18,19,20/21,23,27,29,31,33/37,39,41,43,47,49",
    },
    inputs=(
        Input(
            name="divisions",
            label="Divisions",
            kind="count",
            optional=True,
            help="How many equal divisions round the work; or leave it empty and enter the angle.",
            low=Fraction(limits.DIVISIONS[0]),
            high=Fraction(limits.DIVISIONS[1]),
            reason=limits.DIVISIONS_REASON,
        ),
        Input(
            name="angle",
            label="Angle of one move",
            kind="angle",
            optional=True,
            help="In place of divisions: 35, 11 1/2 deg, 54' or 4° 17' 8.6\".",
            low=limits.ANGLE_DEG[0],
            high=limits.ANGLE_DEG[1],
            reason=limits.ANGLE_REASON,
        ),
        RATIO,
        Input(
            name="circles",
            label="Circles owned",
            kind="circles",
            help="Holes of each circle, with commas; a stroke parts the faces: 15,16,17 / 21,23,27.",
            low=Fraction(limits.CIRCLE[0]),
            high=Fraction(limits.CIRCLE[1]),
            reason=limits.CIRCLE_REASON,
            most=limits.CIRCLES_MOST,
            most_to_a_face=limits.CIRCLES_MOST_TO_A_FACE,
        ),
        Input(
            name="change_gears",
            label="Change gears owned",
            kind="counts",
            optional=True,
            help="Teeth of each gear of the head, with commas; one owned twice is written twice.",
            low=Fraction(limits.GEAR[0]),
            high=Fraction(limits.GEAR[1]),
            reason=limits.GEAR_REASON,
            most=limits.GEARS_MOST,
        ),
        Input(
            name="keep_quarter",
            label="Must it also give a quarter division?",
            kind="choice",
            default="no",
            help="As a bevel pinion needs when it is cut by setting over.",
            choices=(("no", "no"), ("yes", "yes")),
        ),
        Input(
            name="direct_circles",
            label="Rings of the direct plate",
            kind="counts",
            optional=True,
            help="Holes of each ring on the spindle's own plate, with commas: 24,30,36.",
            low=Fraction(limits.CIRCLE[0]),
            high=Fraction(limits.CIRCLE[1]),
            reason=limits.DIRECT_REASON,
            most=limits.DIRECT_MOST,
        ),
    ),
    outputs=(
        Output(name="exact", unit="", help="Whether any setting is exact."),
        Output(
            name="divisions",
            unit="count",
            help="Moves to a turn; none when the angle does not go into a turn.",
        ),
        Output(name="division_angle_deg", unit="degree", help="Angle of one move."),
        Output(name="plain", unit="", help="Plain settings, the largest circle first."),
        Output(name="direct", unit="", help="Settings on the spindle's own plate, the smallest ring first."),
        Output(name="compound", unit="", help="Two moves on one face, exact."),
        Output(name="differential", unit="", help="Settings with the plate geared to the spindle, exact."),
        Output(
            name="nearest", unit="", help="Nearest settings with their errors, where no plain one is exact."
        ),
        Output(
            name="missing_factor", unit="count", help="What a circle must divide by; none where one does."
        ),
        Output(name="other_ratios", unit="", help="Heads of another ratio on which these circles are plain."),
    ),
    function=indexing,
    headline=headline,
    subject=subject,
)
