"""Keyways: which key for which shaft, the three datums, limits, refusals and what is warned of."""

import csv
from fractions import Fraction

import pytest

from calc.kernel import tables
from calc.kernel.errors import NoSolution, NotInTable, OutOfRange
from calc.kernel.keyway import keyway
from tests.oracles import rise_by_angle

INCH = Fraction(254, 10)
HAIR = Fraction(1, 10**9)


def inches(text):
    """Inches as written, `1 1/8`, in millimetres."""
    return sum(Fraction(part) for part in text.split()) * INCH


def by(standard, shaft, **more):
    size = Fraction(shaft) if standard == "iso773" else inches(shaft)
    return keyway(shaft_diameter=size, standard=standard, **more)


def in_inches(results, name):
    return results[f"{name}_mm"] / 25.4


def codes(outcome):
    return [caution.code for caution in outcome.warnings]


def printed(key, name):
    """A table as it stands in its file, read without the kernel."""
    lines = (tables.SOURCES / key / f"{name}.csv").read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


# ---- the sizes the trade gives -----------------------------------------------------------------------------


def test_sizes_when_bore_is_1_1_8_by_b17_1_then_s_and_t_as_the_builder_has_them():
    """ANSI B17.1, depth control, Machinery's Handbook 31, p. 2552: S 0.986, T 1.241."""
    results = by("b17.1", "1 1/8").results
    assert in_inches(results, "key_width") == pytest.approx(0.25)
    assert in_inches(results, "shaft_over_work") == pytest.approx(0.986, abs=0.0005)
    assert in_inches(results, "hub_over_work") == pytest.approx(1.241, abs=0.0005)
    across_less_bore = in_inches(results, "hub_over_work") - 1.125
    assert across_less_bore == pytest.approx(0.116, abs=0.0005)
    assert in_inches(results, "hub_crown_depth") == pytest.approx(across_less_bore)


def test_table_when_shaft_is_20_mm_then_read_as_the_extract_prints_it():
    """DIN 6885 extract, read; the function reads this row, so this tests the reading of the table."""
    results = by("iso773", "20").results
    assert (results["key_width_mm"], results["key_height_mm"]) == (6, 6)
    assert results["shaft_crown_depth_mm"] == results["shaft_crown_depth_min_mm"] == 3.5
    assert results["shaft_crown_depth_max_mm"] == 3.6
    assert results["hub_crown_depth_mm"] == 2.8
    assert (results["shaft_over_work_mm"], results["hub_over_work_mm"]) == (16.5, 22.8)
    assert (results["length_min_mm"], results["length_max_mm"]) == (14, 70)


@pytest.mark.parametrize(
    ("shaft", "standard", "key"),
    [
        ("1 1/8", "bs46", "5/16"), ("1 1/8", "b17.1", "1/4"), ("7/8", "bs46", "1/4"),
        ("7/8", "b17.1", "3/16"), ("1", "bs46", "1/4"), ("1", "b17.1", "1/4"), ("1/2", "bs46", "1/8"),
        ("1/2", "b17.1", "1/8"), ("1 1/2", "bs46", "3/8"), ("1 1/2", "b17.1", "3/8"),
    ],
)  # fmt: skip
def test_key_when_shaft_is_the_same_then_by_its_standard(shaft, standard, key):
    """Fits and keys as read in both tables; one web list starts each range a size too high."""
    assert by(standard, shaft).results["key_width_mm"] == pytest.approx(float(inches(key)))


#: Shafts, over and to, for which the two inch standards give different keys: worked out from both tables.
DIFFERENT = (
    "5/16-7/16, 1/2-9/16, 3/4-7/8, 1-1 3/8, 1 1/2-1 3/4, 2-2 1/4, 2 1/2-2 3/4, 3-3 1/4, 3 1/2-3 3/4, "
    "4-4 1/2, 5-5 1/2"
)


def test_inch_standards_when_they_give_different_keys_then_each_names_the_others():
    ranges = [tuple(map(inches, span.split("-"))) for span in DIFFERENT.split(", ")]
    for sixteenths in range(6, 97):
        shaft = Fraction(sixteenths, 16) * INCH
        differ = any(over < shaft <= to for over, to in ranges)
        for standard, other in (("bs46", "B17.1"), ("b17.1", "BS 46")):
            outcome = keyway(shaft_diameter=shaft, standard=standard)
            assert ("other-standard" in codes(outcome)) == differ, sixteenths
            if differ:
                text = next(one.text for one in outcome.warnings if one.code == "other-standard")
                assert text.startswith(f"{other} has a key of")
    assert "5/16 in" in by("b17.1", "1 1/8").warnings[0].text
    assert "1/4 in" in by("bs46", "1 1/8").warnings[0].text


# ---- the traps a table can hide: edges of ranges, and the datum -------------------------------------------


@pytest.mark.parametrize(
    ("standard", "key", "name", "over", "upto", "width"),
    [
        ("bs46", "bs46", "square", "shaft_over_in", "shaft_upto_in", "W_in"),
        ("b17.1", "b17_1", "sizes", "shaft_over", "shaft_upto", "W"),
        ("iso773", "iso773", "keys", "shaft_over_mm", "shaft_upto_mm", "b"),
    ],
)
def test_shaft_when_on_the_edge_of_a_range_then_it_belongs_below(standard, key, name, over, upto, width):
    rows = printed(key, name)
    scale = Fraction(1) if standard == "iso773" else INCH

    def size(text):
        return sum(Fraction(part) for part in text.split()) * scale

    for place, row in enumerate(rows):
        edge, wanted = size(row[upto]), float(size(row[width]))
        for shaft in (edge, edge - HAIR, size(row[over]) + HAIR):
            found = keyway(shaft_diameter=shaft, standard=standard).results["key_width_mm"]
            assert found == pytest.approx(wanted), (row, shaft)
        if place + 1 < len(rows):
            assert size(rows[place + 1][over]) == edge
            after = keyway(shaft_diameter=edge + HAIR, standard=standard).results["key_width_mm"]
            assert after == pytest.approx(float(size(rows[place + 1][width])))
            assert after > wanted


@pytest.mark.parametrize(
    ("standard", "shaft"),
    [("bs46", "1/4"), ("bs46", "6.0001"), ("b17.1", "5/16"), ("b17.1", "11.0001"), ("iso773", "6"),
     ("iso773", "130.001")],
)  # fmt: skip
def test_shaft_when_outside_the_table_then_refused_by_name(standard, shaft):
    size = Fraction(shaft) if standard == "iso773" else inches(shaft)
    with pytest.raises((NotInTable, OutOfRange)) as refused:
        keyway(shaft_diameter=size, standard=standard)
    assert refused.value.field == "shaft_diameter"


@pytest.mark.parametrize(("standard", "shaft"), [("bs46", "1"), ("b17.1", "1"), ("iso773", "40")])
def test_datum_when_shaft_and_hub_are_compared_then_the_rise_goes_opposite_ways(standard, shaft):
    """The crown of the shaft lies above the keyway's corners, and so does the crown of the bore."""
    results = by(standard, shaft).results
    rise = results["chord_rise_mm"]
    diameter = 40 if standard == "iso773" else 25.4
    assert rise == pytest.approx(rise_by_angle(diameter, results["key_width_mm"]))
    assert rise > 0
    assert results["shaft_crown_depth_mm"] == pytest.approx(results["shaft_side_depth_mm"] + rise)
    assert results["hub_crown_depth_mm"] == pytest.approx(results["hub_side_depth_mm"] - rise)
    # What the micrometer and the rule read: the key stands in both, with its clearance over it.
    between = results["hub_over_work_mm"] - results["shaft_over_work_mm"]
    assert between == pytest.approx(results["shaft_crown_depth_mm"] + results["hub_crown_depth_mm"])
    assert between > results["key_height_mm"]


def test_datum_when_by_b17_1_then_across_less_over_is_the_key_and_its_clearance():
    for shaft in ("1/2", "1", "1 1/8", "2 1/2", "6"):
        results = by("b17.1", shaft).results
        between = results["hub_over_work_mm"] - results["shaft_over_work_mm"]
        assert between == pytest.approx(results["key_height_mm"] + 0.127)
        # Quoting the side depth with its clearance for a broach overcuts by the rise.
        overcut = results["hub_side_depth_mm"] - results["hub_crown_depth_mm"]
        assert overcut == pytest.approx(results["chord_rise_mm"])


def test_trap_when_cut_from_the_crown_then_a_line_says_how_shallow():
    steps = {step.label: step for step in by("b17.1", "1").working}
    step = steps["Side depth cut from the top of the shaft leaves the keyway shallow by"]
    assert (step.value, step.unit) == ("0.0159", "in")
    assert not any(step.label.lower().strip() in ("depth", "keyway depth") for step in steps.values())


# ---- BS 46 -----------------------------------------------------------------------------------------------


def test_bs46_depths_when_held_to_the_chord_then_they_are_from_the_crown():
    """Worked out from the table: what it must be, were its depths from the crown of shaft and bore."""
    for row in printed("bs46", "square"):
        width, top = Fraction(row["W_in"]), Fraction(row["shaft_upto_in"])
        rise = Fraction(rise_by_angle(float(top), float(width)))
        shaft, hub = Fraction(row["shaft_depth_min"]), Fraction(row["hub_depth_min"])
        assert 0.0007 < shaft - width / 2 - rise < 0.0035, row
        assert 0.0045 < hub - width / 2 + rise < 0.0068, row
        assert Fraction("0.0065") <= shaft + hub - width <= Fraction("0.009"), row
        assert row["origin"] == "read"


def test_bs46_limits_when_shown_then_the_plain_name_is_the_lower():
    results = by("bs46", "1").results
    limits = {
        "shaft_crown_depth": (0.142, 0.148), "hub_crown_depth": (0.115, 0.121),
        "shaft_over_work": (0.852, 0.858), "hub_over_work": (1.115, 1.121),
        "shaft_width": (0.249, 0.250), "hub_width": (0.250, 0.251), "key_width": (0.250, 0.252),
    }  # fmt: skip
    for name, (low, high) in limits.items():
        assert in_inches(results, f"{name}_min") == pytest.approx(low), name
        assert in_inches(results, f"{name}_max") == pytest.approx(high), name
    assert in_inches(results, "shaft_crown_depth") == pytest.approx(0.142)
    assert in_inches(results, "shaft_over_work") == pytest.approx(0.858)
    assert results["length_min_mm"] is None
    assert "fitted-key" in codes(by("bs46", "1"))


@pytest.mark.parametrize(
    ("shaft", "width", "height"),
    [("1 1/8", "5/16", "1/4"), ("1 1/4", "5/16", "1/4"), ("2 1/2", "5/8", "7/16"), ("4 1/2", "1 1/4", "7/8")],
)
def test_bs46_rectangular_when_one_of_the_three_read_then_its_size_and_no_depths(shaft, width, height):
    outcome = by("bs46", shaft, section="rectangular")
    results = outcome.results
    assert results["key_width_mm"] == pytest.approx(float(inches(width)))
    assert results["key_height_mm"] == pytest.approx(float(inches(height)))
    assert results["shaft_crown_depth_mm"] is None
    assert results["hub_over_work_max_mm"] is None
    assert codes(outcome)[0] == "depths-not-read"


@pytest.mark.parametrize("shaft", ["1/2", "1", "1.2501", "2", "2 3/4", "4", "5 1/2"])
def test_bs46_rectangular_when_not_read_then_no_solution_names_the_square_key(shaft):
    with pytest.raises(NoSolution) as none:
        by("bs46", shaft, section="rectangular")
    assert "not read" in none.value.message
    assert none.value.would_do[0].startswith("A square key")
    assert none.value.would_do[1].startswith("The rectangular key of B17.1, ")


def test_bs46_rectangular_when_b17_1_has_none_either_then_it_is_not_offered():
    with pytest.raises(NoSolution) as none:
        by("bs46", "3/8", section="rectangular")
    assert none.value.would_do == ("A square key, 1/8 in.",)


# ---- B17.1 and ISO 773 -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("shaft", "section", "height"),
    [("1", "square", "1/4"), ("6 1/2", "square", "1 1/2"), ("6.5001", "rectangular", "1 1/2"),
     ("9", "rectangular", "1 1/2")],
)  # fmt: skip
def test_b17_1_section_when_left_out_then_square_to_6_1_2(shaft, section, height):
    results = by("b17.1", shaft).results
    assert results["section"] == section
    assert results["key_height_mm"] == pytest.approx(float(inches(height)))


@pytest.mark.parametrize(
    ("shaft", "seat", "key"),
    [("1", 0.002, 0.002), ("2 1/4", 0.002, 0.002), ("2 1/2", 0.003, 0.002), ("4 1/2", 0.003, 0.003),
     ("5", 0.004, 0.003)],
)  # fmt: skip
def test_b17_1_limits_when_class_1_then_seat_plus_key_minus_and_depth_over_the_work(shaft, seat, key):
    """B17.1 tolerances as read: keyseats plus, bar stock minus; S +0/-0.015, T +0.010/-0."""
    results = by("b17.1", shaft).results
    width = in_inches(results, "key_width")
    for place in ("shaft", "hub"):
        assert in_inches(results, f"{place}_width_min") == pytest.approx(width)
        assert in_inches(results, f"{place}_width_max") == pytest.approx(width + seat)
    assert in_inches(results, "key_width_min") == pytest.approx(width - key)
    s, t = (in_inches(results, f"{place}_over_work") for place in ("shaft", "hub"))
    assert in_inches(results, "shaft_over_work_max") == pytest.approx(s)
    assert in_inches(results, "shaft_over_work_min") == pytest.approx(s - 0.015)
    assert in_inches(results, "hub_over_work_min") == pytest.approx(t)
    assert in_inches(results, "hub_over_work_max") == pytest.approx(t + 0.010)
    assert in_inches(results, "shaft_side_depth_max") == pytest.approx(
        in_inches(results, "shaft_side_depth") + 0.015
    )


#: Limits of width in micrometres, by key: shaft N9, hub JS9, both P9, shaft H9, hub D10, key h9. Worked
#: from the tables of ISO 286; extracts print some of them, with 12.5 and 21.5 cut to 12 and 21.
WIDTHS = {
    "8": ((-29, -4), (-12.5, 12.5), (-31, -6), (0, 25), (20, 60), (-25, 0)),
    "20": ((-30, 0), (-15, 15), (-42, -12), (0, 30), (30, 78), (-30, 0)),
    "30": ((-36, 0), (-18, 18), (-51, -15), (0, 36), (40, 98), (-36, 0)),
    "50": ((-43, 0), (-21.5, 21.5), (-61, -18), (0, 43), (50, 120), (-43, 0)),
    "75": ((-52, 0), (-26, 26), (-74, -22), (0, 52), (65, 149), (-52, 0)),
    "130": ((-62, 0), (-31, 31), (-88, -26), (0, 62), (80, 180), (-62, 0)),
}


@pytest.mark.parametrize("shaft", WIDTHS)
def test_iso_widths_when_by_class_then_as_iso_286_gives_them(shaft):
    n9, js9, p9, h9, d10, key = WIDTHS[shaft]
    for fit, in_shaft, in_hub in (("normal", n9, js9), ("close", p9, p9), ("free", h9, d10)):
        results = by("iso773", shaft, fit=fit).results
        width = results["key_width_mm"]
        for name, limits in (("shaft_width", in_shaft), ("hub_width", in_hub), ("key_width", key)):
            found = [(results[f"{name}_{end}_mm"] - width) * 1000 for end in ("min", "max")]
            assert found == pytest.approx(limits, abs=1e-6), (fit, name)
    assert by("iso773", shaft).results == by("iso773", shaft, fit="normal").results


@pytest.mark.parametrize(("shaft", "longest"), [("8", 20), ("44", 140), ("50", None), ("130", None)])
def test_iso_lengths_when_not_read_then_none(shaft, longest):
    assert by("iso773", shaft).results["length_max_mm"] == longest


@pytest.mark.parametrize(
    ("shaft", "plus"), [("10", 0.1), ("22", 0.1), ("24", 0.2), ("50", 0.2), ("130", 0.2)]
)
def test_iso_depth_when_key_is_8_mm_wide_or_more_then_two_tenths_are_allowed(shaft, plus):
    """BS 4235-1 as read; a catalogue's row for 24 mm prints 0.1 for the hub, which no other 8 mm key has."""
    results = by("iso773", shaft).results
    for place in ("shaft", "hub"):
        depth = results[f"{place}_crown_depth_mm"]
        assert results[f"{place}_crown_depth_max_mm"] == pytest.approx(depth + plus)


@pytest.mark.parametrize(
    ("standard", "shaft", "section"),
    [("iso773", "20", "rectangular"), ("iso773", "30", "square"), ("b17.1", "3/8", "rectangular")],
)
def test_section_when_the_standard_has_none_for_the_shaft_then_no_solution_names_its_own(
    standard, shaft, section
):
    with pytest.raises(NoSolution) as none:
        by(standard, shaft, section=section)
    assert section in none.value.message
    assert none.value.would_do


# ---- entries ---------------------------------------------------------------------------------------------


def test_bore_when_measured_then_the_hub_follows_it_and_the_key_and_shaft_do_not():
    plain = by("b17.1", "1 1/4").results
    worn = by("b17.1", "1 1/4", bore_measured=inches("1.2541")).results
    assert worn["key_width_mm"] == plain["key_width_mm"]
    assert {name: worn[name] for name in worn if name.startswith("shaft_")} == {
        name: plain[name] for name in plain if name.startswith("shaft_")
    }
    assert in_inches(worn, "chord_rise") == pytest.approx(rise_by_angle(1.2541, 0.25))
    assert worn["hub_over_work_mm"] == pytest.approx(1.2541 * 25.4 + worn["hub_crown_depth_mm"])
    assert worn["hub_crown_depth_mm"] == pytest.approx(worn["hub_side_depth_mm"] - worn["chord_rise_mm"])
    assert "bore-and-shaft" not in codes(by("b17.1", "1 1/4", bore_measured=inches("1.2541")))
    assert "bore-and-shaft" in codes(by("b17.1", "1 1/4", bore_measured=inches("1.2601")))


def test_width_when_entered_then_that_key_and_a_warning_names_the_shafts_own():
    outcome = by("b17.1", "1", key_width=inches("5/16"))
    assert in_inches(outcome.results, "shaft_side_depth") == pytest.approx(0.15625)
    caution = next(one for one in outcome.warnings if one.code == "key-not-by-shaft")
    assert "B17.1 gives 1/4 in" in caution.text
    assert "key-not-by-shaft" not in codes(by("b17.1", "1", key_width=inches("1/4")))


def test_width_when_shaft_is_below_the_table_then_the_key_entered_serves():
    outcome = by("iso773", "6", key_width=Fraction(2))
    assert outcome.results["shaft_over_work_mm"] == pytest.approx(4.8)
    assert codes(outcome) == ["key-not-by-shaft"]


@pytest.mark.parametrize(
    ("standard", "shaft", "code", "named"),
    [
        ("b17.1", "20 mm", "metric-shaft", "6 × 6 mm"), ("bs46", "30 mm", "metric-shaft", "8 × 7 mm"),
        ("iso773", "1 1/8", "inch-shaft", "BS 46 5/16 in and B17.1 1/4 in"),
    ],
)  # fmt: skip
def test_shaft_when_of_the_other_measure_then_warned_with_the_right_key(standard, shaft, code, named):
    size = Fraction(shaft.removesuffix(" mm")) if shaft.endswith("mm") else inches(shaft)
    outcome = keyway(shaft_diameter=size, standard=standard)
    assert named in next(one.text for one in outcome.warnings if one.code == code)


@pytest.mark.parametrize(("standard", "shaft"), [("b17.1", "1 1/8"), ("bs46", "1.1237"), ("b17.1", "5")])
def test_shaft_when_of_the_standards_own_measure_or_of_both_then_not_warned(standard, shaft):
    assert not {"metric-shaft", "inch-shaft"} & set(codes(by(standard, shaft)))


@pytest.mark.parametrize(
    ("entries", "field"),
    [
        ({"standard": "din"}, "standard"),
        ({"kind": "gib"}, "kind"),
        ({"section": "round"}, "section"),
        ({"fit": "free"}, "fit"),
        ({"fit": "tight"}, "fit"),
        ({"standard": "iso773", "fit": "1"}, "fit"),
        ({"standard": "bs46", "fit": "normal"}, "fit"),
        ({"shaft_diameter": Fraction(5)}, "shaft_diameter"),
        ({"shaft_diameter": Fraction(280)}, "shaft_diameter"),
        ({"key_width": Fraction(1)}, "key_width"),
        ({"key_width": inches("9/16")}, "key_width"),
        ({"bore_measured": Fraction(301)}, "bore_measured"),
        ({"bore_measured": Fraction(14)}, "bore_measured"),
        ({"bore_measured": Fraction(28)}, "bore_measured"),
    ],
)
def test_entry_when_wrong_then_refused_by_name_with_limit_and_reason(entries, field):
    with pytest.raises(OutOfRange) as refused:
        keyway(**{"shaft_diameter": INCH, "standard": "b17.1"} | entries)
    assert refused.value.field == field
    assert refused.value.limit
    assert refused.value.reason


def test_width_when_no_key_of_the_standard_then_refused_with_the_nearest():
    with pytest.raises(NotInTable) as refused:
        by("b17.1", "1", key_width=inches("7/16"))
    assert refused.value.field == "key_width"
    assert "3/8 in or 1/2 in" in refused.value.message
