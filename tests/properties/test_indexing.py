"""What must hold of every indexing answer, whatever is entered."""

import json
import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc.entries import plain_json, read_entries
from calc.kernel.errors import NoSolution, OutOfRange
from calc.kernel.indexing import indexing
from calc.kernel.indexing_schedule import indexing_schedule
from calc.registry import get
from tests.oracles import has_compound, moves_until_home, owned, plain_settings, plate_turns
from tests.properties import strategies as entries


def answer(**entered):
    try:
        return indexing(**entered)
    except NoSolution:
        return None


@given(entries.divisions, entries.ratios, entries.faces, entries.gears, st.sampled_from(["no", "yes"]))
def test_indexing_when_entries_are_within_their_limits_then_it_answers_or_says_what_would(
    divisions, ratio, faces, gears, quarter
):
    entered = {"ratio": ratio, "circles": faces, "change_gears": gears, "keep_quarter": quarter}
    outcome = answer(divisions=divisions, **entered)
    if outcome is None:
        with pytest.raises(NoSolution) as none:
            indexing(divisions=divisions, **entered)
        assert none.value.would_do
        return
    assert outcome.working
    numbers = json.dumps(plain_json(outcome.results), allow_nan=False)
    assert "NaN" not in numbers


@given(entries.divisions, entries.ratios, entries.faces)
def test_plain_when_listed_then_turns_and_holes_are_the_ratio_over_the_divisions(divisions, ratio, faces):
    outcome = answer(divisions=divisions, ratio=ratio, circles=faces)
    rows = outcome.results["plain"] if outcome else []
    assert {row["circle"]: (row["turns"], row["holes"]) for row in rows} == plain_settings(
        divisions, ratio, faces
    )
    for row in rows:
        assert row["turns"] + Fraction(row["holes"], row["circle"]) == Fraction(ratio, divisions)
        assert row["home_every"] == moves_until_home(row["circle"], row["holes"])


@given(st.integers(40, 200), st.sampled_from([40, 60, 72, 90]), entries.usual_faces)
def test_compound_when_listed_then_it_is_exact_and_none_is_missed(divisions, ratio, faces):
    outcome = answer(divisions=divisions, ratio=ratio, circles=faces)
    rows = outcome.results["compound"] if outcome else []
    for row in rows:
        sign = 1 if row["same_direction"] else -1
        total = Fraction(row["holes_a"], row["circle_a"]) + sign * Fraction(row["holes_b"], row["circle_b"])
        assert total == Fraction(ratio, divisions)
        assert {row["circle_a"], row["circle_b"]} <= set(faces[row["face"] - 1])
    if ratio < divisions and not plain_settings(divisions, ratio, faces):
        assert bool(rows) == has_compound(divisions, ratio, faces)


@given(st.integers(51, 400), entries.usual_faces, entries.usual_gears)
def test_differential_when_listed_then_identity_sense_and_gears_hold(divisions, faces, gears):
    outcome = answer(divisions=divisions, circles=faces, change_gears=gears)
    for row in outcome.results["differential"] if outcome else []:
        plate = plate_turns(divisions, 40, row["turns"], row["holes"], row["circle"])
        train = Fraction(math.prod(row["drivers"]), math.prod(row["driven"]))
        assert train == abs(plate)
        assert row["plate_sense"] == ("same" if plate > 0 else "opposite")
        assert owned([*row["drivers"], *row["driven"]], gears)


@given(entries.angles, entries.usual_faces)
def test_angle_when_entered_then_plain_rows_make_it_and_nearest_rows_miss_by_their_error(angle, faces):
    outcome = answer(angle=angle, circles=faces)
    if outcome is None:
        return
    for row in outcome.results["plain"]:
        assert (row["turns"] + Fraction(row["holes"], row["circle"])) * 9 == angle
    for row in outcome.results["nearest"]:
        made = (row["turns"] + Fraction(row["holes"], row["circle"])) * 9
        assert row["error_arcsec"] == float((made - angle) * 3600)
        assert 2 * abs(made - angle) < angle


@given(st.integers(2, 500), st.sampled_from([40, 60, 90]), st.integers(2, 1000))
def test_schedule_when_the_setting_is_plain_then_the_row_after_the_last_is_the_start(
    divisions, ratio, circle
):
    settings = plain_settings(divisions, ratio, [[circle]])
    if not settings:
        return
    turns, holes = settings[circle]
    rows = indexing_schedule(
        divisions=divisions, ratio=ratio, circle=circle, turns=turns, holes=holes
    ).results["rows"]
    last = rows[-1]
    assert (last["hole"] + holes) % circle == 0
    assert len({row["angle_deg"] for row in rows}) == divisions


@given(st.integers(2, 100), st.integers(2, 60), st.integers(0, 59), st.integers(0, 20))
def test_schedule_when_the_setting_does_not_divide_then_it_is_refused(divisions, circle, holes, turns):
    holes %= circle
    moved = (turns + Fraction(holes, circle)) * divisions / 40
    meets_all = moved > 0 and moved.denominator == 1 and math.gcd(int(moved), divisions) == 1
    setting = {"divisions": divisions, "circle": circle, "holes": holes, "turns": turns}
    if meets_all:
        assert indexing_schedule(**setting).results["rows"]
        return
    with pytest.raises(OutOfRange) as refused:
        indexing_schedule(**setting)
    assert refused.value.field == "holes"


@given(entries.divisions, entries.faces)
def test_entries_when_written_out_and_read_again_then_they_are_the_same(divisions, faces):
    typed = {
        "divisions": f" {divisions} ",
        "circles": " / ".join(", ".join(map(str, face)) for face in faces),
    }
    inputs = read_entries(get("indexing"), typed).inputs
    assert inputs["divisions"] == divisions
    assert inputs["circles"] == tuple(tuple(face) for face in faces)
