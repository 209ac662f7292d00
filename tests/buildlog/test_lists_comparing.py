"""Rows held against the build: new, changed, same, wrong, and why."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from buildlog import clock
from buildlog.actions.parts import bin_part
from buildlog.actions.take_in_list import write_list
from buildlog.lists.comparing import Preview, compare
from buildlog.lists.reading import read_list
from buildlog.models import Build, Kind, Part
from tests.factories import make_assembly, make_build, make_casting, make_part, make_user

pytestmark = pytest.mark.django_db


@pytest.fixture
def build() -> Build:
    return make_build()


def preview_of(build: Build, *lines: str) -> Preview:
    return compare(build, read_list("parts.csv", "\n".join(lines).encode()))


def taken_in(build: Build, *lines: str) -> Preview:
    preview = preview_of(build, *lines)
    assert preview.counts["wrong"] == 0, [row.faults for row in preview.rows]
    write_list(preview, by=make_user(), told="by the list", at=clock.now())
    return preview


def states(preview: Preview) -> list[str]:
    return [row.state for row in preview.rows]


def reason(preview: Preview, column: str, row: int = 0) -> str:
    return next(why for where, why in preview.rows[row].faults if where == column)


# New


def test_row_when_number_and_name_are_new_then_new(build):
    preview = preview_of(build, "Number,Name", "s-16,Final-drive wheel")
    assert states(preview) == ["new"]
    assert preview.rows[0].key == "S-16"
    assert preview.new_parts == 1


def test_row_when_a_casting_is_typed_in_another_way_then_it_is_that_casting(build):
    make_casting(build, number="K-040")
    list_of = ("Number,Name,Casting number", "S-016,Wheel,k040", "S-017,Centre,B 7", "S-018,Hub,B7")
    taken_in(build, *list_of)
    assert {part.casting_number for part in build.parts.all()} == {"K-040", "B 7"}
    assert {casting.number for casting in build.castings.all()} == {"K-040", "B 7"}
    assert states(preview_of(build, *list_of)) == ["same"] * 3


def test_row_when_hyphens_part_figures_then_the_castings_are_two(build):
    taken_in(build, "Number,Name,Casting number", "S-016,Wheel,1-12", "S-017,Centre,11-2", "S-018,Hub,112")
    assert {casting.number for casting in build.castings.all()} == {"1-12", "11-2", "112"}


def test_row_when_a_casting_cell_is_emptied_for_a_part_without_one_then_same(build):
    make_part(build, number="S-016", name="Wheel")
    assert states(preview_of(build, "Number,Name,Casting number", "S-016,Wheel,")) == ["same"]


def test_row_when_new_without_a_name_then_wrong(build):
    assert "a new part needs a name" in reason(preview_of(build, "Number,Quantity", "S-016,1"), "name")


def test_row_when_number_is_missing_then_wrong(build):
    assert "needs a part number" in reason(preview_of(build, "Number,Name", ",Flywheel"), "number")


def test_row_when_number_is_unreadable_then_wrong(build):
    preview = preview_of(build, "Number,Name", "S_016!,Flywheel")
    assert "letters A to Z and figures" in reason(preview, "number")
    assert preview.rows[0].key == "S_016!"


def test_row_when_several_cells_are_wrong_then_all_are_named(build):
    preview = preview_of(build, "Number,Hand,Name,Quantity,Leading size", "S-302,up,Cotter,0,1 3/16 mmm")
    assert {column for column, _ in preview.rows[0].faults} == {"hand", "quantity", "leading size"}


def test_hand_when_in_the_number_or_its_column_then_the_same_part(build):
    make_part(build, number="H-021", hand="L", name="Bracket")
    assert states(preview_of(build, "Number,Name", "H-021-L,Bracket")) == ["same"]
    assert states(preview_of(build, "Number,Hand,Name", "H-021,left,Bracket")) == ["same"]


def test_hand_when_number_and_column_disagree_then_wrong(build):
    preview = preview_of(build, "Number,Hand,Name", "H-021-L,R,Bracket")
    assert "the number names the left hand, the column hand the right" in reason(preview, "number")


def test_hand_when_no_hand_then_wrong_and_when_a_pair_then_told_how(build):
    assert "is no hand" in reason(preview_of(build, "Number,Hand,Name", "H-021,up,Bracket"), "hand")
    assert "2 (1L 1R)" in reason(preview_of(build, "Number,Hand,Name", "H-021,L/R,Bracket"), "hand")


def test_quantity_when_both_hands_then_two_records(build):
    preview = taken_in(build, "Number,Name,Assembly,Quantity", "H-021,Bracket,H,2 (1L 1R)")
    assert preview.rows[0].remarks == ["2 records: left and right"]
    assert preview.rows[0].key == "H-021-L, H-021-R"
    assert [(part.key, part.needed) for part in build.parts.all()] == [("H-021-L", 1), ("H-021-R", 1)]


def test_quantity_when_hands_do_not_add_up_then_wrong(build):
    preview = preview_of(build, "Number,Name,Quantity", "H-021,Bracket,3 (1L 1R)")
    assert "do not make 3" in reason(preview, "quantity")


@pytest.mark.parametrize("text", ["0", "-1", "10000", "1.5", "two", "9**9", "1e3", "١٢", "9" * 400])
def test_quantity_when_no_whole_number_to_9999_then_wrong(build, text):
    assert "from 1 to 9999" in reason(
        preview_of(build, "Number,Name,Quantity", f"S-1,Wheel,{text}"), "quantity"
    )


@pytest.mark.parametrize(
    ("text", "count"), [("24", 24), ("24 off", 24), ("24.0", 24), ("", 1), ("9999", 9999)]
)
def test_quantity_when_readable_then_read(build, text, count):
    taken_in(build, "Number,Name,Quantity", f"S-1,Wheel,{text}")
    assert build.parts.get().needed == count


@pytest.mark.parametrize(
    ("kind", "casting", "becomes"),
    [
        ("cast", "", Kind.CASTING),
        ("Bought in", "", Kind.BOUGHT),
        ("Fabricated", "", Kind.MADE_UP),
        ("stock", "", Kind.STOCK),
        ("", "K-012", Kind.CASTING),
        ("", "", Kind.STOCK),
        ("bought", "K-1", Kind.BOUGHT),
    ],
)
def test_kind_when_named_or_left_open_then_settled(build, kind, casting, becomes):
    taken_in(build, "Number,Name,Kind,Casting number", f"S-019,Centre,{kind},{casting}")
    assert build.parts.get().kind == becomes


def test_kind_when_unknown_then_wrong(build):
    assert "none of casting, from stock" in reason(
        preview_of(build, "Number,Name,Kind", "S-1,Wheel,magic"), "kind"
    )


def test_part_when_its_like_is_in_the_bin_then_new_and_said(build):
    bin_part(make_part(build, number="S-001"), by=None)
    preview = preview_of(build, "Number,Name", "S-001,Flywheel")
    assert states(preview) == ["new"]
    assert "in the bin too" in preview.rows[0].remarks[0]


# Assemblies


@pytest.mark.parametrize(
    "text", ["FW", "fw", "Front wheels", "front  WHEELS", "FW Front wheels", "FW Wheels in front"]
)
def test_assembly_when_there_by_letters_or_name_then_found(build, text):
    make_assembly(build, code="FW", name="Front wheels")
    preview = taken_in(build, "Number,Name,Assembly", f"FW-004,Spoke,{text}")
    assert preview.assemblies == []
    assert build.parts.get().uses.get().assembly.code == "FW"


@pytest.mark.parametrize(
    ("text", "code", "name"),
    [
        ("X12", "X12", "X12"),
        ("fw", "FW", "FW"),
        ("Front wheels", "FW", "Front wheels"),
        ("Boiler", "BO", "Boiler"),
        ("FW Front wheels", "FW", "Front wheels"),
        ("Shafts, gears and the flywheel", "SGF", "Shafts, gears and the flywheel"),
        ("Räder vorn", "RV", "Räder vorn"),
        ("-", "-", "Not placed yet"),
    ],
)
def test_assembly_when_not_there_then_made_with_letters(build, text, code, name):
    preview = taken_in(build, "Number|Name|Assembly", f"P-1|Spoke|{text}", f"P-2|Rim|{text}")
    assert [(place.code, place.name) for place in preview.assemblies] == [(code, name)]
    assembly = build.assemblies.get()
    assert (assembly.code, assembly.name, assembly.balloon, assembly.uses.count()) == (code, name, "", 2)


def test_assembly_letters_when_taken_then_numbered(build):
    make_assembly(build, code="FW", name="Fire wagon")
    preview = preview_of(build, "Number,Name,Assembly", "P-1,Spoke,Front wheels")
    assert str(preview.assemblies[0]) == "FW2 Front wheels"


def test_assembly_when_two_are_called_so_then_wrong(build):
    make_assembly(build, code="LP", name="Pump")
    make_assembly(build, code="RP", name="Pump")
    assert "LP and RP" in reason(preview_of(build, "Number,Name,Assembly", "P-1,Ram,pump"), "assembly")


def test_assembly_when_left_open_for_a_new_part_then_by_the_letters_of_its_number(build):
    make_assembly(build, code="FW", name="Front wheels")
    preview = preview_of(build, "Number,Name,Quantity", "FW-004,Spoke,24", "Q-1,Odd,1")
    assert preview.rows[0].where == "24 in FW"
    assert "goes to FW Front wheels" in preview.rows[0].remarks[0]
    assert "goes to - Not placed yet" in preview.rows[1].remarks[0]


def test_assembly_when_left_open_for_a_part_then_it_stays_where_it_is(build):
    part = make_part(assembly=make_assembly(build, code="S"), number="S-001", name="Flywheel", quantity=2)
    preview = taken_in(build, "Number,Quantity", "S-001,3")
    assert [(c.column, c.was, c.becomes) for c in preview.rows[0].changes] == [("quantity in S", "2", "3")]
    assert part.uses.get().quantity == 3


def test_assembly_when_left_open_for_a_part_used_twice_then_wrong(build):
    part = make_part(assembly=make_assembly(build, code="S"), number="ST-012")
    part.uses.create(assembly=make_assembly(build, code="CY"), quantity=8)
    assert "used in S and CY" in reason(preview_of(build, "Number,Quantity", "ST-012,3"), "assembly")


# Used in several places: a stud used 8 on the cylinder cover, 10 on the steam chest, 6 on the pump; 24 needed


STUD = ("Number,Name,Assembly,Quantity", "ST-012,Stud 2 BA,CYC,8", "ST-012,Stud 2 BA,STC,10", "ST-012,,PMP,6")


def test_uses_when_a_part_has_several_rows_then_the_need_is_their_sum(build):
    preview = taken_in(build, *STUD)
    assert states(preview) == ["new"] * 3
    assert preview.new_parts == 1
    assert build.parts.get().needed == 24


def test_uses_when_one_falls_by_list_then_the_need_follows_at_once(build):
    taken_in(build, *STUD)
    preview = taken_in(build, *STUD[:3], "ST-012,,PMP,5")
    assert states(preview) == ["same", "same", "changed"]
    part = Part.objects.get()
    assert part.needed == 23
    assert "Needed fell from 24 to 23" in part.history.first().text


def test_uses_when_not_mentioned_then_left_alone_and_said(build):
    taken_in(build, *STUD)
    preview = taken_in(build, STUD[0], "ST-012,Stud 2 BA,CYC,9")
    assert any("also used in STC (10) and PMP (6)" in remark for remark in preview.rows[0].remarks)
    assert Part.objects.get().needed == 25


def test_rows_of_one_part_when_they_disagree_then_wrong_naming_both(build):
    preview = preview_of(build, "Number,Name,Assembly", "ST-012,Stud,CYC", "ST-012,Bolt,STC")
    assert "“Bolt” here, but “Stud” in row 2" in reason(preview, "name", row=1)


def test_rows_of_one_part_when_in_one_assembly_twice_then_wrong_naming_both(build):
    preview = preview_of(build, "Number,Name,Assembly", "ST-012,Stud,CYC", "ST-012,Stud,cyc")
    assert "in CYC twice, in rows 2 and 3" in reason(preview, "assembly", row=1)


def test_need_when_it_rises_past_what_is_made_then_back_in_hand_with_the_reason(build):
    part = make_part(
        assembly=make_assembly(build, code="FW"),
        quantity=24,
        number="FW-004",
        name="Spoke",
        good=24,
        stage="machined",
    )
    preview = taken_in(build, "Number,Assembly,Quantity", "FW-004,FW,28")
    assert "needs 28, 24 are good: goes from machined back to in hand" in preview.rows[0].remarks
    part = Part.objects.get()
    assert part.stage == "in hand"
    assert "Needed rose from 24 to 28: 4 more to make" in part.history.first().text


# Changed, same


def test_columns_when_missing_then_left_alone_and_when_empty_then_cleared(build):
    make_part(
        build,
        number="S-001",
        name="Flywheel",
        material="cast iron",
        notes="heavy",
        kind="casting",
        sheet="11 A",
    )
    preview = taken_in(build, "Number,Name,Kind,Material,Notes", "S-001,,,,balanced")
    changes = {change.column: (change.was, change.becomes) for change in preview.rows[0].changes}
    assert changes == {"material": ("cast iron", ""), "notes": ("heavy", "balanced")}
    part = Part.objects.get()
    assert (part.name, part.kind, part.material, part.sheet, part.hatch) == (
        "Flywheel",
        "casting",
        "",
        "11 A",
        "",
    )


def test_change_when_written_then_in_the_history_and_found_by_search(build):
    make_part(build, number="S-016", name="Wheel 84 T")
    taken_in(build, "Number,Name,Leading size", "S-016,Final-drive wheel 84 T,14.333 in OD")
    part = Part.objects.get()
    assert part.history.get().text == (
        "Changed by the list: name Wheel 84 T to Final-drive wheel 84 T, leading size nothing to 14.333 in OD"
    )
    assert "final-drive wheel 84t" in part.search_text
    assert part.size_nm == round(14.333 * 25_400_000)


def test_parts_when_not_mentioned_then_counted_and_left_alone(build):
    make_part(build, number="S-001")
    make_part(build, number="S-002")
    bin_part(make_part(build, number="S-003"), by=None)
    assert preview_of(build, "Number,Name", "S-001,Flywheel").unmentioned == 1


def test_value_when_the_build_has_it_as_written_then_not_questioned(build):
    # It may have come in before a rule grew stricter; a list that only repeats it is not refused.
    part = make_part(build, number="S-001", name="Flywheel", leading_size="16-Mar", sheet="2026-03-16")
    Part.objects.filter(pk=part.pk).update(number="2026-03-16")
    preview = preview_of(build, "Number,Name,Leading size,Sheet", "2026-03-16,Flywheel,16-Mar,2026-03-16")
    assert states(preview) == ["same"]


# Sizes


def test_size_when_read_then_echoed(build):
    # 1 1/4 in is 31.75 mm by the inch of 25.4 mm exactly (ISO 31-1).
    preview = preview_of(build, "Number,Name,Leading size", "S-003,Second shaft,1.1/4 dia")
    assert preview.rows[0].remarks[0] == "1.1/4 dia read as 1 1/4 in = 31.75 mm"


def test_size_when_the_build_is_metric_then_a_bare_number_is_millimetres(build):
    build.units = "mm"
    preview = preview_of(build, "Number,Name,Leading size", "S-009,Bearing,45 bore")
    assert preview.rows[0].remarks[0].startswith("45 bore read as 45 mm")


@pytest.mark.parametrize(
    "text", ["0.5 mmm", "9**9**9", "1/0", '"0,5 mm"', "1 3/16 mmm", "-5 in", "\u202e5 in"]
)
def test_size_when_unreadable_then_wrong_with_the_column(build, text):
    preview = preview_of(build, "Number,Name,Leading size", f"S-1,Shaft,{text}")
    assert states(preview) == ["wrong"]
    assert reason(preview, "leading size")


@pytest.mark.parametrize("text", ["16-Mar", "Mar-16", "03/16/2026", "2026-03-16"])
def test_size_when_a_spreadsheet_made_a_date_of_it_then_named_as_such(build, text):
    why = reason(preview_of(build, "Number,Name,Leading size", f"S-1,Pin,{text}"), "leading size")
    assert "a spreadsheet has made a date of 3/16" in why


@pytest.mark.parametrize("column", ["quantity", "sheet", "casting number", "assembly", "number"])
def test_number_when_a_spreadsheet_made_a_date_of_it_then_named_as_such(build, column):
    cells = {"number": "S-1", "name": "Pin"} | {column: "2026-03-16"}
    preview = preview_of(build, ",".join(cells), ",".join(cells.values()))
    assert "has made a date" in reason(preview, column)


def test_notes_when_they_are_a_date_then_left_in_peace(build):
    assert states(preview_of(build, "Number,Name,Notes", "S-1,Pin,2026-03-16")) == ["new"]


# What no cell may hold


@pytest.mark.parametrize("sign", ["\u202e", "\u200f", "\x07", "\x1b"])
@pytest.mark.parametrize("column", ["name", "notes", "material", "assembly"])
def test_cell_when_a_hidden_sign_is_in_it_then_wrong(build, column, sign):
    cells = {"number": "S-1", "name": "Pin"} | {column: f"Pin{sign}x"}
    preview = preview_of(build, ",".join(cells), ",".join(cells.values()))
    assert "unseen sign" in reason(preview, column)


def test_cell_when_a_spreadsheet_error_then_wrong(build):
    assert "could not work this cell out" in reason(preview_of(build, "Number,Name", "S-1,#REF!"), "name")


def test_cell_when_too_long_for_its_column_then_wrong(build):
    assert "at most 120 are kept" in reason(preview_of(build, "Number,Name", f"S-1,{'x' * 121}"), "name")


def test_name_when_right_to_left_script_then_kept(build):
    taken_in(build, "Number,Name", "S-1,גלגל תנופה")
    assert build.parts.get().name == "גלגל תנופה"


# Cost


def test_comparing_when_ten_times_as_many_rows_then_as_many_queries(build):
    def cost(rows: int) -> int:
        lines = [f"S-{n},Part,A{n % 9}" for n in range(rows)]
        with CaptureQueriesContext(connection) as queries:
            preview_of(build, "Number,Name,Assembly", *lines)
        return len(queries)

    assert cost(400) == cost(40) == 3


def test_writing_when_ten_times_as_many_rows_then_a_few_more_batches_only(build):
    def cost(first: int, rows: int) -> int:
        lines = [f"P-{n},Part,A,1" for n in range(first, first + rows)]
        with CaptureQueriesContext(connection) as queries:
            taken_in(build, "Number,Name,Assembly,Quantity", *lines)
        return len(queries)

    cost(0, 2)
    assert cost(100, 400) - cost(600, 40) < 40


def test_digest_when_the_outcome_is_another_then_another(build):
    lines = ("Number,Name", "S-001,Flywheel")
    before = preview_of(build, *lines).digest
    assert preview_of(build, *lines).digest == before
    make_part(build, number="S-002")
    assert preview_of(build, *lines).digest == before
    make_part(build, number="S-001", name="Fly")
    assert preview_of(build, *lines).digest != before
