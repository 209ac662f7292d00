"""Files of drawings kept: which are, which are refused and why, the same bytes, the bin, the backup."""

import hashlib
import io
from pathlib import Path
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import TemporaryUploadedFile

from buildlog import sheet_pages, storage
from buildlog.actions import sheet_files
from buildlog.actions.drawings import IssueRefusedError, take_back_issue
from buildlog.actions.sheet_files import bring_in_sheet
from buildlog.models import SheetFile
from buildlog.sheet_limits import MOST_PAGES, MOST_POINTS, PDF_BYTES, SheetError
from buildlog.sheet_pages import read_sheet
from tests.drawing_files import A3, pdf, raw_pdf
from tests.factories import make_build, make_drawing, make_issue, make_sheet_file
from tests.picture_files import heif_head, noise, picture, upload

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("files", "stopped_clock")]


@pytest.fixture
def issue(build):
    return make_drawing(build, "B", number="7").issues.get()


def lying(folder: Path) -> list[str]:
    return sorted(str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file())


def brought(issue, content, name="sheet-7.pdf", token=None):
    return bring_in_sheet(issue, upload(content, name), by=None, token=token or uuid4())


# ---- kept ------------------------------------------------------------------------------------------------


def test_pdf_when_brought_in_then_byte_for_byte_with_its_pages_and_the_size_of_the_first(files, build, issue):
    content = pdf(3)
    kept = brought(issue, content).thing
    sha256 = hashlib.sha256(content).hexdigest()
    assert lying(files) == [f"drawings/{build.pk}/{sha256}.pdf"]
    assert (files / kept.file).read_bytes() == content
    kept.refresh_from_db()
    assert (kept.kind, kept.pages, kept.width, kept.height) == ("pdf", 3, round(A3[0]), round(A3[1]))
    assert (kept.sha256, kept.size, kept.file_name) == (sha256, len(content), "sheet-7.pdf")


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
def test_picture_when_brought_in_then_kept_and_seen_small_at_once(files, issue, tmp_path, kind):
    content = picture(kind, (600, 400))
    kept = brought(issue, content, "scan").thing
    assert (kept.kind, kept.pages, kept.width, kept.height) == (kind.lower(), 1, 600, 400)
    assert (files / kept.file).read_bytes() == content
    assert lying(tmp_path / storage.PREVIEWS) == [f"drawings/{kept.sha256[:2]}/{kept.sha256}-1-small.jpg"]


def test_pdf_when_the_server_holds_it_on_disk_then_read_from_there(issue):
    content = pdf(2)
    file = TemporaryUploadedFile("sheet-7.pdf", "application/pdf", len(content), None)
    file.write(content)
    file.seek(0)
    kept = bring_in_sheet(issue, file, by=None, token=uuid4()).thing
    assert (kept.pages, kept.size) == (2, len(content))


def test_pdf_when_a_mark_stands_before_its_beginning_then_kept(issue):
    assert brought(issue, b"\xef\xbb\xbf" + pdf()).state == "new"


def test_pdf_when_as_large_as_a_page_can_be_then_kept_and_a_point_more_is_refused(issue):
    assert brought(issue, raw_pdf(box=f"0 0 {MOST_POINTS} {MOST_POINTS}")).state == "new"
    assert brought(issue, raw_pdf(box=f"0 0 {MOST_POINTS + 1} 400")).state == "wrong"


# ---- refused ---------------------------------------------------------------------------------------------

CUT = pdf(2)
REFUSED = {
    "empty.pdf": (b"", "the file is empty"),
    "trick.pdf": (b"MZ\x90\x00" + bytes(500), "is a program"),
    "elf.jpg": (b"\x7fELF" + bytes(500), "is a program"),
    "packed.pdf": (b"PK\x03\x04" + bytes(500), "is a packed file"),
    "phone.heic": (heif_head(), "it is a HEIC picture"),
    "words.pdf": (b"Sheet 7: hornplates", "no picture that is known here"),
    "cut.jpg": (noise((300, 200))[:9000], "cut short or damaged"),
    "cut.png": (picture("PNG", (300, 200))[:-40], "cut short or damaged"),
    "cut.pdf": (CUT[: len(CUT) // 2], "the PDF is cut short"),
    "end-only.pdf": (b"%PDF-1.7\nnothing\n%%EOF", "the PDF is cut short or damaged"),
    "locked.pdf": (pdf(password="secret"), "locked with a password"),
    "huge.pdf": (raw_pdf(box="0 0 200000 200000"), "200,000 × 200,000 points"),
    "long.pdf": (raw_pdf(pages="900000"), "it says it has 900,000 pages, and a PDF may have 500"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_file_when_refused_then_named_with_what_to_do_and_nothing_of_it_is_there(
    files, issue, tmp_path, name
):
    content, why = REFUSED[name]
    found = brought(issue, content, name)
    assert (found.state, found.thing) == ("wrong", None)
    assert found.words.startswith(f"{name}: ")
    assert why in found.words
    assert "hoose" in found.words
    assert (lying(files), lying(tmp_path / storage.PREVIEWS), SheetFile.objects.count()) == ([], [], 0)


def test_picture_when_of_14000_by_14000_then_refused_unopened_and_the_limit_is_named(files, issue):
    from PIL import Image

    written = io.BytesIO()
    Image.new("1", (14000, 14000)).save(written, "PNG")
    found = brought(issue, written.getvalue(), "wall.png")
    assert found.words.startswith(
        "wall.png: it has 14,000 × 14,000 pixels, 196 million; a picture may have 100"
    )
    assert (lying(files), SheetFile.objects.count()) == ([], 0)


def test_picture_when_no_kind_that_is_kept_then_told_that_a_pdf_would_be(issue):
    assert "PDF files and JPEG, PNG and WebP pictures are kept" in brought(issue, b"GIF89a" + bytes(90)).words


def test_pdf_when_one_byte_too_large_then_the_limit_is_named_and_at_the_limit_it_is_read(issue, monkeypatch):
    content = pdf()
    file = upload(content)
    file.size = PDF_BYTES + 1
    with pytest.raises(SheetError, match=r"it has 100\.0 MB, and a PDF may have 100 MB"):
        read_sheet(file)
    monkeypatch.setattr(sheet_pages, "PDF_BYTES", len(content))
    assert brought(issue, content + b"\n").state == "wrong"
    assert brought(issue, content).state == "new"


@pytest.mark.parametrize(("pages", "state"), [(MOST_PAGES, "new"), (MOST_PAGES + 1, "wrong")])
def test_pdf_when_of_many_pages_then_kept_to_the_limit(issue, pages, state):
    assert brought(issue, pdf(pages, (200, 100))).state == state


def test_pdf_when_its_opening_takes_too_long_then_left_and_said_so(files, issue, monkeypatch):
    monkeypatch.setattr(sheet_pages, "LOOK_SECONDS", 0.001)
    found = brought(issue, pdf())
    assert "it takes longer than 0.001 seconds to open" in found.words
    assert (lying(files), SheetFile.objects.count()) == ([], 0)


def test_files_when_the_disk_is_full_then_said_so_and_nothing_of_it_is_there(files, issue, monkeypatch):
    def full(_handle):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(storage.os, "fsync", full)
    found = brought(issue, picture("PNG"), "scan.png")
    assert (found.state, SheetFile.objects.count(), lying(files)) == ("wrong", 0, [])
    assert "could not be written. Is the disk full?" in found.words


# ---- the same bytes, the bin -----------------------------------------------------------------------------


def test_file_when_the_same_bytes_come_again_then_one_file_of_the_issue_and_said_so(files, issue):
    content = pdf()
    first = brought(issue, content)
    again = brought(issue, content, "copy.pdf")
    assert (again.state, again.thing) == ("here", first.thing)
    assert again.words == "copy.pdf: is here already, byte for byte. It is kept once."
    assert len(lying(files)) == 1


def test_file_when_the_same_sending_is_repeated_then_it_is_told_as_the_first_time(issue):
    content, token = pdf(), uuid4()
    assert [brought(issue, content, token=token).state for _ in range(2)] == ["new", "new"]
    assert SheetFile.objects.count() == 1


def test_file_when_another_issue_has_the_same_then_each_has_its_row_and_the_bytes_lie_once(files, issue):
    content, other = pdf(), make_issue(issue.drawing, "C")
    assert [brought(one, content).state for one in (issue, other)] == ["new", "new"]
    assert len(lying(files)) == 1


def test_file_when_another_build_has_the_same_then_each_has_its_own(files, issue):
    content, other = pdf(), make_drawing(make_build(name="Second engine")).issues.get()
    assert [brought(one, content).state for one in (issue, other)] == ["new", "new"]
    assert len(lying(files)) == 2


def test_file_when_in_the_bin_then_its_bytes_stay_and_bringing_it_in_takes_it_back(files, issue):
    content = pdf()
    kept = brought(issue, content).thing
    sheet_files.bin_sheet_file(kept, by=None)
    assert (list(issue.files.live()), len(lying(files))) == ([], 1)
    assert brought(issue, content).state == "back"
    assert list(issue.files.live()) == [kept]


def test_file_when_its_bytes_were_taken_away_then_bringing_it_in_puts_them_back(files, issue):
    content = pdf()
    kept = brought(issue, content).thing
    (files / kept.file).unlink()
    assert brought(issue, content).state == "here"
    assert (files / kept.file).read_bytes() == content
    assert SheetFile.objects.get() == kept


def test_issue_when_it_has_files_then_not_struck_out_and_once_they_are_binned_it_is(files, issue):
    make_issue(issue.drawing, "C")
    kept = make_sheet_file(issue.drawing)
    with pytest.raises(IssueRefusedError, match="Issue C has 1 file"):
        take_back_issue(issue.drawing, by=None)
    sheet_files.bin_sheet_file(kept, by=None)
    assert take_back_issue(issue.drawing, by=None).issue == "C"
    assert len(lying(files)) == 1
