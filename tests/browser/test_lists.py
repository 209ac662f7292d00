"""A list brought in by a real browser: dates that a spreadsheet made, files that are none, taken in once."""

import io
from datetime import datetime

import openpyxl
import pytest
from playwright.sync_api import expect

from buildlog.models import Part
from tests import factories
from tests.browser.steps import DESK, PHONE, bring_in, expect_no_sideways, make_owner, said

XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"


@pytest.fixture
def owner(transactional_db):
    return make_owner()


@pytest.fixture
def build(owner):
    return factories.make_build(owner)


def workbook(*rows):
    book = openpyxl.Workbook()
    for row in rows:
        book.active.append(row)
    content = io.BytesIO()
    book.save(content)
    return {"name": "parts.xlsx", "mimeType": XLSX, "buffer": content.getvalue()}


@pytest.mark.parametrize(("width", "script"), [(DESK, True), (PHONE, False)])
def test_workbook_when_a_size_became_a_date_then_row_and_column_are_named_and_nothing_is_written(
    page_at, owner, build, width, script
):
    page = page_at(width, script=script, user=owner)
    page.goto(f"/builds/{build.pk}/parts/")
    bring_in(
        page,
        workbook(
            ["Number", "Name", "Assembly", "Quantity", "Leading size"],
            ["S-016", "Final-drive wheel", "Shafts", 1, "14.333 in OD"],
            ["S-017", "Rivet", "Shafts", 8, datetime(2026, 3, 16)],  # noqa: DTZ001  As a spreadsheet writes it.
        ),
    )
    expect(page.get_by_text("1 row wants mending, so nothing can be taken in yet")).to_be_visible()
    row = page.get_by_role("row").filter(has_text="S-017")
    expect(row).to_contain_text("column leading size:")
    expect(row).to_contain_text("this reads 16 March, a spreadsheet has made a date of 3/16")
    expect(page.get_by_role("button", name="Take it in")).to_have_count(0)
    expect_no_sideways(page)
    assert not Part.objects.exists()

    page.get_by_role("link", name="Bring in the mended list").click()
    page.get_by_label("The list").set_input_files(
        workbook(
            ["Number", "Name", "Assembly", "Quantity", "Leading size"],
            ["S-016", "Final-drive wheel", "Shafts", 1, "14.333 in OD"],
            ["S-017", "Rivet", "Shafts", 8, "3/16 dia"],
        )
    )
    page.get_by_role("button", name="Read the list").click()
    page.get_by_role("button", name="Take it in: 2 made").dblclick()
    expect(page.get_by_role("heading", name="2 parts")).to_be_visible()
    assert Part.objects.count() == 2


@pytest.mark.parametrize("script", [True, False])
def test_file_when_it_is_no_list_then_told_by_name_and_the_build_stays_as_it_was(
    page_at, owner, build, script
):
    page = page_at(PHONE, script=script, user=owner)
    page.goto(f"/builds/{build.pk}/parts/")
    program = {"name": "parts.xlsx", "mimeType": XLSX, "buffer": b"MZ\x90\x00" + bytes(400)}
    bring_in(page, program)
    expect(page.get_by_role("alert")).to_contain_text("Nothing has been brought in")
    expect(page.get_by_role("alert")).to_contain_text("parts.xlsx")
    expect_no_sideways(page)
    page.get_by_label("The list").set_input_files(
        {"name": "cut.csv", "mimeType": "text/csv", "buffer": b'number,name\nS-1,"Shaft'}
    )
    page.get_by_role("button", name="Read the list").click()
    expect(page.get_by_role("alert")).to_contain_text("cut.csv")
    assert not Part.objects.exists()


def test_list_when_taken_out_and_brought_in_again_then_there_is_nothing_to_take_in(page_at, owner, build):
    factories.make_part(
        build, assembly=factories.make_assembly(build), number="S-016", leading_size="3/16 dia"
    )
    page = page_at(DESK, user=owner)
    page.goto(f"/builds/{build.pk}/parts/")
    for name in ("CSV", "XLSX"):
        with page.expect_download() as caught:
            page.get_by_role("link", name=name, exact=True).click()
        download = caught.value
        bring_in(
            page,
            {
                "name": download.suggested_filename,
                "mimeType": "text/plain",
                "buffer": download.path().read_bytes(),
            },
        )
        expect(page.get_by_text("The list says what the build says")).to_be_visible()
        page.get_by_role("link", name="Back to the parts").click()
    expect(said(page)).to_be_empty()
