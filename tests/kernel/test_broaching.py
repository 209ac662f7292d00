"""Broaching: passes and shims, what is missing, refusals, and the traps 1, 2 and 11 of the list of mistakes.

Traps: 1, a depth from the wrong datum; 2, a depth without its datum named; 11, mixed units.
"""

from fractions import Fraction

import pytest

from calc.entries import EntryErrors, read_entries
from calc.kernel.broaching import broaching
from calc.kernel.errors import NoSolution, OutOfRange
from calc.kernel.keyway import keyway
from calc.registry import get
from tests.oracles import rise_by_angle

INCH = Fraction(254, 10)


def broached(depth, rise, *shims, **more):
    entered = {"bore": Fraction("1.125") * INCH, "key_width": INCH / 4} | more
    return broaching(
        hub_crown_depth=Fraction(depth) * INCH, rise_per_pass=Fraction(rise) * INCH,
        shims=[Fraction(shim) * INCH for shim in shims], **entered,
    )  # fmt: skip


def thous(outcome, name="shim_mm"):
    """A figure of every pass, in thousandths of an inch."""
    return [round(row[name] / 0.0254, 3) for row in outcome.results["passes"]]


def codes(outcome):
    return [caution.code for caution in outcome.warnings]


def text_of(outcome, code):
    return next(caution.text for caution in outcome.warnings if caution.code == code)


# ---- passes and shims --------------------------------------------------------------------------------------


def test_passes_when_bore_is_1_1_8_by_b17_1_then_two_of_58_thou_and_one_shim():
    """Across the bore 1.241 by B17.1 (Machinery's Handbook 31, p. 2552), so 0.116 from the crown."""
    outcome = broached("0.116", "0.058", "0.058")
    assert [row["pass"] for row in outcome.results["passes"]] == [1, 2]
    assert thous(outcome) == [0, 58]
    assert thous(outcome, "depth_mm") == [58, 116]
    assert thous(outcome, "across_mm") == [1183, 1241]
    assert outcome.results["passes"][0]["shims"] == []
    assert outcome.results["final_across_mm"] == pytest.approx(1.241 * 25.4)


def test_passes_when_the_depth_is_that_of_the_keyway_then_across_is_the_keyways():
    """The sum of the keyway itself, 1 1/8 in by B17.1, feeds this one: T 1.241."""
    hub = keyway(shaft_diameter=Fraction("1.125") * INCH, standard="b17.1").results
    depth = Fraction(hub["hub_crown_depth_mm"]).limit_denominator(10**9) / INCH
    outcome = broached(depth, "0.058", "0.058", hub_crown_depth_max=Fraction("0.126") * INCH)
    assert outcome.results["hub_over_work_mm"] == pytest.approx(hub["hub_over_work_mm"])
    assert outcome.results["hub_side_depth_mm"] == pytest.approx(hub["hub_side_depth_mm"], abs=1e-6)


@pytest.mark.parametrize(
    ("rise", "shims", "stacks"),
    [
        ("0.062", ["0.056"], [0, 56]),
        ("0.045", ["0.045", "0.028"], [0, 45, 73]),
        # 0.020 and 0.020 is the most within the rise; all but one 0.020 make 0.073 in full.
        ("0.045", ["0.020", "0.020", "0.020", "0.013"], [0, 40, 73]),
        ("0.118", [], [0]),
        ("0.039334", ["0.039333", "0.039333"], [0, 39.333, 78.666]),
    ],
)
def test_stacks_when_worked_by_hand_then_these(rise, shims, stacks):
    """Aim 0.118 in a bore of 1 in, BS 46 hub 0.115 to 0.121; passes = depth / rise rounded up, by hand."""
    outcome = broached("0.118", rise, *shims, bore=INCH, hub_crown_depth_max=Fraction("0.121") * INCH)
    assert thous(outcome) == pytest.approx(stacks)
    assert "not-deep-enough" not in codes(outcome)


def test_passes_when_the_depth_is_the_rise_exactly_then_one_and_a_hair_more_then_two():
    assert len(broached("0.1", "0.1").results["passes"]) == 1
    more = Fraction("0.1") + Fraction(1, 10**9)
    with pytest.raises(NoSolution):
        broached(more, "0.1")
    one = broached("0.3", "0.1", "0.1", "0.1", key_width=INCH / 2)
    assert len(one.results["passes"]) == 3


def test_stack_when_a_piece_is_owned_once_then_it_is_in_a_stack_once():
    with pytest.raises(NoSolution):
        broached("0.118", "0.04", "0.039")
    twice = broached("0.118", "0.04", "0.039", "0.039")
    assert thous(twice) == [0, 39, 78]
    assert len(twice.results["passes"][2]["shims"]) == 2


def test_steps_when_owned_shims_are_thin_then_none_is_more_than_the_rise():
    outcome = broached("0.116", "0.058", "0.02", "0.02", "0.02")
    assert thous(outcome) == [0, 40, 60]
    assert thous(outcome, "depth_mm") == [58, 98, 118]


# ---- what cannot be done -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("depth", "rise", "shims", "missing"),
    [
        ("0.116", "0.058", [], "A shim of 0.058 in is missing"),
        ("0.118", "0.045", [], "Shims of 0.045 in and 0.028 in are missing"),
        ("0.118", "0.045", ["0.045"], "A shim of 0.028 in is missing"),
        ("0.118", "0.045", ["0.073"], "A shim of 0.045 in is missing"),
        ("0.116", "0.058", ["0.1"], "A shim of 0.058 in is missing"),
    ],
)
def test_shims_when_none_will_do_then_no_solution_names_the_one_that_is_missing(depth, rise, shims, missing):
    with pytest.raises(NoSolution) as none:
        broached(depth, rise, *shims)
    assert none.value.message.startswith(missing)
    # What is named does make an answer.
    named = missing.removeprefix("A shim of ").removeprefix("Shims of ").split(" ")
    added = [word for word in named if word[0] == "0"]
    assert broached(depth, rise, *shims, *added).results["passes"]


def test_stack_when_the_next_would_cut_past_the_limit_then_the_nearest_below_and_a_warning():
    outcome = broached("0.116", "0.058", "0.05", "0.1")
    assert thous(outcome) == [0, 50]
    assert thous(outcome, "depth_mm")[-1] == 108
    assert "0.008 in less than wanted" in text_of(outcome, "not-deep-enough")
    wider = broached("0.116", "0.07", "0.05", hub_crown_depth_max=Fraction("0.12") * INCH)
    assert thous(wider, "depth_mm") == [70, 120]
    assert "not-deep-enough" not in codes(wider)


def test_upper_limit_when_left_out_then_that_of_the_strictest_standard_is_taken_and_named():
    """BS 46 gives the hub of a 1/4 in key 0.115 to 0.121, B17.1 ten thousandths on the size across."""
    outcome = broached("0.116", "0.058", "0.058")
    assert outcome.results["hub_over_work_max_mm"] == pytest.approx(1.247 * 25.4)
    assert "BS 46" in text_of(outcome, "limit-taken")
    assert outcome.sources == ("broaching_derived", "bs46")
    odd = broached("0.116", "0.058", "0.058", key_width=Fraction("6.1"))
    assert odd.results["hub_over_work_max_mm"] == pytest.approx(1.241 * 25.4 + 0.1)
    assert "limit-taken" not in codes(
        broached("0.116", "0.058", "0.058", hub_crown_depth_max=Fraction("0.12") * INCH)
    )


def test_one_pass_when_the_broach_cuts_past_the_limit_then_warned_and_the_size_is_as_cut():
    outcome = broached("0.1", "0.12")
    assert outcome.results["final_across_mm"] == pytest.approx(1.245 * 25.4)
    assert "0.12 in from the top of the bore" in text_of(outcome, "cuts-too-deep")


def test_hub_when_longer_than_the_guide_then_refused_and_as_long_is_taken():
    with pytest.raises(OutOfRange) as refused:
        broached("0.116", "0.058", "0.058", hub_length=Fraction(31), guide_length=Fraction(30))
    assert refused.value.field == "hub_length"
    assert "longer than the guide" in refused.value.reason
    outcome = broached("0.116", "0.058", "0.058", hub_length=Fraction(30), guide_length=Fraction(30))
    assert "guide-not-checked" not in codes(outcome)
    assert "guide-not-checked" in codes(broached("0.116", "0.058", "0.058", hub_length=Fraction(30)))
    assert "burst" in text_of(outcome, "at-the-press")


@pytest.mark.parametrize(
    ("entries", "field"),
    [
        ({"bore": Fraction(4)}, "bore"),
        ({"key_width": Fraction(1)}, "key_width"),
        ({"key_width": Fraction(15)}, "key_width"),
        ({"hub_crown_depth": Fraction(1, 10)}, "hub_crown_depth"),
        ({"rise_per_pass": Fraction(1, 100)}, "rise_per_pass"),
        ({"rise_per_pass": Fraction(5, 100)}, "rise_per_pass"),
        ({"shims": [Fraction(41)]}, "shims"),
        ({"shims": [Fraction(1)] * 13}, "shims"),
        ({"hub_length": Fraction(501)}, "hub_length"),
        ({"guide_length": Fraction(0)}, "guide_length"),
        ({"hub_crown_depth_max": Fraction(29, 10)}, "hub_crown_depth_max"),
    ],
)
def test_entry_when_wrong_then_refused_by_name_with_limit_and_reason(entries, field):
    plain = {
        "bore": Fraction(28), "key_width": Fraction(8), "hub_crown_depth": Fraction(3),
        "rise_per_pass": Fraction(2), "shims": [Fraction(1)],
    }  # fmt: skip
    with pytest.raises(OutOfRange) as refused:
        broaching(**plain | entries)
    assert refused.value.field == field
    assert refused.value.limit
    assert refused.value.reason


# ---- the list of mistakes ----------------------------------------------------------------------------------


def test_trap_1_when_the_depth_at_the_wall_is_entered_then_warned_and_all_three_are_shown():
    outcome = broached("0.130", "0.065", "0.065")
    rise = rise_by_angle(1.125, 0.25)
    said = text_of(outcome, "looks-like-side-depth")
    assert f"{0.130 - rise:.4f}" in said
    assert "B17.1" in said
    results = outcome.results
    assert results["hub_side_depth_mm"] / 25.4 == pytest.approx(0.130 + rise)
    assert results["hub_over_work_mm"] / 25.4 == pytest.approx(1.255)
    assert "looks-like-side-depth" not in codes(broached("0.116", "0.058", "0.058"))
    with pytest.raises(OutOfRange) as refused:
        broached("1.241", "0.1", "0.1")  # the size across the bore
    assert refused.value.field == "hub_crown_depth"


def test_trap_2_when_a_depth_is_named_then_its_datum_is_named_with_it():
    calculation = get("broaching")
    outcome = broached("0.116", "0.058", "0.058")
    labels = [step.label for step in outcome.working] + [
        one.help for one in calculation.outputs if one.name != "passes"
    ]
    labels += [one.label for one in calculation.inputs if one.name != "hub_crown_depth_max"]
    depths = [label for label in labels if "depth" in label.lower()]
    assert len(depths) > 4
    assert all(any(word in label for word in ("crown", "wall", "top of the bore")) for label in depths)


def test_trap_11_when_thousandths_are_typed_as_whole_inches_or_millimetres_then_refused_or_echoed():
    typed = {
        "bore": "1.125 in", "key_width": "1/4 in", "hub_crown_depth": "0.116 in", "rise_per_pass": "58 thou",
    }  # fmt: skip
    calculation = get("broaching")
    read = read_entries(calculation, typed | {"shims": "58 thou, 20"})
    assert read.inputs["shims"] == (Fraction("1.4732"), Fraction("0.508"))
    assert "20 thou = 0.508 mm" in read.readings["shims"]
    with pytest.raises(EntryErrors) as refused:
        read_entries(calculation, typed | {"shims": "58"})  # a bare figure on a page of inches
    assert list(refused.value.messages) == ["shims"]
    with pytest.raises(EntryErrors) as refused:
        read_entries(calculation, typed | {"rise_per_pass": "58"})
    assert list(refused.value.messages) == ["rise_per_pass"]
    with pytest.raises(OutOfRange):
        calculation.function(**read_entries(calculation, typed | {"rise_per_pass": "0.058 mm"}).inputs)
