"""The list of slips made with fits, keys, threads, tapers and stock, and how each is caught.

The slips are those of the trade, gathered from pages, books and data files that were found wrong. More on
one stands beside its sum, under the same number.

 1. A keyway's depth is measured from the wrong datum: the wall, the crown, or over the work.
 2. One sheet's name for a depth is another sheet's name for something else: no depth without its datum.
 3. The key is taken from another standard than the drawing's; ranges begun a size too high; a misprinted hub.
 4. A size at the edge of a range is put in the range above it, or a float carries it there.
 5. The size as made picks the range, where the nominal does.
 6. The generating formula is used for the table, or a third comes out as nought.
 7. Delta is added to a hole above its grades or left out below; the sign of K, M, P, S, U.
 8. A tolerance to one side is read as one to both.
 9. Interference is given as a clearance without saying so; its most is shaft upper less hole lower.
10. Interference on the radius is taken for that on the diameter; a hub's heat is reckoned by its radius.
11. Units: thousandths, millimetres, micrometres, fractions; a figure to a degree Fahrenheit; two tons, two
    stresses.
12. The letters of the inch fits are taken for those of ISO 286.
13. A thread's name without its pitch; a pipe thread's size taken for its diameter; a BA number for inches;
    three flank angles.
14. BA: six pitches taken for the diameter, 0.89 mm for the pitch of 2 BA.
15. A tapping drill that is below the core of the thread.
16. Misprints carried on: a depth of 5/16 Whitworth, the end of Morse 0, two wire gauges, a hub's tolerance.
17. Number drills rounded to three places.
18. Taper keys of 1:100 and of 1/8 in to the foot; included and half angles; a rate that may be degrees.
19. Contraction or finish allowed once where two faces want it, or allowed a second time.
20. Reaming stock a side taken for stock on the diameter; drilled holes come out over size.
21. Cutting speeds of which one table has twice the other; a speed the machine has not.
22. Sheet gauges: one number, three thicknesses.
23. General tolerances from a page that has shifted a column: no sum here offers general tolerances, and
    none is to be taken from a web page.
"""

import re
from fractions import Fraction

import pytest

from calc import registry, runs
from calc.entries import EntryErrors
from calc.kernel import tables
from calc.kernel.errors import NoSolution
from calc.registry import get
from tests.oracles import rise_by_angle

#: Numbers of the list that no sum can fall into.
NO_SUM = {23}


def run(key, unit="inch", **entered):
    return runs.run(get(key), entered, unit=unit)


def results(key, unit="inch", **entered):
    return run(key, unit, **entered).outcome.results


def texts(found, code):
    return [one.text for one in found.outcome.warnings if one.code == code]


def codes(found):
    return {one.code for one in found.outcome.warnings}


def refused(key, unit="inch", **entered):
    with pytest.raises(EntryErrors) as wrong:
        run(key, unit, **entered)
    return wrong.value.messages


def fit(nominal, **sides):
    return results("fit", "mm", nominal=nominal, **sides)


def test_list_when_counted_then_every_slip_has_its_test():
    listed = [int(number) for number in re.findall(r"^ ?(\d+)\. ", __doc__, re.MULTILINE)]
    tested = {int(name.split("_")[2]) for name in globals() if name.startswith("test_trap_")}
    assert listed == list(range(1, 24))
    assert tested == set(listed) - NO_SUM
    # A sum that offers general tolerances would want a test of its own.
    assert not any("general tolerance" in one.summary.lower() for one in registry.catalogue().values())


# ---- keyways ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("standard", ["bs46", "b17.1", "iso773"])
def test_trap_1_depth_when_worked_then_from_wall_crown_and_over_the_work(standard):
    shaft = "20 mm" if standard == "iso773" else "1 in"
    found = results("keyway", shaft_diameter=shaft, standard=standard)
    size = 20 if standard == "iso773" else 25.4
    rise = rise_by_angle(size, found["key_width_mm"])
    assert found["chord_rise_mm"] == pytest.approx(rise)
    assert found["shaft_crown_depth_mm"] - found["shaft_side_depth_mm"] == pytest.approx(rise)
    assert found["hub_side_depth_mm"] - found["hub_crown_depth_mm"] == pytest.approx(rise)
    assert found["shaft_over_work_mm"] == pytest.approx(size - found["shaft_crown_depth_mm"])
    assert found["hub_over_work_mm"] == pytest.approx(size + found["hub_crown_depth_mm"])


def test_trap_1_depth_when_that_at_the_wall_is_broached_then_it_is_doubted():
    found = run(
        "broaching", bore="1 1/8", key_width="1/4", hub_crown_depth="0.130", rise_per_pass="0.065",
        shims="0.065", hub_length="1", guide_length="2",
    )  # fmt: skip
    (text,) = texts(found, "looks-like-side-depth")
    assert f"{0.130 - rise_by_angle(1.125, 0.25):.4f}" in text


@pytest.mark.parametrize("key", ["keyway", "broaching"])
def test_trap_2_depth_when_named_then_its_datum_is_named(key):
    entered = {
        "keyway": {"shaft_diameter": "1 in", "standard": "bs46"},
        "broaching": {
            "bore": "1 1/8", "key_width": "1/4", "hub_crown_depth": "0.116", "rise_per_pass": "0.058",
            "shims": "0.058",
        },
    }[key]  # fmt: skip
    found = run(key, **entered)
    shown = runs.answer_of(found)
    labels = [step.label for step in found.outcome.working]
    labels += [line["label"] for line in shown.get("sizes", {"lines": []})["lines"]]
    labels += [one["label"] for one in shown["facts"]]
    depths = [label for label in labels if "depth" in label.lower()]
    assert len(depths) >= 3
    datums = ("wall", "crown", "top of the", "centre line")
    assert [label for label in depths if not any(word in label for word in datums)] == []


#: BS 46 and B17.1 differ in each of these, over and to: two printed tables set side by side.
APART = (
    ("5/16", "7/16"), ("1/2", "9/16"), ("3/4", "7/8"), ("1", "1 3/8"), ("1 1/2", "1 3/4"), ("2", "2 1/4"),
    ("2 1/2", "2 3/4"), ("3", "3 1/4"), ("3 1/2", "3 3/4"), ("4", "4 1/2"), ("5", "5 1/2"),
)  # fmt: skip


def mixed(text):
    return sum(map(Fraction, text.split()), Fraction())


@pytest.mark.parametrize(("over", "upto"), APART)
@pytest.mark.parametrize("standard", ["bs46", "b17.1"])
def test_trap_3_key_when_the_standards_differ_then_both_are_named(standard, over, upto):
    found = run("keyway", shaft_diameter=upto, standard=standard, section="square")
    (text,) = texts(found, "other-standard")
    assert "BS 46" in text
    assert "B17.1" in text
    assert "Keep to the one the drawing names." in text
    just_over = run("keyway", shaft_diameter=str(Fraction(1, 64) + mixed(over)), standard=standard)
    assert "other-standard" in codes(just_over)


@pytest.mark.parametrize("size", ["1/2", "3/4", "1", "1 1/2", "2"])
def test_trap_3_key_when_at_the_top_of_a_range_then_both_standards_agree(size):
    assert "other-standard" not in codes(run("keyway", shaft_diameter=size, standard="bs46"))


def test_trap_3_hub_when_the_key_is_an_eighth_by_three_32nds_then_3_64_and_not_1_32():
    found = results("keyway", shaft_diameter="1/2", standard="b17.1", section="rectangular")
    # Half of 3/32, and the clearance of 0.005 in.
    assert found["hub_side_depth_mm"] / 25.4 == pytest.approx(3 / 64 + 0.005)


# ---- fits by ISO 286 -------------------------------------------------------------------------------------


@pytest.mark.parametrize("edge", ["18", "30", "50", "80", "120"])
def test_trap_4_edge_when_a_size_is_on_it_then_it_belongs_below_however_it_is_typed(edge):
    at = fit(edge, hole="H7")["hole_es_um"]
    assert at == fit(str(int(edge) - 1), hole="H7")["hole_es_um"]
    assert at < fit(f"{edge}.001", hole="H7")["hole_es_um"]
    for typed in (f"{edge}.0000000", f"{Fraction(edge) / 10} cm", f"{Fraction(edge) / 1000} m"):
        assert fit(typed, hole="H7")["hole_es_um"] == at
    # In floats 0.1 + 0.2 times a hundred is over 30.
    assert results("fit", nominal=f"{Fraction(edge) / Fraction('25.4')}", hole="H7")["hole_es_um"] == at


def test_trap_5_range_when_the_hole_came_out_over_an_edge_then_the_nominal_still_picks_it():
    entered = {"hole": "H7", "shaft": "g6"}
    suited = fit("30", **entered, hole_measured="30.018")
    assert suited["shaft_tolerance_um"] == fit("30", **entered)["shaft_tolerance_um"] == 13  # 16 over 30
    assert suited["shaft_upper_mm"] == pytest.approx(30.011)


@pytest.mark.parametrize(
    ("nominal", "hole", "upper"),
    [("70", "H8", 70.046), ("16", "H7", 16.018), ("2", "H7", 2.010), ("350", "H6", 350.036)],
)
def test_trap_6_grade_when_the_formula_gives_another_then_the_table_holds(nominal, hole, upper):
    """70.013 came of a third that was nought; 17.3, 8.7 and 35.4 micrometres of the formula unrounded."""
    assert fit(nominal, hole=hole)["hole_upper_mm"] == pytest.approx(upper)


@pytest.mark.parametrize(
    ("hole", "es", "plain"),
    [("K7", 6, -2), ("M7", 0, -8), ("P7", -14, -22), ("S7", -27, -35), ("U7", -40, -48)],
)
def test_trap_7_delta_when_within_its_grades_then_added_and_the_sign_kept(hole, es, plain):
    """25 mm, delta 8: read in Machine Drawing, Table 15.3; without it each comes to the last figure."""
    found = fit("25", hole=hole)
    assert found["hole_es_um"] == es == plain + 8
    assert found["hole_ei_um"] == es - 21


@pytest.mark.parametrize(("hole", "es"), [("P8", -22), ("S8", -35), ("M9", -8), ("N9", 0)])
def test_trap_7_delta_when_past_its_grades_then_left_out(hole, es):
    assert fit("25", hole=hole)["hole_es_um"] == es


def test_trap_8_sides_when_shown_then_each_limit_by_itself_and_only_js_to_both():
    h7, js7 = fit("25", hole="H7", shaft="h6"), fit("25", hole="JS7")
    assert (h7["hole_es_um"], h7["hole_ei_um"]) == (21, 0)
    assert (h7["shaft_es_um"], h7["shaft_ei_um"]) == (0, -13)
    assert (js7["hole_es_um"], js7["hole_ei_um"]) == (10.5, -10.5)
    # 25 +0.021/0 and 25.0105 ±0.0105 are one zone; 25 ±0.021 is another, and twice as wide.
    assert (h7["hole_upper_mm"], h7["hole_lower_mm"]) == (25.021, 25)
    shown = runs.answer_of(run("fit", "mm", nominal="25", hole="H7", shaft="h6"))
    lines = {line["label"]: line["cells"] for line in shown["sizes"]["lines"]}
    assert lines["Upper deviation, µm"] == ["21", "0"]
    assert lines["Lower deviation, µm"] == ["0", "−13"]
    assert "±" not in str(shown)


def test_trap_9_sign_when_it_is_interference_then_it_is_called_so():
    found = run("fit", "mm", nominal="40", hole="H7", shaft="p6")
    worked = found.outcome.results
    assert worked["kind"] == "interference"
    assert worked["clearance_min_mm"] == -0.042  # 40.000 less 40.042
    assert worked["clearance_max_mm"] == -0.001
    least = next(step for step in found.outcome.working if step.label.startswith("Least"))
    assert "below nought, interference" in least.label
    facts = {one["label"]: one["value"] for one in runs.answer_of(found)["facts"]}
    assert facts["Interference"] == "0.001 to 0.042"


# ---- press fits and units --------------------------------------------------------------------------------


def test_trap_10_radius_when_it_may_be_meant_then_both_figures_are_shown():
    """Strength of Materials, example 8.8.16: 0.189 on the radius, 0.379 on the diameter."""
    found = run("press-fit", "mm", interface="250", hub_outside="300", interference="0.378")
    (text,) = texts(found, "on-diameter")
    assert "on the diameter, 0.378 mm" in text
    assert "0.189 mm on the radius" in text


def test_trap_10_heat_when_reckoned_then_by_the_diameter_where_they_meet():
    found = results(
        "press-fit", "mm", interface="25", hub_outside="50", interference="0.048", assembly_clearance="0.03",
        hub_material="grey iron",
    )  # fmt: skip
    assert found["temperature_rise_c"] == pytest.approx(0.078 / (11.4e-6 * 25))  # 547 by the radius


def test_trap_11_thousandths_when_typed_as_inches_then_refused_or_doubted():
    entered = {"interface": "1 in", "hub_outside": "2 in"}
    assert "slip of unit" in refused("press-fit", **entered, interference="0.04")["interference"]
    assert "Look at its unit" in texts(run("press-fit", **entered, interference="0.005"), "over-thumb")[0]
    assert run("press-fit", **entered, interference="1.5 thou").readings["interference"] == (
        "1.5 thou = 0.0381 mm"
    )


def test_trap_11_degrees_when_an_expansion_is_to_a_fahrenheit_then_it_is_converted():
    entered = {"interface": "1 in", "hub_outside": "2 in", "interference": "0.001"}
    rises = [
        results("press-fit", **entered, hub_expansion=text)["temperature_rise_c"]
        for text in ("6.7e-6", "6.7e-6 per degF")
    ]
    assert rises[0] / rises[1] == pytest.approx(1.8)
    assert "too great" in refused("press-fit", **entered, hub_expansion="6.7")["hub_expansion"]


def test_trap_11_tons_when_of_stress_then_the_pounds_in_one_are_named():
    entered = {
        "torque": "90 lbf ft", "shaft": "1 in", "key_width": "1/4", "key_height": "1/4",
        "allowable_shear": "3 ton/in2", "allowable_crushing": "14000 psi",
    }  # fmt: skip
    found = run("key-strength", **entered)
    assert "of 2,240 lb" in found.readings["allowable_shear"]
    assert float(found.inputs["allowable_shear"]) == pytest.approx(6720 * 0.006894757)
    assert "= 96.527 MPa" in found.readings["allowable_crushing"]


def test_trap_11_size_when_its_unit_is_not_the_pages_then_the_reading_says_both():
    found = run("fit", nominal="30 mm", hole="H7")
    assert found.readings["nominal"] == "30 mm = 1.1811 in"
    assert "too great" in refused("keyway", shaft_diameter="30", standard="bs46")["shaft_diameter"]


def test_trap_12_letters_when_of_the_inch_fits_then_they_are_not_those_of_iso():
    """1 in RC4, called H8/f7: 0.0008 to 0.0028 in; 25 H8/f7 is 0.020 to 0.074 mm."""
    found = run("inch-fit", nominal="1", fit="RC4")
    play = [found.outcome.results[name] for name in ("clearance_min_mm", "clearance_max_mm")]
    assert play == pytest.approx([0.0008 * 25.4, 0.0028 * 25.4])
    iso = fit("25", hole="H8", shaft="f7")
    assert [iso["clearance_min_mm"], iso["clearance_max_mm"]] == [0.02, 0.074]
    (text,) = texts(found, "not-iso")
    assert "H8/f7" in text
    assert "ISO 286 has the same letters with others" in text


# ---- threads and drills ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "readings"),
    [
        ("1/4 ME", ["1/4x40 ME", "1/4x32 ME"]),
        ("1/4-26", ["1/4 BSF", "1/4 BSB", "60°"]),
        ("2", ["2 BA", "2 BSW"]),
    ],
)
def test_trap_13_name_when_it_can_be_read_in_two_ways_then_refused_with_both(typed, readings):
    said = refused("thread", thread=typed)["thread"]
    assert [one for one in readings if one not in said] == []


def test_trap_13_size_when_it_is_a_bore_or_a_number_then_the_diameter_is_beside_it():
    pipe = run("thread", thread="1/4 BSP")
    assert pipe.outcome.results["major_diameter_mm"] == 13.157
    assert "0.5180 in" in texts(pipe, "size-is-bore")[0]
    assert results("thread", thread="2 BA")["major_diameter_mm"] == 4.7
    angles = [results("thread", thread=one)["flank_angle_deg"] for one in ("1/4 BSF", "M6", "0 BA")]
    assert angles == [55, 60, 47.5]
    assert "1/4 BSB" in texts(run("thread", thread="1/4 BSF"), "same-thread")[0]


def test_trap_14_ba_when_worked_then_by_the_power_and_not_by_six_pitches():
    found = results("thread", thread="2 BA")
    assert found["pitch_mm"] == 0.81
    assert found["major_diameter_mm"] == pytest.approx(6 * 0.81**1.2, abs=0.05)
    assert found["major_diameter_mm"] != pytest.approx(6 * 0.81, abs=0.05)
    assert any("0.89" in one for one in tables.read_source("bs93").corrections)


@pytest.mark.parametrize(
    ("thread", "drill", "share"),
    [("14 BA", "#70", "104.6 %"), ("3/8x32 ME", "Q", "107.4 %"), ("M22", "18.5 mm", "129.3 %")],
)
def test_trap_15_drill_when_below_the_core_then_refused_and_none_such_is_offered(thread, drill, share):
    assert share in refused("tapping-drill", thread=thread, drill=drill)["drill"]
    assert share in texts(run("thread", thread=thread), "drill-below-core")[0]
    found = results("thread", thread=thread)
    assert all(row["drill_mm"] >= found["minor_diameter_mm"] for row in found["tapping_drills"])


def test_trap_16_misprints_when_their_figures_are_worked_then_the_right_ones_come_out():
    assert results("thread", thread="5/16 BSW")["thread_depth_mm"] / 25.4 == pytest.approx(0.0356, abs=5e-5)
    assert results("taper", name="MT0")["large_diameter_mm"] / 25.4 == pytest.approx(0.3561)  # not 0.36510
    hub = results("keyway", "mm", shaft_diameter="24 mm", standard="iso773")
    assert hub["hub_crown_depth_max_mm"] - hub["hub_crown_depth_min_mm"] == pytest.approx(0.2)  # not 0.1
    for source, figure in (("bs84", "0.0076"), ("iso773", "+0.1")):
        assert any(figure in one for one in tables.read_source(source).corrections)


@pytest.mark.parametrize(("thread", "drill", "inches"), [("0 BA", "#10", 0.1935), ("1/4 BSF", "#5", 0.2055)])
def test_trap_17_number_drill_when_taken_then_to_four_places(thread, drill, inches):
    """A data file has .193 and .205."""
    found = run("tapping-drill", thread=thread, drill=drill)
    assert found.outcome.results["drill_exact_mm"] == pytest.approx(inches * 25.4, abs=1e-9)
    assert f"{inches:.4f} in" in found.readings["drill"]


# ---- tapers, castings, holes, speeds, stock --------------------------------------------------------------


def test_trap_18_key_when_it_tapers_then_the_two_rates_are_two_keys_and_slope_on_one_face():
    metric, inch = run("taper", name="taper key, 1:100"), run("taper", rate="1/8 in/ft")
    assert metric.outcome.results["face_angle_deg"] == pytest.approx(0.5729, abs=5e-5)
    assert inch.outcome.results["face_angle_deg"] == pytest.approx(0.5968, abs=5e-5)
    assert "with the whole rate" in texts(metric, "one-face")[0]
    assert "one-face" in codes(inch)
    # Over 100 mm they are 0.042 mm apart.
    rates = [one.outcome.results["rate"] for one in (metric, inch)]
    assert 100 * (rates[1] - rates[0]) == pytest.approx(0.042, abs=5e-4)


def test_trap_18_angle_when_included_then_the_slide_has_half():
    found = results("taper", included_angle="60")
    assert (found["half_angle_deg"], found["included_angle_deg"]) == (30, 60)


@pytest.mark.parametrize("typed", ["0.6", "5/8", "2.86 deg"])
def test_trap_18_rate_when_it_may_be_degrees_then_it_is_refused(typed):
    assert "inches to the foot, to the inch, or degrees" in refused("taper", rate=typed)["rate"]


def test_trap_19_allowance_when_for_one_face_then_a_diameter_has_it_twice_and_both_readings_stand_there():
    """4 in of iron, 1/8 in a face: 4 1/4 in as a diameter, 4 1/8 in with one face; 1/8 in to the foot."""
    entered = {"finished_size": "4", "metal": "cast-iron", "contraction": "1/8", "allowance": "1/8 in"}
    both, one = (run("casting-allowance", **entered, faces=faces) for faces in ("2", "1"))
    assert both.outcome.results["casting_size_mm"] == pytest.approx(4.25 * 25.4)
    assert one.outcome.results["casting_size_mm"] == pytest.approx(4.125 * 25.4)
    assert "On one alone the pattern would be 4.168 in" in texts(both, "one-or-both")[0]
    assert "On both, as on a diameter, the pattern would be 4.294 in" in texts(one, "one-or-both")[0]


def test_trap_19_contraction_when_the_size_has_it_already_then_the_pattern_without_it_is_named():
    entered = {"finished_size": "12.5", "metal": "cast-iron", "faces": "0", "contraction": "3/32"}
    found = run("casting-allowance", **entered)
    assert found.outcome.results["pattern_size_mm"] / 25.4 == pytest.approx(12.598, abs=5e-4)
    assert "the pattern is then 12.5 in" in texts(found, "already-included")[0]


def test_trap_20_stock_when_left_for_a_reamer_then_on_the_diameter_and_a_side():
    """1/2 in: 31/64 drills 12.353 mm with 0.05 mm over, and leaves 0.347 on the diameter."""
    found = results("bore-sequence", finished_bore="1/2")
    assert found["hole_mm"] - found["last_drill_mm"] == pytest.approx(0.05)
    assert found["stock_left_mm"] == pytest.approx(12.7 - found["hole_mm"])
    assert found["stock_left_a_side_mm"] == found["stock_left_mm"] / 2
    # Were holes to size, 12.4 mm would leave enough; 0.05 over, it does not.
    owned = results("bore-sequence", finished_bore="12.7 mm", drills_owned="12 mm, 12.4 mm")
    assert owned["last_drill"] == "12 mm"


def test_trap_21_speed_when_the_tables_differ_then_both_are_shown_with_the_metals_condition():
    found = run("spindle-speed", diameter="1", material="mild-steel")
    (text,) = texts(found, "sources-differ")
    assert "In use: 90 ft/min" in text
    assert "annealed" in text
    assert "110 for drilling, 100 to 250 for turning" in text
    assert found.outcome.results["other_high_m_min"] > 2 * found.outcome.results["cutting_speed_m_min"]


def test_trap_21_speed_when_the_machine_has_steps_then_the_next_below_and_never_above():
    entered = {"diameter": "1.5", "cutting_speed": "90 ft/min"}  # 229.18 turns
    assert results("spindle-speed", **entered, spindle_speeds="70,229,230,350")["nearest_rpm"] == 229
    with pytest.raises(NoSolution) as none:
        run("spindle-speed", **entered, spindle_speeds="230,350")
    assert none.value.would_do


def test_trap_22_gauge_when_sheet_is_named_by_it_then_the_thickness_and_the_other_gauges():
    """16 SWG is 0.064 in, 16 AWG 0.0508 in."""
    found = run("scale", full_size="1/4", scale="3 in to the foot", form="sheet", system="imperial")
    assert found.outcome.results["stock"] == "16 SWG"
    (text,) = texts(found, "gauge")
    assert "0.064 in by the Imperial Standard Wire Gauge" in text
    assert "16 AWG would be 0.0508 in" in text
    assert "16 BG" in text
