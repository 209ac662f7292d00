"""Pages of the files of drawings: added on the sheet, shown once drawn, looked at closer, taken out again."""

import io
import shutil
from uuid import uuid4

import pytest
from django.urls import reverse
from PIL import Image

from buildlog import draw_page, sheet_pages, sheet_previews, storage
from buildlog.models import SheetFile
from buildlog.sheet_limits import LONGEST, MOST_DRAWN, scale_to
from tests.drawing_files import A3, pdf, raw_pdf
from tests.factories import make_drawing, make_erratum, make_sheet_file
from tests.pages import alerts, entries, links, words
from tests.picture_files import CAMERA, exif_of, noise, picture, upload

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("stopped_clock")]


@pytest.fixture(autouse=True)
def drawn_to_its_end(files):
    """Nothing is drawn any more when a test ends."""
    yield
    sheet_previews.drawer.settle()


@pytest.fixture
def drawing(build):
    return make_drawing(build, "A", "B", number="7", title="Hornplates")


def send(site, drawing, *uploads, **said):
    values = {"token": str(uuid4()), "issue": drawing.issues.first().issue} | said
    return site.post(reverse("sheet_file_new", args=[drawing.pk]), values | {"sheets": list(uploads)})


def shown(file, size="small", page=1):
    return reverse("sheet_picture", args=[file.pk, page, size])


def drawn(site, file, size="small", page=1):
    """The picture, once it is there."""
    site.get(shown(file, size, page))
    sheet_previews.drawer.settle()
    return site.get(shown(file, size, page))


def opened(answer) -> Image.Image:
    assert answer["Content-Type"] == "image/jpeg"
    return Image.open(io.BytesIO(answer.content))


# ---- added -----------------------------------------------------------------------------------------------


def test_files_when_all_are_good_then_said_and_on_the_page_of_the_sheet(site, drawing):
    answer = send(site, drawing, upload(pdf(2), "sheet-7.pdf"), upload(picture("PNG"), "scan.png"))
    assert answer["Location"] == f"{drawing.get_absolute_url()}#files"
    page = site.get(drawing.get_absolute_url())
    assert "2 files are in." in words(page)
    assert "sheet-7.pdf" in words(page)
    assert "PDF, 2 pages" in words(page)
    assert "PNG, 64 × 48 pixels" in words(page)


def test_files_when_some_are_bad_then_each_is_named_and_the_others_are_kept(site, drawing, files):
    answer = send(
        site, drawing,
        upload(pdf(), "good.pdf"), upload(b"MZ\x90\x00" + bytes(300), "trick.pdf"),
        upload(noise((300, 200))[:9000], "cut.jpg"), upload(pdf(password="x"), "locked.pdf"),
        upload(raw_pdf(box="0 0 200000 200000"), "huge.pdf"), upload(picture(), "also good.jpg"),
    )  # fmt: skip
    assert answer.status_code == 422
    said = alerts(answer)
    assert "4 files could not be kept, and nothing of them is stored" in said
    for name in ("trick.pdf", "cut.jpg", "locked.pdf", "huge.pdf"):
        assert f"{name}: " in said
    assert "2 files are in." in words(answer)
    assert sorted(SheetFile.objects.values_list("file_name", flat=True)) == ["also good.jpg", "good.pdf"]
    assert len([path for path in files.rglob("*") if path.is_file()]) == 2


def test_files_when_sent_by_two_clicks_then_both_say_the_same_and_one_is_kept(site, drawing):
    content, token = pdf(), str(uuid4())
    for _ in range(2):
        send(site, drawing, upload(content), token=token)
        assert "1 file is in." in words(site.get(drawing.get_absolute_url()))
    assert SheetFile.objects.count() == 1


def test_files_when_of_an_earlier_issue_then_kept_with_that(site, drawing):
    send(site, drawing, upload(pdf()), issue="A")
    assert SheetFile.objects.get().issue.issue == "A"
    assert "Issue A no longer worked to" in words(site.get(drawing.get_absolute_url()))


def test_files_when_of_an_issue_that_is_not_in_the_register_then_refused(site, drawing):
    answer = send(site, drawing, upload(pdf()), issue="Q")
    assert (answer.status_code, SheetFile.objects.count()) == (422, 0)
    assert "That issue is no longer in the register" in alerts(answer)


def test_files_when_none_is_chosen_then_told(site, drawing):
    answer = send(site, drawing)
    assert answer.status_code == 422
    assert "No file is chosen yet" in alerts(answer)


def test_files_when_the_sheet_has_no_issue_then_told_to_write_one_down_first(site, build):
    drawing = make_drawing(build)
    drawing.issues.all().delete()
    page = site.get(reverse("sheet_file_new", args=[drawing.pk]))
    assert "No issue of sheet" in words(page)
    assert reverse("issue_new", args=[drawing.pk]) in links(page)
    assert reverse("issue_new", args=[drawing.pk]) in links(site.get(drawing.get_absolute_url()))


def test_drawing_when_units_and_projection_are_written_down_then_its_page_says_them(site, drawing):
    edit = reverse("drawing_edit", args=[drawing.pk])
    site.post(edit, {"number": "7", "title": "Hornplates", "units": "inch", "projection": "third"})
    page = words(site.get(drawing.get_absolute_url()))
    assert "inches" in page
    assert "third angle" in page


# ---- shown -----------------------------------------------------------------------------------------------


def test_page_of_a_pdf_when_asked_for_then_in_words_until_it_is_drawn_apart_from_the_request(site, drawing):
    file = make_sheet_file(drawing, content=pdf(2), name="sheet-7.pdf")
    first = site.get(shown(file))
    assert (first.status_code, first["Content-Type"]) == (200, "image/svg+xml")
    assert b"being drawn" in first.content
    assert first["Cache-Control"] == "private, no-store"
    sheet_previews.drawer.settle()
    later = site.get(shown(file))
    assert max(opened(later).size) == LONGEST["small"]
    assert later["Cache-Control"].startswith("private, max-age")


def test_page_of_a_pdf_when_drawn_then_as_it_is_and_at_the_size_asked_for(site, drawing):
    file = make_sheet_file(drawing, content=pdf(), name="sheet-7.pdf")
    picture = opened(drawn(site, file, "full"))
    assert picture.size[0] == LONGEST["full"]
    assert picture.size[0] / picture.size[1] == pytest.approx(A3[0] / A3[1], rel=0.001)
    # The black square of the upper left quarter, and the white of the lower right.
    assert picture.convert("L").getpixel((picture.width // 4, picture.height // 4)) < 20
    assert picture.convert("L").getpixel((picture.width * 3 // 4, picture.height * 3 // 4)) > 235


@pytest.mark.parametrize("size", [(600, 400), (14400, 14400), (14400, 3), (1, 1), A3])
def test_scale_when_worked_out_then_never_more_pixels_than_are_drawn(size):
    for longest in LONGEST.values():
        scale = scale_to(*size, longest)
        assert size[0] * scale * size[1] * scale <= MOST_DRAWN * 1.000001
        assert max(size) * scale <= longest * 1.000001


def test_page_when_drawn_finer_then_within_forty_megapixels(site, drawing):
    file = make_sheet_file(drawing, content=raw_pdf(box="0 0 900 900"), name="square.pdf")
    width, height = opened(drawn(site, file, "sharp")).size
    assert 39_000_000 < width * height <= 40_020_000


def test_picture_when_drawn_large_then_never_larger_than_it_is_and_without_what_the_camera_wrote(
    site, drawing
):
    content = noise((900, 700), exif=exif_of(turned=6, placed=True))
    file = make_sheet_file(drawing, content=content, name="scan.jpg")
    answer = drawn(site, file, "full")
    assert opened(answer).size == (700, 900)
    assert CAMERA.encode() in content
    assert CAMERA.encode() not in answer.content


def test_previews_when_lost_then_drawn_again(site, drawing, tmp_path):
    file = make_sheet_file(drawing, content=pdf(), name="sheet-7.pdf")
    first = drawn(site, file).content
    for path in (tmp_path / storage.PREVIEWS).rglob("*.jpg"):
        path.unlink()
    assert drawn(site, file).content == first


def test_page_when_it_cannot_be_drawn_then_words_in_its_place_and_the_sheet_is_shown(
    site, drawing, monkeypatch
):
    file = make_sheet_file(drawing, content=pdf(), name="sheet-7.pdf")
    monkeypatch.setattr(sheet_pages, "DRAW_SECONDS", 0.001)
    failed = drawn(site, file)
    assert (failed.status_code, failed["Content-Type"]) == (200, "image/svg+xml")
    assert b"cannot be shown" in failed.content
    for place in (drawing.get_absolute_url(), reverse("sheet_shown", args=[file.pk, 1, "small"])):
        assert "Cannot be shown: it takes longer than 0.001 seconds" in words(site.get(place))


def test_page_when_the_child_dies_then_words_in_its_place(site, drawing, monkeypatch):
    file = make_sheet_file(drawing, content=pdf(), name="sheet-7.pdf")
    monkeypatch.setattr(sheet_pages.sys, "executable", shutil.which("false"))
    assert b"cannot be shown" in drawn(site, file).content


def test_page_when_its_file_was_taken_away_then_words_in_its_place(site, drawing, files):
    file = make_sheet_file(drawing, content=pdf(), name="sheet-7.pdf")
    (files / file.file).unlink()
    assert b"cannot be shown" in site.get(shown(file)).content
    assert site.get(reverse("sheet_original", args=[file.pk])).status_code == 404


def test_child_when_it_wants_more_memory_than_it_may_have_then_refused_and_the_site_goes_on(
    drawing, tmp_path, monkeypatch
):
    pytest.importorskip("resource")
    path = tmp_path / "sheet.pdf"
    path.write_bytes(pdf())
    code = (
        "from buildlog import draw_page, sheet_limits as l; import sys;"
        "draw_page.MEMORY = 300 * 1024**2; draw_page.LONGEST['full'] = 20000; l.MOST_DRAWN = 10**9;"
        f"sys.exit(draw_page.main(['draw', {str(path)!r}, 'pdf', '1', 'full', {str(tmp_path / 'x')!r}]))"
    )
    real_run = sheet_pages.subprocess.run

    def run(command, **options):
        return real_run([command[0], "-c", code], **options)

    monkeypatch.setattr(sheet_pages.subprocess, "run", run)
    with pytest.raises(sheet_pages.SheetError, match="memory"):
        sheet_pages.draw_page(path, "pdf", 1, "full")
    assert not (tmp_path / "x").exists()


def test_child_when_asked_then_it_is_told_no_secret(monkeypatch):
    told = {}

    def run(command, *, env, **_):
        told.update(env)
        raise sheet_pages.subprocess.TimeoutExpired(command, 1)

    monkeypatch.setenv("DATABASE_URL", "postgres://secret")
    monkeypatch.setattr(sheet_pages.subprocess, "run", run)
    with pytest.raises(sheet_pages.SheetError):
        sheet_pages.read_sheet(upload(pdf()))
    assert "PATH" in told
    assert not {name for name in told if "DATABASE" in name or "HORNPLATE" in name}


def test_child_when_run_in_this_process_then_the_same_answers(tmp_path, monkeypatch):
    monkeypatch.setattr(draw_page, "limit", lambda: None)
    path, target = tmp_path / "sheet.pdf", tmp_path / "page.jpg"
    path.write_bytes(pdf(2))
    assert draw_page.look(str(path)) == {"pages": 2, "width": 1191, "height": 842}
    assert draw_page.draw(str(path), "pdf", "2", "small", str(target))["width"] == 400
    with Image.open(target) as drawn_page:
        assert drawn_page.size[0] == 400


# ---- looked at closer ------------------------------------------------------------------------------------


def test_sheet_when_not_drawn_yet_then_the_page_asks_again_and_then_shows_it(site, drawing):
    file = make_sheet_file(drawing, content=pdf(2), name="sheet-7.pdf")
    asks = reverse("sheet_shown", args=[file.pk, 1, "full"])
    page = site.get(file.get_absolute_url())
    assert f'hx-get="{asks}"' in page.content.decode()
    assert "Being drawn" in words(page)
    sheet_previews.drawer.settle()
    assert site.get(asks)["HX-Refresh"] == "true"
    page = site.get(file.get_absolute_url())
    assert "data-viewer" in page.content.decode()
    assert reverse("sheet_page", args=[file.pk, 2]) in links(page)
    assert "hx-get" not in page.content.decode().partition("<main")[2].partition("</main")[0]


def test_sheet_when_it_has_no_such_page_or_size_then_not_found(site, drawing):
    file = make_sheet_file(drawing)
    for place in (reverse("sheet_page", args=[file.pk, 2]), reverse("sheet_page", args=[file.pk, 0]),
                  shown(file, "vast"), reverse("sheet_shown", args=[file.pk, 1, "vast"])):  # fmt: skip
        assert site.get(place).status_code == 404


def test_pins_when_errata_have_spots_then_on_that_page_as_links_and_in_a_list(site, drawing):
    file = make_sheet_file(drawing, content=pdf(2), name="sheet-7.pdf")
    erratum = make_erratum(drawing, page=1, x=0.25, y=0.5, file=file.sha256)
    make_erratum(drawing, where="of the other page", page=2, x=0.5, y=0.5)
    make_erratum(drawing, where="of no spot")
    for page in (1, 2):
        drawn(site, file, "full", page)
    answer = site.get(file.get_absolute_url())
    text = answer.content.decode()
    assert '<svg x="25.000%" y="50.000%"' in text
    assert links(answer).count(erratum.get_absolute_url()) == 2
    assert "E-001: lifting link centres 2.310 should read 2.435" in text
    assert 'text-anchor="middle">1</text>' in text
    assert "of the other page" not in text
    assert "of the other page" in words(site.get(reverse("sheet_page", args=[file.pk, 2])))


def test_spot_when_chosen_without_script_then_sent_on_as_parts_of_the_page(site, drawing):
    file = make_sheet_file(drawing, content=noise((800, 400)), name="scan.jpg")
    place = f"{file.get_absolute_url()}?place=1"
    assert 'type="image"' not in site.get(place).content.decode()
    drawn(site, file, "full")
    new = f"{reverse('erratum_new', args=[drawing.pk])}?file={file.sha256}&page=1"
    assert f'data-place="{new.replace("&", "&amp;")}"' in site.get(place).content.decode()
    answer = site.get(f"{place}&spot.x=200&spot.y=300")
    assert answer["Location"] == f"{new}&x=0.25&y=0.75"
    filled = entries(site.get(answer["Location"]))
    assert (filled["file"], filled["page"], filled["across"], filled["down"]) == (
        file.sha256,
        "1",
        "25",
        "75",
    )


@pytest.mark.parametrize("spot", ["x=801&spot.y=3", "x=nan&spot.y=3", "x=-1&spot.y=3", "x=4"])
def test_spot_when_it_is_none_on_the_page_then_the_page_again(site, drawing, spot):
    file = make_sheet_file(drawing, content=noise((800, 400)), name="scan.jpg")
    drawn(site, file, "full")
    assert site.get(f"{file.get_absolute_url()}?place=1&spot.{spot}").status_code == 200


# ---- the original, the bin -------------------------------------------------------------------------------


@pytest.mark.parametrize(("name", "sent_as"), [("sheet 7\u202e.exe", "application/pdf"), ("a.pdf", None)])
def test_original_when_taken_then_byte_for_byte_under_its_true_kind_and_never_opened_here(
    site, drawing, name, sent_as
):
    content = pdf() if sent_as else picture("PNG")
    file = make_sheet_file(drawing, content=content, name=name)
    answer = site.get(reverse("sheet_original", args=[file.pk]))
    assert b"".join(answer.streaming_content) == content
    assert answer["Content-Type"] == (sent_as or "image/png")
    assert answer["Content-Disposition"].startswith("attachment")
    assert (".pdf" if sent_as else ".png") in answer["Content-Disposition"]
    assert "sandbox" in answer["Content-Security-Policy"]
    assert answer["X-Content-Type-Options"] == "nosniff"


def test_file_when_binned_then_off_the_page_and_back_again(site, drawing):
    file = make_sheet_file(drawing, name="scan.png")
    page = site.post(reverse("sheet_file_bin", args=[file.pk]), follow=True)
    assert file.get_absolute_url() not in links(page)
    assert "1 in the bin" in words(page)
    assert "This file is in the bin" in words(site.get(file.get_absolute_url()))
    page = site.post(reverse("sheet_file_restore", args=[file.pk]), follow=True)
    assert file.get_absolute_url() in links(page)


def test_issue_when_it_has_files_then_told_why_it_is_not_struck_out(site, drawing):
    make_sheet_file(drawing)
    page = site.post(reverse("issue_take_back", args=[drawing.pk]), follow=True)
    assert "Issue B has 1 file. Put what is not of it in the bin first." in words(page)
    assert drawing.issues.count() == 2


def test_files_when_nothing_at_all_is_sent_then_told_at_the_entries(site, drawing):
    answer = site.post(reverse("sheet_file_new", args=[drawing.pk]))
    assert answer.status_code == 422
    assert "Of which issue are they? Choose it." in alerts(answer)
