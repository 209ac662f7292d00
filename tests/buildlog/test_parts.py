"""A part's record: what is typed about it, where it is used and how many are needed, the bin.

The studs ST-012 (8 + 10 + 6 = 24, the pump's changed to 5 gives 23) are the project's own accepted example.
"""

from datetime import date
from uuid import uuid4

import pytest
from django.urls import reverse

from buildlog.actions.parts import bin_part, restore_part, save_part
from buildlog.actions.stages import record_count
from buildlog.models import HistoryLine, Part, PartUse
from tests.buildlog.part_entry import EVERYTHING, HUGE, TURNED, new_address, refused, used, write
from tests.factories import make_assembly, make_build, make_casting, make_part, make_record
from tests.pages import alerts, entries, line_of, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def cylinder(build):
    return make_assembly(build, code="CY", name="Cylinder", balloon="4")


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


def test_part_when_its_casting_is_typed_without_the_hyphen_then_it_is_the_one_in_the_register(
    site, build, cylinder
):
    make_casting(build, number="K-040")
    write(site, new_address(build), [(cylinder, "1")], number="S-016", name="Wheel", casting_number="k040")
    assert Part.objects.get().casting_number == "K-040"
    assert build.castings.count() == 1


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
        "S-016 Final-drive wheel 84 T",
        "cast iron, casting K-040",
        "in OD 364.0582 mm",
        "Sheet 12 issue B",
        "1 needed",
        "39 lb",
        "cutter 55–134 on loan",
        "since 14 Mar 2026",
        "Keep the chill. Bore first.",
        "Mark every tooth lightly.",
        "Added",
    ):
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


def test_part_when_it_is_renumbered_then_its_history_sums_and_counts_stay_with_it(
    site, build, cylinder, cast
):
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
    assert part.size.measure.base == 30
    assert make_part(cast.build, leading_size="30 dia").size.measure.base == 762  # 30 in of 25.4 mm


def test_sheet_when_number_and_issue_are_typed_then_spoken_of_in_words(build):
    said = [
        make_part(build, sheet=typed).sheet_text
        for typed in ("12 B", "12b", "sheet 12 issue B", "12", "loose")
    ]
    assert said == ["Sheet 12 issue B"] * 3 + ["Sheet 12", "loose"]


def test_teeth_when_name_or_size_gives_them_then_known(build):
    typed = [("Wheel 84 T", ""), ("Wheel", "36 T, 8 DP"), ("57-tooth change wheel", ""), ("Tee 3", "2 in")]
    assert [make_part(build, name=name, leading_size=size).teeth for name, size in typed] == [
        84,
        36,
        57,
        None,
    ]


# ---- wrong entries ---------------------------------------------------------------------------------------


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
    [
        (True, "", "How many are used in CY Cylinder?"),
        (False, "4", "Choose the assembly that these are used in"),
    ],
)
def test_use_when_half_of_it_is_typed_then_the_other_half_is_asked_for(
    site, build, cylinder, assembly, quantity, why
):
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
    page = write(
        site, new_address(build), number="S-016", name="<script>alert(1)</script>", kind="from stock"
    )
    assert "<script>alert(1)" not in page.content.decode()
    assert "<script>alert(1)</script>" in words(page)


# ---- the bin ---------------------------------------------------------------------------------------------


def test_bin_when_a_part_is_put_in_then_out_of_every_list_and_nothing_of_it_is_lost(
    site, build, cylinder, cast
):
    part = make_part(number="S-016", name="Wheel", assembly=cylinder)
    record = make_record(part, user=cast.owner)
    page = site.post(reverse("part_bin", args=[part.pk]), follow=True)
    assert "S-016 is in the bin. Nothing of it is lost" in words(page)
    for address in (
        reverse("part_list", args=[build.pk]),
        cylinder.get_absolute_url(),
        reverse("build_page", args=[build.pk]),
    ):
        assert "S-016 Wheel" not in words(site.get(address))
    assert "S-016" in line_of(site.get(reverse("bin_page", args=[build.pk])), "Wheel")
    page = site.get(part.get_absolute_url())
    assert "This part is in the bin" in words(page)
    assert record.headline in words(page)


def test_bin_when_a_part_is_in_it_then_nothing_of_it_can_be_changed(site, build, cylinder):
    part = make_part(number="S-016", assembly=cylinder)
    use = part.uses.get().pk
    bin_part(part, by=None)
    closed = [reverse(name, args=[part.pk]) for name in ("part_stage", "part_count", "card_new")] + [
        reverse(name, args=[part.pk, use]) for name in ("part_quantity", "part_split")
    ]
    said = {"stage": "fitted", "quantity": "9", "good": "1", "token": str(uuid4()), "split": "2 (1L 1R)"}
    assert [site.post(address, said).status_code for address in closed] == [404] * len(closed)
    assert site.get(reverse("part_edit", args=[part.pk])).status_code == 404
    told = site.post(reverse("part_edit", args=[part.pk]), {"number": "S-016", "name": "Other"})
    assert "has been put in the bin" in alerts(told)
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


# ---- a size while it is typed ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("1.1/4 dia", "read as 1 1/4 in = 31.75 mm dia"),
        ("30 mm", "read as 30 mm = 1.1811 in"),
        ("36 T, 8 DP", "read as 36 T, 8 DP"),
        ("0,5 mm", "write 0.5 mm"),
        ("1 3/16 mmm", "not “mmm”"),
        (HUGE, "120 are the most"),
        ("", ""),
    ],
)
def test_size_when_it_is_being_typed_then_how_it_is_read_stands_beside_it(site, build, typed, said):
    answer = site.get(reverse("size_echo", args=[build.pk]), {"leading_size": typed})
    assert answer.status_code == 200
    assert said in words(answer)
    assert "<html" not in answer.content.decode()


# ---- what happened ---------------------------------------------------------------------------------------


def test_history_when_it_is_long_then_the_page_shows_the_latest_and_a_way_to_all(site, build, cast):
    part = make_part(build)
    for _ in range(14):
        record_count(part, good=1, scrap=0, by=cast.owner, call_machined=False, token=None)
    page = words(site.get(part.get_absolute_url()))
    assert page.count("+1 good") == 12
    assert "all of it" in page
    assert words(site.get(reverse("part_history", args=[part.pk]))).count("+1 good") == 14
