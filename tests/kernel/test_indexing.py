"""Indexing against slow second ways, the lists of what can and cannot be reached, and its edges."""

from fractions import Fraction

import pytest

from calc.kernel.errors import NoSolution, OutOfRange
from calc.kernel.indexing import indexing
from tests.oracles import (
    GEARS,
    SET_A,
    SET_B,
    compound_pairs,
    has_compound,
    moves_until_home,
    nearest_error,
    owned,
    plain_settings,
    plate_turns,
)

RATIOS = (40, 60, 72, 80, 90)
#: A third set, home-made: rings of 100 and 360 holes, and a circle of 23 drilled for one gear. Invented.
SET_C = ((100, 360), (23,))
SETS = {"A": SET_A, "B": SET_B, "C": SET_C}

#: Derived in exact fractions, no page read: what 40 to 1 reaches on plate set B up to 400.
REACHED_ON_B = [
    *range(2, 61),
    62, 64, 65, 66, 68, 70, 72, 74, 75, 76, 78, 80, 82, 84, 85, 86, 88, 90, 92, 94, 95, 96, 98, 100,
    102, 104, 105, 106, 108, 110, 112, 114, 115, 116, 118, 120, 124, 125, 130, 132, 135, 136, 140, 144,
    145, 148, 150, 152, 155, 156, 160, 164, 165, 168, 170, 172, 176, 180, 184, 185, 188, 190, 192, 195,
    196, 200, 204, 205, 210, 212, 215, 216, 220, 224, 228, 230, 232, 235, 236, 240, 245, 248, 250, 255,
    260, 264, 265, 270, 272, 280, 285, 290, 295, 296, 300, 304, 310, 312, 320, 328, 330, 336, 340, 344,
    360, 368, 370, 376, 380, 390, 392, 400,
]  # fmt: skip
#: Derived in the same way: what cannot be reached, to 100.
NOT_REACHED = {
    (60, "A"): "53 56 59 61 67 71 73 77 79 83 88 89 91 97",
    (60, "B"): "61 64 67 71 73 77 79 83 89 91 97",
    (90, "A"): "28 44 52 53 56 59 61 64 67 68 71 73 76 77 79 83 84 88 89 91 92 97",
    (90, "B"): "32 52 61 64 67 71 73 77 79 83 88 89 91 96 97",
}
#: Derived: of the counts from 51 to 126 without a plain setting on set A at 40 to 1.
WITH_COMPOUND = [51, 57, 63, 69, 77, 87, 91, 93, 96, 99, 102, 111, 114, 123, 126]
WITHOUT_COMPOUND = [
    53, 59, 61, 67, 71, 73, 79, 81, 83, 89, 97, 101, 103, 106, 107, 109, 112, 113, 117, 118, 119, 121,
    122, 125,
]  # fmt: skip


def of(divisions, faces=SET_A, **more):
    return indexing(divisions=divisions, circles=faces, **more).results


def plain_of(divisions, ratio, faces):
    """The plain rows, or none where there is no answer at all."""
    try:
        return indexing(divisions=divisions, ratio=ratio, circles=faces).results
    except NoSolution:
        return {"plain": [], "missing_factor": Fraction(ratio, divisions).denominator}


@pytest.mark.parametrize("faces", SETS.values(), ids=SETS)
@pytest.mark.parametrize("ratio", RATIOS)
def test_plain_when_every_count_to_400_is_tried_then_slow_sharing_out_agrees(ratio, faces):
    for divisions in range(2, 401):
        results = plain_of(divisions, ratio, faces)
        rows = results["plain"]
        found = {row["circle"]: (row["turns"], row["holes"]) for row in rows}
        assert found == plain_settings(divisions, ratio, faces), divisions
        assert [row["circle"] for row in rows] == sorted(found, reverse=True)
        for row in rows:
            assert row["home_every"] == moves_until_home(row["circle"], row["holes"])
            assert row["sector_holes"] == row["holes"] + 1
            assert row["circle"] in faces[row["face"] - 1]
        factor = results["missing_factor"]
        assert (factor is None) == bool(found)
        if factor:
            assert plain_settings(divisions, ratio, [[factor]])
            assert not any(plain_settings(divisions, ratio, [[less]]) for less in range(2, factor))


def test_plain_when_set_b_is_tried_to_400_then_the_list_is_reached_and_no_other():
    reached = [divisions for divisions in range(2, 401) if plain_of(divisions, 40, SET_B)["plain"]]
    assert reached == REACHED_ON_B


def test_plain_when_set_b_is_tried_to_120_then_every_even_count_and_multiple_of_five_is_reached():
    assert {n for n in range(2, 121) if n % 2 == 0 or n % 5 == 0} <= set(REACHED_ON_B)


@pytest.mark.parametrize(("ratio", "plates"), NOT_REACHED, ids=str)
def test_plain_when_other_ratios_are_tried_to_100_then_the_lists_cannot_be_reached(ratio, plates):
    missed = [n for n in range(2, 101) if not plain_of(n, ratio, SETS[plates])["plain"]]
    assert missed == list(map(int, NOT_REACHED[ratio, plates].split()))


def test_compound_when_set_a_has_no_plain_setting_then_exactly_these_counts_have_one():
    no_plain = [n for n in range(51, 127) if not of(n)["plain"]]
    assert no_plain == sorted(WITH_COMPOUND + WITHOUT_COMPOUND)
    assert [n for n in no_plain if of(n)["compound"]] == WITH_COMPOUND
    assert [n for n in no_plain if has_compound(n, 40, SET_A)] == WITH_COMPOUND


@pytest.mark.parametrize("divisions", WITH_COMPOUND)
def test_compound_when_every_pair_of_moves_is_tried_then_the_same_pairs_are_found(divisions):
    slow = set()
    for face in SET_A:
        for a, over_a, b, over_b, sign in compound_pairs(divisions, 40, face):
            pair = ((a, over_a), (b, over_b))
            slow.add((tuple(sorted(pair)) if sign > 0 else pair, sign > 0))
    fast = set()
    for row in of(divisions)["compound"]:
        pair = ((row["circle_a"], row["holes_a"]), (row["circle_b"], row["holes_b"]))
        fast.add((tuple(sorted(pair)) if row["same_direction"] else pair, row["same_direction"]))
    assert fast == slow


@pytest.mark.parametrize("divisions", [3, 7, 21, 51, 69, 96, 250])
@pytest.mark.parametrize("ratio", [40, 90])
def test_compound_when_listed_then_both_circles_are_on_its_face_and_the_sum_is_exact(divisions, ratio):
    rows = of(divisions, SET_A + SET_B, ratio=ratio)["compound"]
    for row in rows:
        assert {row["circle_a"], row["circle_b"]} <= set((SET_A + SET_B)[row["face"] - 1])
        sign = 1 if row["same_direction"] else -1
        total = Fraction(row["holes_a"], row["circle_a"]) + sign * Fraction(row["holes_b"], row["circle_b"])
        assert total == Fraction(ratio, divisions)
        assert row["holes_a"] % row["circle_a"]
        assert row["holes_b"] % row["circle_b"]


def test_compound_when_the_circles_are_on_two_faces_then_there_is_none():
    assert of(69, ((21,), (23,)))["compound"] == []
    assert of(69, ((21, 23),))["compound"] != []


def test_compound_when_69_is_asked_then_one_move_goes_back_and_the_caution_says_so():
    outcome = indexing(divisions=69, circles=((23, 33),))
    assert {row["same_direction"] for row in outcome.results["compound"]} == {False}
    caution = next(one.text for one in outcome.warnings if one.code == "compound-two-moves")
    assert "22 in 33 and then 2 in 23 the other way" in caution


@pytest.mark.parametrize(
    "divisions", [n for n in range(51, 128) if n in WITH_COMPOUND + WITHOUT_COMPOUND or n == 127]
)
def test_differential_when_set_a_has_no_plain_setting_then_every_row_is_exact_with_owned_gears(divisions):
    rows = of(divisions, change_gears=GEARS)["differential"]
    assert rows
    for row in rows:
        plate = plate_turns(divisions, 40, row["turns"], row["holes"], row["circle"])
        assert row["plate_sense"] == ("same" if plate > 0 else "opposite")
        ratio = Fraction(1)
        for driver, driven in zip(row["drivers"], row["driven"], strict=True):
            ratio *= Fraction(driver, driven)
        assert ratio == abs(plate)
        assert owned([*row["drivers"], *row["driven"]], GEARS)
        made = 40 / (row["turns"] + Fraction(row["holes"], row["circle"]))
        whole, _, part = str(row["works_as_divisions"]).partition(" ")
        assert Fraction(whole) + Fraction(part or 0) == made
        assert isinstance(row["works_as_divisions"], int) == (made.denominator == 1)


def test_differential_when_a_gear_is_owned_once_then_it_is_used_once():
    assert of(123, ((39,),), change_gears=(24, 24))["differential"][0]["drivers"] == [24]
    rows = of(123, ((39,),), change_gears=(24, 28, 32, 40))["differential"]
    assert all((row["turns"], row["holes"]) != (0, 13) for row in rows)


def test_differential_when_pairs_of_gears_come_first_then_none_has_two_before_one():
    lengths = [len(row["drivers"]) for row in of(53, change_gears=GEARS)["differential"]]
    assert lengths == sorted(lengths)
    assert set(lengths) == {1, 2}


def test_differential_when_57_is_asked_then_22_in_33_says_it_makes_60_without_the_gears():
    """The real slip: 22 of 33 with the gears left off makes a wheel of 60 teeth, not 57."""
    rows = of(57, change_gears=GEARS)["differential"]
    row = next(row for row in rows if (row["circle"], row["holes"]) == (33, 22))
    assert (row["drivers"], row["driven"], row["works_as_divisions"]) == ([48], [24], 60)
    warnings = indexing(divisions=57, circles=((33,),), change_gears=GEARS).warnings
    assert any(
        w.code == "without-gears" and "22 in 33 without the gears makes 60" in w.text for w in warnings
    )


@pytest.mark.parametrize(("divisions", "other"), [(59, 61), (61, 59), (127, 113), (113, 127)])
def test_differential_when_the_plate_turns_the_wrong_way_then_the_other_count_is_named(divisions, other):
    """Wrong sense makes 2 × (40 / setting) − N: 59 and 61 are swapped, 127 and 113."""
    outcome = indexing(divisions=divisions, circles=((39,),), change_gears=(24, 32, 48, 56))
    row = next(r for r in outcome.results["differential"] if r["holes"] in (26, 13))
    assert row["wrong_way_divisions"] == other
    assert any(w.code == "plate-sense" for w in outcome.warnings)


def test_plain_when_69_is_asked_then_other_heads_are_offered():
    results = of(69)
    assert results["plain"] == []
    offered = {(row["ratio"], row["turns"], row["holes"], row["circle"]) for row in results["other_ratios"]}
    assert {(60, 0, 20, 23), (90, 1, 7, 23)} <= offered


def test_plain_when_57_is_asked_then_the_missing_circle_is_named():
    outcome = indexing(divisions=57, circles=SET_A)
    assert outcome.results["missing_factor"] == 57
    assert outcome.warnings[0].code == "no-plain"
    assert outcome.warnings[0].text == (
        "No plain setting with these circles: it wants a circle that divides by 57. You own none."
    )


def test_plain_when_84_is_asked_on_set_a_then_the_pin_is_home_every_21_moves():
    row = of(84)["plain"][0]
    assert (row["circle"], row["turns"], row["holes"], row["home_every"]) == (21, 0, 10, 21)
    assert row["proof"] == "84 × 10/21 = 40"


def test_plain_when_84_is_asked_with_a_42_circle_then_the_larger_circle_comes_first():
    rows = of(84, SET_A + SET_B)["plain"]
    assert [(row["holes"], row["circle"]) for row in rows] == [(20, 42), (10, 21)]


def test_plain_when_the_ratio_is_assumed_wrong_then_the_setting_differs():
    """The same count on four heads: no setting of one serves another."""
    settings = {ratio: of(27, ratio=ratio)["plain"][0] for ratio in (40, 60, 72, 90)}
    assert len({(row["turns"], row["holes"], row["circle"]) for row in settings.values()}) == 4


@pytest.mark.parametrize("divisions", [57, 53, 61, 97, 101, 127])
def test_nearest_when_nothing_is_plain_then_no_hole_of_any_circle_is_nearer(divisions):
    rows = of(divisions)["nearest"]
    least = nearest_error(divisions, 40, SET_A)
    assert abs(rows[0]["error_arcsec"]) == float(least * 3600)
    assert [abs(row["error_arcsec"]) for row in rows] == sorted(abs(row["error_arcsec"]) for row in rows)
    for row in rows:
        made = (row["turns"] + Fraction(row["holes"], row["circle"])) * 9
        error = made - Fraction(360, divisions)
        assert row["error_arcsec"] == float(error * 3600)
        assert row["closing_error_arcsec"] == float(error * 3600 * divisions)


def test_nearest_when_it_is_all_there_is_then_the_error_and_the_last_space_are_named():
    outcome = indexing(divisions=53, circles=SET_A)
    assert outcome.results["exact"] is False
    assert [outcome.results[name] for name in ("plain", "compound", "differential")] == [[], [], []]
    caution = next(one.text for one in outcome.warnings if one.code == "nearest-only")
    assert "37 in 49: each move is 12.5″ long, and the last space 11′ 1.2″ narrower" in caution


def test_nearest_when_it_makes_another_count_then_the_caution_says_so():
    outcome = indexing(divisions=127, circles=((39,),))
    caution = next(one.text for one in outcome.warnings if one.code == "nearest-only")
    assert "It makes 130, not 127" in caution


def test_nothing_when_every_circle_misses_by_half_a_division_then_no_solution_says_what_would_do():
    with pytest.raises(NoSolution) as none:
        indexing(divisions=9973, ratio=40, circles=SET_A)
    assert "a circle that divides by 9973" in none.value.message
    assert none.value.would_do[0].startswith("A circle of 9973 holes")


@pytest.mark.parametrize("divisions", [12, 16, 24, 28, 36])
@pytest.mark.parametrize("faces", [SET_A, SET_B], ids=["A", "B"])
def test_quarter_when_wanted_then_only_circles_that_give_four_times_the_divisions_are_listed(
    divisions, faces
):
    rows = of(divisions, faces, keep_quarter="yes", change_gears=GEARS)
    assert {row["circle"] for row in rows["plain"]} == set(plain_settings(4 * divisions, 40, faces))
    for row in [*rows["plain"], *rows["differential"]]:
        whole = row["turns"] * row["circle"] + row["holes"]
        assert 4 * (row["quarter_turns"] * row["circle"] + row["quarter_holes"]) == whole
    for row in rows["compound"]:
        assert (4 * row["quarter_holes_a"], 4 * row["quarter_holes_b"]) == (row["holes_a"], row["holes_b"])
    for row in rows["nearest"]:
        assert (row["turns"] * row["circle"] + row["holes"]) % 4 == 0


def test_quarter_when_no_circle_gives_it_then_the_caution_and_the_factor_speak_of_the_quarter():
    outcome = indexing(divisions=24, circles=SET_A, keep_quarter="yes")
    assert outcome.results["missing_factor"] == 12
    assert "a quarter of the move as well" in outcome.warnings[0].text


def test_direct_when_the_ring_divides_then_it_is_offered_beside_no_plain_setting():
    outcome = indexing(divisions=8, circles=((7,),), ratio=60, direct_circles=(24, 36, 40))
    assert outcome.results["direct"] == [
        {"circle": 24, "holes": 3, "home_every": 8},
        {"circle": 40, "holes": 5, "home_every": 8},
    ]
    assert outcome.results["exact"] is True
    assert outcome.sources == ("od1644", "technical_college")


def test_angle_when_it_does_not_go_into_a_turn_then_what_needs_divisions_is_none():
    results = indexing(angle=Fraction(35), circles=((18,),), change_gears=GEARS).results
    assert results["divisions"] is None
    assert results["differential"] is None
    assert results["plain"][0]["proof"] == "(3 + 16/18) × 360/40 = 35°"
    nearest = indexing(angle=Fraction(35), circles=((19,),)).results["nearest"][0]
    assert nearest["closing_error_arcsec"] is None
    assert nearest["works_as_divisions"] is None


def test_angle_when_it_goes_into_a_turn_then_it_is_answered_as_divisions():
    by_angle = indexing(angle=Fraction(360, 84), circles=SET_A).results
    assert by_angle == of(84)


def test_circles_when_one_stands_on_two_faces_then_it_is_listed_once_with_both():
    rows = of(39, ((39, 20), (39,)))["plain"]
    assert [(row["circle"], row["face"], row["faces"]) for row in rows] == [(39, 1, [1, 2])]


LIMITS = [
    ("divisions", {"divisions": 1}),
    ("divisions", {"divisions": 10_001}),
    ("ratio", {"divisions": 8, "ratio": 0}),
    ("ratio", {"divisions": 8, "ratio": 361}),
    ("circles", {"divisions": 8, "circles": ((1,),)}),
    ("circles", {"divisions": 8, "circles": ((1001,),)}),
    ("circles", {"divisions": 8, "circles": ()}),
    ("circles", {"divisions": 8, "circles": ((20,), ())}),
    ("circles", {"divisions": 8, "circles": (tuple(range(10, 51)),)}),
    ("circles", {"divisions": 8, "circles": (tuple(range(10, 44)),) * 3}),
    ("change_gears", {"divisions": 8, "change_gears": (7,)}),
    ("change_gears", {"divisions": 8, "change_gears": (401,)}),
    ("change_gears", {"divisions": 8, "change_gears": (24,) * 31}),
    ("direct_circles", {"divisions": 8, "direct_circles": (1,)}),
    ("direct_circles", {"divisions": 8, "direct_circles": (24,) * 13}),
    ("angle", {"angle": Fraction(1, 61)}),
    ("angle", {"angle": Fraction(36001, 100)}),
    ("angle", {"angle": Fraction(0)}),
    ("angle", {"angle": Fraction(5), "divisions": 72}),
    ("divisions", {}),
    ("keep_quarter", {"divisions": 8, "keep_quarter": "maybe"}),
]


@pytest.mark.parametrize(("field", "entries"), LIMITS, ids=str)
def test_entry_when_outside_its_limit_then_it_is_refused_by_name_with_the_reason(field, entries):
    with pytest.raises(OutOfRange) as refused:
        indexing(**({"circles": SET_A} | entries))
    assert refused.value.field == field
    assert refused.value.limit
    assert refused.value.reason


@pytest.mark.parametrize("divisions", [2, 10_000])
def test_divisions_when_at_their_limits_then_there_is_an_outcome(divisions):
    assert of(divisions, ((250, 1000),))["plain"]


def test_angle_when_at_its_limits_then_there_is_an_outcome():
    assert indexing(angle=Fraction(1, 60), circles=((540,),)).results["plain"][0]["holes"] == 1
    whole = indexing(angle=Fraction(360), circles=((20,),)).results
    assert (whole["plain"][0]["turns"], whole["divisions"]) == (40, None)


def test_entries_when_all_at_their_most_then_the_search_stays_small():
    """A hundred circles that share factors and thirty gears: as many rows as the limits promise, no more."""
    faces = (tuple(range(10, 401, 10)), tuple(range(410, 801, 10)), tuple(range(810, 1001, 10)))
    results = indexing(divisions=84, ratio=360, circles=faces, change_gears=tuple(range(371, 401))).results
    assert len(results["compound"]) == 60
    assert len({Fraction(row["holes"], row["circle"]) for row in results["differential"]}) <= 16
