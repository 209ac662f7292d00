"""What a thread asks for, what it hands back, and how it is spoken of."""

from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel.thread import thread
from calc.kernel.wording import exact, fixed

THREAD_INPUT = Input(
    name="thread",
    label="Thread",
    kind="thread",
    help="With its series: 1/4 BSF, 2 BA, 1/4x40 ME, 10-32 UNF, M6x1, 1/4 BSP.",
)
ENGAGEMENT_OUTPUTS = (
    Output(name="engagement_base", unit="", help="What 100 % of engagement is, in pitches on the diameter."),
    Output(
        name="engagement_other_percent", unit="percent", help="The same on the other base; none where one is."
    ),
    Output(name="engagement_other_base", unit="", help="The other base, in pitches; none where one is."),
)


def percent_text(value: Any) -> str:
    """A percentage of the results as shown: ``76.9 %``."""
    return f"{fixed(exact(value), 1)} %"


def headline(_inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    return f"Tapping drill {results['tapping_drill']}, {percent_text(results['engagement_percent'])}"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    return f"Thread, {inputs['thread']}"


THREAD = Calculation(
    key="thread",
    title="Thread",
    summary="Sizes of a thread by its name, its tapping and clearance drills, and what it may be taken for.",
    revision=1,
    about=(
        "A thread by its name: diameters, pitch, flank angle, the tapping and clearance drills, and the "
        "threads that start in it or on it by hand without fitting. A name that can be read in two ways "
        "is asked about, never guessed."
    ),
    example={
        "thread": "1/4-26 BSF",
    },
    inputs=(THREAD_INPUT,),
    outputs=(
        Output(name="series", unit="", help="Series, M for ISO metric."),
        Output(name="threads_per_inch", unit="count", help="Threads to the inch; none where it has a pitch."),
        Output(name="pitch_mm", unit="millimetre", help="Pitch."),
        Output(name="flank_angle_deg", unit="degree", help="Angle between the flanks."),
        Output(name="major_diameter_mm", unit="millimetre", help="Diameter over the thread."),
        Output(name="pitch_diameter_mm", unit="millimetre", help="Pitch diameter."),
        Output(name="minor_diameter_mm", unit="millimetre", help="Core diameter, of the nut."),
        Output(name="root_diameter_mm", unit="millimetre", help="Diameter at the root of the screw."),
        Output(name="thread_depth_mm", unit="millimetre", help="Depth of the screw’s thread, on one side."),
        Output(name="crest_radius_mm", unit="millimetre", help="Radius of crest and root; none where flat."),
        Output(name="tapping_drill", unit="", help="Tapping drill."),
        Output(name="tapping_drill_mm", unit="millimetre", help="Its diameter."),
        Output(name="engagement_percent", unit="percent", help="How much of the full thread it leaves."),
        *ENGAGEMENT_OUTPUTS,
        Output(name="tapping_drills", unit="", help="Every tapping drill there is for it."),
        Output(name="clearance_drill", unit="", help="Clearance drill; none above the largest drill."),
        Output(name="clearance_drill_mm", unit="millimetre", help="Its diameter."),
        Output(name="spanner_mm", unit="millimetre", help="Across the flats, from memory; none if unknown."),
        Output(name="look_alikes", unit="", help="Threads it may be taken for."),
    ),
    function=thread,
    headline=headline,
    subject=subject,
)
