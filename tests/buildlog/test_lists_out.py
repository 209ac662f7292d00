"""The list taken out: what spreadsheets do with it, and that it comes back unchanged."""

import csv
import io
from datetime import UTC, datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.django import TestCase
from openpyxl import load_workbook
from pypdfium2 import PdfDocument

from buildlog import clock
from buildlog.actions.parts import bin_part
from buildlog.lists.comparing import compare
from buildlog.lists.formulas import disarm_undone, disarmed
from buildlog.lists.printed import parts_list_pdf, parts_list_sheet
from buildlog.lists.reading import read_list
from buildlog.lists.writing import (
    HEADINGS,
    SAMPLE,
    SAMPLE_HEADINGS,
    csv_bytes,
    file_name,
    list_rows,
    xlsx_bytes,
)
from buildlog.models import Build, Part
from tests.factories import make_assembly, make_build, make_part

#: Where a spreadsheet begins to run a cell: the list OWASP gives on its page CSV Injection (from memory).
RUNS = ("=", "+", "-", "@", "\t", "\r")
NASTY = (
    "=cmd|' /C calc'!A0",
    "+1+1",
    "-2",
    "@SUM(A1)",
    "\tx",
    "'=a",
    "''=a",
    "'plain",
    '"quoted"',
    "a\nb",
    "a\r\nb",
    " led by a space",
    "trails ",
    "3/16",
    "007",
    "1,5;2|3",
    "½ ″ ⌀ é 車",
    '="007"',
    "#REF!",
    "TRUE",
    "1E5",
    "-",
    "'",
)


def outs(build: Build) -> list[tuple[str, bytes]]:
    return [
        ("a.csv", csv_bytes(HEADINGS, list_rows(build))),
        ("a.xlsx", xlsx_bytes(build.name, list_rows(build))),
    ]


def assert_comes_back_unchanged(build: Build) -> None:
    for name, content in outs(build):
        preview = compare(build, read_list(name, content))
        others = [(row.line, row.faults, row.changes) for row in preview.rows if row.state != "same"]
        assert others == [], name
        assert preview.unmentioned == 0
        assert preview.assemblies == []


# Text that a list may hold: everything but control signs, which no entry lets through.
texts = st.text(st.characters(exclude_categories=["Cs", "Cc"], include_characters="\n"), max_size=60)
nasty = st.one_of(
    st.sampled_from(NASTY), texts, st.builds("{}{}".format, st.sampled_from([*RUNS, "'", " "]), texts)
)


class TestRoundTrip(TestCase):
    """Hypothesis draws the texts; each example rolls back."""

    @given(
        name=nasty,
        material=nasty,
        sheet=nasty,
        notes=nasty,
        size=nasty,
        code=st.sampled_from(["-", "FW", "A 1"]),
    )
    def test_list_when_out_and_in_again_then_same(self, name, material, sheet, notes, size, code):
        build = make_build()
        assembly = make_assembly(build, code=code, name="Front wheels")
        texts = {"material": material[:80], "sheet": sheet[:30], "notes": notes, "leading_size": size[:40]}
        part = make_part(assembly=assembly, quantity=24, number="FW-004", name=name[:120] or "Spoke", **texts)
        part.uses.create(assembly=make_assembly(build, code="B"), quantity=3)
        make_part(build, number="H-021", hand="L", casting_number=material[:20])
        assert_comes_back_unchanged(build)

    @given(text=nasty)
    def test_cell_when_made_harmless_then_comes_back_and_no_spreadsheet_runs_it(self, text):
        harmless = disarmed(text)
        assert disarm_undone(harmless) == text
        assert not harmless.lstrip(" ").startswith(RUNS)


@pytest.mark.django_db
def test_list_when_taken_into_an_empty_build_then_the_same_list_comes_out():
    from buildlog.actions.take_in_list import write_list
    from tests.factories import make_user

    first, second = make_build(), make_build()
    # What a spreadsheet could not work out is refused where it is new: no text to carry.
    for place, text in enumerate(text for text in NASTY if text != "#REF!"):
        part = make_part(
            assembly=make_assembly(first, code=f"A{place}", name=f"A{place}"), number=f"S-{place}", notes=text
        )
        Part.objects.filter(pk=part.pk).update(notes=text.strip().replace("\r\n", "\n"))
    for name, content in outs(first):
        preview = compare(second, read_list(name, content))
        assert preview.counts["wrong"] == 0
        write_list(preview, by=make_user(), told="by the list", at=clock.now())
        assert list(list_rows(second)) == list(list_rows(first)), name
        second = make_build()


@pytest.mark.django_db
def test_csv_when_written_then_utf_8_with_its_mark_and_as_the_standard_has_it():
    build = make_build()
    make_part(assembly=make_assembly(build, code="S"), number="S-001", name='Wheel, "big" ½', notes="a\nb")
    content = csv_bytes(HEADINGS, list_rows(build))
    assert content.startswith(
        b"\xef\xbb\xbfNumber,Hand,Name,Assembly,Quantity,Kind,Material,Leading size,Sheet,"
    )
    # RFC 4180: CRLF between records, quotes round cells with commas, quotes or line ends, quotes doubled.
    assert '\r\nS-001,,"Wheel, ""big"" ½",S,1,from stock,,,,,"a\nb"\r\n'.encode() in content


@pytest.mark.django_db
def test_csv_when_a_cell_would_run_then_it_leads_with_an_apostrophe():
    build = make_build()
    make_part(build, number="S-001", name="=HYPERLINK(1)", material="@x", sheet="-3")
    row = list(csv.reader(io.StringIO(csv_bytes(HEADINGS, list_rows(build)).decode("utf-8-sig"))))[1]
    assert (row[2], row[6], row[8]) == ("'=HYPERLINK(1)", "'@x", "'-3")


@pytest.mark.django_db
def test_xlsx_when_opened_by_another_reader_then_every_cell_is_text():
    build = make_build()
    make_part(assembly=make_assembly(build, code="S"), number="007", name="=1+1", leading_size="3/16")
    sheet = load_workbook(io.BytesIO(xlsx_bytes(build.name, list_rows(build)))).worksheets[0]
    assert [cell.value for cell in sheet[1]] == list(HEADINGS)
    assert {cell.data_type for row in sheet.iter_rows() for cell in row if cell.value is not None} == {"s"}
    assert {cell.number_format for row in sheet.iter_rows() for cell in row if cell.value is not None} == {
        "@"
    }
    assert (sheet["A2"].value, sheet["C2"].value, sheet["H2"].value) == ("007", "=1+1", "3/16")
    assert sheet.freeze_panes == "A2"


@pytest.mark.django_db
def test_list_when_parts_are_used_twice_unused_or_binned_then_two_rows_one_row_none():
    build = make_build()
    stud = make_part(assembly=make_assembly(build, code="CY", balloon="4"), number="ST-012", quantity=8)
    stud.uses.create(assembly=make_assembly(build, code="B", balloon="1"), quantity=6)
    make_part(build, number="X-001")
    bin_part(make_part(build, number="Z-001"), by=None)
    assert [(row[0], row[3], row[4]) for row in list_rows(build)] == [
        ("ST-012", "B", "6"), ("ST-012", "CY", "8"), ("X-001", "", ""),
    ]  # fmt: skip


@pytest.mark.django_db
def test_list_when_taken_out_then_of_this_build_alone_and_in_three_queries():
    build = make_build()
    make_part(make_build(), number="S-001")
    assembly = make_assembly(build)
    for _ in range(20):
        make_part(assembly=assembly)
    with CaptureQueriesContext(connection) as queries:
        rows = list(list_rows(build))
    assert (len(rows), len(queries)) == (20, 3)


@pytest.mark.django_db
def test_sample_when_read_then_nothing_wrong_with_it():
    preview = compare(make_build(), read_list("sample.csv", csv_bytes(SAMPLE_HEADINGS, SAMPLE)))
    assert preview.counts == {"wrong": 0, "new": len(SAMPLE), "changed": 0, "same": 0}


@pytest.mark.parametrize(
    ("name", "becomes"),
    [
        ("Marlpit", "Marlpit parts 2026-03-14.csv"),
        ('../../etc/pa"ss\r\nwd', "etc pa ss wd parts 2026-03-14.csv"),
        ("Łódź 4″", "Łódź 4″ parts 2026-03-14.csv"),
        ("...", "Build parts 2026-03-14.csv"),
    ],
)
def test_file_name_when_made_then_names_the_build_and_the_day(stopped_clock, name, becomes):
    assert file_name(Build(name=name), "csv") == becomes


@pytest.mark.django_db
def test_printed_list_when_drawn_then_parts_stand_under_their_assemblies():
    build = make_build()
    shafts = make_assembly(build, code="S", name="Shafts and gearing", balloon="7")
    part = make_part(
        assembly=shafts, number="S-016", name="Final-drive wheel", leading_size="14.333 in OD", good=1
    )
    part.uses.create(assembly=make_assembly(build, code="HW", name="Hind wheels", balloon="8"), quantity=1)
    make_part(build, number="X-001", name="Odd one")
    with clock.stopped_at(datetime(2026, 3, 14, tzinfo=UTC)):
        document = PdfDocument(parts_list_pdf(build, by="the builder"))
    text = "".join(page.get_textpage().get_text_range() for page in document)
    assert text.count("S-016") == 2
    for words in (
        "Shafts and gearing",
        "Hind wheels",
        "Used in no assembly yet",
        "Odd one",
        "364.0582",
        "14 Mar 2026",
    ):
        assert words in text


@pytest.mark.django_db
def test_printed_list_when_longer_then_no_more_queries():
    build = make_build()
    assembly = make_assembly(build, code="S")

    def cost() -> int:
        with CaptureQueriesContext(connection) as queries:
            sheet = parts_list_sheet(build, by="the builder")
        assert sheet["groups"][0]["rows"]
        return len(queries)

    make_part(assembly=assembly)
    few = cost()
    for _ in range(30):
        make_part(assembly=assembly)
    assert cost() == few <= 4
