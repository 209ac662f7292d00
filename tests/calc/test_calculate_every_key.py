"""The calculate command for every sum: an answer, a wrong entry, no solution, and the names promised."""

import json
from io import StringIO

import pytest
from django.core.management import call_command

from calc.catalogue import CALCULATIONS
from calc.registry import catalogue, get

EVERY = pytest.mark.parametrize("calculation", CALCULATIONS, ids=lambda one: one.key)
OBJECT = {"calculation", "revision", "entered", "inputs", "results", "working", "warnings", "sources"}

GEAR = """pitch_diameter_mm outside_diameter_mm cutter_number"""
LIMITS = """hole_upper_mm hole_lower_mm shaft_upper_mm shaft_lower_mm clearance_max_mm clearance_min_mm kind
 hole_es_um hole_ei_um shaft_es_um shaft_ei_um"""
DEPTHS = " ".join(
    f"{side}_{name}_{edge}mm"
    for side in ("shaft", "hub")
    for name in ("side_depth", "crown_depth", "over_work")
    for edge in ("", "min_", "max_")
)
#: What each sum must give back at the least, by the contract that it was built to.
PROMISED = {
    "indexing": "exact plain compound differential nearest missing_factor",
    "indexing-schedule": "rows",
    "spur-gear": f"{GEAR} root_diameter_mm base_diameter_mm circular_pitch_mm addendum_mm whole_depth_mm "
    "cutter_from_teeth cutter_to_teeth chordal_thickness_mm chordal_addendum_mm span_teeth span_mm "
    "over_pins_mm centre_distance_mm ratio contact_ratio undercut mate",
    "bevel-pair": f"{GEAR} pitch_angle_deg face_angle_deg root_angle_deg back_angle_deg formative_teeth "
    "cutter_from_teeth cutter_to_teeth crown_to_apex_mm chordal_thickness_large_mm "
    "chordal_addendum_large_mm chordal_thickness_small_mm chordal_addendum_small_mm cone_distance_mm "
    "small_end_factor whole_depth_mm face_width_limit_mm mate",
    "bevel-cutting": "textbook best roll_exact quarter_circles",
    "bevel-differential": "goes_together pinions_that_go ratio",
    "helical-gear": f"{GEAR} transverse_module_mm transverse_pressure_angle_deg cutter_teeth lead_mm "
    "centre_distance_mm",
    "worm-pair": "ratio lead_mm lead_angle_deg wheel_pitch_diameter_mm worm_outside_diameter_mm "
    "throat_diameter_mm centre_distance_mm",
    "keyway": f"key_width_mm key_height_mm chord_rise_mm {DEPTHS}",
    "broaching": "passes final_across_mm",
    "key-strength": "shear_mpa crushing_mpa length_wanted_mm",
    "fit": LIMITS,
    "inch-fit": LIMITS,
    "shop-fit": "shaft_upper_mm shaft_lower_mm",
    "press-fit": "pressure_mpa hub_hoop_mpa axial_force_n torque_nm temperature_rise_c",
    "spindle-speed": "spindle_speed_rpm nearest_rpm time_min",
    "tapping-drill": "minor_diameter_mm drill_exact_mm",
    "taper": "half_angle_deg included_angle_deg tailstock_set_over_mm sine_bar_height_mm nearest_named",
    "mass": "mass_kg",
}

#: Entries that are right and have no answer, of the sums that can have none.
NONE = {
    "indexing": {"divisions": "9973", "circles": "15,16,17,18,19,20"},
    "keyway": {"shaft_diameter": "1/2 in", "standard": "bs46", "section": "rectangular"},
    "broaching": {
        "bore": "1 1/8 in", "key_width": "1/4 in", "hub_crown_depth": "0.116 in", "rise_per_pass": "0.045 in",
    },
    "bore-sequence": {"finished_bore": "1/4 in", "drills_owned": "1/2 in"},
    "spindle-speed": {"diameter": "1.5 in", "cutting_speed": "90 ft/min", "spindle_speeds": "230,350"},
}  # fmt: skip


def run(key, entered):
    out, error, code = StringIO(), StringIO(), 0
    entries = [f"{name}={text}" for name, text in entered.items()]
    try:
        call_command("calculate", key, *entries, "--json", stdout=out, stderr=error)
    except SystemExit as end:
        code = end.code
    assert error.getvalue() == ""
    return json.loads(out.getvalue(), parse_constant=pytest.fail), code


@EVERY
def test_example_when_calculated_then_0_and_every_result_under_its_name(calculation):
    found, code = run(calculation.key, calculation.example)
    assert code == 0
    assert set(found) == OBJECT
    assert found["calculation"] == calculation.key
    assert found["entered"] == dict(calculation.example)
    assert {one.name for one in calculation.outputs} <= set(found["results"])
    assert found["working"]
    for step in found["working"]:
        assert set(step) == {"label", "formula", "figures", "value", "unit", "source"}
        assert step["label"]
        assert step["source"]
    for warning in found["warnings"]:
        assert set(warning) == {"code", "text"}


@pytest.mark.parametrize("key", [key for key in PROMISED if key in catalogue()])
def test_results_when_calculated_then_the_names_promised_are_there(key):
    found, _ = run(key, get(key).example)
    assert set(PROMISED[key].split()) - set(found["results"]) == set()


@EVERY
def test_entry_when_it_cannot_be_read_then_2_and_the_first_field_is_named(calculation):
    field = calculation.inputs[0].name
    found, code = run(calculation.key, {**calculation.example, field: "fish & chips"})
    assert code == 2
    assert list(found) == ["error"]
    assert found["error"]["field"] == field
    assert found["error"]["message"].startswith(f"{field}: ")
    assert len(found["error"]["message"]) > len(field) + 20


@EVERY
def test_entry_when_none_such_is_asked_for_then_2_and_those_that_are_stand_in_the_message(calculation):
    found, code = run(calculation.key, {**calculation.example, "fish": "1"})
    assert (code, found["error"]["field"]) == (2, "fish")
    assert calculation.inputs[0].name in found["error"]["message"]


REQUIRED = [
    (one, field.name) for one in CALCULATIONS for field in one.inputs
    if not field.optional and field.default is None
]  # fmt: skip


@pytest.mark.parametrize(
    ("calculation", "name"), REQUIRED, ids=[f"{one.key}-{name}" for one, name in REQUIRED]
)
def test_entry_when_it_is_left_out_then_2_and_it_is_named(calculation, name):
    found, code = run(calculation.key, {**calculation.example, name: " "})
    assert (code, found["error"]["field"]) == (2, name)
    assert "Nothing is " in found["error"]["message"]


@pytest.mark.parametrize("key", NONE)
def test_entries_when_right_and_without_an_answer_then_3_and_what_would_make_one(key):
    found, code = run(key, NONE[key])
    assert code == 3
    assert list(found) == ["no_solution"]
    assert set(found["no_solution"]) == {"message", "would_do"}
    assert found["no_solution"]["message"]
    assert found["no_solution"]["would_do"]
