"""How the answer of `inch-fit` is shown: the limits of the shaft, and where the row comes from."""

from fractions import Fraction

from calc.answers.inch_limits import Words, answer_of, nominal_text
from calc.answers.shapes import Answer, Case
from calc.kernel.inch_fit import WORDS, rows_of, source_text, span_text
from calc.kernel.units import INCH
from calc.kernel.wording import exact


def answer(case: Case) -> Answer:
    """The box, the picture and the sizes of one fit."""
    fit, inches = case.inputs["fit"], exact(case.inputs["nominal"]) / INCH
    row = next(
        (row for row in rows_of(fit) if Fraction(row["over_in"]) < inches <= Fraction(row["upto_in"])), None
    )
    origin = f"{source_text(row)}, {span_text(row)}" if row else "ANSI B4.1-1967"
    words = Words(
        over=f"{fit} on {nominal_text(case)}",
        under=f"{WORDS[fit[:2]].capitalize()}. Limits by {origin}.",
        hole=fit,
        shaft=fit,
        is_hole_given=True,
    )
    return answer_of(case, words)
