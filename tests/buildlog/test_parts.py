"""A part's record: what is typed about it, its key, where it is used, its two hands, the bin.

The studs ST-012 (8 + 10 + 6 = 24, the pump's changed to 5 gives 23) are the job's own accepted example.
"""

from datetime import date
from uuid import uuid4

import pytest
from django.db import IntegrityError
from django.urls import reverse

from buildlog.actions import parts as part_actions
from buildlog.actions.parts import bin_part, restore_part, save_part
from buildlog.actions.stages import record_count
from buildlog.models import HistoryLine, Part, PartUse
from tests.factories import make_assembly, make_build, make_part, make_record
from tests.pages import alerts, entries, line_of, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def cylinder(build):
    return make_assembly(build, code="CY", name="Cylinder", balloon="4")


def new_address(build):
    return reverse("part_new", args=[build.pk])


def write(site, address, uses=(), **typed):
    """Fill in the entry as it is shown, with what is typed put in, and send it."""
    shown = {
        name: value
        for name, value in entries(site.get(address)).items()
        if name not in ("find", "back", "lamp", "csrfmiddlewaretoken")
    }
    for place, (assembly, quantity) in enumerate(uses):
        shown |= {f"use-{place}-assembly": assembly and str(assembly.pk), f"use-{place}-quantity": quantity}
    return site.post(address, shown | typed, follow=True)


def used(part) -> dict[str, int]:
    return {use.assembly.code: use.quantity for use in part.uses.select_related("assembly")}


# ---- the need --------------------------------------------------------------------------------------------


def test_studs_when_the_pump_needs_one_less_then_the_need_follows_at_once(site, build):
    places = [
        (make_assembly(build, code="CC", name="Cylinder cover"), "8"),
        (make_assembly(build, code="SC", name="Steam chest"), "10"),
        (make_assembly(build, code="PU", name="Pump"), "6"),
    ]
    write(site, new_address(build), places[:2], number="ST-012", name="Stud")
    stud = Part.objects.get()
    page = write(site, reverse("part_edit", args=[stud.pk]), places)
    assert "24 needed" in words(page)
    assert Part.objects.get().needed == 24
    pump = stud.uses.get(assembly__code="PU")
    page = site.post(reverse("part_quantity", args=[stud.pk, pump.pk]), {"quantity": "5"}, follow=True)
    assert "23 needed" in words(page)
    assert "Needed fell from 24 to 23" in words(page)
    assert Part.objects.get().needed == 23
    assert Part.objects.with_needed().get().needed == 23
    assert "0/23" in line_of(site.get(reverse("part_list", args=[build.pk])), "ST-012")
    for assembly, _ in places:
        assert "0/23" in line_of(site.get(assembly.get_absolute_url()), "ST-012")


def test_need_when_a_use_is_taken_out_then_smaller_and_said(site, build, cylinder):
    stud = make_part(number="ST-012", assembly=cylinder, quantity=8)
    pump = make_assembly(build, code="PU", name="Pump")
    PartUse.objects.create(part=stud, assembly=pump, quantity=5)
    page = write(site, reverse("part_edit", args=[stud.pk]), [(cylinder, "8"), ("", "")])
    assert used(stud) == {"CY": 8}
    assert "Needed fell from 13 to 8" in words(page)


@pytest.mark.parametrize(
    "typed",
    ["0", "-3", "10000", "0,5 mm", "1 3/16 mmm", "9**9**9", "10^400", "1" + "0" * 400, "٣", "2.5", ""],
)
def test_quantity_when_it_is_no_number_of_pieces_then_refused_and_still_in_the_entry(site, cylinder, typed):
    stud = make_part(number="ST-012", assembly=cylinder, quantity=8)
    page = site.post(
        reverse("part_quantity", args=[stud.pk, stud.uses.get().pk]), {"quantity": typed}, follow=True
    )
    assert page.status_code == 422
    assert "whole number from 1 to 9999" in words(page)
    assert entries(page)["quantity"] == typed
    assert used(stud) == {"CY": 8}
    assert not HistoryLine.objects.exists()


def test_quantity_when_the_place_is_another_parts_then_not_found(site, build, cylinder):
    stud, other = (make_part(assembly=cylinder, quantity=8) for _ in range(2))
    address = reverse("part_quantity", args=[stud.pk, other.uses.get().pk])
    assert site.post(address, {"quantity": "5"}).status_code == 404


# ---- a part written down ---------------------------------------------------------------------------------

EVERYTHING = {
    "number": "s-016",
    "name": "Final-drive wheel 84 T",
    "hand": "",
    "kind": "casting",
    "material": "cast iron",
    "leading_size": "14.333 in OD",
    "sheet": "12 B",
    "casting_number": "K-040",
    "weight": "39 lb",
    "waits_for": "cutter 55–134 on loan",
    "notes": "Keep the chill.\nBore first.",
    "lesson": "Mark every tooth lightly.",
}


def test_part_when_everything_is_typed_then_all_of_it_is_kept_and_shown(site, build, cylinder, stopped_clock):
    page = write(site, new_address(build), [(cylinder, "1")], **EVERYTHING)
    part = Part.objects.get()
    assert page.redirect_chain[-1][0] == part.get_absolute_url()
    kept = {name: getattr(part, name) for name in EVERYTHING}
    kept["notes"] = kept["notes"].replace("\r\n", "\n")
    assert kept == EVERYTHING | {"number": "S-016"}
    assert used(part) == {"CY": 1}
    assert part.waits_since == date(2026, 3, 14)
    for text in (
        "S-016 Final-drive wheel 84 T", "cast iron, casting K-040", "in OD 364.0582 mm", "Sheet 12 issue B",
        "1 needed", "39 lb", "cutter 55–134 on loan", "since 14 Mar 2026", "Keep the chill. Bore first.",
        "Mark every tooth lightly.", "Added",
    ):  # fmt: skip
        assert text in words(page)


def test_part_when_only_number_and_name_are_typed_then_that_is_enough(site, build):
    page = write(site, new_address(build), number="S-016", name="Wheel")
    assert "S-016 Wheel" in words(page)
    assert "Nowhere yet" in words(page)


def test_part_when_it_is_begun_from_an_assembly_then_that_stands_in_the_entry(site, build, cylinder):
    page = site.get(f"{new_address(build)}?assembly={cylinder.pk}")
    assert entries(page)["use-0-assembly"] == str(cylinder.pk)


def test_part_when_it_is_changed_then_the_history_says_from_what_to_what(site, build, cylinder):
    part = make_part(number="S-016", name="Wheel", assembly=cylinder)
    page = write(site, reverse("part_edit", args=[part.pk]), number="S-017", material="gunmetal")
    assert "Changed: number S-016 to S-017, made of nothing to gunmetal" in words(page)


def test_part_when_it_is_renumbered_then_its_history_sums_and_counts_stay_with_it(site, build, cylinder, cast):
    part = make_part(number="S-016", assembly=cylinder, quantity=2)
    record_count(part, good=1, scrap=1, by=cast.owner, call_machined=True, token=None)
    record = make_record(part, user=cast.owner)
    page = write(site, reverse("part_edit", args=[part.pk]), number="S-116")
    for text in ("S-116", "+1 good, +1 scrap", record.headline, "number S-016 to S-116"):
        assert text in words(page)
    part.refresh_from_db()
    assert (part.key, part.good, part.scrap, part.stage) == ("S-116", 1, 1, "in hand")
    assert "S-116" in words(site.get(record.get_absolute_url()))


def test_part_when_it_is_changed_while_it_is_counted_elsewhere_then_the_count_is_not_lost(build, cast):
    part = make_part(build, number="S-016")
    stale = Part.objects.get(pk=part.pk)
    record_count(part, good=1, scrap=0, by=cast.owner, call_machined=True, token=None)
    stale.name = "Second-shaft wheel"
    save_part(stale, {}, by=cast.owner)
    part.refresh_from_db()
    assert (part.name, part.good, part.stage) == ("Second-shaft wheel", 1, "machined")


def test_waiting_when_the_words_stay_then_since_stays_and_new_words_begin_anew(site, build, stopped_clock):
    part = make_part(build, waits_for="bar", waits_since=date(2026, 1, 2))
    address = reverse("part_edit", args=[part.pk])
    write(site, address, name="Another name")
    part.refresh_from_db()
    assert part.waits_since == date(2026, 1, 2)
    write(site, address, waits_for="cutter")
    part.refresh_from_db()
    assert part.waits_since == date(2026, 3, 14)
    write(site, address, waits_for="")
    part.refresh_from_db()
    assert part.waits_since is None


def test_size_when_typed_in_the_units_of_the_build_then_read_so(cast):
    metric = make_build(cast.owner, units="mm")
    part = make_part(metric, leading_size="30 dia")
    assert part.size_mm == 30
    assert make_part(cast.build, leading_size="30 dia").size_mm == 762  # 30 in of 25.4 mm


def test_sheet_when_number_and_issue_are_typed_then_spoken_of_in_words(build):
    said = [make_part(build, sheet=typed).sheet_text for typed in ("12 B", "12b", "sheet 12 issue B", "12", "loose")]
    assert said == ["Sheet 12 issue B"] * 3 + ["Sheet 12", "loose"]


def test_teeth_when_name_or_size_gives_them_then_known(build):
    typed = [("Wheel 84 T", ""), ("Wheel", "36 T, 8 DP"), ("57-tooth change wheel", ""), ("Tee 3", "2 in")]
    assert [make_part(build, name=name, leading_size=size).teeth for name, size in typed] == [84, 36, 57, None]


# ---- wrong entries ---------------------------------------------------------------------------------------

HUGE = "1" + "0" * 400
TURNED = "‮1 3/16 in"


def refused(site, build, cylinder, **typed):
    """Send everything with one thing wrong: nothing is stored, and all that was typed still stands there."""
    typed = EVERYTHING | {"use-0-assembly": str(cylinder.pk), "use-0-quantity": "4"} | typed
    page = write(site, new_address(build), **typed)
    assert page.status_code == 422
    assert not Part.objects.exists()
    assert not PartUse.objects.exists()
    assert not HistoryLine.objects.exists()
    stands = entries(page)
    assert {name: stands.get(name, "").replace("\r\n", "\n") for name in typed} == typed
    return page


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ("0,5 mm", "“0,5 mm” has a comma in it: write 0.5 mm"),
        ("1 3/16 mmm", "I can read 1 3/16, but not “mmm”"),
        ("9**9**9", "I can read 9, but not “**9**9”"),
        ("9 ** 9", "I can read 9, but not “**”"),
        ("-1 3/16 in", "-1 3/16 is no size of a part: it must be more than nought"),
        ("0 in", "must be more than nought"),
        ("10^400", "I can read 10, but not “^400”"),
        (HUGE, "at most 40"),
        (TURNED, "unseen sign in it (U+202E)"),
        ("1/0 in", "nothing can be divided by nought"),
    ],
)
def test_leading_size_when_it_cannot_be_read_then_said_in_its_name(site, build, cylinder, typed, why):
    page = refused(site, build, cylinder, leading_size=typed)
    assert "Nothing is written yet" in alerts(page)
    assert "Leading size: " in alerts(page)
    assert why in alerts(page)


@pytest.mark.parametrize(
    ("field", "typed", "why"),
    [
        ("number", "", "Number: This field is required"),
        ("number", "   ", "Number: This field is required"),
        ("number", "L", "Number: A part needs a number"),
        ("number", "0,5 mm", "Number: A number is letters A to Z and figures"),
        ("number", "9**9**9", "Number: A number is letters A to Z and figures"),
        ("number", "S\u202e016", "Number: "),
        ("number", HUGE, "Number: Ensure this value has at most 20 characters"),
        ("name", "", "Name: This field is required"),
        ("name", "\u202eleehw", "Name: There is an unseen sign in it (U+202E)"),
        ("name", "n" * 121, "Name: Ensure this value has at most 120 characters"),
        ("material", "iron\u2067", "Made of: There is an unseen sign in it (U+2067)"),
        ("notes", "one\u200ftwo", "Notes: There is an unseen sign in it (U+200F)"),
        ("notes", "n" * 2001, "Notes: Ensure this value has at most 2000 characters"),
        ("weight", "0,5 kg", "Weight: A weight is a number and lb, oz, cwt, kg or g"),
        ("weight", "-3 kg", "Weight: A weight is a number and"),
        ("weight", "39 lbs and a bit", "Weight: A weight is a number and"),
        ("weight", "9**9**9", "Weight: A weight is a number and"),
        ("weight", HUGE, "Weight: Ensure this value has at most 20 characters"),
        ("sheet", "1" * 31, "Sheet: Ensure this value has at most 30 characters"),
        ("casting_number", "K" * 21, "Casting number: Ensure this value has at most 20 characters"),
        ("waits_for", "w" * 121, "Waits for: Ensure this value has at most 120 characters"),
    ],
)
def test_entry_when_it_is_wrong_then_said_in_its_name(site, build, cylinder, field, typed, why):
    assert why in alerts(refused(site, build, cylinder, **{field: typed}))


@pytest.mark.parametrize(
    "typed", ["0", "-3", "10000", "0,5 mm", "1 3/16 mmm", "9**9**9", "10^400", HUGE, "٣", "2.5"]
)
def test_use_when_its_quantity_is_no_number_of_pieces_then_said(site, build, cylinder, typed):
    page = refused(site, build, cylinder, **{"use-0-quantity": typed})
    assert "whole number from 1 to 9999" in words(page)


def test_use_when_its_quantity_is_turned_round_then_said(site, build, cylinder):
    assert "unseen sign in it (U+202E)" in words(refused(site, build, cylinder, **{"use-0-quantity": TURNED}))


@pytest.mark.parametrize(
    ("assembly", "quantity", "why"),
    [(True, "", "How many are used in CY Cylinder?"), (False, "4", "Choose the assembly that these are used in")],
)
def test_use_when_half_of_it_is_typed_then_the_other_half_is_asked_for(site, build, cylinder, assembly, quantity, why):
    typed = {"use-0-assembly": str(cylinder.pk) if assembly else "", "use-0-quantity": quantity}
    assert why in words(refused(site, build, cylinder, **typed))


def test_use_when_an_assembly_is_named_twice_then_said(site, build, cylinder):
    page = refused(site, build, cylinder, **{"use-1-assembly": str(cylinder.pk), "use-1-quantity": "2"})
    assert "CY Cylinder is named twice. Put both numbers in one line" in words(page)


@pytest.mark.parametrize("kind", ["another build's", "none", "9" * 40])
def test_use_when_the_assembly_is_not_of_this_build_then_refused(site, build, cylinder, kind):
    foreign = make_assembly(code="XX")
    typed = {"use-0-assembly": str(foreign.pk) if kind == "another build's" else kind, "use-0-quantity": "4"}
    page = write(site, new_address(build), **(EVERYTHING | typed))
    assert page.status_code == 422
    assert not Part.objects.exists()


def test_entry_when_part_or_entry_is_hostile_then_shown_as_it_is(site, build):
    page = write(site, new_address(build), number="S-016", name="<script>alert(1)</script>", kind="from stock")
    assert "<script>alert(1)" not in page.content.decode()
    assert "<script>alert(1)</script>" in words(page)


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


def test_quantity_when_both_hands_are_typed_on_the_entry_then_two_records_are_offered_and_made(site, build, cylinder):
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


# ---- the bin ---------------------------------------------------------------------------------------------


def test_bin_when_a_part_is_put_in_then_out_of_every_list_and_nothing_of_it_is_lost(site, build, cylinder, cast):
    part = make_part(number="S-016", name="Wheel", assembly=cylinder)
    record = make_record(part, user=cast.owner)
    page = site.post(reverse("part_bin", args=[part.pk]), follow=True)
    assert "S-016 is in the bin. Nothing of it is lost" in words(page)
    for address in (
        reverse("part_list", args=[build.pk]), cylinder.get_absolute_url(), reverse("build_page", args=[build.pk])
    ):  # fmt: skip
        assert "S-016 Wheel" not in words(site.get(address))
    assert "S-016" in line_of(site.get(reverse("bin_page", args=[build.pk])), "Wheel")
    page = site.get(part.get_absolute_url())
    assert "This part is in the bin" in words(page)
    assert record.headline in words(page)


def test_bin_when_a_part_is_in_it_then_nothing_of_it_can_be_changed(site, build, cylinder):
    part = make_part(number="S-016", assembly=cylinder)
    use = part.uses.get().pk
    bin_part(part, by=None)
    closed = [
        reverse(name, args=[part.pk]) for name in ("part_edit", "part_stage", "part_count", "card_new")
    ] + [reverse(name, args=[part.pk, use]) for name in ("part_quantity", "part_split")]
    said = {"stage": "fitted", "quantity": "9", "good": "1", "token": str(uuid4()), "split": "2 (1L 1R)"}
    assert [site.post(address, said).status_code for address in closed] == [404] * len(closed)
    part.refresh_from_db()
    assert (part.stage, part.good, used(part)) == ("not started", 0, {"CY": 1})


def test_bin_when_a_part_is_taken_back_then_where_it_was(site, cylinder):
    part = make_part(number="S-016", assembly=cylinder, quantity=3)
    bin_part(part, by=None)
    page = site.post(reverse("part_restore", args=[part.pk]), follow=True)
    assert "3 needed" in words(page)
    assert "Taken back out of the bin" in words(page)
    assert "S-016" in words(site.get(cylinder.get_absolute_url()))


def test_bin_when_the_key_was_given_away_meanwhile_then_it_stays_and_says_what_to_do(site, build):
    part = make_part(build, number="S-016")
    bin_part(part, by=None)
    make_part(build, number="S-016", name="Another")
    page = site.post(reverse("part_restore", args=[part.pk]), follow=True)
    assert "S-016 has been given to another part. Renumber that one first" in words(page)
    part.refresh_from_db()
    assert part.binned_at
    with pytest.raises(ValueError, match="given to another part"):
        restore_part(part, by=None)


def test_bin_when_the_same_key_lies_in_it_twice_then_both_are_there(site, build):
    for name in ("First", "Second"):
        bin_part(make_part(build, number="S-016", name=name), by=None)
    said = words(site.get(reverse("bin_page", args=[build.pk])))
    assert "S-016 First" in said
    assert "S-016 Second" in said


def test_bin_when_a_double_click_sends_it_twice_then_once_and_no_fright(site, build):
    part = make_part(build, number="S-016")
    for name, line in (("part_bin", "Put in the bin"), ("part_restore", "Taken back out of the bin")):
        for _ in range(2):
            page = site.post(reverse(name, args=[part.pk]), follow=True)
            assert page.status_code == 200
            assert "given to another part" not in words(page)
        assert HistoryLine.objects.filter(text=line).count() == 1


# ---- what happened ---------------------------------------------------------------------------------------


def test_history_when_it_is_long_then_the_page_shows_the_latest_and_a_way_to_all(site, build, cast):
    part = make_part(build)
    for _ in range(14):
        record_count(part, good=1, scrap=0, by=cast.owner, call_machined=False, token=None)
    page = words(site.get(part.get_absolute_url()))
    assert page.count("+1 good") == 12
    assert "all of it" in page
    assert words(site.get(reverse("part_history", args=[part.pk]))).count("+1 good") == 14
