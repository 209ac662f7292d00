"""The demo's drawn sheets: there when it is loaded, gone when it is taken away, as its files say."""

import hashlib

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import storages

from buildlog.actions.demo import load_demo, remove_demo
from buildlog.actions.demo_files import rows
from buildlog.models import Build, SheetFile
from buildlog.sheet_pages import read_sheet
from buildlog.storage import ORIGINALS
from tests.factories import make_sheet_file, make_user
from tests.pages import pdf_text


@pytest.mark.django_db
def test_demo_when_loaded_then_two_sheets_have_their_files_and_each_can_be_opened():
    load_demo(make_user())
    files = SheetFile.objects.select_related("issue__drawing").order_by("file_name")
    assert [file.file_name for file in files] == ["sheet-12-B.pdf", "sheet-7-B.pdf"]
    for file in files:
        with storages[ORIGINALS].open(file.file) as kept:
            content = kept.read()
        assert (hashlib.sha256(content).hexdigest(), len(content)) == (file.sha256, file.size)
        found = read_sheet(ContentFile(content, file.file_name))
        assert (found.kind, found.pages, found.width, found.height) == (file.kind, 1, file.width, file.height)
    # The misprint that the story of the lifting links is about.
    assert "2.310" in "".join(pdf_text(content))


@pytest.mark.django_db(transaction=True)
def test_demo_when_removed_then_its_drawn_files_are_gone_and_those_of_a_builder_stay():
    load_demo(make_user())
    build = Build.objects.get()
    drawn = [file.file for file in SheetFile.objects.select_related("issue__drawing")]
    own = make_sheet_file(build.drawings.get(number="12")).file
    remove_demo(build)
    assert [storages[ORIGINALS].exists(name) for name in [*drawn, own]] == [False, False, True]


def test_wheel_and_pinion_when_measured_on_the_sheet_then_as_the_rule_of_gears_has_them():
    """Outside (N + 2)/P, pitch diameter N/P: US Navy, Machinery Repairman, NAVEDTRA 14345, App. III."""
    half_size = 25.4 * 5 / 2  # fifths of a millimetre to an inch
    radii = [float(row["sizes"]) / half_size for row in rows("sheet_lines.csv")
             if row["sheet"] == "12" and row["what"].endswith("circle")]  # fmt: skip
    for teeth in (84, 18):
        for diameter in ((teeth + 2) / 6, teeth / 6):
            assert min(abs(2 * radius - diameter) for radius in radii) < 0.002


def test_link_when_measured_on_the_sheet_then_its_centres_are_as_printed():
    (link,) = [row for row in rows("sheet_lines.csv") if row["text"] == "2.310 in"]
    (left, _), (right, _) = (map(float, point.split()) for point in link["points"].split(";"))
    assert (right - left) / (25.4 * 5 * 2) == pytest.approx(2.310, abs=0.001)
