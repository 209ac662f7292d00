"""What was changed is written down row by row, and the last change is undone in one step.

The rules are the project's own; what must hold is that nothing vanishes and that undoing puts back exactly
what stood, which is checked against every column of every table of the build.
"""

from datetime import timedelta

import pytest
from django.core import serializers
from django.urls import reverse

from buildlog import clock
from buildlog.actions.castings import Needs, set_needs
from buildlog.actions.made import strike_reading
from buildlog.actions.parts import bin_part, change_quantity, restore_part, save_part
from buildlog.actions.stages import record_count, set_stage
from buildlog.actions.undo import UndoRefusedError, undo
from buildlog.changes import recording, row_of
from buildlog.models import (
    Assembly,
    Casting,
    Change,
    DividingHead,
    Drawing,
    HistoryLine,
    Part,
    PartUse,
    Photo,
    Reading,
    SheetIssue,
    Stage,
)
from tests.factories import (
    make_assembly,
    make_casting,
    make_characteristic,
    make_drawing,
    make_head,
    make_log_entry,
    make_part,
    make_photo,
    make_reading,
)
from tests.pages import fill_in, words

pytestmark = pytest.mark.django_db

WATCHED = (Part, PartUse, Assembly, Casting, Drawing, SheetIssue, Photo, Reading, DividingHead)


def everything() -> str:
    """Every column of the tables that a builder changes."""
    return "\n".join(serializers.serialize("json", model.objects.order_by("pk")) for model in WATCHED)


@pytest.fixture
def build(cast):
    return cast.build


@pytest.fixture
def site(cast):
    return cast.client("owner")


@pytest.fixture
def part(build):
    return make_part(build, number="S-016", assembly=make_assembly(build, code="S"), quantity=2, sheet="12 A")


def save_again(part, by):
    part = Part.objects.get(pk=part.pk)
    part.sheet, part.material = "12 B", "cast iron"
    save_part(part, {part.uses.get().assembly: 5}, by=by)


DONE = {
    "changed": save_again,
    "counted": lambda part, by: record_count(part, good=1, scrap=1, by=by, call_machined=True, token=None),
    "staged": lambda part, by: set_stage(part, Stage.MACHINED, by=by, count_rest=True),
    "binned": lambda part, by: bin_part(part, by=by),
    "quantity": lambda part, by: change_quantity(part.uses.get(), 7, by=by),
    "added": lambda part, by: save_part(
        Part(build=part.build, number="S-099", name="Stud", casting_number="K-099"),
        {part.uses.get().assembly: 4},
        by=by,
    ),
}


@pytest.mark.parametrize("what", DONE)
def test_change_when_undone_then_every_row_is_as_it_stood_and_undone_again_as_it_was_made(cast, part, what):
    stood = everything()
    DONE[what](part, cast.owner)
    made = everything()
    assert made != stood
    change = Change.objects.get()
    assert (change.by, change.build) == (cast.owner, cast.build)
    undoing = undo(change, by=cast.builder)
    assert everything() == stood
    undo(undoing, by=cast.owner)
    assert everything() == made
    assert [one.words for one in Change.objects.all()] == [
        change.words,
        f"Undone: {change.words}",
        change.words,
    ]


def test_part_when_changed_then_told_who_when_and_what_each_entry_said(site, cast, part):
    save_again(part, cast.owner)
    page = words(site.get(reverse("change_list", args=[cast.build.pk])))
    assert "S-016 changed" in page
    assert "made of nothing to cast iron" in page
    assert "sheet 12 A to 12 B" in page
    assert "quantity 2 to 5" in page
    assert "by owner" in page


def test_action_within_another_then_one_change_undone_in_one_step(cast, part):
    """A need that rises sets a made part back: one change, not two."""
    record_count(part, good=2, scrap=0, by=cast.owner, call_machined=True, token=None)
    stood = everything()
    change_quantity(part.uses.get(), 3, by=cast.owner)
    part.refresh_from_db()
    assert part.stage_mark is Stage.IN_HAND
    undo(Change.objects.first(), by=cast.owner)
    assert everything() == stood


def test_change_when_it_alters_nothing_then_no_trace(cast, part):
    with recording(cast.build, "nothing", by=cast.owner) as change:
        change.watch(row_of(part))
        part.save()
    assert not Change.objects.exists()


def test_change_when_it_fails_then_nothing_of_it_is_kept(cast, part):
    stood = everything()
    with pytest.raises(ZeroDivisionError), recording(cast.build, "half", by=cast.owner) as change:  # noqa: PT012
        change.watch(row_of(part))
        Part.objects.filter(pk=part.pk).update(name="Half")
        raise ZeroDivisionError
    assert everything() == stood
    assert not Change.objects.exists()
    save_again(part, cast.owner)
    assert Change.objects.count() == 1


# ---- refused ---------------------------------------------------------------------------------------------


def test_change_when_the_row_was_changed_since_then_refused_by_name_and_nothing_is_touched(site, cast, part):
    save_again(part, cast.owner)
    first = Change.objects.get()
    other = Part.objects.get(pk=part.pk)
    other.material = "gunmetal"
    save_part(other, {part.uses.get().assembly: 5}, by=cast.builder)
    stood = everything()
    page = site.post(reverse("change_undo", args=[first.pk]), follow=True)
    assert "has another made of by now" in words(page)
    assert everything() == stood
    undo(Change.objects.first(), by=cast.owner)
    undo(first, by=cast.owner)
    part.refresh_from_db()
    assert (part.sheet, part.material) == ("12 A", "")


def test_added_part_when_something_hangs_on_it_then_refused(cast, part):
    DONE["added"](part, cast.owner)
    stud = Part.objects.get(number="S-099")
    make_log_entry(part=stud, done="Turned four studs")
    with pytest.raises(UndoRefusedError, match="S-099 Stud is in use by now: log entry"):
        undo(Change.objects.get(), by=cast.owner)
    assert Part.objects.filter(pk=stud.pk).exists()


def test_binned_part_when_its_number_is_in_use_again_then_refused(cast, part):
    bin_part(part, by=cast.owner)
    make_part(cast.build, number="S-016")
    with pytest.raises(UndoRefusedError, match="is in use again"):
        undo(Change.objects.get(), by=cast.owner)


def test_assembly_when_what_it_hung_on_is_gone_then_refused_until_that_is_back(site, cast, build):
    above = make_assembly(build, code="T")
    below = make_assembly(build, code="TA", parent=above)
    site.post(reverse("assembly_delete", args=[below.pk]))
    site.post(reverse("assembly_delete", args=[above.pk]))
    gone_above, gone_below = Change.objects.all()
    with pytest.raises(UndoRefusedError, match="TA .* belongs to a parent that is gone"):
        undo(gone_below, by=cast.owner)
    undo(gone_above, by=cast.owner)
    undo(gone_below, by=cast.owner)
    assert Assembly.objects.get(code="TA").parent.code == "T"


def test_undo_when_pressed_twice_then_undone_once(site, cast, part):
    save_again(part, cast.owner)
    change = Change.objects.get()
    for _ in range(2):
        site.post(reverse("change_undo", args=[change.pk]))
    assert Change.objects.count() == 2


def test_undo_when_pressed_on_a_page_then_back_there_and_never_out_of_the_site(site, cast, part):
    save_again(part, cast.owner)
    change = Change.objects.get()
    answer = site.post(reverse("change_undo", args=[change.pk]), {"back": part.get_absolute_url()})
    assert answer.url == part.get_absolute_url()
    answer = site.post(reverse("change_undo", args=[change.pk]), {"back": "//elsewhere.example/"})
    assert answer.url == reverse("change_list", args=[cast.build.pk])


# ---- every record ----------------------------------------------------------------------------------------


def thing_pages(build, cast):
    """A record of each kind that a form changes: its page of entry, what is typed, and the column."""
    assembly = make_assembly(build, code="CY")
    drawing = make_drawing(build, "A", number="7")
    casting = make_casting(build, number="K-001")
    photo = make_photo(build)
    return [
        (assembly, reverse("assembly_edit", args=[assembly.pk]), "name", "Cylinder block"),
        (drawing, reverse("drawing_edit", args=[drawing.pk]), "title", "Lifting links"),
        (casting, reverse("casting_edit", args=[casting.pk]), "name", "Cylinder"),
        (photo, photo.get_absolute_url(), "caption", "Before the last plate"),
        (make_head(cast.owner), None, "name", "The old head"),
    ]


def test_record_of_any_kind_when_changed_then_its_page_tells_it_and_undoes_it(site, cast, build):
    for thing, page, column, typed in thing_pages(build, cast):
        stood = getattr(thing, column)
        page = page or reverse("head_edit", args=[thing.pk])
        fill_in(site, page, **{column: typed})
        thing.refresh_from_db()
        assert getattr(thing, column) == typed, page
        change = Change.objects.first()
        assert change.rows.get(table=thing._meta.model_name).row == thing.pk
        site.post(reverse("change_undo", args=[change.pk]))
        thing.refresh_from_db()
        assert getattr(thing, column) == stood, page


def test_own_tools_when_taken_off_the_list_then_listed_for_their_owner_alone_and_brought_back(site, cast):
    head = make_head(cast.owner)
    plates = list(head.plates.values_list("name", flat=True))
    site.post(reverse("head_delete", args=[head.pk]))
    change = Change.objects.get()
    place = reverse("own_change_list")
    assert "taken away" in words(site.get(place))
    assert "taken away" not in words(cast.client("builder").get(place))
    assert cast.client("builder").post(reverse("change_undo", args=[change.pk])).status_code == 404
    site.post(reverse("change_undo", args=[change.pk]))
    again = DividingHead.objects.get(pk=head.pk)
    assert list(again.plates.values_list("name", flat=True)) == plates


def test_needs_and_readings_when_changed_then_undone(cast, part):
    mate = make_part(cast.build, number="S-017")
    set_needs(part, Needs({make_casting(cast.build, number="K-050"): 2}, (mate,), (mate,)), by=cast.owner)
    undo(Change.objects.first(), by=cast.owner)
    part = Part.objects.get(pk=part.pk)
    assert (part.mates, list(part.firsts.all()), list(part.casting_needs.all())) == ([], [], [])
    reading = make_reading(make_characteristic(part), "1.2502")
    strike_reading(reading, "wrong gauge", by=cast.owner)
    undo(Change.objects.first(), by=cast.owner)
    reading.refresh_from_db()
    assert (reading.struck_at, reading.struck_why) == (None, "")


# ---- the bin ---------------------------------------------------------------------------------------------


def test_things_taken_away_when_a_year_has_passed_then_still_in_the_bin_and_brought_back(site, cast, build):
    part, assembly = make_part(build, number="S-030"), make_assembly(build, code="Z")
    bin_part(part, by=cast.owner)
    site.post(reverse("assembly_delete", args=[assembly.pk]))
    with clock.stopped_at(clock.now() + timedelta(days=366)):
        page = words(site.get(reverse("bin_page", args=[build.pk])))
        assert "S-030" in page
        assert f"{assembly} {assembly} taken away Take it back" in page
        restore_part(part, by=cast.owner)
        site.post(reverse("change_undo", args=[Change.objects.get(words__startswith=str(assembly)).pk]))
    assert Assembly.objects.get(pk=assembly.pk).code == "Z"
    assert not Part.objects.get(pk=part.pk).binned_at


def test_history_of_a_part_when_a_change_is_undone_then_it_says_both(site, cast, part):
    save_again(part, cast.owner)
    site.post(reverse("change_undo", args=[Change.objects.get().pk]))
    said = [line.text for line in HistoryLine.objects.filter(part=part)]
    assert said[0] == "Undone: S-016 changed"
    assert any("sheet 12 A to 12 B" in line for line in said)
    assert "Undo" in words(site.get(part.get_absolute_url()))
