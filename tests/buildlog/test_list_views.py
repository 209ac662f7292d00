"""Lists brought in through the site: looked at, accepted once, refused whole."""

import io
import re
from datetime import timedelta

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from buildlog import clock
from buildlog.actions import take_in_list
from buildlog.models import Assembly, HistoryLine, ListDraft, Part, PartUse
from tests.cast import Cast, check_act, check_page, make_cast
from tests.factories import make_assembly, make_part

pytestmark = pytest.mark.django_db

LIST = "Number,Name,Assembly,Quantity,Leading size\nS-016,Final-drive wheel 84 T,Shafts,1,14.333 in OD\n"


@pytest.fixture
def cast() -> Cast:
    return make_cast()


def upload(cast: Cast, content: str | bytes = LIST, name: str = "parts.csv", who: str = "owner"):
    data = content.encode() if isinstance(content, str) else content
    return cast.client(who).post(
        reverse("list_in", args=[cast.build.pk]), {"file": SimpleUploadedFile(name, data)}
    )


def uploaded(cast: Cast, content: str | bytes = LIST, name: str = "parts.csv") -> str:
    """The address of the preview of a list that could be read."""
    answer = upload(cast, content, name)
    assert answer.status_code == 302, answer.content.decode()
    return answer["Location"]


def shown(page: str) -> str:
    found = re.search(r'name="shown" value="([0-9a-f]{64})"', page)
    assert found, "there is nothing to accept on the page"
    return found[1]


def accept(client: Client, address: str):
    return client.post(address, {"shown": shown(client.get(address).content.decode())}, follow=True)


def nothing_written() -> bool:
    return not any(model.objects.exists() for model in (Part, PartUse, Assembly, HistoryLine))


def test_pages_when_asked_for_then_members_only(cast):
    draft = uploaded(cast)
    for name in ("list_in", "list_csv", "list_xlsx", "list_pdf"):
        check_page(cast, reverse(name, args=[cast.build.pk]))
    check_page(cast, draft)
    check_act(cast, draft, {"shown": "x"})
    check_act(cast, reverse("list_in", args=[cast.build.pk]), {})


def test_draft_when_asked_for_under_another_build_then_not_found(cast):
    draft = uploaded(cast)
    other = cast.stranger.builds.get()
    address = reverse("list_draft", args=[other.pk, int(draft.rstrip("/").split("/")[-1])])
    assert cast.client("stranger").get(address).status_code == 404


def test_list_when_read_then_shown_and_nothing_written(cast):
    page = cast.client("owner").get(uploaded(cast)).content.decode()
    for words in (
        "parts.csv", "Read as UTF-8, separated by commas, 1 row", "Final-drive wheel 84 T", "SH Shafts",
        "14.333 in OD read as 14.333 in = 364.0582 mm", "Columns not in the list",
    ):  # fmt: skip
        assert words in page or words in page.replace("&quot;", '"'), words
    assert nothing_written()


def test_list_when_accepted_then_written_and_told(cast):
    client = cast.client("owner")
    answer = accept(client, uploaded(cast))
    part = Part.objects.get()
    assert (part.key, part.needed, part.uses.get().assembly.name) == ("S-016", 1, "Shafts")
    assert "parts.csv is taken in: 1 part record made, 1 assembly made." in answer.content.decode()
    line = part.history.get()
    assert (line.text, line.by) == ("Added by the list parts.csv", cast.owner)


def test_list_when_accepted_twice_then_written_once(cast):
    client = cast.client("owner")
    address = uploaded(cast)
    token = shown(client.get(address).content.decode())
    for _ in range(2):
        answer = client.post(address, {"shown": token}, follow=True)
    assert "nothing was done twice" in answer.content.decode()
    assert (Part.objects.count(), HistoryLine.objects.count(), PartUse.objects.count()) == (1, 1, 1)
    assert client.get(address).status_code == 302


def test_list_when_a_row_is_wrong_then_no_row_is_written(cast):
    client = cast.client("owner")
    address = uploaded(cast, LIST + "S-017,Pin,Shafts,1,16-Mar\n")
    page = client.get(address).content.decode()
    assert 'name="shown"' not in page
    assert "a spreadsheet has made a date of 3/16" in page
    answer = client.post(address, {"shown": take_in_list.compare(cast.build, _read(address)).digest})
    assert answer.status_code == 422
    assert nothing_written()


def _read(address: str):
    return take_in_list.list_in(ListDraft.objects.get(pk=int(address.rstrip("/").split("/")[-1])))


def test_list_when_the_build_changed_meanwhile_then_shown_again_and_not_written(cast):
    client = cast.client("owner")
    address = uploaded(cast)
    token = shown(client.get(address).content.decode())
    make_part(cast.build, number="S-016", name="Something else")
    answer = client.post(address, {"shown": token})
    page = answer.content.decode()
    assert answer.status_code == 409
    assert "The build has changed since you looked" in page
    assert Part.objects.get().name == "Something else"
    assert client.post(address, {"shown": shown(page)}).status_code == 302
    assert Part.objects.get().name == "Final-drive wheel 84 T"


def test_list_when_accepted_without_having_been_shown_then_not_written(cast):
    assert cast.client("owner").post(uploaded(cast)).status_code == 409
    assert nothing_written()


def test_list_when_writing_fails_halfway_then_nothing_is_written(cast, monkeypatch):
    client = cast.client("owner")
    address = uploaded(cast)
    token = shown(client.get(address).content.decode())

    def fail(*_):
        raise RuntimeError("the disk is full")

    monkeypatch.setattr(take_in_list, "_write_uses", fail)
    with pytest.raises(RuntimeError, match="the disk is full"):
        client.post(address, {"shown": token})
    assert nothing_written()
    assert ListDraft.objects.get().accepted_at is None


def test_list_when_it_says_what_the_build_says_then_nothing_to_accept(cast):
    client = cast.client("owner")
    accept(client, uploaded(cast))
    page = client.get(uploaded(cast)).content.decode()
    assert "The list says what the build says" in page
    assert 'name="shown"' not in page


def test_list_when_a_need_rises_then_the_part_is_back_in_hand(cast):
    spokes = make_part(
        assembly=make_assembly(cast.build, code="FW"), number="FW-004", quantity=24, good=24, stage="machined"
    )
    client = cast.client("owner")
    accept(client, uploaded(cast, "Number,Assembly,Quantity\nFW-004,FW,28\n"))
    spokes.refresh_from_db()
    assert spokes.stage == "in hand"
    assert "back in hand" in spokes.history.first().text


@pytest.mark.parametrize(
    ("name", "content", "said"),
    [
        ("a.csv", b"", "is empty"),
        ("a.csv", b"MZ\x90\x00\x03\x00\x00", "a program"),
        ("a.xlsx", b"PK\x03\x04", "cut short"),
        ("a.csv", b"Number,Name\n" + b"S-1,Part\n" * 5001, "more than 5,000 rows"),
        ("a.csv", b"Colour\nred\n", "No column is headed number"),
        ("a.ods", b"PK", "an ODS spreadsheet"),
        ("<b>.csv", b"Colour\nred\n", "&lt;b&gt;.csv"),
    ],
)
def test_file_when_no_list_then_told_on_the_page_and_nothing_stored(cast, name, content, said):
    answer = upload(cast, content, name)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert said in page
    assert "Nothing has been brought in" in page
    assert 'type="file"' in page
    assert "Marlpit" in page
    assert not ListDraft.objects.exists()


def test_file_when_none_is_chosen_then_told(cast):
    answer = cast.client("owner").post(reverse("list_in", args=[cast.build.pk]))
    assert "No file is chosen yet" in answer.content.decode()


def test_text_when_it_holds_markup_then_shown_as_text(cast):
    page = (
        cast.client("owner")
        .get(uploaded(cast, "Number,Name\nS-1,<script>alert(1)</script>\n"))
        .content.decode()
    )
    assert "&lt;script&gt;alert(1)" in page
    assert "<script>alert" not in page


def test_rows_when_asked_for_by_state_then_only_those(cast):
    address = uploaded(cast, LIST + "S-017,,Shafts,1,\n")
    client = cast.client("owner")
    first = client.get(address).content.decode()
    assert "S-017" in first
    assert "S-016" not in first
    assert "S-016" in client.get(f"{address}?show=new").content.decode()
    assert "S-016" in client.get(f"{address}?show=all").content.decode()
    assert client.get(f"{address}?show=nonsense&page=99").status_code == 200


def test_preview_when_ten_times_as_many_rows_then_as_many_queries(cast):
    def cost(rows: int) -> int:
        address = uploaded(
            cast, "Number,Name,Assembly\n" + "".join(f"S-{n},Part,A{n % 9}\n" for n in range(rows))
        )
        client = cast.client("owner")
        with CaptureQueriesContext(connection) as queries:
            assert client.get(address).status_code == 200
        return len(queries)

    assert cost(420) == cost(42) <= 15


def test_drafts_when_a_week_old_then_gone_at_the_next_upload(cast):
    uploaded(cast)
    ListDraft.objects.update(created_at=clock.now() - timedelta(days=8))
    uploaded(cast)
    assert ListDraft.objects.count() == 1


def test_files_when_taken_out_then_named_after_the_build_and_kept_by_no_cache(cast, stopped_clock):
    for name, kind in (("list_csv", "text/csv; charset=utf-8"), ("list_pdf", "application/pdf")):
        answer = cast.client("builder").get(reverse(name, args=[cast.build.pk]))
        assert answer["Content-Type"] == kind
        assert "Marlpit parts 2026-03-14" in answer["Content-Disposition"]
        assert answer["Cache-Control"] == "private, no-store"


def test_file_name_when_the_build_is_named_oddly_then_the_header_is_safe(cast):
    cast.build.name = 'Łódź "4\r\nX-Evil: 1'
    cast.build.save()
    header = cast.client("owner").get(reverse("list_csv", args=[cast.build.pk]))["Content-Disposition"]
    assert header.startswith("attachment; filename*=utf-8''")
    assert "\r" not in header
    assert '"' not in header


def test_sample_when_taken_then_it_can_be_brought_in(cast):
    content = cast.client("owner").get(reverse("list_sample")).content
    client = cast.client("owner")
    accept(client, uploaded(cast, content))
    assert Part.objects.count() == 5
    assert Part.objects.get(number="ST-012").needed == 14


def test_workbook_when_uploaded_then_read(cast):
    client = cast.client("owner")
    accept(client, uploaded(cast))
    content = client.get(reverse("list_xlsx", args=[cast.build.pk])).content
    page = client.get(uploaded(cast, io.BytesIO(content).read(), "parts.xlsx")).content.decode()
    assert "The list says what the build says" in page


def test_list_when_the_same_number_is_written_in_the_same_moment_then_shown_again(cast, monkeypatch):
    client = cast.client("owner")
    address = uploaded(cast)
    token = shown(client.get(address).content.decode())

    def too_late(preview, **_):
        make_part(cast.build, number="S-016")
        make_part(cast.build, number="S-016")

    monkeypatch.setattr(take_in_list, "write_list", too_late)
    answer = client.post(address, {"shown": token})
    assert answer.status_code == 409
    assert nothing_written()
