"""Which check or test meets each open check of the two fact pages, and what no checks.toml holds.

Gears. O1 machine_elements#bevel-16-48, its formative teeth below. O2, O3 gear_textbooks. O4
gear_rules#bevel-20-40, its addendum and dedendum angles below. O5 gear_rules#bevel-mitre-30, its dedendum
angle below. O6 gear_rules#bevel-24-30-degrees. O7, O8 gear_rules#bevel-parallel-20-30, -20-40; roll and
set-over by the bevel cutting plan. O9 gear_rules#differential-*. O10, O13 gear_rules#gear-24-8dp. O11,
O12 milling1914#cutter-*, #half-*: they test the reading of the table in use, and are counted as that.
O14, O15 metric_gear_technology, half angles and the rack below. O16, O17 gear_rules#span-*. O18
gear_rules#pins-*. O19 od1644, trade_school#divisions-15. O20 trade_school#ratio-*. O21 mh1916,
technical_college. O22 od1644#minutes-*. O23 derived#compound-*. O24 derived#differential-*. O25
gear_textbooks#helical-normal-pitch, gear_rules#helical-24-45, cutting_speeds#mill, milling1914#lead-*,
screwcutting#five-on-two. Section 3: gear_rules#chordal-*, span, pins, and below. Section 4: test_indexing
(lists of what is reached, compound pairs), derived#plain-*, trade_school, mh27.

Fits, keys, threads and stock. O01 to O05, O08 to O10 fits_derived. O06 fit_page. O07 machine_design. O11
iso286#m6-280. O12 iso286_corrigendum. O13 to O15 ansi_b4_1. O16 workshop_1914. O17 below. O18
b17_1#crown-1. O19 b17_1#depth-1-square, b17_1#taper-1-square. O20 b17_2#404. O21 test_press_fit (150
tons). O22 to O24 press_fits. O25 key_textbooks. O26 cutting_speeds#mild-steel, the rule of 240 in
test_spindle_speed. O27 bs84#bsw-1-4, threads_derived#o27. O28 threads_derived#o28, the refusal in
test_tapping_drill. O29 tapers#morse-2. O30 bolt_circles#six.

Worked tables: 1.4 below and test_fit_tables; 1.5 test_fit (a test to each misprint); 1.6 fits_derived,
fit_page, machine_design; the 38 worked fits test_fit; 2.1 ansi_b4_1, test_inch_fit (pairs printed); 2.2
test_shop_fit; 2.3 press_fits; 3.1 b17_1#rise-*, #depth-*, iso773#rise-*; 3.3 broaching_derived; 3.4
key_textbooks; 4 threads_derived, test_thread; 5 cutting_speeds; 6 tapers, bolt_circles; 5 and 7
densities#disc, contraction#narrow, #wide, scales#wheel, #engine, gauges in test_scale.
"""

import re
from fractions import Fraction
from math import degrees, floor, pi, radians

import pytest

from calc import runs
from calc.kernel import tables
from calc.kernel.involute import involute
from calc.registry import get
from tests.oracles import it_formula


def run(key, unit="inch", **entered):
    return runs.run(get(key), entered, unit=unit)


def results(key, unit="inch", **entered):
    return run(key, unit, **entered).outcome.results


def line(found, label):
    return next(step.value for step in found.outcome.working if step.label == label)


def codes(found):
    return {one.code for one in found.outcome.warnings}


def test_checks_when_named_above_then_each_is_there():
    """Every source#check named in the list is in a checks.toml; a star stands for the rest of the name."""
    there = [f"{key}#{check['id']}" for key in tables.source_keys() for check in tables.read_checks(key)]
    named = re.findall(r"\b([a-z0-9_]+)(#[a-zA-Z0-9.*-]+)", __doc__)
    assert len(named) > 25
    for source, check in named:
        wanted = re.escape(f"{source}{check.rstrip('.')}").replace(r"\*", ".*")
        assert any(re.fullmatch(wanted, one) for one in there), f"{source}{check}"


def test_o1_formative_teeth_when_raw_then_the_cutters_by_the_rule():
    """16 and 48 at right angles: 16/cos 18.43° and 48/cos 71.57°; ranges of 1914."""
    found = results("bevel-pair", teeth="16", mate_teeth="48", diametral_pitch="8", face_width="1")
    assert f"{found['formative_teeth']:.2f}" == "16.87"
    assert f"{found['mate']['formative_teeth']:.1f}" == "151.8"
    assert (found["cutter_number"], found["mate"]["cutter_number"]) == ("7", "1")
    assert found["mean_cone_distance_mm"] / found["cone_distance_mm"] == pytest.approx(0.842, abs=5e-4)


@pytest.mark.parametrize(
    ("entered", "addendum", "dedendum"),
    [
        (("20", "40", "3", "2.25"), "2.56064", "3.19960"),  # O4
        (("30", "30", "1", "2.157"), "2.69895", "3.12190"),  # O5
    ],
)
def test_o4_and_o5_angles_when_worked_then_to_five_places(entered, addendum, dedendum):
    teeth, mate, module, system = entered
    found = run(
        "bevel-pair", teeth=teeth, mate_teeth=mate, module=module, depth_system=system, face_width="5 mm"
    )
    assert line(found, "Addendum angle") == addendum
    assert line(found, "Dedendum angle") == dedendum


def test_o14_and_o15_half_angles_when_shifted_then_as_printed():
    """Elements of Metric Gear Technology: 8.54270° and, in the plane of the cutter, 4.57556°."""
    spur = run("spur-gear", teeth="12", module="10", profile_shift="0.3")
    assert float(line(spur, "Half angle of a tooth")) == pytest.approx(8.54270, abs=5.1e-6)
    helical = results("helical-gear", teeth="16", module="5", helix_angle="25", profile_shift="0.2")
    half = helical["chordal_thickness_mm"] / (helical["cutter_teeth"] * 5)
    assert degrees(half) == pytest.approx(4.57556, rel=2e-3)  # the sine, which is a little less


def test_o15_rack_when_its_tooth_is_wanted_then_half_the_pitch_at_a_module_down():
    """Module 3: 4.7124 and 3.0000; of any gear the arc, and the addendum."""
    found = results("spur-gear", teeth="1000", module="3")
    assert f"{found['tooth_thickness_mm']:.4f}" == "4.7124"
    assert found["chordal_thickness_mm"] == pytest.approx(3 * pi / 2, rel=1e-6)
    assert float(found["addendum_mm"]) == 3


def test_o17_key_of_20_mm_when_looked_up_then_as_the_catalogue_prints_it():
    """A catalogue's extract of DIN 6885: the reading of the table in use, counted as that."""
    found = results("keyway", "mm", shaft_diameter="20 mm", standard="iso773")
    assert (found["key_width_mm"], found["key_height_mm"]) == (6, 6)
    assert (found["shaft_crown_depth_mm"], found["hub_crown_depth_mm"]) == (3.5, 2.8)
    assert (found["shaft_over_work_mm"], found["hub_over_work_mm"]) == (16.5, 22.8)
    assert found["shaft_crown_depth_max_mm"] - found["shaft_crown_depth_min_mm"] == pytest.approx(0.1)


# ---- gears, sections 2 and 3 -----------------------------------------------------------------------------


@pytest.mark.parametrize(("angle", "value"), [(20, "0.0149044"), (14.5, "0.0055448")])
def test_involute_when_of_the_two_usual_angles_then_as_worked_beforehand(angle, value):
    assert f"{involute(radians(angle)):.7f}" == value


@pytest.mark.parametrize(
    ("teeth", "angle", "over"), [("18", "20", 2), ("27", "20", 3), ("36", "20", 4), ("24", "14 1/2", 2)]
)
def test_span_when_the_rule_is_on_a_tie_then_rounded_up(teeth, angle, over):
    assert results("spur-gear", teeth=teeth, module="2", pressure_angle=angle)["span_teeth"] == over


def test_span_when_over_one_tooth_more_then_longer_by_a_base_pitch():
    three, four = (
        results("spur-gear", teeth="24", module="2", span_teeth=over)["span_mm"] for over in ("3", "4")
    )
    assert f"{four - three:.4f}" == "5.9043"


@pytest.mark.parametrize("teeth", ["12", "17", "24", "55", "135"])
def test_chordal_addendum_when_by_the_quick_rule_then_within_two_ten_thousandths(teeth):
    """(1 + 0.6169 / teeth) / diametral pitch."""
    found = results("spur-gear", teeth=teeth, diametral_pitch="1")["chordal_addendum_mm"] / 25.4
    assert found == pytest.approx(1 + 0.6169 / int(teeth), abs=2e-4)


@pytest.mark.parametrize(
    ("pinion", "wheel", "clashes"),
    [("12", "12", True), ("13", "13", False), ("14", "42", True), ("15", "45", False)],
)
def test_smallest_pinion_when_with_an_equal_or_three_times_its_teeth_then_13_and_15(pinion, wheel, clashes):
    """The Theory of Machines: 12.32, so 13, with its equal; 14.98, so 15, with three times its teeth; 20°."""
    found = run("spur-gear", teeth=pinion, mate_teeth=wheel, module="2")
    assert ("interference" in codes(found)) is clashes


# ---- fits, section 1.4 -----------------------------------------------------------------------------------


def grades():
    for row in tables.read_table("iso286", "it_grades").rows:
        over, upto = Fraction(row["over_mm"]), Fraction(row["upto_mm"])
        for grade in range(5, 19):
            yield over, upto, grade, row[f"IT{grade}"]


def in_steps(value):
    """To 1 up to 100, to 5 up to 200, to 10 up to 1000, to 50 up to 2000, to 100 above."""
    steps = ((100, 1), (200, 5), (1000, 10), (2000, 50), (1e9, 100))
    step = next(step for most, step in steps if value <= most)
    return floor(value / step + 0.5) * step


def test_grades_when_by_the_formula_then_46_of_182_cells_differ_and_to_3_mm_all_but_two():
    """Counted cell by cell beforehand, to 500 mm; the steps that figures are rounded to are from memory."""
    cells = [one for one in grades() if one[1] <= 500]
    apart = [(over, grade) for over, upto, grade, printed in cells
             if in_steps(it_formula(over, upto, grade)) != float(printed)]  # fmt: skip
    assert len(cells) == 182
    assert len(apart) == 46
    assert {grade for over, grade in apart if over == 0} == set(range(5, 19)) - {5, 8}


@pytest.mark.parametrize(
    ("over", "grade", "formula", "printed"),
    [(0, 7, 8.67, 10), (10, 7, 17.3, 18), (315, 6, 35.4, 36), (400, 6, 38.9, 40), (400, 7, 62.2, 63),
     (400, 11, 389, 400), (500, 5, 30.4, 32)],
)  # fmt: skip
def test_grade_when_the_formula_is_known_to_differ_then_by_that_much(over, grade, formula, printed):
    (cell,) = [one for one in grades() if one[0] == over and one[2] == grade]
    assert it_formula(*cell[:3]) == pytest.approx(formula, rel=2e-3)
    assert float(cell[3]) == printed
