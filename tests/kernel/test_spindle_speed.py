"""Spindle speeds. Trap 21: tables differ by twice, the source is shown, speeds are rounded down."""

from fractions import Fraction
from math import pi

import pytest

from calc.entries import EntryErrors, read_entries
from calc.kernel import tables
from calc.kernel.errors import NoSolution, OutOfRange
from calc.kernel.spindle_speed import MATERIALS, spindle_speed
from calc.registry import get
from tests.oracles import evaluate, in_figures, shown_value

INCH = Fraction(254, 10)
FOOT = Fraction(3048, 10_000)
HAIR = Fraction(1, 10**9)
ENTRIES = [
    *[check["entered"] for check in tables.read_checks("cutting_speeds")],
    {"cutting_speed": "27 m/min", "diameter": "38.1 mm", "spindle_speeds": "200, 100", "length": "7 mm",
     "feed": "0.13 mm"},
    *[{"material": one, "diameter": "1 1/3 in", "tool": "carbide", "spindle_speeds": "60"}
      for one in MATERIALS],
]  # fmt: skip


@pytest.mark.parametrize("entered", ENTRIES, ids=lambda one: " ".join(one.values()))
def test_working_when_worked_again_then_formula_figures_and_value_agree(entered):
    inputs = read_entries(get("spindle-speed"), entered).inputs
    outcome = spindle_speed(**inputs)
    for step in outcome.working:
        value, half = shown_value(step.value)
        half = half or Fraction(1, 2)  # feet a minute are shown whole
        assert abs(evaluate(step.figures) - value) <= half, step
        if step.formula == "from the table":
            assert step.figures == step.value
            continue
        feet = "12" in step.formula or "ft" in step.unit or outcome.working[-1].formula.startswith("12")
        feet = feet or any(one.formula.startswith("12 ×") for one in outcome.working)
        speed = Fraction(outcome.results["cutting_speed_m_min"])
        names = {
            "cutting speed": speed / FOOT if feet else speed,
            "diameter": inputs["diameter"] / (INCH if feet else 1),
            "speed run": Fraction(outcome.results["nearest_rpm"] or outcome.results["spindle_speed_rpm"]),
            "length": (inputs["length"] or 0) / (INCH if feet else 1),
            "feed": (inputs["feed"] or 0) / (INCH if feet else 1),
            "table speed": speed / FOOT / 2,
        }
        assert abs(evaluate(in_figures(step.formula, names)) - value) <= half + HAIR, step


def test_trap_21_when_a_material_is_taken_then_both_sources_are_shown_with_its_condition():
    outcome = spindle_speed(diameter=INCH, material="mild-steel")
    # Read in two tables: 90 in a machine's manual; 110 drilling, 100 to 250 turning, 70 to 120 milling.
    assert outcome.results["cutting_speed_m_min"] == pytest.approx(90 * 0.3048)
    assert outcome.results["other_low_m_min"] == pytest.approx(70 * 0.3048)
    assert outcome.results["other_high_m_min"] == pytest.approx(250 * 0.3048)
    (caution,) = outcome.warnings
    assert caution.code == "sources-differ"
    for words in ("90 ft/min", "110 for drilling", "annealed", "university", "machine’s manual"):
        assert words in caution.text
    assert spindle_speed(diameter=INCH, cutting_speed=Fraction(27)).warnings == ()


def test_trap_21_when_the_machine_has_steps_then_down_and_never_up():
    entered = {"diameter": Fraction(3, 2) * INCH, "cutting_speed": 90 * FOOT}  # 229.18 turns a minute
    assert spindle_speed(**entered, spindle_speeds=(350, 230, 229, 70)).results["nearest_rpm"] == 229
    with pytest.raises(NoSolution) as none:
        spindle_speed(**entered, spindle_speeds=(230, 350))
    assert "229.2" in none.value.message
    assert none.value.would_do


def test_speed_when_worked_the_other_way_then_the_edge_goes_so_far_in_a_minute():
    """Second way: the way round the work, so many times a minute."""
    results = spindle_speed(diameter=Fraction(80), cutting_speed=Fraction(25)).results
    assert results["spindle_speed_rpm"] * pi * 0.080 == pytest.approx(25)
    assert results["speed_run_m_min"] == pytest.approx(25)


def test_carbide_when_taken_then_twice_the_table():
    steel = spindle_speed(diameter=INCH, material="brass").results["spindle_speed_rpm"]
    carbide = spindle_speed(diameter=INCH, material="brass", tool="carbide").results["spindle_speed_rpm"]
    assert carbide == pytest.approx(2 * steel)


def test_shop_rule_when_compared_then_four_times_is_a_twentieth_high():
    """4 V / D is 4.7 per cent over 12 V / (pi D), read as a rule of the shop."""
    turns = spindle_speed(diameter=Fraction(3, 2) * INCH, cutting_speed=90 * FOOT).results[
        "spindle_speed_rpm"
    ]
    assert 4 * 90 / 1.5 / turns == pytest.approx(1.047, abs=5e-4)


@pytest.mark.parametrize(
    ("entered", "field"),
    [({}, "cutting_speed"), ({"cutting_speed": Fraction(20), "material": "brass"}, "cutting_speed"),
     ({"material": "cheese"}, "material"), ({"material": "brass", "tool": "file"}, "tool"),
     ({"material": "brass", "length": Fraction(9)}, "feed"),
     ({"material": "brass", "feed": Fraction(1)}, "length"),
     ({"material": "brass", "spindle_speeds": ()}, "spindle_speeds"),
     ({"material": "brass", "spindle_speeds": (0,)}, "spindle_speeds")],
)  # fmt: skip
def test_entries_when_too_few_or_at_odds_then_refused_by_name(entered, field):
    with pytest.raises(OutOfRange) as refused:
        spindle_speed(diameter=INCH, **entered)
    assert refused.value.field == field


@pytest.mark.parametrize("name", ["diameter", "cutting_speed", "length", "feed"])
def test_limit_when_stood_on_then_worked_and_outside_refused_by_name(name):
    field = next(one for one in get("spindle-speed").inputs if one.name == name)
    usual = {"diameter": INCH, "cutting_speed": Fraction(20), "length": Fraction(50), "feed": Fraction(1, 10)}
    for edge, out in ((field.low, -HAIR), (field.high, HAIR)):
        assert spindle_speed(**usual | {name: edge}).results["time_min"] > 0
        with pytest.raises(OutOfRange) as refused:
            spindle_speed(**usual | {name: edge + out})
        assert refused.value.field == name


def test_cutting_speed_when_bare_then_refused_for_its_unit():
    with pytest.raises(EntryErrors) as refused:
        read_entries(get("spindle-speed"), {"diameter": "1 in", "cutting_speed": "90"})
    assert set(refused.value.messages) == {"cutting_speed"}
