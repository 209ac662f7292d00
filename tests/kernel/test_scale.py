"""Scale and stock. Traps 11 (which ton) and 22 (which gauge) of the mistakes; what does not scale."""

from decimal import Decimal
from fractions import Fraction

import pytest

from calc.entries import EntryErrors, read_entries
from calc.kernel import tables
from calc.kernel.errors import NotInTable, OutOfRange
from calc.kernel.scale import nearest_part, scale
from calc.kernel.stock import FORMS, gauge_mm, other_gauge_mm, stock_list
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value
from tests.oracles_stock import in_unit, next_up, rule_size

INCH = Fraction(254, 10)
HAIR = Fraction(1, 10**9)
ENTRIES = [
    *[check["entered"] for check in tables.read_checks("scales")],
    {"full_size": "2 1/2 in", "scale": "4 in to the foot", "allowance": "1/32 in", "full_mass": "35 lb"},
    {"full_size": "33 mm", "scale": "1:7", "allowance": "0.3 mm", "system": "metric"},
    {"full_size": "3/8 in", "scale": "2 in to the foot", "form": "sheet"},
    {"full_size": "1 in", "scale": "3:8", "form": "plate", "system": "metric"},
    {"full_size": "11 1/3 in", "scale": "1:10.5", "full_mass": "7 cwt"},
]


def codes(outcome):
    return [caution.code for caution in outcome.warnings]


def worked(entered):
    inputs = read_entries(get("scale"), entered).inputs
    return inputs, scale(**inputs)


@pytest.mark.parametrize("entered", ENTRIES, ids=lambda one: " ".join(one.values()))
def test_working_when_worked_again_then_formula_figures_and_value_agree(entered):
    inputs, outcome = worked(entered)
    results = outcome.results
    size = next(one for one in outcome.working if one.label == "Model size")
    unit = INCH if size.unit == "in" else Fraction(1)
    model = inputs["full_size"] * inputs["scale"]
    names = {
        "scale": inputs["scale"], "full size": inputs["full_size"] / unit, "model size": model / unit,
        "allowance": inputs["allowance"] / unit, "full mass": inputs["full_mass"] or 0,
        "stock": Fraction(results["stock_mm"] or 0).limit_denominator(10**7) / unit,
        "nearest stock": Fraction(results["nearest_stock_mm"] or 0).limit_denominator(10**7) / unit,
    }  # fmt: skip
    for step in outcome.working:
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half, step
        assert step.source
        if step.formula == "from the table":
            assert step.figures == step.value
            continue
        assert abs(evaluate(in_figures(step.formula, names)) - value) <= half + HAIR, step


def test_size_when_laid_off_with_a_scale_rule_then_the_same():
    """Derived: 5 ft 6 in at 3 in to the foot is 16 1/2 in; so with a rule, foot by foot."""
    for full, foot in (
        (Fraction(66), Fraction(3)),
        (Fraction(185, 8), Fraction(9, 2)),
        (Fraction(7), Fraction(1)),
    ):
        found = scale(full_size=full * INCH, scale=foot / 12, form="none").results
        assert found["model_size_mm"] / 25.4 == pytest.approx(float(rule_size(full, foot)))
    assert rule_size(Fraction(66), Fraction(3)) == Fraction(33, 2)


@pytest.mark.parametrize(
    ("foot", "ratio"),
    [("1", "1:12"), ("1.5", "1:8"), ("2", "1:6"), ("3", "1:4"), ("4", "1:3"), ("4 1/2", "3:8"), ("6", "1:2")],
)
def test_scale_when_in_inches_to_the_foot_then_the_ratio_it_is(foot, ratio):
    """n inches to the foot are n/12: the pairs every builder knows, common practice."""
    read = [
        read_entries(get("scale"), {"full_size": "1 in", "scale": text})
        for text in (f"{foot} in to the foot", ratio)
    ]
    assert read[0].inputs["scale"] == read[1].inputs["scale"]


@pytest.mark.parametrize("form", FORMS)
def test_stock_when_sought_then_the_first_that_is_not_below(form):
    listed = stock_list(form, "either")
    sizes = [Decimal(one.mm.numerator) / Decimal(one.mm.denominator) for one in listed]
    assert [one.mm for one in listed] == sorted(one.mm for one in listed)
    for tenths in range(3, 1050, 7):
        wanted = Decimal(tenths) / 10
        found = scale(full_size=Fraction(tenths, 10), scale=Fraction(1), form=form).results
        size = next_up(sizes, wanted)
        assert found["stock_mm"] == (None if size is None else pytest.approx(float(size)))
        if found["nearest_stock_mm"] is not None:
            least = min(abs(one - wanted) for one in sizes)
            assert abs(found["nearest_stock_error_mm"]) == pytest.approx(float(least), abs=1e-9)


def test_stock_when_the_size_is_that_of_the_list_then_it_is_taken_and_costs_nothing():
    for one in stock_list("round", "either"):
        found = scale(full_size=one.mm * 4, scale=Fraction(1, 4)).results
        assert (found["stock_error_mm"], found["nearest_stock_error_mm"]) == (0, 0)
        assert found["stock_full_size_mm"] == float(one.mm * 4)
        more = scale(full_size=one.mm * 4 + HAIR, scale=Fraction(1, 4)).results
        assert more["stock_mm"] is None or more["stock_mm"] > float(one.mm)


def test_allowance_when_given_then_the_stock_clears_it_and_errors_are_of_the_scaled_size():
    found = scale(full_size=2 * INCH, scale=Fraction(1, 4), allowance=INCH / 100, system="imperial").results
    # 1/2 in and 10 thou: the next is 9/16, 62.5 thou over the size to scale, 12 1/2 per cent of it.
    assert (found["stock"], found["nearest_stock"]) == ("9/16 in", "1/2 in")
    assert found["stock_error_mm"] / 0.0254 == pytest.approx(62.5)
    assert found["stock_error_percent"] == pytest.approx(12.5)


def test_no_stock_when_the_size_is_beyond_the_list_then_none_and_told():
    outcome = scale(full_size=66 * INCH, scale=Fraction(1, 4))
    assert outcome.results["stock"] is outcome.results["nearest_stock"] is None
    assert codes(outcome) == ["does-not-scale", "from-memory", "beyond-list"]
    near = scale(full_size=Fraction("101.7"), scale=Fraction(1))
    assert (near.results["stock"], near.results["nearest_stock"]) == (None, "4 in")
    assert codes(scale(full_size=66 * INCH, scale=Fraction(1, 4), form="none")) == ["does-not-scale"]


def test_trap_11_when_a_ton_is_meant_then_which_ton_makes_the_difference():
    """12 ton of 2,240 lb at 3 in to the foot: 0.1875 ton, 420 lb. Of 2,000 lb it is 375 lb."""
    pounds = {}
    for text in ("12 ton", "12 long tons", "12 short tons", "12 tonnes"):
        read = read_entries(get("scale"), {"full_size": "18 ft", "scale": "1:4", "full_mass": text})
        pounds[text] = in_unit(scale(**read.inputs).results["model_mass_kg"], "pound")
    assert pounds["12 ton"] == pounds["12 long tons"] == pytest.approx(420)
    assert pounds["12 short tons"] == pytest.approx(375)
    assert pounds["12 tonnes"] == pytest.approx(413.367, abs=1e-3)  # 187.5 kg by a library of units
    read = read_entries(get("scale"), {"full_size": "18 ft", "scale": "1:4", "full_mass": "12 ton"})
    assert read.readings["full_mass"] == "12 ton of 2,240 lb = 12192.563 kg"


def test_trap_22_when_a_gauge_is_named_then_which_gauge_is_said():
    """16 SWG is 0.064 in, 16 AWG 0.0508 in: read in the table of gauges."""
    outcome = scale(full_size=INCH / 4, scale=Fraction(1, 4), form="sheet", system="imperial")
    assert outcome.results["stock"] == "16 SWG"
    (gauge,) = [one for one in outcome.warnings if one.code == "gauge"]
    for words in ("0.064 in by the Imperial Standard Wire Gauge", "16 AWG would be 0.0508 in", "BG"):
        assert words in gauge.text
    assert outcome.sources == ("scales", "stock_sizes", "swg")
    metric = scale(full_size=INCH / 4, scale=Fraction(1, 4), form="sheet", system="metric")
    assert "gauge" not in codes(metric)


def test_plate_and_threads_when_scaled_then_told_that_they_do_not():
    for form in (*FORMS, "none"):
        (caution,) = [
            one for one in scale(full_size=INCH, scale=Fraction(1, 4), form=form).warnings
            if one.code == "does-not-scale"
        ]  # fmt: skip
        assert "threads do not scale" in caution.text


@pytest.mark.parametrize(("number", "inch"), [("16", "0.064"), ("10", "0.128"), ("18", "0.048"),
                                              ("7/0", "0.5"),
                                              ("6", "0.192"), ("28", "0.0148")])  # fmt: skip
def test_gauge_when_looked_up_then_the_thickness_printed(number, inch):
    """Read: 16, 10 and 18 SWG; 6 and 28 by pages that agree, against two misprints."""
    assert gauge_mm(number) == Fraction(inch) * INCH


def test_gauges_when_compared_then_each_is_thinner_and_millimetres_agree_to_the_places_printed():
    rows = tables.read_table("swg", "swg").rows
    assert len(rows) == 57
    inches = [Fraction(row["inch"]) for row in rows]
    assert inches == sorted(inches, reverse=True)
    for row in rows:
        # Printed to three places; the second page reads the same.
        assert abs(Fraction(row["mm"]) - Fraction(row["inch"]) * INCH) <= Fraction(1, 1000) / 2 + HAIR


def test_other_gauge_when_worked_then_the_two_ends_it_is_made_from():
    """36 AWG is 0.005 in and 0000 AWG (−3) 0.46 in by definition; from memory."""
    assert other_gauge_mm(36) / 25.4 == pytest.approx(0.005)
    assert other_gauge_mm(-3) / 25.4 == pytest.approx(0.46)


def test_list_when_read_then_names_and_both_columns_agree():
    for row in tables.read_table("stock_sizes", "stock").rows:
        inch, mm = Fraction(row["inch"]), Fraction(row["mm"])
        assert abs(inch * INCH - mm) <= Fraction(2, 10_000)
        assert row["origin"] == ("read" if row["system"] == "swg" else "memory")
        if row["system"] != "swg":
            words = read_entries(get("scale"), {"full_size": row["name"], "scale": "1:1"}).inputs["full_size"]
            assert words == (mm if row["system"] == "metric" else inch * INCH), row["name"]


@pytest.mark.parametrize(("mm", "part"), [("25.4", "1"), ("0.1", "0"), ("0.3", "1/64"), ("10", "25/64")])
def test_64th_when_nearest_then_by_hand(mm, part):
    assert nearest_part(Fraction(mm)) == Fraction(part)


@pytest.mark.parametrize(
    "field", [one for one in get("scale").inputs if one.low is not None], ids=lambda one: one.name
)
def test_limit_when_stood_on_then_worked_and_a_hair_outside_refused_by_name(field):
    plain = {"full_size": INCH, "scale": Fraction(1, 4)}
    for edge, out in ((field.low, -HAIR), (field.high, HAIR)):
        assert scale(**plain | {field.name: edge}).results["model_size_mm"] > 0
        with pytest.raises(OutOfRange) as refused:
            scale(**plain | {field.name: edge + out})
        assert refused.value.field == field.name


@pytest.mark.parametrize("wrong", [{"form": "angle"}, {"system": "chinese"}])
def test_choice_when_there_is_none_such_then_refused_by_name(wrong):
    with pytest.raises(OutOfRange) as refused:
        scale(full_size=INCH, scale=Fraction(1, 4), **wrong)
    assert refused.value.field == next(iter(wrong))


def test_plate_when_wanted_in_inches_then_told_that_the_list_has_none():
    with pytest.raises(NotInTable) as refused:
        scale(full_size=INCH, scale=Fraction(1, 4), form="plate", system="imperial")
    assert refused.value.field == "system"


@pytest.mark.parametrize("text", ["3", "1 1/2", "75 mm", "6:1", "0", "20"])
def test_scale_when_it_may_be_two_things_then_refused_with_what_to_write(text):
    with pytest.raises(EntryErrors) as refused:
        read_entries(get("scale"), {"full_size": "1 in", "scale": text})
    assert "rite" in refused.value.messages["scale"]
