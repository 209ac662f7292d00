"""The key of a part: its number and hand, one way to write them, and one record made into two."""

import pytest
from django.db import IntegrityError
from django.urls import reverse

from buildlog.actions import parts as part_actions
from buildlog.actions.parts import bin_part
from buildlog.actions.stages import record_count
from buildlog.models import Part, PartUse
from tests.buildlog.part_entry import EVERYTHING, new_address, refused, used, write
from tests.factories import make_assembly, make_build, make_part
from tests.pages import alerts, entries, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def cylinder(build):
    return make_assembly(build, code="CY", name="Cylinder", balloon="4")


# ---- the key ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("number", "hand"), [("h-021 l", ""), ("H-021-L", ""), ("H-021-L", "L"), ("h 021", "L"), ("H-021 LH", "")]
)
def test_key_when_typed_in_any_usual_way_then_written_in_one(site, build, number, hand):
    page = write(site, new_address(build), number=number, hand=hand, name="Bracket")
    assert Part.objects.get().key == "H-021-L"
    assert "H-021-L Bracket" in words(page)


def test_key_when_number_and_hand_disagree_then_asked_which(site, build, cylinder):
    page = refused(site, build, cylinder, number="H-021-L", hand="R")
    assert "The number names the other hand" in alerts(page)


@pytest.mark.parametrize(("number", "hand"), [("H-021-L", ""), ("h-021", "L"), (" h 021 lh", "")])
def test_key_when_it_is_taken_then_said_and_everything_typed_is_still_there(site, build, number, hand):
    make_part(build, number="H-021", hand="L")
    typed = EVERYTHING | {"number": number.strip(), "hand": hand}
    page = write(site, new_address(build), **typed)
    assert page.status_code == 422
    assert "Number: H-021-L is in the build already. Give this one another number." in alerts(page)
    stands = entries(page)
    shown = {name: stands.get(name, "").replace("\r\n", "\n") for name in typed}
    assert shown | {"hand": hand} == typed
    assert Part.objects.count() == 1


def test_key_when_the_other_hand_another_build_or_the_bin_has_it_then_free(site, build):
    make_part(build, number="H-021", hand="R")
    make_part(make_build(), number="H-021", hand="L")
    bin_part(make_part(build, number="H-021", hand="L"), by=None)
    assert write(site, new_address(build), number="H-021-L", name="Bracket").status_code == 200
    assert build.parts.live().count() == 2


def test_key_when_a_part_keeps_its_own_then_no_clash_with_itself(site, build):
    part = make_part(build, number="H-021", hand="L")
    assert write(site, reverse("part_edit", args=[part.pk]), name="Bracket").status_code == 200


def test_key_when_another_tab_takes_it_meanwhile_then_said_and_all_still_there(site, build, monkeypatch):
    def taken(*args, **more):
        raise IntegrityError("UNIQUE constraint failed")

    monkeypatch.setattr(part_actions, "save_part", taken)
    page = write(site, new_address(build), **EVERYTHING)
    assert page.status_code == 422
    assert "has just been given to another part" in alerts(page)
    assert entries(page)["name"] == EVERYTHING["name"]


# ---- two hands -------------------------------------------------------------------------------------------


def test_quantity_when_both_hands_are_typed_on_the_entry_then_two_records_are_offered_and_made(
    site, build, cylinder
):
    address = new_address(build)
    typed = EVERYTHING | {"number": "H-021"}
    page = write(site, address, [(cylinder, "2 (1L 1R)")], **typed)
    assert page.status_code == 200
    assert "1 left and 1 right in CY Cylinder" in words(page)
    assert not Part.objects.exists()
    again = {name: entries(page).get(name, "") for name in [*typed, "use-0-assembly", "use-0-quantity"]}
    page = write(site, address, **again, split="1")
    left, right = Part.objects.order_by("hand")
    assert (left.key, right.key) == ("H-021-L", "H-021-R")
    assert used(left) == used(right) == {"CY": 1}
    assert {left.name, left.material, left.weight} == {right.name, right.material, right.weight}
    assert "H-021 is two records now" in words(page)


def test_quantity_when_both_hands_are_typed_on_the_part_then_offered_and_the_counts_stay_with_the_left(
    site, build, cylinder, cast
):
    part = make_part(number="H-021", assembly=cylinder, quantity=6)
    record_count(part, good=2, scrap=1, by=cast.owner, call_machined=True, token=None)
    use = part.uses.get()
    page = site.post(reverse("part_quantity", args=[part.pk, use.pk]), {"quantity": "6 (4L 2R)"}, follow=True)
    assert "6 (4L 2R) reads as 4 left and 2 right in CY Cylinder" in words(page)
    assert Part.objects.count() == 1
    address = reverse("part_split", args=[part.pk, use.pk])
    site.post(address, {"split": entries(page)["split"]}, follow=True)
    left, right = Part.objects.order_by("hand")
    assert left.pk == part.pk
    assert (left.key, used(left), left.good, left.scrap) == ("H-021-L", {"CY": 4}, 2, 1)
    assert (right.key, used(right), right.good, right.scrap) == ("H-021-R", {"CY": 2}, 0, 0)
    assert "+2 good" in words(site.get(left.get_absolute_url()))


WRONG_SPLITS = [
    ("3 (1L 1R)", "1 and 1 do not make 3"),
    ("2 (1L 1L)", "Both counts are for the same hand"),
    ("1 (0L 1R)", "Each hand needs from 1 to 9999"),
    ("20000 (10000L 10000R)", "Each hand needs from 1 to 9999"),
    ("2 (1L 1Q)", "whole number from 1 to 9999"),
]


@pytest.mark.parametrize(("typed", "why"), WRONG_SPLITS)
def test_quantity_when_its_hands_do_not_fit_then_said_on_the_part(site, cylinder, typed, why):
    part = make_part(number="H-021", assembly=cylinder, quantity=2)
    page = site.post(reverse("part_quantity", args=[part.pk, part.uses.get().pk]), {"quantity": typed})
    assert page.status_code == 422
    assert why in words(page)
    assert entries(page)["quantity"] == typed
    assert used(part) == {"CY": 2}


@pytest.mark.parametrize(("typed", "why"), WRONG_SPLITS)
def test_quantity_when_its_hands_do_not_fit_then_said_on_the_entry(site, build, cylinder, typed, why):
    assert why in words(refused(site, build, cylinder, **{"use-0-quantity": typed}))


def test_split_when_the_part_has_a_hand_already_then_refused_on_the_part(site, cylinder):
    part = make_part(number="H-021", hand="R", assembly=cylinder, quantity=2)
    address = reverse("part_split", args=[part.pk, part.uses.get().pk])
    assert "H-021-R has a hand already" in words(site.get(address, {"split": "2 (1L 1R)"}))
    site.post(address, {"split": "2 (1L 1R)"})
    assert [each.key for each in Part.objects.all()] == ["H-021-R"]


@pytest.mark.parametrize("hand", ["L", "R"])
def test_split_when_the_entry_chooses_a_hand_then_refused_with_all_still_there(site, build, cylinder, hand):
    typed = {"number": "H-021", "hand": hand, "use-0-quantity": "2 (1L 1R)"}
    page = refused(site, build, cylinder, **typed)
    assert f"H-021-{hand} has a hand already" in words(page)


def test_split_when_a_handed_part_is_changed_so_then_it_stays_what_it_is(site, build, cylinder):
    part = make_part(number="H-021", hand="R", assembly=cylinder, quantity=2)
    address = reverse("part_edit", args=[part.pk])
    page = write(site, address, **{"use-0-quantity": "2 (1L 1R)", "split": "1"})
    assert page.status_code == 422
    assert [(each.key, used(each)) for each in Part.objects.all()] == [("H-021-R", {"CY": 2})]


def test_split_when_it_is_used_in_several_assemblies_then_refused_and_no_use_is_lost(site, build, cylinder):
    part = make_part(number="H-021", assembly=cylinder, quantity=2)
    pump = make_assembly(build, code="PU", name="Pump")
    PartUse.objects.create(part=part, assembly=pump, quantity=5)
    place = part.uses.get(assembly=cylinder)
    said = words(site.get(reverse("part_split", args=[part.pk, place.pk]), {"split": "2 (1L 1R)"}))
    assert "H-021 is used in several assemblies" in said
    page = write(
        site, reverse("part_edit", args=[part.pk]), [(cylinder, "2 (1L 1R)"), (pump, "5")], split="1"
    )
    assert page.status_code == 422
    assert "used in several assemblies" in words(page)
    assert used(part) == {"CY": 2, "PU": 5}


@pytest.mark.parametrize("hand", ["L", "R"])
def test_split_when_a_twin_is_in_the_build_already_then_refused(site, build, cylinder, hand):
    make_part(build, number="H-021", hand=hand)
    part = make_part(number="H-021", assembly=cylinder, quantity=2)
    address = reverse("part_split", args=[part.pk, part.uses.get().pk])
    assert f"H-021-{hand} is in the build already" in words(site.get(address, {"split": "2 (1L 1R)"}))
    site.post(address, {"split": "2 (1L 1R)"})
    page = write(site, reverse("part_edit", args=[part.pk]), [(cylinder, "2 (1L 1R)")], split="1")
    assert page.status_code == 422
    assert f"H-021-{hand} is in the build already" in words(page)
    assert sorted(each.key for each in Part.objects.all()) == ["H-021", f"H-021-{hand}"]


@pytest.mark.parametrize("typed", ["", "2", "3 (1L 1R)", "9**9**9"])
def test_split_when_the_address_names_no_two_hands_then_said_and_nothing_done(site, cylinder, typed):
    part = make_part(number="H-021", assembly=cylinder, quantity=2)
    address = reverse("part_split", args=[part.pk, part.uses.get().pk])
    for answer in (site.get(address, {"split": typed}), site.post(address, {"split": typed})):
        assert answer.status_code == 422
    assert Part.objects.count() == 1
