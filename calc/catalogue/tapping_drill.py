"""What a tapping drill asks for, what it hands back, and how it is spoken of."""

from fractions import Fraction
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.catalogue.thread import ENGAGEMENT_OUTPUTS, THREAD_INPUT, percent_text
from calc.kernel import tapping_drill as limits
from calc.kernel.drills import SIZE_REASON
from calc.kernel.tapping_drill import tapping_drill
from calc.kernel.threads_drills import USUAL_PERCENT
from calc.kernel.wording import decimal_text, exact, fixed


def headline(inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    left = percent_text(results["engagement_percent"])
    if inputs.get("drill"):
        return f"Drill {inputs['drill']} leaves {left}"
    size = fixed(exact(results["drill_exact_mm"]), 3)
    return f"Hole {size} mm for {left}; the nearest drill is {results['nearest_drill']}"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    if inputs.get("drill"):
        return f"Tapping drill, {inputs['thread']}, drill {inputs['drill']}"
    wanted = inputs.get("engagement")
    per_cent = decimal_text(Fraction(USUAL_PERCENT if wanted is None else wanted), 2)
    return f"Tapping drill, {inputs['thread']}, {per_cent} %"


TAPPING_DRILL = Calculation(
    key="tapping-drill",
    title="Tapping drill",
    summary="The hole for a thread at an engagement, the drills beside it, or what a drill leaves.",
    revision=1,
    about=(
        "The hole for a thread at the engagement wanted, with the drills on either side and what each "
        "leaves; or what a drill to hand would leave. A drill under the core diameter is never offered. "
        "Long holes and tough metal want less engagement than thin plate."
    ),
    example={
        "thread": "2 BA",
        "drill": "#24",
    },
    inputs=(
        THREAD_INPUT,
        Input(
            name="engagement",
            label="Engagement, %",
            kind="number",
            optional=True,
            help="How much of the full thread: 75 unless entered; 65 in stainless or deep holes.",
            low=limits.PERCENT[0],
            high=limits.PERCENT[1],
            reason=limits.PERCENT_REASON,
        ),
        Input(
            name="drill",
            label="Drill in hand",
            kind="drill",
            optional=True,
            help="In place of an engagement: #24, Q, 7/32, 5.1 mm.",
            reason=SIZE_REASON,
        ),
        Input(
            name="base",
            label="What 100 % is",
            kind="choice",
            default=limits.USUAL,
            seldom=True,
            help="Of ISO and Unified threads older handbooks count on 1.299 pitches.",
            choices=((limits.USUAL, "as the form has it"), (limits.OLDER, "1.299 pitches")),
            reason=limits.BASE_REASON,
        ),
    ),
    outputs=(
        Output(name="minor_diameter_mm", unit="millimetre", help="Core diameter, of the nut."),
        Output(name="drill_exact_mm", unit="millimetre", help="The hole: by engagement, or the drill’s."),
        Output(name="engagement_percent", unit="percent", help="How much of the full thread it leaves."),
        *ENGAGEMENT_OUTPUTS,
        Output(name="smaller_drills", unit="", help="Two drills at or under the hole, the nearest first."),
        Output(name="larger_drills", unit="", help="Two drills over it, the nearest first."),
        Output(name="nearest_drill", unit="", help="The nearest of them."),
        Output(name="nearest_drill_mm", unit="millimetre", help="Its diameter."),
        Output(name="listed_drills", unit="", help="What tables give for the thread."),
    ),
    function=tapping_drill,
    headline=headline,
    subject=subject,
)
