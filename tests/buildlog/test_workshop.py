"""The builder's own tooling: dividing heads with their plates, gear cutters with the range marked on them.

Ranges of the eight cutters of a set (1 cuts 135 to a rack, 2 cuts 55 to 134 … 8 cuts 12 and 13; a set
numbered the other way runs 1 to 8 from 12 teeth up): common practice, no source.
"""

import pytest
from django.urls import reverse

from buildlog.models import DividingHead, GearCutter, IndexPlate
from tests.factories import make_cutter, make_head, make_part, make_record
from tests.pages import alerts, entries, fill_in, line_of, words

pytestmark = pytest.mark.django_db

HUGE = "1" + "0" * 400
HEAD = {
    "name": "H1",
    "ratio": "40",
    "direct_circles": "24, 30,36",
    "change_gears": "24,24,28",
    "is_usual": "on",
}
PLATES = {
    "plate-0-name": "1",
    "plate-0-first_face": "15, 16,17,18,19,20",
    "plate-0-second_face": "",
    "plate-1-name": "4",
    "plate-1-first_face": "24,25,28,30,34",
    "plate-1-second_face": "46,47,49,51,53",
}


def head_address(head=None):
    return reverse("head_edit", args=[head.pk]) if head else reverse("head_add")


# ---- heads -----------------------------------------------------------------------------------------------


def test_head_when_written_down_then_with_its_plates_and_both_faces(site, cast):
    page = fill_in(site, head_address(), **HEAD, **PLATES)
    head = DividingHead.objects.get()
    assert head.owner == cast.owner
    assert (head.ratio, head.direct_circles, head.change_gears) == (40, "24,30,36", "24,24,28")
    assert head.faces == [
        ("plate 1", "15,16,17,18,19,20"),
        ("plate 4, first face", "24,25,28,30,34"),
        ("plate 4, second face", "46,47,49,51,53"),
    ]
    for text in (
        "H1 40 to 1",
        "the usual one",
        "Plate 4, second face 46,47,49,51,53",
        "Direct plate 24,30,36",
    ):
        assert text in words(page)


def test_head_when_written_down_then_a_sum_starts_from_it(site, build):
    fill_in(site, head_address(), **HEAD, **PLATES)
    part = make_part(build, name="Wheel 84 T")
    shown = entries(site.get(reverse("part_calculate", args=[part.pk, "indexing"])))
    assert shown["ratio"] == "40"
    assert shown["circles"].replace(" ", "") == "15,16,17,18,19,20/24,25,28,30,34/46,47,49,51,53"
    assert shown["direct_circles"] == "24,30,36"
    assert shown["change_gears"] == "24,24,28"


def test_head_when_a_plate_is_added_changed_or_taken_off_then_so(site, cast):
    head = make_head(cast.owner, plates=(("1", "15,16", ""), ("2", "21,23", "")))
    typed = {
        "plate-0-DELETE": "on",
        "plate-1-first_face": "21,23,27",
        "plate-2-name": "3",
        "plate-2-first_face": "37",
    }
    fill_in(site, head_address(head), **typed)
    assert [(plate.name, plate.first_face) for plate in head.plates.all()] == [("2", "21,23,27"), ("3", "37")]


def test_head_when_it_has_no_plate_then_that_is_no_fault(site):
    fill_in(site, head_address(), name="Spin indexer", ratio="1")
    assert DividingHead.objects.get().plates.count() == 0


def test_first_head_then_offered_as_the_usual_one_and_the_next_is_not(site):
    assert entries(site.get(head_address()))["is_usual"] == "on"
    fill_in(site, head_address(), **HEAD)
    assert "is_usual" not in entries(site.get(head_address()))


def test_usual_head_when_another_becomes_it_then_only_that_one(site, cast):
    first, second = make_head(cast.owner, name="A"), make_head(cast.owner, name="B", is_usual=False)
    other = make_head(cast.builder, name="C")
    fill_in(site, head_address(second), is_usual="on")
    assert [
        head.is_usual for head in DividingHead.objects.filter(pk__in=[first.pk, second.pk]).order_by("name")
    ] == [
        False,
        True,
    ]
    other.refresh_from_db()
    assert other.is_usual


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ({"name": ""}, "Name: This field is required"),
        ({"name": "n" * 41}, "Name: Ensure this value has at most 40 characters"),
        ({"name": "H\u202e1"}, "Name: There is an unseen sign in it (U+202E)"),
        ({"ratio": ""}, "Ratio: This field is required"),
        ({"ratio": "0"}, "Ratio: Ensure this value is greater than or equal to 1"),
        ({"ratio": "-40"}, "Ratio: Ensure this value is greater than or equal to"),
        ({"ratio": "361"}, "Ratio: Ensure this value is less than or equal to 360"),
        ({"ratio": HUGE}, "Ratio: Ensure this value is less than or equal to 360"),
        ({"ratio": "40:1"}, "Ratio: Enter a whole number"),
        ({"ratio": "9**9**9"}, "Ratio: Enter a whole number"),
        ({"ratio": "0,5 mm"}, "Ratio: Enter a whole number"),
        ({"direct_circles": "24,"}, "Direct plate: There is a comma with nothing beside it"),
        ({"direct_circles": "24,-30"}, "Direct plate: -30 is too small: 2 to 1000"),
        ({"direct_circles": "24/30"}, "Direct plate: I cannot read “24/30”"),
        ({"change_gears": "24,twenty"}, "Change gears: I cannot read “twenty” as one whole number"),
        ({"change_gears": "24,7"}, "Change gears: 7 is too small: 8 to 400"),
        ({"change_gears": "9**9**9"}, "Change gears: I cannot read “9**9**9”"),
        ({"change_gears": "24," * 60 + "24"}, "Change gears: There are 61 in the list, and 30 are the most"),
    ],
)
def test_head_when_an_entry_is_wrong_then_said_and_all_typed_is_still_there(site, typed, why):
    sent = HEAD | PLATES | typed
    page = fill_in(site, head_address(), **sent)
    assert page.status_code == 422
    assert why in alerts(page)
    assert {name: entries(page).get(name, "") for name in sent} == sent
    assert not DividingHead.objects.exists()
    assert not IndexPlate.objects.exists()


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ({"plate-1-name": ""}, "This field is required"),
        ({"plate-1-first_face": ""}, "This field is required"),
        ({"plate-1-first_face": "24,25 28"}, "I cannot read “25 28” as one whole number"),
        ({"plate-1-first_face": "24/25"}, "A stroke parts two faces; the back has an entry of its own"),
        ({"plate-1-first_face": "0,24"}, "0 is too small: 2 to 1000"),
        ({"plate-1-first_face": "-24"}, "-24 is too small: 2 to 1000"),
        ({"plate-1-second_face": "46,4700"}, "4700 is too great: 2 to 1000"),
        ({"plate-1-second_face": "9**9**9"}, "I cannot read “9**9**9” as one whole number"),
        ({"plate-1-second_face": HUGE}, "at most 200 characters"),
        ({"plate-1-second_face": "46\u202e,47"}, "unseen sign in it (U+202E)"),
        ({"plate-1-second_face": ",".join(["24"] * 41)}, "41 circles, and 40 are the most on one face"),
    ],
)
def test_plate_when_an_entry_is_wrong_then_said_and_nothing_is_stored_by_half(site, typed, why):
    sent = HEAD | PLATES | typed
    page = fill_in(site, head_address(), **sent)
    assert page.status_code == 422
    assert why in words(page)
    assert {name: entries(page).get(name, "") for name in sent} == sent
    assert not DividingHead.objects.exists()


def test_head_when_taken_off_the_list_then_sums_kept_with_it_stay(site, cast, build):
    head = make_head(cast.owner)
    record = make_record(make_part(build), user=cast.owner, context={"head": {"name": "H1", "ratio": 40}})
    page = site.post(reverse("head_delete", args=[head.pk]), follow=True)
    assert "H1 is taken off the list. Sums kept with it stay as they are." in words(page)
    assert record.headline in words(site.get(record.get_absolute_url()))
    assert not IndexPlate.objects.exists()


# ---- cutters ---------------------------------------------------------------------------------------------

CUTTER = {
    "pitch": "8 DP",
    "pressure_angle": "14 1/2",
    "number": "2",
    "numbering": "1 cuts the rack",
    "from_teeth": "55",
    "to_teeth": "134",
    "depth_marked": "0.270 in",
    "note": "on loan",
}


def test_cutter_when_written_down_then_its_range_stands_first(site):
    page = fill_in(site, reverse("cutter_add"), **CUTTER)
    line = line_of(page, "8 DP")
    for text in ("14 1/2°", "55–134 teeth", "1 cuts the rack", "0.270 in", "on loan"):
        assert text in line


@pytest.mark.parametrize(
    ("numbering", "number", "low", "high", "shown"),
    [
        ("1 cuts the rack", "1", "135", "", "135–rack teeth"),
        ("1 cuts the rack", "8", "12", "13", "12–13 teeth"),
        ("1 cuts 12 and 13", "1", "12", "13", "12–13 teeth"),
        ("1 cuts 12 and 13", "8", "135", "", "135–rack teeth"),
        ("1 cuts the rack", "5 1/2", "19", "20", "19–20 teeth"),
    ],
)
def test_cutter_when_numbered_either_way_then_the_range_is_as_marked(
    site, numbering, number, low, high, shown
):
    typed = {"numbering": numbering, "number": number, "from_teeth": low, "to_teeth": high}
    line = line_of(fill_in(site, reverse("cutter_add"), **(CUTTER | typed)), "8 DP")
    assert shown in line
    assert numbering in line


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ({"pitch": ""}, "Pitch: This field is required"),
        ({"pitch": "8\u202eDP"}, "Pitch: There is an unseen sign in it (U+202E)"),
        ({"pitch": HUGE}, "Pitch: Ensure this value has at most 20 characters"),
        ({"pressure_angle": ""}, "Pressure angle: This field is required"),
        ({"pressure_angle": "steep"}, "Pressure angle: I cannot read “steep”"),
        ({"pressure_angle": "9**9**9"}, "Pressure angle: “9**9**9” is a sum or a power"),
        ({"pressure_angle": "14,5"}, "Pressure angle: “14,5” has a comma in it: write 14.5"),
        ({"pressure_angle": "-20"}, "Pressure angle: -20° is no pressure angle"),
        ({"pressure_angle": "90"}, "Pressure angle: 90° is no pressure angle"),
        ({"numbering": "backwards"}, "Numbering: Select a valid choice"),
        ({"from_teeth": ""}, "From: This field is required"),
        ({"from_teeth": "5"}, "From: Ensure this value is greater than or equal to 6"),
        ({"from_teeth": "-55"}, "From: Ensure this value is greater than or equal to"),
        ({"from_teeth": HUGE}, "From: Ensure this value is less than or equal to 1000"),
        ({"from_teeth": "9**9**9"}, "From: Enter a whole number"),
        ({"to_teeth": "54"}, "To: The range ends at 54, below its start at 55"),
        ({"to_teeth": "1001"}, "To: Ensure this value is less than or equal to 1000"),
        ({"to_teeth": "rack"}, "To: Enter a whole number"),
    ],
)
def test_cutter_when_an_entry_is_wrong_then_said_and_all_typed_is_still_there(site, typed, why):
    sent = CUTTER | typed
    page = fill_in(site, reverse("cutter_add"), **sent)
    assert page.status_code == 422
    assert why in alerts(page)
    kept = {name: entries(page).get(name, "") for name in sent if name != "numbering"}
    assert kept == {name: text for name, text in sent.items() if name != "numbering"}
    assert not GearCutter.objects.exists()


@pytest.mark.parametrize(
    ("typed", "kept"), [("20", "20"), ("20°", "20"), ("14 1/2 deg", "14 1/2"), ("14.5", "14.5")]
)
def test_pressure_angle_when_typed_in_any_usual_way_then_kept_without_its_sign(site, typed, kept):
    fill_in(site, reverse("cutter_add"), **(CUTTER | {"pressure_angle": typed}))
    assert GearCutter.objects.get().pressure_angle == kept


def test_cutter_when_changed_or_taken_off_then_so(site, cast):
    cutter = make_cutter(cast.owner)
    fill_in(site, reverse("cutter_edit", args=[cutter.pk]), note="sharpened")
    assert "sharpened" in words(site.get(reverse("tooling")))
    site.post(reverse("cutter_delete", args=[cutter.pk]))
    assert not GearCutter.objects.exists()


def test_cutters_when_listed_then_by_pitch_as_a_person_counts(site, cast):
    for pitch in ("10 DP", "8 DP", "6 DP"):
        make_cutter(cast.owner, pitch=pitch)
    assert [cutter.pitch for cutter in GearCutter.objects.all()] == ["6 DP", "8 DP", "10 DP"]


# ---- whose it is -----------------------------------------------------------------------------------------


def test_tooling_then_only_ones_own_whoever_shares_the_build(site, cast):
    make_head(cast.builder, name="The builder's")
    make_cutter(cast.builder, pitch="9 DP")
    page = words(site.get(reverse("tooling")))
    assert "No head yet" in page
    assert "No cutter yet" in page


@pytest.mark.parametrize("name", ["head_edit", "head_delete", "cutter_edit", "cutter_delete"])
def test_tooling_when_it_is_somebody_elses_then_not_found_and_untouched(site, cast, name):
    theirs = make_head(cast.builder) if name.startswith("head") else make_cutter(cast.builder)
    address = reverse(name, args=[theirs.pk])
    if name.endswith("edit"):
        assert site.get(address).status_code == 404
    assert site.post(address, HEAD | CUTTER | {"name": "Mine now"}).status_code == 404
    assert type(theirs).objects.get(pk=theirs.pk).owner == cast.builder
    assert not DividingHead.objects.filter(name="Mine now").exists()


def test_plate_when_its_number_is_of_somebody_elses_head_then_left_alone(site, cast):
    mine, theirs = (
        make_head(cast.owner, plates=(("1", "15", ""),)),
        make_head(cast.builder, plates=(("9", "49", ""),)),
    )
    foreign = theirs.plates.get()
    fill_in(site, head_address(mine), **{"plate-0-id": str(foreign.pk), "plate-0-first_face": "99"})
    foreign.refresh_from_db()
    assert (foreign.head, foreign.first_face) == (theirs, "49")
