"""Taper teeth by a thin bevel cutter, beside the three rounds of a spur cutter and never mixed with them."""

from fractions import Fraction

import pytest

from calc.kernel.bevel_cutting import bevel_cutting
from calc.kernel.bevel_pair import bevel_pair
from calc.kernel.errors import OutOfRange
from tests.oracles import evaluate, shown_value

PLATES = ((15, 16, 17, 18, 19, 20), (21, 23, 27, 29, 31, 33), (37, 39, 41, 43, 47, 49))
INCH = Fraction(254, 10)
LARGE = Fraction("0.1745") * INCH
#: By the handbook's rule offset = thickness / 2 - factor / pitch: a factor of 0.280 at a cone of 3.2 faces.
SMALL = LARGE - Fraction("0.280") / 6 * 2 / Fraction("3.2") * INCH
WHOLE = {
    "teeth": 24, "mate_teeth": 24, "shaft_angle": Fraction(60), "diametral_pitch": Fraction(9),
    "face_width": Fraction(5, 4) * INCH, "circles": PLATES,
}  # fmt: skip
BEVEL_CUTTER = {
    "taper_diametral_pitch": Fraction(6), "taper_thickness_large": LARGE, "taper_thickness_small": SMALL,
}  # fmt: skip


def of(**more):
    return bevel_cutting(**WHOLE | more)


def test_taper_when_24_of_6_dp_at_30_degrees_then_set_over_and_roll_are_those_of_the_rule():
    # 24 T, 6 DP, pitch angle 30, face 1 1/4, cutter 0.1745 thick: offset 0.0406 in remembered with the
    # factor 0.280; roll 2.413 degrees, 0.268 of a turn derived; formative 27.71, No. 4.
    taper = of(**BEVEL_CUTTER).results["taper"]
    assert taper["cone_distance_mm"] / 25.4 == pytest.approx(4)
    assert taper["cutter_number"] == "4"
    assert taper["set_over_mm"] / 25.4 == pytest.approx(0.0406, abs=5e-5)
    assert taper["roll_wanted_deg"] == pytest.approx(2.413, abs=5e-4)
    assert taper["roll_wanted_deg"] / 9 == pytest.approx(0.268, abs=5e-4)
    # On circles of threes 4 in 15 comes nearest to 0.2681 of a turn; the flank is left that much thicker.
    assert (taper["roll_turns"], taper["roll_holes"], taper["roll_circle"]) == (0, 4, 15)
    short = (taper["roll_wanted_deg"] - 4 / 15 * 9) / 57.29577951308232
    assert taper["roll_missed_mm"] == pytest.approx(short * 2 * 25.4)
    assert taper["mate"] is None


def test_taper_when_worked_by_the_pair_of_blanks_then_tilt_and_setting_are_the_same():
    taper = of(**BEVEL_CUTTER).results["taper"]
    pair = bevel_pair(
        teeth=24, mate_teeth=24, shaft_angle=Fraction(60), diametral_pitch=Fraction(6),
        face_width=WHOLE["face_width"], cutter_thickness_large=LARGE, cutter_thickness_small=SMALL,
    ).results  # fmt: skip
    assert taper["head_tilt_deg"] == pair["root_angle_deg"]
    assert taper["set_over_mm"] == pair["set_over_mm"]
    assert taper["roll_wanted_deg"] == pair["roll_deg"]


def test_taper_when_entered_then_the_three_rounds_are_the_same_as_without():
    plain, both = of(), of(**BEVEL_CUTTER)
    assert plain.results["taper"] is None
    for name in ("textbook", "best", "given", "blank"):
        assert plain.results[name] == both.results[name]
    text = next(caution.text for caution in both.warnings if caution.code == "taper-apart")
    assert "do not run together" in text
    assert "taper-apart" not in {caution.code for caution in plain.warnings}
    # The tilt is the root angle of taper teeth, not the pitch angle of parallel ones.
    assert both.results["taper"]["head_tilt_deg"] < both.results["best"]["head_tilt_deg"] - 2


def test_taper_when_only_the_mates_cutter_is_measured_then_the_mate_alone_has_a_plan():
    more = {name.replace("taper_th", "taper_mate_th"): value for name, value in BEVEL_CUTTER.items()}
    taper = of(**more).results["taper"]
    assert set(taper) == {"mate"}
    assert taper["mate"]["set_over_mm"] / 25.4 == pytest.approx(0.0406, abs=5e-5)


def test_taper_lines_when_worked_again_then_they_agree():
    lines = [step for step in of(**BEVEL_CUTTER).working if step.label.startswith("Taper teeth")]
    assert len(lines) == 3
    for step in lines:
        value, half = shown_value(step.value)
        assert abs(evaluate(step.figures) - value) <= half * Fraction(1001, 1000), step


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"taper_diametral_pitch": None}, "taper_diametral_pitch"),
        ({"taper_thickness_small": None}, "taper_thickness_small"),
        ({"taper_thickness_large": None}, "taper_thickness_large"),
        ({"taper_thickness_large": None, "taper_thickness_small": None}, "taper_thickness_large"),
        ({"taper_thickness_small": LARGE + 1}, "taper_thickness_small"),
        ({"taper_thickness_large": Fraction(101)}, "taper_thickness_large"),
        ({"taper_module": Fraction(4)}, "taper_module"),
        ({"taper_diametral_pitch": Fraction(121)}, "taper_diametral_pitch"),
        ({"taper_diametral_pitch": None, "taper_module": Fraction(26)}, "taper_module"),
        # A spur cutter's thickness spoils the small end at the first gash; too great a difference is none.
        (
            {"taper_thickness_small": Fraction("4.7"), "taper_thickness_large": Fraction(5)},
            "taper_thickness_small",
        ),
        ({"taper_thickness_small": Fraction(1)}, "taper_thickness_small"),
        ({"taper_mate_thickness_large": LARGE}, "taper_mate_thickness_small"),
    ],
)
def test_taper_when_entries_do_not_go_together_then_the_field_is_named_with_what_to_do(changed, field):
    with pytest.raises(OutOfRange) as refused:
        of(**BEVEL_CUTTER | changed)
    assert refused.value.field == field
    assert refused.value.reason
