"""The inch fits of ANSI B4.1: misprints that were met, edges of the ranges, what the tables do not cover.

Numbers of traps are those of the list of mistakes in limits and fits: 12, letters taken for those of ISO 286.
"""

from fractions import Fraction

import pytest

from calc.entries import read_entries
from calc.kernel import tables
from calc.kernel.errors import OutOfRange
from calc.kernel.fit import fit
from calc.kernel.inch_fit import FITS, inch_fit, rows_of
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value

INCH = Fraction(254, 10)


def thou(value):
    return round(value / 0.0254, 6)


def worked(inches, which):
    return inch_fit(nominal=Fraction(inches) * INCH, fit=which)


ROWS = [row for which in FITS for row in rows_of(which)]


@pytest.mark.parametrize("row", ROWS, ids=[f"{row['fit']}-{row['upto_in']}" for row in ROWS])
def test_row_when_worked_then_the_play_is_what_the_table_prints(row):
    """Limits and play stand in the table apart: each is a check on the other (Machinery's Handbook)."""
    found = worked(row["upto_in"], row["fit"]).results
    if row["fit"].startswith("FN"):
        least, most = -float(row["greatest_interference"]), -float(row["least_interference"])
    else:
        least, most = float(row["least_clearance"]), float(row["greatest_clearance"])
    assert thou(found["clearance_min_mm"]) == pytest.approx(least)
    assert thou(found["clearance_max_mm"]) == pytest.approx(most)
    assert row["how"] in ("read", "derived", "memory")
    assert bool(row["where"]) == (row["how"] != "memory")


@pytest.mark.parametrize(
    ("inches", "which", "least", "most"),
    [
        (
            "1.5",
            "LC8",
            3.0,
            9.5 - 3.0,
        ),  # a page prints 3.6; its own limits +4.0/0 and -3.0/-5.5 give 3.0, 9.5
        ("0.1", "LC8", 1.0, 3.6),  # printed 1.0 to 2.0 on one page
        ("0.2", "RC3", 0.4, 1.2),  # printed 1.12 on one page
    ],
)
def test_misprint_when_met_then_the_limits_have_it(inches, which, least, most):
    found = worked(inches, which).results
    assert thou(found["clearance_min_mm"]) == pytest.approx(least)
    if which != "LC8" or inches != "1.5":
        assert thou(found["clearance_max_mm"]) == pytest.approx(most)
    else:
        assert thou(found["clearance_max_mm"]) == pytest.approx(9.5)


def test_rc9_when_over_0_12_then_the_lower_limit_is_as_printed():
    assert thou(worked("0.2", "RC9").results["shaft_ei_um"] / 1000) == pytest.approx(-6.0)


def test_trap_12_when_the_letters_are_those_of_iso_then_the_limits_are_not():
    """1 in RC4 is called H8/f7: 0.0008 to 0.0028 in; 25 H8/f7 by ISO 286 is 0.020 to 0.074 mm."""
    outcome = worked("1", "RC4")
    inch, iso = outcome.results, fit(nominal=Fraction(25), hole="H8", shaft="f7").results
    assert [inch["clearance_min_mm"], inch["clearance_max_mm"]] == pytest.approx([0.02032, 0.07112])
    assert [iso["clearance_min_mm"], iso["clearance_max_mm"]] == [0.02, 0.074]
    (caution,) = [one for one in outcome.warnings if one.code == "not-iso"]
    assert "H8/f7" in caution.text
    assert "ISO 286" in caution.text


@pytest.mark.parametrize(
    ("inches", "which"),
    [
        ("7.0901", "RC4"),
        ("5.5201", "FN2"),
        ("0.95", "FN3"),
        ("0.24", "LT3"),
        ("0.24", "LT4"),
        ("0.0199", "RC1"),
    ],
)
def test_size_when_the_table_ends_before_it_then_it_is_refused_by_name(inches, which):
    with pytest.raises(OutOfRange) as refused:
        worked(inches, which)
    assert refused.value.field == "nominal"


@pytest.mark.parametrize(
    ("inches", "which"),
    [
        ("7.09", "RC4"),
        ("5.52", "FN2"),
        ("0.9501", "FN3"),
        ("0.2401", "LT3"),
        ("0.2401", "LT4"),
        ("0.02", "RC9"),
    ],
)
def test_size_when_at_the_end_of_the_table_then_it_answers(inches, which):
    assert worked(inches, which).results["shaft_lower_mm"] > 0


def test_range_when_at_its_edge_then_the_size_belongs_below():
    assert thou(worked("1.19", "RC4").results["hole_es_um"] / 1000) == pytest.approx(1.2)
    assert thou(worked("1.1901", "RC4").results["hole_es_um"] / 1000) == pytest.approx(1.6)


def test_fit_when_unknown_then_it_is_refused_by_name():
    with pytest.raises(OutOfRange) as refused:
        worked("1", "RC10")
    assert refused.value.field == "fit"


def test_row_when_from_memory_then_it_is_said_before_cutting():
    assert "from-memory" in {one.code for one in worked("4", "FN2").warnings}
    assert "derived" in {one.code for one in worked("1", "LC3").warnings}


def test_entries_when_inch_and_metric_then_the_same():
    entries = [
        read_entries(get("inch-fit"), {"nominal": text, "fit": "ln2"}) for text in ("3/4 in", "19.05 mm")
    ]
    assert entries[0].inputs == entries[1].inputs


MORE = [
    ("1 in", "RC4"),
    ("3/4 in", "LN2"),
    ("1/3 in", "FN1"),
    ("1 3/64 in", "LT3"),
    ("25 mm", "LC11"),
    ("4 in", "FN5"),
]


@pytest.mark.parametrize(("nominal", "which"), MORE)
def test_working_when_worked_again_then_formula_figures_and_value_agree(nominal, which):
    inputs = read_entries(get("inch-fit"), {"nominal": nominal, "fit": which}).inputs
    names = {"nominal": inputs["nominal"], "inches": inputs["nominal"] / INCH, "hole lower": Fraction(0)}
    for step in inch_fit(**inputs).working:
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half, step
        if step.formula == "from the table":
            names[step.label.partition(" of ")[0].lower()] = value
            assert step.source.startswith(tables.read_source("ansi_b4_1").short)
            continue
        assert abs(evaluate(in_figures(step.formula, names)) - value) <= half, step
