"""Kept sums: written once as worked out, compared with each other, with the part and with today's code."""

from dataclasses import replace
from datetime import timedelta
from io import StringIO
from uuid import uuid4

import pytest
from django.core.management import call_command

from buildlog import clock
from buildlog.models import Drawing, Mate, SheetIssue
from calc import catalogue, records, registry
from calc.models import CalculationRecord
from calc.sheets import SumSheet
from tests.factories import CIRCLES, GEARS, PLATES, make_part, make_record, make_user

pytestmark = pytest.mark.django_db

ALL = CIRCLES + "".join(f"/{first}/{second}" for _, first, second in PLATES[3:])


def work(chosen=None, **entered):
    typed = {"divisions": "84", "ratio": "40", "circles": ALL} | entered
    return records.run(registry.get("indexing"), typed, chosen=chosen)


@pytest.fixture
def new_rule(monkeypatch):
    """From here on indexing goes by a second rule, which finds one setting fewer."""

    def change():
        old = registry.get("indexing")

        def function(**inputs):
            outcome = old.function(**inputs)
            return replace(outcome, results={**outcome.results, "plain": outcome.results["plain"][:1]})

        changed = replace(old, revision=2, function=function)
        others = tuple(one for one in catalogue.CALCULATIONS if one.key != "indexing")
        monkeypatch.setattr(catalogue, "CALCULATIONS", (changed, *others))

    return change


# ---- keep ------------------------------------------------------------------------------------------------


def test_keep_stores_what_was_typed_and_all_that_came_of_it(stopped_clock):
    part = make_part(sheet="12 B")
    record = make_record(part, circles=ALL)
    record.refresh_from_db()
    assert record.entered == {"divisions": "84", "ratio": "40", "circles": ALL}
    assert record.inputs["divisions"] == 84
    # 40/84 = 10/21 and 42 = 2 × 21, so 20 spaces in 42 (US Army course OD1644, milling, p. 30, the rule).
    assert record.headline == "20 spaces in the 42 circle"
    assert record.results["plain"][0]["holes"] == 20
    assert record.working[0]["figures"] == "40 / 84"
    assert record.sources[0]["key"] == "od1644"
    assert len(record.sources[0]["digest"]) == 64
    assert record.context["part"] == {
        "key": part.key,
        "name": "Final-drive wheel 84 T",
        "facts": {"The part's number": part.key, "Sheet": "12 B", "The part's number of teeth": "84"},
    }
    assert record.made_at == stopped_clock


def test_keep_with_the_same_token_gives_the_first_record():
    user, token, run = make_user(), uuid4(), work()
    first = records.keep(run, part=None, user=user, token=token)
    second = records.keep(work(divisions="57"), part=None, user=user, token=token)
    assert second == first
    assert CalculationRecord.objects.get().entered["divisions"] == "84"


def test_keep_when_the_other_click_is_quicker_gives_its_record(monkeypatch):
    user, token = make_user(), uuid4()
    first = records.keep(work(), part=None, user=user, token=token)
    # The look for an earlier record comes too early to see the other one, so that only the table stops it.
    looked = CalculationRecord.objects.none()
    monkeypatch.setattr(CalculationRecord.objects, "filter", lambda **_: looked)
    assert records.keep(work(), part=None, user=user, token=token) == first
    monkeypatch.undo()
    assert CalculationRecord.objects.count() == 1


def test_keep_with_the_token_of_somebody_else_is_refused():
    token = uuid4()
    records.keep(work(), part=None, user=make_user(), token=token)
    with pytest.raises(PermissionError, match="somebody else"):
        records.keep(work(), part=None, user=make_user(), token=token)
    assert CalculationRecord.objects.count() == 1


def test_keep_works_out_again_and_takes_no_results_it_is_given():
    run = work()
    forged = replace(run, outcome=replace(run.outcome, results=run.outcome.results | {"plain": []}))
    record = records.keep(forged, part=None, user=make_user(), token=uuid4())
    assert record.results["plain"][0]["circle"] == 42


def test_keep_on_a_part_again_stands_beside_the_first():
    part = make_part()
    first = make_record(part)
    second = make_record(part, divisions="57", circles=ALL)
    other = make_record(make_part())
    assert second.replaces == first
    assert first.replaces is None
    assert other.replaces is None
    assert set(part.records.all()) == {first, second}


def test_record_once_kept_cannot_be_written_again():
    record = make_record()
    record.headline = "21 spaces in the 42 circle"
    with pytest.raises(TypeError, match="never changed"):
        record.save()
    record.refresh_from_db()
    assert record.headline != "21 spaces in the 42 circle"


# ---- the row in use --------------------------------------------------------------------------------------


def test_run_with_a_row_chosen_works_that_row():
    run = work(chosen={"method": "plain", "index": 1})
    assert records.answer_of(run)["big"] == "10 spaces in the 21 circle"
    assert "21 × 10/21" in [step.figures for step in run.outcome.working]
    assert "42 × 10/21" not in [step.figures for step in run.outcome.working]


@pytest.mark.parametrize(
    ("row", "big", "line"),
    [
        # 5/15 + 7/19 = (95 + 105)/285 = 40/57, by hand.
        ("compound-0", "5 in the 15, then 7 in the 19", "5/15 + 7/19"),
        # 40 − 57 × 35/49 = −5/7, so 40/56 against the crank, by hand.
        ("differential-0", "35 spaces in the 49 circle", "40 − 57 × 35/49"),
    ],
)
def test_run_with_a_row_of_another_method_works_that_row(row, big, line):
    run = work(chosen=records.read_chosen(row), divisions="57", circles=CIRCLES, change_gears=GEARS)
    assert records.answer_of(run)["big"] == big
    assert line in [step.figures for step in run.outcome.working]


def test_run_with_the_nearest_row_says_what_it_leaves():
    run = work(chosen=records.read_chosen("nearest-0"), divisions="57", circles=CIRCLES)
    answer, row = records.answer_of(run), run.outcome.results["nearest"][0]
    assert answer["over"].startswith("Nearest by plain indexing, not exact")
    assert f"{row['holes']} spaces in the {row['circle']} circle" in answer["big"]
    assert "each move is" in answer["beware"][0]["title"]


def test_run_with_a_row_that_is_not_there_uses_the_first():
    for text in ("plain-99", "differential-0", "nonsense-1", "plain", "plain--1", ""):
        run = work(chosen=records.read_chosen(text), circles=CIRCLES)
        assert run.chosen is None, text
        assert records.answer_of(run)["big"] == "10 spaces in the 21 circle", text


def test_keep_with_a_row_chosen_keeps_that_row():
    run = work(chosen={"method": "plain", "index": 1})
    record = records.keep(run, part=None, user=make_user(), token=uuid4())
    assert record.context["chosen"] == {"method": "plain", "index": 1}
    assert record.headline == "10 spaces in the 21 circle"
    assert [row["is_chosen"] for row in records.tables_of(record)[0]["rows"]] == [False, True]


# ---- what is shown ---------------------------------------------------------------------------------------


def test_answer_of_84_tells_pin_home_proof_and_checkpoints():
    answer = records.answer_of(
        work(), {"faces": [["plate 4, first face", [24, 25, 28, 30, 34, 37, 38, 39, 41, 42, 43]]]}
    )
    assert answer["over"] == "Plain indexing, exact. Plate 4, first face"
    facts = {fact["label"]: f"{fact['value']} {fact['small']}".strip() for fact in answer["facts"]}
    # 42 / gcd(20, 42) = 21; 360°/84 = 4° 17′ 8.57″ (both by hand).
    assert facts["Pin home every"] == "21 moves"
    assert facts["Proof"] == "84 × 20/42 = 40"
    assert facts["One division"] == "4° 17′ 8.6″"
    assert facts["Also exact"] == "10 in 21"
    pins = {pin["moves"]: pin for pin in answer["pins"]}
    assert [moves for moves, pin in pins.items() if pin["home"]] == [21, 42, 63, 84]
    # 50 × 20 = 1000 = 23 × 42 + 34; 50 × 360/84 = 214.2857° (both by hand).
    assert (pins[50]["turns"], pins[50]["hole"], pins[50]["angle"]) == ("23 34/42", 34, "214.29°")
    assert answer["schedule"] == {
        "divisions": "84",
        "ratio": "40",
        "circle": "42",
        "turns": "0",
        "holes": "20",
    }


def test_answer_of_69_says_there_is_none_and_what_would_do():
    answer = records.answer_of(work(divisions="69", circles=CIRCLES, change_gears=GEARS))
    assert answer["is_none"]
    assert "divides by 69" in answer["under"]
    # 60/69 = 20/23, so a head of 60 to 1 does it with the 23 circle (by hand).
    assert {"label": "On a head of 60 to 1", "value": "20 in 23", "small": ""} in answer["facts"]
    assert any(fact.get("row") == "differential-0" for fact in answer["facts"])


def test_every_row_with_change_gears_says_what_it_makes_without():
    run = work(divisions="57", circles=CIRCLES, change_gears=GEARS)
    rows = next(table for table in records.tables_of(run) if table["key"] == "differential")["rows"]
    made = {row["cells"][0]: row["cells"][-1] for row in rows}
    # With the gears off a move of h/c makes 40·c/h divisions: 22 in 33 makes 60 (by hand).
    assert made["22 in 33"] == "60"
    assert all(cell for cell in made.values())


def test_answer_of_whole_turns_has_no_spaces_to_count():
    answer = records.answer_of(work(divisions="8"))
    assert answer["big"] == "5 whole turns"  # 40/8 = 5, by hand
    assert answer["plate"]["sector_holes"] == 0


@pytest.mark.parametrize("divisions", [2, 3, 7, 13, 40, 57, 60, 84, 127, 200, 360, 1000])
def test_answer_and_headline_of_the_sum_agree(divisions):
    run = work(divisions=str(divisions), change_gears=GEARS, direct_circles="24")
    results = run.outcome.results
    assert records.answer_of(run)["big"] == run.calculation.headline(run.inputs, results)


@pytest.mark.parametrize("angle", ["15", "11 1/2", "4/3", "54'", "7.3", "100"])
def test_answer_of_an_angle_is_shown_by_every_method(angle):
    run = work(divisions="", angle=angle, change_gears=GEARS, direct_circles="24")
    for table in records.tables_of(run):
        for row in table["rows"]:
            again = work(
                chosen=records.read_chosen(row["id"]),
                divisions="", angle=angle, change_gears=GEARS, direct_circles="24",
            )  # fmt: skip
            assert records.answer_of(again)["big"]
            assert again.outcome.working


def test_checkpoints_are_few_and_end_at_the_last():
    for divisions in (2, 3, 10, 48, 99, 127, 200, 360, 1000):
        answer = records.answer_of(work(divisions=str(divisions), circles=f"{divisions}"))
        moves = [pin["moves"] for pin in answer["pins"]]
        assert len(moves) <= 14
        assert (moves[:2], moves[-1]) == ([0, 1], divisions)


def test_sheet_of_a_record_is_what_was_kept():
    record = make_record(make_part(number="S-016"), circles=ALL)
    sheet = records.sheet(record)
    assert set(sheet) == set(SumSheet.__annotations__)
    assert sheet["part"] == "S-016 Final-drive wheel 84 T"
    assert sheet["answer"] == record.headline
    assert sheet["working"] == record.working
    assert sheet["title_block"]["number"] == str(record.pk)
    assert sheet["title_block"]["build"] == "Marlpit, 4 in scale"
    assert sheet["plate"]["circle"] == 42
    assert [sheet["schedule"]["rows"][place][0] for place in sheet["schedule"]["hot"]] == [
        "21",
        "42",
        "63",
        "84",
    ]


def test_sheet_of_a_schedule_has_a_row_to_each_division():
    record = make_record(
        key="indexing-schedule", divisions="84", ratio="40", circle="42", turns="0", holes="20"
    )
    schedule = records.sheet(record)["schedule"]
    assert len(schedule["rows"]) == 84
    assert schedule["rows"][50] == ["51", "23 34/42", "34", "214.29°"]


# ---- against the part and each other ---------------------------------------------------------------------


def test_stale_reasons_while_the_part_is_as_it_was_are_none():
    part = make_part(sheet="12 B")
    assert records.stale_reasons(make_record(part)) == []
    assert records.stale_reasons(make_record()) == []


def test_stale_reasons_when_the_part_has_changed_say_what_and_how():
    part = make_part(number="S-016", sheet="12 B")
    record = make_record(part)
    part.number, part.sheet, part.name = "S-017", "12 C", "Final-drive wheel 80 T"
    part.save()
    record = CalculationRecord.objects.get(pk=record.pk)
    assert records.stale_reasons(record) == [
        "The part's number was S-016 when this was kept, is now S-017.",
        "Sheet was 12 B when this was kept, is now 12 C.",
        "The part's number of teeth was 84 when this was kept, is now 80.",
    ]


def test_stale_reasons_when_a_sheet_is_first_given_say_so():
    part = make_part()
    record = make_record(part)
    part.sheet = "12 B"
    part.save()
    assert records.stale_reasons(record) == ["Sheet was not given when this was kept, is now 12 B."]


def test_stale_reasons_when_a_mate_changes_then_they_name_it():
    wheel = make_part(number="S-016", name="Final-drive wheel 84 T")
    pinion = make_part(wheel.build, number="S-015", name="Second-shaft pinion 18 T")
    Mate.objects.create(one=wheel, other=pinion)
    records_of = [make_record(wheel), make_record(pinion)]
    pinion.name = "Second-shaft pinion 19 T"
    pinion.save()
    assert records.stale_reasons(CalculationRecord.objects.get(pk=records_of[0].pk)) == [
        "Mate S-015 was 18 T when this was kept, is now 19 T."
    ]
    assert records.stale_reasons(CalculationRecord.objects.get(pk=records_of[1].pk)) == [
        "The part's number of teeth was 18 when this was kept, is now 19."
    ]
    Mate.objects.all().delete()
    assert records.stale_reasons(CalculationRecord.objects.get(pk=records_of[0].pk)) == [
        "Mate S-015 was 18 T when this was kept, is now not given."
    ]


def test_stale_reasons_when_a_new_issue_of_the_sheet_comes_then_they_say_which():
    part = make_part(number="S-016", sheet="12 A")
    sheet = Drawing.objects.create(build=part.build, number="12", title="Final drive")
    SheetIssue.objects.create(drawing=sheet, issue="A", got_on=clock.today(), recorded_at=clock.now())
    record = make_record(part)
    assert records.stale_reasons(record) == []
    later = clock.now() + timedelta(days=3)
    SheetIssue.objects.create(drawing=sheet, issue="B", got_on=clock.today(), recorded_at=later)
    assert records.stale_reasons(record) == [
        "Sheet 12 in the register was issue A when this was kept, is now issue B."
    ]


def test_stale_reasons_of_a_sum_kept_with_three_facts_compare_those():
    part = make_part(number="S-016", sheet="12 B", leading_size="14.333 in OD")
    record = make_record(part)
    was = {"key": "S-016", "name": "Final-drive wheel 84 T", "sheet": "12 A", "teeth": 84}
    CalculationRecord.objects.filter(pk=record.pk).update(context=record.context | {"part": was})
    record = CalculationRecord.objects.get(pk=record.pk)
    assert records.stale_reasons(record) == ["Sheet was 12 A when this was kept, is now 12 B."]


def test_differences_of_two_sums_name_entries_and_results():
    part = make_part()
    old, new = make_record(part), make_record(part, divisions="80")
    found = {one.name: (one.kind, one.before, one.after) for one in records.differences(old, new)}
    assert found["divisions"] == ("entry", "84", "80")
    assert found["headline"] == ("result", "10 spaces in the 21 circle", "10 spaces in the 20 circle")
    assert "among them 10 in 21" in found["plain"][1]
    assert "revision" not in found


def test_differences_of_a_sum_kept_twice_are_none():
    part = make_part()
    assert records.differences(make_record(part), make_record(part)) == []


def test_differences_when_the_rule_has_changed_name_the_rule(new_rule):
    part = make_part()
    old = make_record(part, circles=ALL)
    new_rule()
    new = make_record(part, circles=ALL)
    found = {one.name: (one.before, one.after) for one in records.differences(old, new)}
    assert found["revision"] == ("revision 1", "revision 2")
    assert found["plain"] == ("2 rows, among them 10 in 21", "1 row")
    assert (old.revision, new.revision) == (1, 2)


# ---- check again -----------------------------------------------------------------------------------------


def recheck():
    """What the command prints, and what it ends with."""
    out = StringIO()
    try:
        call_command("recheck_records", stdout=out)
    except SystemExit as ended:
        return out.getvalue(), ended.code
    return out.getvalue(), 0


def test_recheck_when_all_agree_ends_well():
    make_record()
    make_record(key="indexing-schedule", divisions="84", ratio="40", circle="42", turns="0", holes="20")
    assert recheck() == ("2 kept sums checked, 0 of them come out differently today.\n", 0)


def test_recheck_when_the_rule_has_changed_lists_it_and_changes_nothing(new_rule):
    record = make_record(make_part(number="S-016"), circles=ALL)
    before = CalculationRecord.objects.values().get()
    new_rule()
    said, code = recheck()
    assert code == 1
    assert f"sum {record.pk} on S-016, Indexing, 84 divisions:\n  plain: kept 2 rows" in said
    assert CalculationRecord.objects.values().get() == before


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"key": "tooth-fairy"}, "there is no calculation “tooth-fairy” now"),
        ({"entered": {"divisions": "0", "circles": "20"}}, "the entries are refused now"),
        ({"entered": {"divisions": "9999", "circles": "15,16"}}, "there is no solution now"),
    ],
)
def test_recheck_of_what_cannot_be_worked_out_today_says_why(change, said):
    record = make_record()
    CalculationRecord.objects.filter(pk=record.pk).update(**change)
    text, code = recheck()
    assert code == 1
    assert said in text
