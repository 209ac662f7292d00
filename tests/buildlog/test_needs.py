"""What a part needs: the entry, what it refuses, and that castings and parts held up follow from it."""

import pytest
from django.urls import reverse

from buildlog.actions.castings import NeedRefusedError, Needs, set_needs
from buildlog.actions.parts import bin_part
from buildlog.actions.stages import record_count
from buildlog.models import Casting, Mate, Part
from buildlog.waiting.standing import standing_of
from buildlog.waiting.words import short_words
from tests.factories import make_casting, make_first, make_part
from tests.pages import alerts, entries, line_of, words

pytestmark = pytest.mark.django_db

EMPTY = {"casting_number": "", "castings_each": "", "castings": "", "firsts": "", "mates": ""}


def say(site, part, **typed):
    return site.post(reverse("part_needs", args=[part.pk]), EMPTY | typed, follow=True)


@pytest.fixture
def wheel(build):
    return make_part(build, number="S-016", name="Final-drive wheel 84 T")


@pytest.fixture
def pinion(build):
    return make_part(build, number="S-015", name="Second-shaft pinion 18 T")


def test_needs_when_written_then_both_mates_say_so(site, wheel, pinion):
    page = say(site, wheel, mates="s-015")
    assert "S-015 Second-shaft pinion 18 T" in line_of(page, "S-015")
    other = site.get(pinion.get_absolute_url())
    assert "S-016 Final-drive wheel 84 T" in line_of(other, "S-016")
    assert list(pinion.mates) == [wheel]
    assert "Mates with S-015" in words(page)


def test_needs_when_a_mate_is_taken_out_on_the_other_part_then_it_is_gone_on_both(site, wheel, pinion):
    say(site, wheel, mates="S-015")
    say(site, pinion)
    assert not Mate.objects.exists()
    assert "No longer mates with S-016" in words(site.get(pinion.get_absolute_url()))


def test_needs_when_its_own_casting_is_named_then_it_is_in_the_register_and_waited_for(site, build, wheel):
    page = say(site, wheel, casting_number="k-040", castings_each="2")
    casting = Casting.objects.get()
    assert (casting.number, casting.name) == ("K-040", "Final-drive wheel 84 T")
    assert "K-040 Final-drive wheel 84 T × 2: not ordered" in line_of(page, "not ordered")
    assert short_words(standing_of(build), wheel.pk) == "K-040 not ordered"


def test_needs_when_the_hyphen_is_left_out_then_no_second_casting_comes_of_it(site, build, wheel):
    own, block = (make_casting(build, number=number) for number in ("K-040", "K-022"))
    say(site, wheel, casting_number="k040", castings="k 022 × 2")
    wheel.refresh_from_db()
    assert wheel.casting_number == own.number
    assert wheel.casting_needs.get().casting == block
    assert Casting.objects.count() == 2


def test_needs_when_only_the_hyphen_is_typed_otherwise_then_nothing_is_changed(site, build, wheel):
    say(site, wheel, casting_number="K-040")
    lines = wheel.history.count()
    say(site, wheel, casting_number="k040")
    wheel.refresh_from_db()
    assert wheel.casting_number == "K-040"
    assert wheel.history.count() == lines


def test_needs_when_another_casting_is_named_then_it_only_has_to_be_here(site, build, wheel):
    block = make_casting(build, number="K-022")
    say(site, wheel, castings="K-022 × 2")
    need = wheel.casting_needs.get()
    assert (need.casting, need.quantity) == (block, 2)
    assert standing_of(build).short_of(block.pk) == 2


def test_needs_when_a_part_comes_first_then_what_holds_that_up_holds_both_up(site, build, wheel):
    centre = make_part(build, number="S-019", name="Differential centre")
    say(site, centre, casting_number="K-012")
    page = say(site, wheel, firsts="S-019")
    assert "S-019 Differential centre to be made first (waits for K-012)" in line_of(page, "S-019")
    assert "Held up by it: S-016" in words(site.get(centre.get_absolute_url()))
    casting = Casting.objects.get(number="K-012")
    assert standing_of(build).holding_of(casting.pk).parts == {centre.pk, wheel.pk}
    Part.objects.filter(pk=centre.pk).update(stage="machined", good=1)
    assert "Nothing that is written down" in words(site.get(wheel.get_absolute_url()))


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"firsts": "S-099"}, "Parts to be made first: No part S-099 is in this build."),
        ({"firsts": "H-021"}, "No part H-021 is in this build. Is H-021-L or H-021-R meant?"),
        ({"firsts": "S-016"}, "S-016 cannot be made before itself"),
        ({"mates": "S-016"}, "S-016 cannot be its own mate"),
        ({"mates": "‮S-015"}, "unseen sign"),
        ({"castings": "K-999"}, "No casting K-999 is in the register."),
        ({"castings": "K-022 × 0"}, "how many have to be here is from 1 to 999"),
        ({"castings_each": "0"}, "0 is no number of castings: write a whole number from 1 to 99."),
        ({"castings_each": "-1"}, "write a whole number from 1 to 99"),
        ({"castings_each": "lots"}, "write a whole number from 1 to 99"),
        ({"firsts": ", ".join(f"X-{n}" for n in range(41))}, "41 are named; 40 at most"),
        ({"casting_number": "K" * 21}, "Its own casting: Ensure this value has at most 20 characters"),
    ],
)
def test_needs_when_wrong_then_the_entry_is_named_and_nothing_typed_is_lost(site, build, wheel, typed, said):
    make_casting(build, number="K-022")
    for hand in "LR":
        make_part(build, number="H-021", hand=hand)
    answer = site.post(reverse("part_needs", args=[wheel.pk]), EMPTY | typed)
    assert answer.status_code == 422
    assert said in alerts(answer)
    for name, text in typed.items():
        assert entries(answer)[name] == text
    assert not wheel.history.exists()


def test_needs_when_each_would_wait_for_the_other_then_the_second_is_refused(site, build, wheel, pinion):
    third = make_part(build, number="S-017", name="Collar")
    make_first(pinion, third)
    make_first(third, wheel)
    answer = site.post(reverse("part_needs", args=[wheel.pk]), EMPTY | {"firsts": "S-015"})
    assert answer.status_code == 422
    assert "S-015 itself waits for S-016: one of the two has to come first." in alerts(answer)
    assert not wheel.firsts.exists()


def test_needs_when_refused_then_its_own_casting_is_not_written_either(site, wheel):
    say(site, wheel, casting_number="K-040", firsts="S-016")
    wheel.refresh_from_db()
    assert wheel.casting_number == ""


def test_needs_when_nothing_changes_then_nothing_goes_into_the_history(site, wheel, pinion):
    say(site, wheel, mates="S-015")
    lines = wheel.history.count()
    say(site, wheel, mates="S-015")
    assert wheel.history.count() == lines


def test_set_needs_when_a_part_would_come_before_itself_then_it_is_refused(wheel):
    with pytest.raises(NeedRefusedError, match="cannot be made before itself") as refused:
        set_needs(wheel, Needs({}, (wheel,), ()), by=None)
    assert refused.value.field == "firsts"


def test_waits_when_the_part_to_be_made_first_is_in_the_bin_then_it_holds_nothing_up(build, wheel, pinion):
    make_first(wheel, pinion)
    assert standing_of(build).is_waiting(wheel.pk)
    bin_part(pinion, by=None)
    assert not standing_of(build).is_waiting(wheel.pk)


def test_castings_when_one_is_spoiled_then_another_is_wanted_from_that_day(site, build, wheel):
    say(site, wheel, casting_number="K-040")
    record_count(Part.objects.get(pk=wheel.pk), good=0, scrap=1, by=None, call_machined=True, token=None)
    standing = standing_of(build)
    assert standing.short_of(Casting.objects.get().pk) == 2
