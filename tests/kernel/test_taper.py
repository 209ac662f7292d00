"""Tapers. Trap 18: keys on one face, the angle included against half, the foot against degrees."""

from fractions import Fraction

import pytest

from calc.entries import EntryErrors, read_entries
from calc.kernel import tables
from calc.kernel.errors import NotInTable, OutOfRange
from calc.kernel.taper import taper
from calc.kernel.tapers import taper_named, tapers
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value, taper_angle

INCH = Fraction(254, 10)
HAIR = Fraction(1, 10**9)
ENTRIES = [
    *[check["entered"] for check in tables.read_checks("tapers")],
    *[{"name": one.name, "work_length": "11.3 in", "sine_bar": "100 mm"} for one in tapers()],
    {"rate": "1:7", "large_diameter": "1 1/3 in", "length": "2 in", "work_length": "9 in"},
    {"rate": "1 in 7", "small_diameter": "20 mm", "length": "33 mm"},
    {"included_angle": "11° 25'", "large_diameter": "1 in", "small_diameter": "17 mm", "sine_bar": "5 in"},
    {"large_diameter": "31 mm", "small_diameter": "0", "length": "17 mm"},
]


def codes(outcome):
    return [caution.code for caution in outcome.warnings]


def worked(entered):
    inputs = read_entries(get("taper"), entered).inputs
    return inputs, taper(**inputs)


def names_of(inputs, results, unit):
    """What each word of a formula stands for."""
    names = {"rate": results["rate"], "included angle": results["included_angle_deg"]}
    if inputs["name"]:
        names["taper per foot"] = taper_named(inputs["name"]).per_foot
    for word, value in (
        ("large diameter", results["large_diameter_mm"]), ("small diameter", results["small_diameter_mm"]),
        ("length", results["length_mm"]), ("work length", inputs["work_length"]),
        ("sine bar", inputs["sine_bar"]),
    ):  # fmt: skip
        if value is not None:
            names[word] = Fraction(value) / unit
    return {word: Fraction(value) for word, value in names.items()}


@pytest.mark.parametrize("entered", ENTRIES, ids=lambda one: " ".join(one.values()))
def test_working_when_worked_again_then_formula_figures_and_value_agree(entered):
    inputs, outcome = worked(entered)
    assert len(outcome.working) >= 4
    for step in outcome.working:
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half, step
        names = names_of(inputs, outcome.results, INCH if step.unit == "in" else 1)
        assert abs(evaluate(in_figures(step.formula, names)) - value) <= half + HAIR, step
        assert step.source


@pytest.mark.parametrize("one", [one for one in tapers() if one.length], ids=lambda one: one.name)
def test_table_when_its_sizes_are_worked_then_they_give_its_taper_to_the_foot(one):
    """The printed diameters and lengths against the printed rate: two columns read apart.

    Diameters to four places over a short length leave 0.0028 in to the foot at most (Jacobs 0, 7/16 in long).
    """
    by_sizes = (one.large - one.small) / one.length * 12
    slack = Fraction(2, 20000) / (one.length / INCH) * 12
    assert abs(by_sizes - one.per_foot) <= slack
    assert taper(name=one.name).results["included_angle_deg"] == pytest.approx(
        taper_angle(float(one.large), float(one.small), float(one.length)), abs=0.012
    )


@pytest.mark.parametrize(
    ("name", "per_foot", "half", "included"),
    [
        # Half and included angles worked beforehand: MT2, Jarno, 3/4 in to the foot.
        ("MT2", "0.59941", 1.43069, 2.86138),
        ("Jarno 6", "0.6", 1.43210, 2.86419),
        ("pipe thread", "0.75", 1.78991, 3.57982),
        ("MT0", "0.6246", 1.49079, 2.98157),
        ("B&S 10", "0.5161", 1.23191, 2.46382),
    ],
)
def test_named_when_worked_then_the_angles_of_the_table(name, per_foot, half, included):
    results = taper(name=name).results
    assert results["taper_per_foot"] == pytest.approx(float(Fraction(per_foot)))
    assert results["half_angle_deg"] == pytest.approx(half, abs=5e-6)
    assert results["included_angle_deg"] == pytest.approx(included, abs=5e-6)


def test_trap_18_when_a_key_tapers_then_its_face_has_the_whole_rate():
    """1:100 on a key is 0.57294 degrees on its one face; 0.28648 would be half the taper."""
    outcome = taper(name="taper key, 1:100")
    assert outcome.results["face_angle_deg"] == pytest.approx(0.57294, abs=5e-6)
    assert outcome.results["half_angle_deg"] == pytest.approx(0.28648, abs=5e-6)
    assert codes(outcome) == ["one-face", "from-memory"]
    assert "0.57294°" in outcome.warnings[0].text
    # The two keys differ: 1/8 in to the foot is 1:96, not 1:100; each rate is warned of however it is typed.
    inch_key = taper(rate=Fraction(1, 96))
    assert inch_key.results["nearest_named"] == "taper key, 1/8 in/ft"
    assert codes(inch_key) == ["one-face"]


def test_trap_18_when_an_angle_is_included_then_the_slide_has_half_of_it():
    results = taper(included_angle=Fraction(60)).results
    assert (results["half_angle_deg"], results["included_angle_deg"]) == (30.0, 60.0)
    assert results["rate"] == pytest.approx(2 * 3**0.5 / 3)


@pytest.mark.parametrize("text", ["0.6", "5/8", "2.86 deg"])
def test_trap_18_when_a_rate_does_not_say_what_it_is_on_then_it_is_refused(text):
    with pytest.raises(EntryErrors) as refused:
        read_entries(get("taper"), {"rate": text})
    assert "inches to the foot, to the inch, or degrees" in refused.value.messages["rate"]


def test_sine_bar_when_set_then_by_the_sine_of_the_whole_angle():
    results = taper(included_angle=Fraction("12.5"), sine_bar=Fraction(100)).results
    assert results["sine_bar_height_mm"] == pytest.approx(21.644, abs=5e-4)  # the tangent gives 22.169
    assert codes(taper(included_angle=Fraction(46), sine_bar=Fraction(100))) == ["steep-sine-bar"]


def test_set_over_when_worked_then_by_the_whole_work_and_the_taper_alone_is_questioned():
    results = taper(name="MT2", work_length=8 * INCH).results
    assert results["tailstock_set_over_mm"] / 25.4 == pytest.approx(0.1998, abs=5e-5)
    alone = taper(name="MT2", work_length=Fraction("2.5625") * INCH)
    assert codes(alone) == ["work-is-taper"]
    with pytest.raises(OutOfRange) as refused:
        taper(name="MT2", work_length=Fraction(60))
    assert refused.value.field == "work_length"


def test_rule_of_thumb_when_entered_then_told_that_the_numbers_differ():
    assert codes(taper(rate=Fraction(1, 24))) == ["rule-of-thumb"]
    assert codes(taper(name="B&S 14")) == []


@pytest.mark.parametrize(
    ("sizes", "name", "value"),
    [
        ({"large_diameter": 20, "length": 50}, "small_diameter_mm", 17.5),
        ({"small_diameter": 20, "length": 50}, "large_diameter_mm", 22.5),
        ({"large_diameter": 20, "small_diameter": 18}, "length_mm", 40),
        ({"large_diameter": 20}, "small_diameter_mm", None),
    ],
)
def test_third_size_when_two_are_given_then_it_is_worked(sizes, name, value):
    exact = {field: Fraction(size) for field, size in sizes.items()}
    assert taper(rate=Fraction(1, 20), **exact).results[name] == value


@pytest.mark.parametrize(
    ("entered", "field"),
    [
        ({}, "name"),
        ({"large_diameter": 20, "small_diameter": 10}, "name"),
        ({"name": "MT2", "rate": Fraction(1, 20)}, "rate"),
        ({"rate": Fraction(1, 20), "included_angle": 3}, "included_angle"),
        ({"name": "MT2", "large_diameter": 20, "small_diameter": 10, "length": 90}, "length"),
        ({"large_diameter": 10, "small_diameter": 10, "length": 90}, "small_diameter"),
        ({"rate": Fraction(1, 20), "large_diameter": 1, "length": 21}, "length"),
        ({"large_diameter": 1000, "small_diameter": 1, "length": 1}, "length"),
        ({"large_diameter": Fraction(100001, 100000), "small_diameter": 1, "length": 90}, "length"),
    ],
)
def test_entries_when_too_few_too_many_or_at_odds_then_refused_by_name(entered, field):
    exact = {one: value if isinstance(value, str) else Fraction(value) for one, value in entered.items()}
    with pytest.raises(OutOfRange) as refused:
        taper(**exact)
    assert refused.value.field == field


@pytest.mark.parametrize(
    "field", [one for one in get("taper").inputs if one.low is not None], ids=lambda one: one.name
)
def test_limit_when_stood_on_then_worked_and_a_hair_outside_refused_by_name(field):
    said = {} if field.name in ("rate", "included_angle") else {"rate": Fraction(1, 20)}
    for edge, out in ((field.low, -HAIR), (field.high, HAIR)):
        assert taper(**said, **{field.name: edge}).results["rate"] > 0
        with pytest.raises(OutOfRange) as refused:
            taper(**said, **{field.name: edge + out})
        assert refused.value.field == field.name


@pytest.mark.parametrize(
    ("text", "name"),
    [("mt 2", "MT2"), ("Morse 4 1/2", "MT4 1/2"), ("No. 3 ", None), ("jarno 6", "Jarno 6"),
     ("Brown & Sharpe 7", "B&S 7"), ("BS7", "B&S 7"), ("Jacobs 2 short", "JT2 short"), ("7/24", "7:24"),
     ("key 1:100", "taper key, 1:100"), ("B&S", None), ("MT8", None), ("", None)],
)  # fmt: skip
def test_name_when_written_in_many_ways_then_one_taper_or_a_refusal(text, name):
    if name is not None:
        assert taper_named(text).name == name
        return
    with pytest.raises(NotInTable) as refused:
        taper_named(text)
    assert refused.value.field == "name"


def test_names_when_compared_then_no_two_tapers_share_one():
    every = [alias for one in tapers() for alias in one.aliases]
    assert len(set(every)) == len(every)
    assert {one.origin for one in tapers()} == {"read", "memory"}
