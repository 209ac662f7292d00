"""Choosing kept sums for a card: which are ticked, what is refused, what the card says it was worked from.

The pinion of 27 teeth, 8 DP: depth 2.157 / 8 = 0.2696 by one system, 2.25 / 8 = 0.2813 by the other.
"""

import re
from datetime import timedelta
from uuid import uuid4

import pytest
from django.urls import reverse

from buildlog import clock
from buildlog.models import Drawing, Mate, SheetIssue, WorkCard
from tests.buildlog.test_cards import make, printed
from tests.factories import make_part, make_record
from tests.pages import alerts, entries, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def pinion(build):
    return make_part(build, number="S-015", name="Second-shaft pinion 27 T", sheet="12 B")


@pytest.fixture
def wheel(build):
    return make_part(build, number="S-016", name="Final-drive wheel 84 T", sheet="12 B", weight="39 lb")


def gear(part, user, **entered):
    typed = {"teeth": str(part.teeth), "diametral_pitch": "8 DP"} | entered
    return make_record(part, user=user, key="spur-gear", **typed)


def page_of(site, part, **asked):
    return site.get(reverse("card_new", args=[part.pk]), asked)


def ticked(page) -> set[int]:
    """The numbers of the sums that are ticked as the page comes."""
    boxes = re.findall(r'<input type="checkbox" name="records"[^>]*>', page.content.decode())
    return {int(re.search(r'value="(\d+)"', box)[1]) for box in boxes if "checked" in box}


def send(site, part, found, **more):
    sent = {"records": [one.pk for one in found], "paper": "A4", "token": str(uuid4())} | more
    return site.post(reverse("card_new", args=[part.pk]), sent)


# ---- which are ticked ------------------------------------------------------------------------------------


def test_form_when_several_kinds_are_kept_then_the_newest_of_each_is_ticked(site, cast, wheel):
    old, new = (make_record(wheel, user=cast.owner) for _ in range(2))
    own = gear(wheel, cast.owner)
    page = page_of(site, wheel)
    assert ticked(page) == {new.pk, own.pk}
    assert f"Sum {old.pk}: Indexing, 84 divisions" in words(page)
    assert words(page).count("a newer one of its kind is kept") == 1


def test_form_when_an_older_sum_is_asked_for_then_it_is_ticked_in_its_kinds_place(site, cast, wheel):
    old, new = (make_record(wheel, user=cast.owner) for _ in range(2))
    own = gear(wheel, cast.owner)
    assert ticked(page_of(site, wheel, record=old.pk)) == {old.pk, own.pk}
    assert new.pk not in ticked(page_of(site, wheel, record=old.pk))


def test_form_when_the_newest_is_stale_then_not_ticked_and_it_says_why(site, cast, wheel):
    own = gear(wheel, cast.owner)
    wheel.name = "Final-drive wheel 85 T"
    wheel.save()
    page = page_of(site, wheel)
    assert ticked(page) == set()
    assert f"Sum {own.pk}:" in words(page)
    assert "number of teeth was 84 when this was kept, is now 85" in words(page)


def test_form_when_newest_dividing_and_gear_do_not_agree_then_only_the_gear_is_ticked(site, cast, wheel):
    own, divided = gear(wheel, cast.owner), make_record(wheel, user=cast.owner, divisions="60")
    assert ticked(page_of(site, wheel)) == {own.pk}
    assert ticked(page_of(site, wheel, record=divided.pk)) == {divided.pk}


def test_form_then_only_the_entries_that_a_kept_sum_asks_for(site, cast, wheel, pinion):
    gear(pinion, cast.owner)
    make_record(pinion, user=cast.owner, key="fit", nominal="1 in", hole="H7")
    assert not {"passes", "blank_limits", "side"} & set(entries(page_of(site, wheel)))
    shown = entries(page_of(site, pinion))
    assert shown["passes"] == "0.135, 0.225, 0.2696"
    assert shown["blank_limits"] == "+0 −0.005"
    assert shown["side"] == "hub"


@pytest.mark.parametrize(
    ("name", "half"),
    [
        ("Second shaft", "shaft"),
        ("Flywheel", "hub"),
        ("Shaft for the pinion", "shaft"),
        ("Second-shaft pinion", "hub"),
        ("Horn", "both"),
    ],
)
def test_form_then_the_half_that_the_name_tells_is_chosen(site, cast, build, name, half):
    part = make_part(build, name=name)
    make_record(part, user=cast.owner, key="keyway", shaft_diameter="1 1/8", standard="b17.1")
    assert entries(page_of(site, part))["side"] == half


# ---- what is refused -------------------------------------------------------------------------------------


def test_card_when_two_of_one_kind_are_chosen_then_refused_and_said_which(site, cast, pinion):
    both = [gear(pinion, cast.owner), gear(pinion, cast.owner, depth_system="2.25")]
    page = send(site, pinion, both)
    assert page.status_code == 422
    assert "are of a spur gear: a card takes one of each kind" in alerts(page)
    assert ticked(page) == {one.pk for one in both}
    assert not WorkCard.objects.exists()


def test_card_when_the_dividing_is_for_another_count_then_refused(site, cast, wheel):
    page = send(site, wheel, [make_record(wheel, user=cast.owner, divisions="60"), gear(wheel, cast.owner)])
    assert page.status_code == 422
    assert "of 60 divisions" in alerts(page)
    assert "of 84 teeth" in alerts(page)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        (
            {"passes": "0.2, 0.1, 0.2696"},
            "Passes, running total from touch-off: Each pass is a running total",
        ),
        ({"passes": "0.2, 0.2813"}, "that is 0.2696, not 0.2813"),
        ({"passes": "9" * 81}, "at most 80 characters"),
        ({"blank_limits": "tight"}, "Limits of the blank: I cannot read “tight”"),
        ({"side": "neither"}, "This part is: Select a valid choice"),
    ],
)
def test_card_when_a_figure_typed_is_wrong_then_said_and_all_typed_is_still_there(
    site, cast, pinion, typed, why
):
    make_record(pinion, user=cast.owner, key="fit", nominal="1 in", hole="H7")
    sent = {"passes": "0.135, 0.225, 0.2696", "blank_limits": "+0 -0.002", "machine": "Mill"} | typed
    page = send(site, pinion, [gear(pinion, cast.owner)], **sent)
    assert page.status_code == 422
    assert why in alerts(page)
    kept = {name: sent[name] for name in ("passes", "blank_limits", "machine")}
    assert kept.items() <= entries(page).items()


def test_card_when_the_gear_is_not_ticked_then_its_entries_are_not_read(site, cast, pinion):
    gear(pinion, cast.owner)
    assert send(site, pinion, [], passes="nonsense", blank_limits="nonsense").status_code == 302


# ---- no room ---------------------------------------------------------------------------------------------


def four(part, user):
    return [
        make_record(part, user=user),
        gear(part, user, diametral_pitch="6"),
        make_record(part, user=user, key="keyway", shaft_diameter="1 1/8", standard="b17.1"),
        make_record(part, user=user, key="fit", nominal="1 1/8 in", hole="H7"),
    ]


def test_card_when_a5_has_no_room_for_all_four_then_said_before_it_is_made(site, cast, wheel):
    page = send(site, wheel, four(wheel, cast.owner), paper="A5", passes="0.180, 0.300, 0.3595", side="hub")
    assert page.status_code == 422
    assert "One side of A5 has no room for “" in alerts(page)
    assert "“Keyway, T across the bore”" in alerts(page)
    assert "choose A4" in alerts(page)
    assert "leave_off" not in entries(page)
    assert 'name="leave_off"' in page.content.decode()
    assert not WorkCard.objects.exists()


def test_card_when_told_to_print_without_then_the_card_says_what_to_have_beside_it(site, cast, wheel):
    divided, own, keyway, fit = four(wheel, cast.owner)
    answer = send(
        site, wheel, [divided, own, keyway, fit], paper="A5", passes="0.180, 0.300, 0.3595", side="hub",
        leave_off="on",
    )  # fmt: skip
    assert answer.status_code == 302
    card = WorkCard.objects.get()
    said = re.search(r"No room here for all of (sums? [\d, and]+)\.", " ".join(printed(site, card).split()))
    assert str(keyway.pk) in said[1]
    page = words(site.get(card.get_absolute_url()))
    assert "No room here for all of" in page
    assert "T across the bore" not in page
    assert "10 in 21" in page


def test_card_when_a4_has_room_for_all_four_then_made_and_all_are_on_it(site, cast, wheel):
    found = four(wheel, cast.owner)
    answer = send(site, wheel, found, passes="0.180, 0.300, 0.3595", side="hub")
    assert answer.status_code == 302
    card = WorkCard.objects.get()
    assert set(card.records.all()) == set(found)
    text = " ".join(printed(site, card).split())
    numbers = [str(one.pk) for one in found]
    assert f"Worked from sums {', '.join(numbers[:-1])} and {numbers[-1]}, as kept" in text
    assert "No room" not in text
    assert all(one in words(site.get(card.get_absolute_url())) for one in map(str, numbers))


def test_page_when_there_is_room_then_printing_without_is_not_offered(site, cast, wheel):
    make_record(wheel, user=cast.owner)
    assert "leave_off" not in page_of(site, wheel).content.decode()


# ---- what the card says ----------------------------------------------------------------------------------


def test_card_when_the_depth_rule_changed_then_both_stay_and_each_card_says_which_it_printed(
    site, cast, pinion
):
    first = gear(pinion, cast.owner)
    before = make(site, pinion, first, passes="0.135, 0.225, 0.2696")
    second = gear(pinion, cast.owner, depth_system="2.25")
    after = make(site, pinion, second, passes="0.140, 0.235, 0.2813")
    assert set(pinion.records.all()) == {first, second}
    old, new = (" ".join(printed(site, card).split()) for card in (before, after))
    assert "Depth of tooth, 2.157 system 0.2696" in old
    assert f"Worked from sum {first.pk}, rule 1" in old
    assert "Depth of tooth, 2.25 system 0.2813" in new
    assert f"Worked from sum {second.pk}, rule 1" in new
    assert "0.2813" not in old


def test_card_when_its_sums_were_kept_on_several_days_then_from_the_first_to_the_last(
    site, cast, wheel, stopped_clock
):
    divided = make_record(wheel, user=cast.owner)
    with clock.stopped_at(clock.now() + timedelta(days=19)):
        own = gear(wheel, cast.owner)
    send(site, wheel, [own, divided])
    text = " ".join(printed(site, WorkCard.objects.get()).split())
    assert f"Worked from sums {divided.pk} and {own.pk}, as kept 14 Mar 2026 to 2 Apr 2026" in text


def test_card_when_a_mate_has_the_teeth_of_the_sum_then_it_is_named_with_the_centres(
    site, cast, build, wheel
):
    mate = make_part(build, number="S-021", name="Second-shaft pinion 18 T")
    other = make_part(build, number="S-030", name="Key")
    for one in (mate, other):
        Mate.objects.create(one=wheel, other=one)
    send(site, wheel, [gear(wheel, cast.owner, diametral_pitch="6", mate_teeth="18")])
    block = WorkCard.objects.get().sheet["blocks"][2]
    assert block == {"label": "Mates with, centres", "strong": "S-021", "text": "18 T at 8.500"}
    assert "39 lb" in WorkCard.objects.get().sheet["blocks"][1]["text"]


def test_card_when_there_is_no_gear_then_the_mates_stand_by_their_numbers(site, build, wheel):
    Mate.objects.create(one=wheel, other=make_part(build, number="S-021"))
    card = make(site, wheel)
    assert card.sheet["blocks"][2] == {"label": "Mates with", "strong": "S-021", "text": ""}


def issue(build, number, *letters):
    drawing = Drawing.objects.create(build=build, number=number, title="Shafts")
    for place, letter in enumerate(letters):
        at = clock.now() + timedelta(days=place)
        SheetIssue.objects.create(drawing=drawing, issue=letter, got_on=at.date(), recorded_at=at)


@pytest.mark.parametrize(
    ("typed", "letters", "block"),
    [
        ("12 B", "AB", {"strong": "Sheet 12 issue B", "text": ""}),
        ("12 B", "ABC", {"strong": "Sheet 12 issue B", "boxed": "Issue C", "text": "recorded since"}),
        ("12", "AB", {"strong": "Sheet 12 issue B", "text": ""}),
        ("12 B", "", {"strong": "Sheet 12 issue B", "text": ""}),
    ],
)
def test_card_then_sheet_and_issue_and_a_later_issue_of_the_register_in_a_box(
    site, build, typed, letters, block
):
    part = make_part(build, sheet=typed)
    issue(build, "12", *letters)
    assert make(site, part).sheet["blocks"][0] == {"label": "Drawing"} | block


def test_card_when_the_leading_size_is_the_blank_of_the_gear_then_it_is_asked_for_once(site, cast, build):
    part = make_part(build, name="Final-drive wheel 84 T", leading_size="14.333 in OD")
    send(site, part, [gear(part, cast.owner, diametral_pitch="6")])
    notes = [one["note"] for one in WorkCard.objects.get().sheet["sizes"]]
    assert notes[0] == "OD"
    assert not any("mm" in note for note in notes)


def test_card_when_the_leading_size_is_another_then_it_follows_those_of_the_sum(site, cast, build):
    part = make_part(build, name="Final-drive wheel 84 T", leading_size="4 1/2 in bore")
    send(site, part, [gear(part, cast.owner, diametral_pitch="6")])
    assert WorkCard.objects.get().sheet["sizes"][-1]["wanted"] == "4 1/2 in"
