"""What a sequence of drills for a bore asks for, what it hands back, and how it is spoken of."""

from collections.abc import Mapping
from typing import Any

from calc.calculation import Calculation, Input, Output
from calc.kernel import bore_sequence as limits
from calc.kernel.bore_sequence import bore_sequence
from calc.kernel.drills import MOST
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, exact, fixed, mixed_text

REAMER_WORDS = {"machine": "machine reamer", "hand": "hand reamer", "none": "no reamer"}


def bore_text(mm: Any) -> str:
    """The bore in the measure it was made to: a fraction of an inch where it is a 64th, else millimetres."""
    bore = exact(mm)
    inches = bore / INCH
    if (inches * 64).denominator == 1:
        return f"{mixed_text(inches)} in"
    metric = (bore * 100).denominator == 1
    return f"{decimal_text(bore, 4)} mm" if metric else f"{decimal_text(inches, 4)} in"


def headline(_inputs: dict[str, Any], results: dict[str, Any]) -> str:
    """The answer in one line."""
    drills = ", ".join(row["drill"] for row in results["drills"])
    left = exact(results["stock_left_mm"])
    return f"{drills}: {fixed(left, 2)} mm, {fixed(left / INCH, 4)} in left on the diameter"


def subject(inputs: dict[str, Any]) -> str:
    """What was asked, in one line."""
    return subject_typed(inputs, {})


def subject_typed(inputs: dict[str, Any], typed: Mapping[str, str]) -> str:
    """The same with the bore as it was typed."""
    bore = typed.get("finished_bore") or bore_text(inputs["finished_bore"])
    return f"Bore sequence, {bore}, {REAMER_WORDS[inputs['reamer']]}"


BORE_SEQUENCE = Calculation(
    key="bore-sequence",
    title="Bore sequence",
    summary="Drills in order up to the reamer, out of those owned, and what is left on the diameter.",
    revision=1,
    about=(
        "The drills to take, in order, out of those owned, and what the last leaves for the reamer. What "
        "is left is on the diameter, and a drill is taken to cut 0.05 mm over its size. The steps before "
        "the last are advice."
    ),
    example={
        "finished_bore": "1/2 in",
        "drills_owned": "1/16 in to 1/2 in by 1/64 in, #1 to #60",
    },
    inputs=(
        Input(
            name="finished_bore",
            label="Finished bore",
            kind="length",
            help="As it is to be: 1/2 in or 12 mm.",
            low=limits.BORE_MM[0],
            high=limits.BORE_MM[1],
            reason=limits.BORE_REASON,
        ),
        Input(
            name="reamer",
            label="Finished by",
            kind="choice",
            default="machine",
            help="A hand reamer takes far less than one in the machine.",
            choices=(
                ("machine", "machine reamer"),
                ("hand", "hand reamer"),
                ("none", "no reamer, boring"),
            ),
        ),
        Input(
            name="drills_owned",
            label="Drills owned",
            kind="drills",
            optional=True,
            help="With commas, and runs: #1 to #60, 1/16 to 1/2 in by 1/64. Left empty, all there are.",
            most=MOST,
            reason="Leave it empty for the drills of the table.",
        ),
    ),
    outputs=(
        Output(name="drills", unit="", help="Drills in order; those before the last are advice."),
        Output(name="last_drill", unit="", help="The one before the reamer."),
        Output(name="last_drill_mm", unit="millimetre", help="Its diameter."),
        Output(name="hole_mm", unit="millimetre", help="What it cuts, 0.05 mm over its size."),
        Output(name="stock_left_mm", unit="millimetre", help="Left for the reamer, on the diameter."),
        Output(name="stock_left_a_side_mm", unit="millimetre", help="Half of that: left on each side."),
        Output(name="allowance_low_mm", unit="millimetre", help="What is to be left at least."),
        Output(name="allowance_high_mm", unit="millimetre", help="What is to be left at most."),
    ),
    function=bore_sequence,
    headline=headline,
    subject=subject,
    subject_typed=subject_typed,
)
