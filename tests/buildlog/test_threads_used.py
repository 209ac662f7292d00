"""The threads of a build: what looks alike, where each is, what words name, a change of many and its undoing.

The 38 places and the words of the warning are those the register was asked for with.
"""

from datetime import UTC, datetime, timedelta
from uuid import uuid4

import pytest
from django.urls import reverse

from buildlog import clock
from buildlog.actions import thread_changes, threads_used
from buildlog.actions.demo import load_demo, remove_demo
from buildlog.actions.parts import bin_part
from buildlog.backup.database import NOUNS
from buildlog.models import Change, HistoryLine, PartUse, ThreadUse
from buildlog.threads_used import digest_of, places_of, threads_of
from calc.threads_named import named, near_among
from tests.factories import make_assembly, make_build, make_part, make_thread, make_user
from tests.pages import alerts, entries, fill_in, left_as_it_comes, line_of, links, words

pytestmark = pytest.mark.django_db

NOW = datetime(2025, 11, 14, 19, 30, tzinfo=UTC)
BOTH = "are both on this engine: near fits, not interchangeable"
PLACES = 38


@pytest.fixture(autouse=True)
def evening():
    """It is the evening of 14 November 2025."""
    with clock.stopped_at(NOW):
        yield


@pytest.fixture
def tender(build):
    """A tender with a water lifter hanging on it: 38 places of M6 on 19 parts, three on the lifter."""
    tender = make_assembly(build, code="T", name="Tender", balloon="9")
    lifter = make_assembly(build, code="WLT", name="Water lifter", parent=tender)
    for place in range(PLACES // 2):
        part = make_part(
            number=f"T-{place:03}",
            name="Bolt M6, hexagon" if place == 0 else "Side plate",
            assembly=lifter if place > 15 else tender,
            notes="tap M6 through" if place == 1 else "",
        )
        make_thread(part, "M6", where="floor angle", count=4, side="inside")
        make_thread(part, "M6 x 1", where="corner", count=2)
    return tender


@pytest.fixture
def gland(build):
    """A cylinder gland with studs of 1/4 BSF, elsewhere on the engine."""
    part = make_part(number="C-014", name="Gland stud", assembly=make_assembly(build, code="CY"))
    return make_thread(part, "1/4 BSF", where="gland studs", count=2, side="outside").part


def history(part):
    return list(part.history.values_list("text", flat=True))


def bulk(build):
    return reverse("thread_bulk", args=[build.pk])


def preview(site, build, assembly=None, to="1/4 BSF", thread="M6x1"):
    return site.get(bulk(build), {"thread": thread, "to": to, "assembly": assembly.pk if assembly else ""})


def ticks(build, assembly):
    return [str(place.use.pk) for place in places_of(build, "M6x1", assembly) if place.is_ticked]


def sent(answer, ticked):
    """What the browser sends from a preview: its hidden entries and the ticks."""
    hidden = {name: entries(answer)[name] for name in ("token", "shown", "thread", "to", "assembly")}
    return hidden | {"use": ticked}


def change(site, build, assembly):
    answer = preview(site, build, assembly)
    return site.post(bulk(build), sent(answer, ticks(build, assembly)), follow=True)


def undo(site, **more):
    return site.post(reverse("change_undo", args=[Change.objects.last().pk]), more, follow=True)


# ---- on the page of a part ---------------------------------------------------------------------------------


def test_thread_when_written_down_then_by_its_name_and_as_typed(site, gland):
    new = reverse("thread_new", args=[gland.pk])
    fill_in(site, new, as_typed="M6", where="gland  nuts", count="3", side="inside")
    use = gland.thread_uses.latest("pk")
    assert (use.thread, use.as_typed, use.where, use.count) == ("M6x1", "M6", "gland nuts", 3)
    assert history(gland)[0] == "Thread: 3 of M6 × 1, inside, gland nuts"
    line = line_of(site.get(gland.get_absolute_url()), "inside, as a nut")
    assert line == "3 × M6 × 1 gland nuts inside, as a nut change"


@pytest.mark.parametrize(
    ("typed", "field", "told"),
    [
        ({"as_typed": "1/4"}, "as_typed", "1/4 BSW, 1/4 BSF"),
        ({"as_typed": "1/4x20 BSF"}, "as_typed", "26 threads to the inch"),
        ({"as_typed": "1/4 ME"}, "as_typed", "1/4x40 ME"),
        ({"as_typed": "1/4 NPT"}, "as_typed", "no table of it here"),
        ({"as_typed": "about six"}, "as_typed", "Write it with its series"),
        ({"as_typed": ""}, "as_typed", "required"),
        ({"count": "0"}, "count", "greater than or equal to 1"),
        ({"count": "some"}, "count", "whole number"),
        ({"count": "10000"}, "count", "less than or equal to 9999"),
        ({"where": "x" * 61}, "where", "60"),
        ({"as_typed": "0.25 BSF", "where": "Gland Studs", "side": "outside"}, "where", "on its list already"),
    ],
)
def test_thread_when_an_entry_is_wrong_then_told_and_nothing_is_lost(site, gland, typed, field, told):
    typed = {"as_typed": "2 BA", "where": "foot", "count": "4", "side": ""} | typed
    answer = fill_in(site, reverse("thread_new", args=[gland.pk]), **typed)
    assert answer.status_code == 422
    assert told in alerts(answer)
    assert {name: entries(answer)[name] for name in typed} == typed
    assert ThreadUse.objects.count() == 1


def test_thread_when_sent_twice_then_one(site, gland):
    new = reverse("thread_new", args=[gland.pk])
    once = left_as_it_comes(site, new) | {"as_typed": "2 BA", "where": "foot"}
    assert site.post(new, once).status_code == site.post(new, once).status_code == 302
    assert gland.thread_uses.filter(thread="2 BA").count() == 1
    assert len([line for line in history(gland) if "2 BA" in line]) == 1


def test_thread_when_its_token_is_of_another_part_then_refused(gland, build):
    other = make_thread(make_part(build), "2 BA", token=uuid4())
    with pytest.raises(PermissionError):
        threads_used.add_thread(ThreadUse(part=gland, thread="2 BA"), token=other.token, by=None)


def test_thread_when_mended_or_taken_off_then_history_says_both(site, gland):
    use = gland.thread_uses.get()
    fill_in(site, use.get_absolute_url(), as_typed="5/16 BSF")
    use.refresh_from_db()
    assert use.thread == "5/16 BSF"
    said = "2 of {}, outside, gland studs"
    assert history(gland)[0] == f"Thread: {said.format('1/4 BSF')} changed to {said.format('5/16 BSF')}"
    site.post(reverse("thread_remove", args=[use.pk]))
    assert history(gland)[0] == f"Thread taken off: {said.format('5/16 BSF')}"
    assert not gland.thread_uses.exists()


# ---- the whole build ---------------------------------------------------------------------------------------


def test_build_when_quarter_bsf_and_m6_are_on_it_then_both_are_warned_of_everywhere(
    site, build, tender, gland
):
    page = site.get(reverse("thread_list", args=[build.pk]))
    assert f"M6 × 1 and 1/4 BSF {BOTH}" in line_of(page, "6 mm")
    assert f"1/4 BSF and M6 × 1 {BOTH}" in line_of(page, "0.2500 in")
    on_tender = build.parts.get(number="T-005")
    assert f"M6 × 1 and 1/4 BSF {BOTH}" in words(site.get(on_tender.get_absolute_url()))
    assert f"1/4 BSF and M6 × 1 {BOTH}" in words(site.get(gland.get_absolute_url()))


def test_build_when_one_of_the_pair_is_on_another_engine_then_no_warning(site, cast, build, gland):
    other = make_part(make_build(cast.owner, name="Second engine"))
    make_thread(other, "M6")
    make_thread(make_part(build, binned_at=NOW), "M6")
    page = site.get(reverse("thread_list", args=[build.pk]))
    for answer in (page, site.get(gland.get_absolute_url()), site.get(other.get_absolute_url())):
        assert "near fits" not in words(answer)


def test_build_when_a_thread_is_listed_then_counted_and_each_place_leads_to_its_part(
    site, build, tender, gland
):
    gland.uses.update(quantity=6)
    found = {used.known.name: used for used in threads_of(build)}
    metric, bsf = found["M6x1"], found["1/4 BSF"]
    # 19 parts with 4 and 2 each; six parts with two studs.
    assert (len(metric.uses), metric.parts, metric.pieces) == (PLACES, 19, 19 * 6)
    assert (len(bsf.uses), bsf.parts, bsf.pieces) == (1, 1, 12)
    assert [assembly.code for assembly, _ in metric.by_assembly] == ["T", "WLT"]
    page = site.get(reverse("thread_list", args=[build.pk]))
    line = line_of(page, "6 mm")
    assert "5 mm, leaves 92.4 % read in a table 6.4 mm from memory 10 mm from memory" in line
    assert "38 places, 19 parts" in line
    assert f"{gland.get_absolute_url()}#threads" in links(page)
    assert f"{reverse('calculate', args=['thread'])}?thread=1/4%20BSF" in links(page)


def test_build_when_it_has_no_threads_then_says_how_to_begin(site, build):
    assert "None is written down yet" in words(site.get(reverse("thread_list", args=[build.pk])))


# ---- found in words ----------------------------------------------------------------------------------------


@pytest.fixture
def worded(build):
    """Twelve parts whose words name a thread, one that names two, and one that can be read in two ways."""
    for place in range(12):
        make_part(build, number=f"BT-{place:03}", name="Nut 1/4 BSF" if place % 2 else "Stud 1/4 BSF")
    make_part(build, number="BT-012", name="Gland nut 1/4 ME")
    return reverse("thread_words", args=[build.pk])


def test_words_when_nothing_says_their_threads_then_offered_and_taken_over_as_ticked(site, build, worded):
    page = site.get(reverse("thread_list", args=[build.pk]))
    assert "Found in the words of 13 parts: take over" in words(page)
    page = site.get(worded)
    assert "its name" in line_of(page, "BT-000")
    assert "wants its threads to the inch" in line_of(page, "BT-012")
    picks = [f"{build.parts.get(number=number).pk}:1/4 BSF" for number in ("BT-000", "BT-001", "BT-002")]
    token = entries(page)["token"]
    for _ in range(2):
        site.post(worded, {"token": token, "pick": picks})
    found = ThreadUse.objects.order_by("pk").values_list("part__number", "as_typed", "side", "count")
    assert list(found) == [
        ("BT-000", "1/4 BSF", "outside", 1),
        ("BT-001", "1/4 BSF", "inside", 1),
        ("BT-002", "1/4 BSF", "outside", 1),
    ]
    stud = build.parts.get(number="BT-000")
    assert history(stud) == ["Thread: 1/4 BSF, outside; taken over from its words"]
    assert "BT-000" not in words(site.get(worded))


def test_words_when_one_was_mended_since_then_a_second_press_adds_no_other(site, build, worded):
    token, part = uuid4(), build.parts.get(number="BT-000")
    picks = [f"{part.pk}:1/4 BSF"]
    threads_used.take_over(build, picks, token=token, by=None)
    part.thread_uses.update(thread="5/16 BSF")
    assert threads_used.take_over(build, picks, token=token, by=None) == []
    assert part.thread_uses.get().thread == "5/16 BSF"


def test_words_when_the_part_says_another_thread_then_offered_unticked_with_the_doubt(site, build, worded):
    make_thread(build.parts.get(number="BT-000"), "5/16 BSF")
    page = site.get(worded)
    assert "do the words want mending?" in line_of(page, "BT-000")
    ticked = page.content.decode().count(" checked>")
    assert ticked == 11


@pytest.mark.parametrize("typed", [{}, {"token": "none", "pick": "1:1/4 BSF"}])
def test_words_when_nothing_is_ticked_or_the_page_is_no_page_of_ours_then_nothing_is_written(
    site, worded, typed
):
    said = {"token": str(uuid4())} | typed
    assert site.post(worded, said).status_code == 422
    assert not ThreadUse.objects.exists()


# ---- a change of many, and its undoing ---------------------------------------------------------------------


def test_preview_when_all_m6_in_tender_are_to_change_then_it_lists_38_places_and_writes_nothing(
    site, build, tender, gland
):
    make_thread(make_part(number="H-001", assembly=make_assembly(build, code="H")), "M6")
    answer = preview(site, build, tender)
    assert "38 places on 19 parts in T Tender" in words(answer)
    assert answer.content.decode().count('name="use"') == PLACES
    assert "its name" in line_of(answer, "T-000")
    assert "notes: tap M6 through" in line_of(answer, "T-001")
    assert "H-001" not in words(answer)
    assert "near fits, not interchangeable" in words(answer)
    assert ThreadUse.objects.filter(thread="M6x1").count() == PLACES + 1
    assert not Change.objects.exists()
    assert "39 places on 20 parts in the whole build" in words(preview(site, build))


def test_change_when_wrong_then_38_threads_are_put_back_in_one_step_and_the_log_shows_both(
    site, cast, build, tender, gland
):
    before = list(ThreadUse.objects.order_by("pk").values_list("pk", "thread", "as_typed", "where"))
    answer = change(site, build, tender)
    assert "38 places changed: M6 × 1 to 1/4 BSF in T Tender." in words(answer)
    assert ThreadUse.objects.filter(thread="1/4 BSF").count() == PLACES + 1
    with clock.stopped_at(NOW + timedelta(days=1)):
        answer = undo(site)
    assert "Undone: M6 × 1 to 1/4 BSF in T Tender." in words(answer)
    assert list(ThreadUse.objects.order_by("pk").values_list("pk", "thread", "as_typed", "where")) == before
    for place in ("thread_list", "change_list"):
        page = words(site.get(reverse(place, args=[build.pk])))
        undone, done = (page.index(f"{said}M6 × 1 to 1/4 BSF in T Tender") for said in ("Undone: ", " "))
        assert undone < done, place
        assert "14 Nov 2025" in page, place
        assert "undone on 15 Nov 2025" in page or "undone 15 Nov 2025 by owner" in page, place
    for part in build.parts.filter(number__startswith="T-"):
        undone, done = history(part)
        assert done == ("Thread: M6 × 1 changed to 1/4 BSF (floor angle, corner), with 38 in T Tender")
        assert undone == "Undone: M6 × 1 to 1/4 BSF in T Tender"
    assert history(gland) == []
    assert set(HistoryLine.objects.values_list("by__username", flat=True)) == {"owner"}


def test_change_when_pressed_twice_then_one_and_so_is_its_undoing(site, build, tender):
    said = sent(preview(site, build, tender), ticks(build, tender))
    first, second = site.post(bulk(build), said), site.post(bulk(build), said)
    assert first["Location"] == second["Location"] == Change.objects.get().get_absolute_url()
    lines = HistoryLine.objects.count()
    undo(site)
    change_again = site.post(bulk(build), said)
    assert change_again.status_code == 302
    assert ThreadUse.objects.filter(thread="M6x1").count() == PLACES
    undo(site)
    assert HistoryLine.objects.count() == 2 * lines
    assert [one.rows.count() for one in Change.objects.all()] == [PLACES, PLACES]


def test_change_when_some_are_not_ticked_then_they_stay(site, build, tender):
    kept = ticks(build, tender)[:5]
    site.post(bulk(build), sent(preview(site, build, tender), ticks(build, tender)[5:]))
    left = ThreadUse.objects.filter(thread="M6x1").values_list("pk", flat=True)
    assert sorted(left) == sorted(int(pk) for pk in kept)


def test_change_when_nothing_is_ticked_then_told_and_nothing_moves(site, build, tender):
    answer = site.post(bulk(build), sent(preview(site, build, tender), []))
    assert answer.status_code == 422
    assert "No place is ticked" in alerts(answer)
    assert not Change.objects.exists()


@pytest.mark.parametrize("moved", ["added", "mended", "taken off", "moved away"])
def test_change_when_the_places_moved_in_another_tab_then_refused_and_shown_again(site, build, tender, moved):
    answer = preview(site, build, tender)
    ticked = ticks(build, tender)
    spared = ticked.pop()
    use = ThreadUse.objects.filter(thread="M6x1").first()
    if moved == "added":
        make_thread(use.part, "M6", where="late one")
    elif moved == "mended":
        ThreadUse.objects.filter(pk=use.pk).update(where="another place")
    elif moved == "taken off":
        use.delete()
    else:
        PartUse.objects.filter(part=use.part).update(assembly=make_assembly(build))
    again = site.post(bulk(build), sent(answer, ticked) | {"seen": [*ticked, spared]})
    assert again.status_code == 422
    assert "The places have changed since you looked" in alerts(again)
    assert not Change.objects.exists()
    assert not ThreadUse.objects.filter(thread="1/4 BSF").exists()
    assert f'value="{spared}">' in again.content.decode()
    if moved == "added":
        assert "late one" in words(again)
    fresh = sent(again, ticked)
    assert site.post(bulk(build), fresh).status_code == 302
    assert Change.objects.get().rows.count() in (PLACES - 1, PLACES - 2, PLACES - 3)


def test_preview_when_a_part_is_used_outside_the_assembly_too_then_unticked_with_where(site, build, tender):
    part = build.parts.get(number="T-003")
    PartUse.objects.create(part=part, assembly=make_assembly(build, code="H", name="Hornplates"))
    line = line_of(preview(site, build, tender), "T-003")
    assert "changed there too: Hornplates" in line
    assert len(ticks(build, tender)) == PLACES - 2


def test_preview_when_a_part_is_made_then_says_that_what_is_cut_stays(site, build, tender):
    build.parts.filter(number="T-003").update(stage="machined")
    assert "what is cut stays as it is" in line_of(preview(site, build, tender), "T-003")
    assert "what is cut" not in line_of(preview(site, build, tender), "T-004")


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ({"to": "M6 x 1.0"}, "It is M6 × 1 already"),
        ({"to": "1/4"}, "1/4 BSW, 1/4 BSF"),
        ({"to": ""}, "required"),
        ({"thread": "5 BA"}, "No part of this build has that thread"),
        ({"assembly": "none"}, "no assembly of this build"),
    ],
)
def test_preview_when_an_entry_is_wrong_then_told_and_kept(site, build, tender, typed, told):
    said = {"thread": "M6x1", "to": "1/4 BSF", "assembly": str(tender.pk)} | typed
    answer = site.get(bulk(build), said)
    assert answer.status_code == 422
    assert told in alerts(answer)
    assert entries(answer)["to"] == said["to"]


def test_preview_when_the_assembly_is_of_another_build_then_refused(site, cast, build, tender):
    other = make_assembly(make_build(cast.owner, name="Second engine"))
    answer = preview(site, build, other)
    assert "no assembly of this build" in alerts(answer)


def test_undo_when_two_were_changed_since_then_told_by_name_and_the_others_go_only_when_confirmed(
    site, build, tender
):
    change(site, build, tender)
    first, last = ThreadUse.objects.order_by("pk").first(), ThreadUse.objects.order_by("pk").last()
    ThreadUse.objects.filter(pk=first.pk).update(thread="2 BA", as_typed="2 BA")
    last.delete()
    answer = undo(site)
    said = words(answer)
    assert "It was not the last change" in said
    assert "has another thread by now" in line_of(answer, "T-000")
    assert "is gone" in said
    assert ThreadUse.objects.filter(thread="M6x1").count() == 0
    assert "Undo it for the other 36" in said
    answer = undo(site, rest="1")
    assert "Undone: M6 × 1 to 1/4 BSF in T Tender." in words(answer)
    assert ThreadUse.objects.filter(thread="M6x1").count() == 36
    assert ThreadUse.objects.get(pk=first.pk).thread == "2 BA"


def test_undo_when_every_place_was_changed_since_then_refused(site, build, tender):
    change(site, build, tender)
    ThreadUse.objects.update(thread="2 BA")
    page = words(undo(site, rest="1"))
    assert "38 of 38 are no longer as this change left them" in page
    assert "Undo it for the other" not in page
    assert Change.objects.get().undone_at is None


def test_change_when_its_token_is_of_another_build_then_refused(cast, build, tender):
    token, other = uuid4(), make_build(cast.owner, name="Second engine")
    make_thread(make_part(other), "M6")
    asked = thread_changes.Asked(thread="M6x1", assembly=None, to=named("1/4 BSF"), to_typed="1/4 BSF")
    for place, refused in ((build, False), (other, True)):
        places = places_of(place, "M6x1", None)
        said = {"shown_then": digest_of(places), "token": token, "by": None}
        ticked = {one.use.pk for one in places}
        if refused:
            with pytest.raises(PermissionError):
                thread_changes.change_threads(place, asked, ticked, **said)
        else:
            thread_changes.change_threads(place, asked, ticked, **said)
    assert other.parts.get().thread_uses.get().thread == "M6x1"


def test_change_when_it_breaks_half_way_then_nothing_is_written(site, build, tender, monkeypatch):
    def broken(*_args, **_kwargs):
        raise RuntimeError("the lamp went out")

    monkeypatch.setattr(thread_changes, "note_history_of", broken)
    said = sent(preview(site, build, tender), ticks(build, tender))
    with pytest.raises(RuntimeError):
        site.post(bulk(build), said)
    assert ThreadUse.objects.filter(thread="M6x1").count() == PLACES
    assert not Change.objects.exists()


def test_part_in_the_bin_then_its_threads_are_no_places(site, cast, build, tender):
    bin_part(build.parts.get(number="T-003"), by=cast.owner)
    assert "36 places on 18 parts" in words(preview(site, build, tender))


# ---- the demo, and the backup ------------------------------------------------------------------------------


def test_demo_when_loaded_then_the_tender_has_38_places_of_m6_and_bolts_of_quarter_bsf(cast):
    load_demo(cast.owner)
    build = cast.owner.builds.get(is_demo=True)
    tender = build.assemblies.get(code="T")
    assert len(places_of(build, "M6x1", tender)) == PLACES
    near = near_among(used.known.name for used in threads_of(build))
    assert "M6x1" in {one.name for one in near["1/4 BSF"]}
    remove_demo(build)
    assert not ThreadUse.objects.exists()


def test_backup_when_it_counts_then_threads_too():
    assert NOUNS["threads used"] == ThreadUse._meta.db_table


def test_change_when_a_stranger_asks_then_not_found(cast, build, tender):
    change(cast.client("owner"), build, tender)
    made = Change.objects.get()
    stranger = cast.client("stranger")
    assert stranger.get(made.get_absolute_url()).status_code == 404
    assert stranger.post(reverse("change_undo", args=[made.pk])).status_code == 404
    assert ThreadUse.objects.filter(thread="1/4 BSF").count() == PLACES
    assert make_user().builds.count() == 0
