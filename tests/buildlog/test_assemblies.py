"""Assemblies: letters, names and balloons, branches moved about, what is empty and what is not."""

import pytest
from django.urls import reverse

from buildlog.actions.parts import bin_part, change_quantity
from buildlog.actions.stages import record_count
from buildlog.models import Assembly, HistoryLine, Part, PartUse
from buildlog.queries import assembly_tree, branch_ids, whole_engine
from buildlog.waiting.standing import standing_of
from tests.factories import make_assembly, make_build, make_part
from tests.pages import alerts, entries, fill_in, keys, line_of, links, words

pytestmark = pytest.mark.django_db


@pytest.fixture
def tree(build) -> dict[str, Assembly]:
    """Shafts and gearing with a second-shaft branch on it, and the front axle beside them."""
    shafts = make_assembly(build, code="S", name="Shafts and gearing", balloon="7")
    second = make_assembly(build, code="S2", name="Second shaft", balloon="7.1", parent=shafts)
    wheel = make_assembly(build, code="S3", name="Second-shaft wheel", balloon="7.10", parent=second)
    axle = make_assembly(build, code="FW", name="Front axle", balloon="3")
    return {each.code: each for each in (shafts, second, wheel, axle)}


def change(assembly):
    return reverse("assembly_edit", args=[assembly.pk])


# ---- written down and changed ----------------------------------------------------------------------------


def test_assembly_when_written_down_then_there_with_its_letters_made_large(site, build):
    page = fill_in(site, reverse("assembly_new", args=[build.pk]), code=" cy ", name="Cylinder", balloon="4")
    cylinder = Assembly.objects.get()
    assert (cylinder.code, cylinder.name, cylinder.balloon, cylinder.parent) == ("CY", "Cylinder", "4", None)
    assert "Assembly CY" in words(page)
    assert "No parts in it yet" in words(page)


def test_assembly_when_begun_from_another_then_that_stands_in_the_entry(site, build, tree):
    page = site.get(reverse("assembly_new", args=[build.pk]), {"parent": tree["S"].pk})
    assert entries(page)["parent"] == str(tree["S"].pk)


@pytest.mark.parametrize(
    ("typed", "why"),
    [
        ({"code": ""}, "Letters: This field is required"),
        ({"code": "S"}, "Another assembly of this build has these letters"),
        ({"code": " s "}, "Another assembly of this build has these letters"),
        ({"code": "LONGER-THAN-12"}, "Letters: Ensure this value has at most 12 characters"),
        ({"code": "C\u202eY"}, "Letters: There is an unseen sign in it (U+202E)"),
        ({"name": ""}, "Name: This field is required"),
        ({"name": "n" * 81}, "Name: Ensure this value has at most 80 characters"),
        ({"balloon": "7"}, "Another assembly of this build has this balloon"),
        ({"balloon": "1234567"}, "Balloon: Ensure this value has at most 6 characters"),
        ({"parent": "999999"}, "Part of: Select a valid choice"),
        ({"parent": "9" * 30}, "Part of: Select a valid choice"),
        ({"parent": "9**9**9"}, "Part of: Select a valid choice"),
    ],
)
def test_assembly_when_an_entry_is_wrong_then_said_and_all_typed_is_still_there(
    site, build, tree, typed, why
):
    good = {"code": "CY", "name": "Cylinder", "balloon": "4", "parent": ""}
    page = fill_in(site, reverse("assembly_new", args=[build.pk]), **(good | typed))
    assert page.status_code == 422
    assert why in alerts(page)
    kept = {name: entries(page).get(name, "") for name in good if name != "parent"}
    assert kept == {name: value for name, value in (good | typed).items() if name != "parent"}
    assert build.assemblies.count() == len(tree)


def test_letters_and_balloons_when_another_build_has_them_then_free(site, build):
    make_assembly(make_build(), code="CY", balloon="4")
    typed = {"code": "CY", "name": "Cylinder", "balloon": "4"}
    assert fill_in(site, reverse("assembly_new", args=[build.pk]), **typed).status_code == 200


def test_balloons_when_none_is_given_then_any_number_of_assemblies_go_without(site, build):
    for code in ("A", "B"):
        fill_in(site, reverse("assembly_new", args=[build.pk]), code=code, name=code)
    assert [each.code for each in build.assemblies.all()] == ["A", "B"]


def test_assemblies_when_listed_then_by_balloon_as_a_person_counts_and_those_without_last(build, tree):
    make_assembly(build, code="AA", name="Tools")
    make_assembly(build, code="T", name="Tender", balloon="10")
    make_assembly(build, code="S9", name="Third shaft", balloon="7.9")
    assert [each.balloon for each in build.assemblies.all()] == ["3", "7", "7.1", "7.9", "7.10", "10", ""]


# ---- moved -----------------------------------------------------------------------------------------------


def test_branch_when_it_is_moved_then_its_parts_needs_and_history_go_with_it(site, build, tree, cast):
    part = make_part(number="S-016", name="Wheel", assembly=tree["S3"], quantity=2)
    record_count(part, good=1, scrap=1, by=cast.owner, call_machined=True, token=None)
    before = HistoryLine.objects.count()
    page = fill_in(site, change(tree["S2"]), parent=str(tree["FW"].pk))
    assert "part of Front axle" in words(page)
    for code, has in (("S", False), ("FW", True), ("S2", True), ("S3", True)):
        assert ("S-016" in keys(site.get(tree[code].get_absolute_url()))) is has, code
    page = site.get(part.get_absolute_url())
    assert "2 needed, 1 good, 1 scrap" in words(page)
    assert "+1 good, +1 scrap" in words(page)
    assert HistoryLine.objects.count() == before


@pytest.mark.parametrize("under", ["S2", "S3"])
def test_branch_when_it_would_hang_on_itself_then_refused(site, tree, under):
    page = fill_in(site, change(tree["S"]), parent=str(tree[under].pk))
    assert page.status_code == 422
    assert "Choose an assembly outside it" in alerts(page)
    assert entries(page)["parent"] == str(tree[under].pk)
    tree["S"].refresh_from_db()
    assert tree["S"].parent is None


def test_assembly_when_it_would_hang_on_itself_then_not_offered_and_refused(site, tree):
    page = fill_in(site, change(tree["S"]), parent=str(tree["S"].pk))
    assert page.status_code == 422
    tree["S"].refresh_from_db()
    assert tree["S"].parent is None


def test_branch_when_the_other_assembly_is_of_another_build_then_refused(site, tree):
    foreign = make_assembly(code="X")
    assert fill_in(site, change(tree["S2"]), parent=str(foreign.pk)).status_code == 422


def test_assembly_when_it_moves_to_the_engine_itself_then_on_top(site, tree):
    fill_in(site, change(tree["S3"]), parent="")
    tree["S3"].refresh_from_db()
    assert tree["S3"].parent is None


def test_assembly_when_renamed_then_its_parts_say_so(site, tree):
    part = make_part(assembly=tree["S3"])
    fill_in(site, change(tree["S3"]), code="S4", name="Third-shaft wheel")
    assert "Third-shaft wheel" in words(site.get(part.get_absolute_url()))


# ---- taken away ------------------------------------------------------------------------------------------


def take_away(site, assembly):
    return site.post(reverse("assembly_delete", args=[assembly.pk]), follow=True)


def test_assembly_when_it_is_empty_then_taken_away(site, build, tree):
    page = take_away(site, tree["FW"])
    assert "FW Front axle is gone; it held nothing." in words(page)
    assert not build.assemblies.filter(code="FW").exists()


def test_assembly_when_parts_are_used_in_it_then_it_stays_and_says_why(site, tree):
    make_part(assembly=tree["FW"])
    bin_part(make_part(assembly=tree["FW"]), by=None)
    page = take_away(site, tree["FW"])
    assert "FW Front axle stays: 2 parts are used in it, the bin counted" in words(page)
    assert PartUse.objects.count() == 2


def test_assembly_when_others_hang_on_it_then_it_stays_and_says_why(site, build, tree):
    page = take_away(site, tree["S2"])
    assert "S2 Second shaft stays" in words(page)
    assert "1 assembly hangs on it" in words(page)
    assert build.assemblies.count() == len(tree)


# ---- its page and the tallies ----------------------------------------------------------------------------


def test_page_then_the_parts_of_its_branch_are_on_it_each_once(site, build, tree):
    stud = make_part(number="ST-012", assembly=tree["S"], quantity=8)
    PartUse.objects.create(part=stud, assembly=tree["S3"], quantity=4)
    make_part(number="S-016", assembly=tree["S3"])
    make_part(number="FW-004", assembly=tree["FW"])
    bin_part(make_part(number="S-099", assembly=tree["S"]), by=None)
    page = site.get(tree["S"].get_absolute_url())
    assert keys(page) == ["S-016", "ST-012"]
    assert "0/12" in line_of(page, "ST-012")
    assert "Made, of 2" in words(page)
    assert tree["S2"].get_absolute_url() in links(page)


def test_page_then_a_fastener_used_in_several_assemblies_shows_in_each(site, tree):
    stud = make_part(number="ST-012", assembly=tree["S"], quantity=8)
    PartUse.objects.create(part=stud, assembly=tree["FW"], quantity=4)
    assert [keys(site.get(tree[code].get_absolute_url())) for code in ("S", "FW")] == [["ST-012"]] * 2


def test_page_then_what_stands_in_the_way_is_named_and_the_rest_counted(site, build, tree):
    for number in range(1, 6):
        make_part(number=f"S-00{number}", assembly=tree["S"], waits_for=f"bar {number}")
    make_part(number="S-006", assembly=tree["S"], waits_for="nothing now", stage="fitted")
    page = words(site.get(tree["S"].get_absolute_url()))
    assert "5 wait" in page
    assert "and 2 more" in page
    assert "nothing now" not in page


def test_page_then_its_sheets_are_named(site, tree):
    for sheet in ("12 B", "9", "sheet 14 issue A", "loose"):
        make_part(assembly=tree["S"], sheet=sheet)
    assert "Sheets 9 to 14" in words(site.get(tree["S"].get_absolute_url()))


def test_twins_when_they_stand_together_then_left_before_right(site, tree):
    for hand in "RL":
        make_part(number="H-021", hand=hand, assembly=tree["S"])
    assert keys(site.get(tree["S"].get_absolute_url())) == ["H-021-L", "H-021-R"]


def tree_of(build):
    return assembly_tree(build, standing_of(build))


STAGES = ["not started", "in hand", "machined", "fitted", "painted", "on the engine"]


def test_tallies_then_made_in_hand_not_started_and_waiting_are_counted_by_branch(build, tree):
    for stage in STAGES:
        make_part(assembly=tree["S3"], stage=stage, waits_for="paint")
    make_part(assembly=tree["S"], stage="machined")
    tallies = {each.assembly.code: each.tally for top in tree_of(build) for each in top.walk()}
    for code in ("S2", "S3"):
        found = tallies[code]
        assert (found.total, found.made, found.in_hand, found.not_started) == (6, 4, 1, 1)
        assert (found.waiting, found.finished) == (2, 2)
    assert (tallies["S"].total, tallies["S"].made) == (7, 5)
    assert (tallies["FW"].total, tallies["FW"].all_made) == (0, False)
    assert whole_engine(standing_of(build)).total == 7


def test_tallies_when_a_part_is_used_twice_in_a_branch_then_counted_once(build, tree):
    stud = make_part(assembly=tree["S"])
    PartUse.objects.create(part=stud, assembly=tree["S3"], quantity=4)
    PartUse.objects.create(part=stud, assembly=tree["FW"], quantity=4)
    tallies = {each.assembly.code: each.tally.total for top in tree_of(build) for each in top.walk()}
    assert tallies == {"S": 1, "S2": 1, "S3": 1, "FW": 1}
    assert whole_engine(standing_of(build)).total == 1


def test_tallies_when_a_need_rises_then_the_part_counts_as_made_no_longer(build, tree, cast):
    part = make_part(assembly=tree["FW"], quantity=2)
    record_count(part, good=2, scrap=0, by=cast.owner, call_machined=True, token=None)
    assert whole_engine(standing_of(build)).made == 1
    change_quantity(part.uses.get(), 3, by=cast.owner)
    assert (whole_engine(standing_of(build)).made, whole_engine(standing_of(build)).in_hand) == (0, 1)


def test_branch_then_it_is_the_assembly_and_all_below(build, tree):
    assert branch_ids(build, tree["S"]) == [tree[code].pk for code in ("S", "S2", "S3")]
    assert branch_ids(build, tree["S3"]) == [tree["S3"].pk]


def test_engine_page_then_every_assembly_is_in_the_key_with_its_counts(site, build, tree):
    make_part(assembly=tree["S3"], stage="machined")
    Part.objects.create(build=build, number="X-1", name="Loose", waits_for="bar")
    page = site.get(reverse("engine", args=[build.pk]))
    assert "1/1" in line_of(page, "Shafts and gearing")
    assert "all made" in line_of(page, "Second-shaft wheel")
    assert "1/2" in line_of(page, "Whole engine")
    assert "1 wait" in line_of(page, "Whole engine")


def test_engine_page_when_there_is_no_assembly_then_it_says_how_to_begin(site, build):
    assert "No assemblies yet" in words(site.get(reverse("engine", args=[build.pk])))
