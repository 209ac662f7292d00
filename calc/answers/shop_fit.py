"""How the answer of `shop-fit` is shown: the limits of the shaft, marked as old allowances."""

from calc.answers.inch_limits import Words, answer_of, nominal_text
from calc.answers.shapes import Answer, Case
from calc.catalogue.shop_fit import fit_words


def answer(case: Case) -> Answer:
    """The box, the picture and the sizes of one fit."""
    fit = fit_words(dict(case.inputs))
    words = Words(
        over=f"{fit.capitalize()} fit on {nominal_text(case)}, workshop allowance of 1914",
        under="By the allowances of Turning and Boring, 1914, for a hole reamed to size; no standard.",
        hole="nominal",
        shaft=fit,
        is_hole_given=False,
    )
    return answer_of(case, words)
