"""What the page of a sum is filled in with: by the part, by its mates, by its other kept sums."""

import json
import re
from pathlib import Path
from uuid import uuid4

import pytest
from django.urls import reverse

from buildlog.offers import GIVERS, goes_on_to, offers_of
from calc import registry
from calc.forms import read_one
from tests.factories import make_assembly, make_mate, make_part, make_record
from tests.pages import entries, words

pytestmark = pytest.mark.django_db

#: Each sum as it was kept once.
KEPT = Path(__file__).resolve().parents[1] / "calc" / "kept"


def filled(part, key):
    return {name: (offered.text, offered.note) for name, offered in offers_of(part, key).items()}


def test_offers_for_a_gear_then_teeth_pitch_and_mate_are_the_parts(build):
    wheel = make_part(build, number="S-016", name="Final-drive wheel 84 T", leading_size="84 T, 6 DP")
    make_mate(wheel, make_part(build, number="S-003", name="Second shaft"))
    make_mate(wheel, make_part(build, number="S-015", name="Second-shaft pinion 18 T"))
    assert filled(wheel, "spur-gear") == {
        "teeth": ("84", "from the part: 84 teeth"),
        "mate_teeth": ("18", "from its mate S-015: 18 teeth"),
        "diametral_pitch": ("6 DP", "from the part: 6 DP"),
    }


def test_offers_for_a_gear_when_only_its_mate_gives_a_module_then_that_is_offered(build):
    wheel = make_part(build, number="S-001", name="Pump wheel 30 T")
    make_mate(wheel, make_part(build, number="S-002", name="Pump pinion 15 T", leading_size="15 T, 1.5 MOD"))
    assert filled(wheel, "spur-gear")["module"] == ("1.5 MOD", "from its mate: module 1.5")


def test_offers_for_indexing_then_the_kept_gear_comes_before_the_part(build, cast):
    wheel = make_part(build, name="Final-drive wheel 84 T")
    assert filled(wheel, "indexing") == {"divisions": ("84", "from the part: 84 teeth")}
    kept = make_record(wheel, user=cast.owner, key="spur-gear", teeth="57", diametral_pitch="8")
    assert filled(wheel, "indexing") == {"divisions": ("57", f"from kept sum {kept.pk}: 57 teeth")}


def test_offers_for_a_keyway_then_the_bore_is_the_parts_or_the_fits(build, cast):
    wheel = make_part(build, name="Boss", leading_size="1 1/8 in bore")
    assert filled(wheel, "keyway") == {"shaft_diameter": ("1 1/8 in", "from the part: 1 1/8 in bore")}
    kept = make_record(wheel, user=cast.owner, key="fit", nominal="1.25", hole="H7", shaft="g6")
    assert filled(wheel, "keyway") == {"shaft_diameter": ("1.25 in", f"from kept sum {kept.pk}: 1.25 in")}


def test_offers_for_broaching_then_bore_key_and_depth_are_the_kept_keyways(build, cast):
    """1 1/8 in by B17.1: 1.241 across the bore, so 0.116 deep (Machinery's Handbook 31, p. 2552)."""
    wheel = make_part(build, name="Boss", leading_size="1 1/8 in bore")
    assert filled(wheel, "broaching") == {}
    kept = make_record(wheel, user=cast.owner, key="keyway", shaft_diameter="1 1/8", standard="b17.1")
    found = filled(wheel, "broaching")
    assert found["bore"] == ("1 1/8 in", f"from kept sum {kept.pk}: 1 1/8 in")
    assert found["key_width"][0] == "0.25 in"
    assert float(found["hub_crown_depth"][0].removesuffix(" in")) == pytest.approx(0.116, abs=0.0005)
    assert float(found["hub_crown_depth_max"][0].removesuffix(" in")) == pytest.approx(0.126, abs=0.0005)


def test_offers_for_broaching_when_the_keyway_has_no_depth_then_none_is_made(build, cast):
    wheel = make_part(build, name="Boss")
    make_record(
        wheel, user=cast.owner, key="keyway", shaft_diameter="1 1/8", standard="bs46", section="rectangular"
    )
    assert filled(wheel, "broaching") == {}


def test_offers_for_a_fit_then_the_size_is_the_keyways(build, cast):
    wheel = make_part(build, name="Boss")
    assert filled(wheel, "fit") == {}
    kept = make_record(wheel, user=cast.owner, key="keyway", shaft_diameter="1 1/8 in", standard="b17.1")
    assert filled(wheel, "fit") == {"nominal": ("1 1/8 in", f"from kept sum {kept.pk}: 1 1/8 in")}


def test_offers_when_the_size_is_of_something_else_then_none_is_made(build):
    part = make_part(build, name="Plate", leading_size="9 1/2 in long")
    assert filled(part, "keyway") == {}
    assert filled(part, "fit") == {}
    assert filled(part, "indexing-schedule") == {}


def test_page_of_a_gear_then_the_parts_teeth_stand_in_the_entries(site, build):
    wheel = make_part(build, name="Second-shaft wheel 57 T", leading_size="57 T, 8 DP")
    page = site.get(reverse("part_calculate", args=[wheel.pk, "spur-gear"]))
    assert (entries(page)["teeth"], entries(page)["diametral_pitch"]) == ("57", "8 DP")
    # (57 + 2) / 8 = 7.375 in (US Navy, Machinery Repairman, NAVEDTRA 14345, App. III, the rule).
    assert "7.375" in words(page)


# ---- every sum that has kin --------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("key", "entered", "teeth"),
    [
        ("helical-gear", {"teeth": "24", "diametral_pitch": "10", "helix_angle": "30"}, "24"),
        (
            "bevel-pair",
            {"teeth": "36", "mate_teeth": "16", "diametral_pitch": "8", "face_width": "3/4 in"},
            "36",
        ),
        ("worm-pair", {"starts": "1", "wheel_teeth": "30", "worm_diameter": "1 in", "module": "2.5"}, "30"),
    ],
)
def test_offers_for_indexing_then_every_kept_gear_gives_its_teeth(build, cast, key, entered, teeth):
    part = make_part(build, name="Gear")
    kept = make_record(part, user=cast.owner, key=key, **entered)
    assert filled(part, "indexing") == {"divisions": (teeth, f"from kept sum {kept.pk}: {teeth} teeth")}


def test_offers_for_indexing_when_two_gears_disagree_then_the_one_the_part_agrees_with(build, cast):
    entered = {"teeth": "24", "diametral_pitch": "10"}
    for name, expected in (("Gear", None), ("Gear 24 T", "24")):
        part = make_part(build, name=name)
        make_record(part, user=cast.owner, key="spur-gear", **entered)
        make_record(part, user=cast.owner, key="helical-gear", **entered | {"teeth": "30"}, helix_angle="30")
        assert filled(part, "indexing").get("divisions", ("",))[0] == (expected or ""), name


def test_offers_for_indexing_when_the_part_is_the_worm_then_not_the_teeth_of_its_wheel(build, cast):
    part = make_part(build, name="Steering worm")
    entered = {"starts": "1", "wheel_teeth": "30", "worm_diameter": "1 in", "module": "2.5"}
    make_record(part, user=cast.owner, key="worm-pair", **entered)
    assert filled(part, "indexing") == {}


def test_offers_for_a_worm_then_the_teeth_are_its_wheels(build):
    worm = make_part(build, number="F-026", name="Steering worm", leading_size="1 1/4 in OD")
    wheel = make_part(build, number="F-025", name="Steering worm wheel 30 T, 10 DP")
    make_mate(worm, wheel)
    assert filled(worm, "worm-pair") == {
        "wheel_teeth": ("30", "from its mate F-025: 30 teeth"),
        "diametral_pitch": ("10 DP", "from its mate: 10 DP"),
    }
    assert filled(wheel, "worm-pair")["wheel_teeth"] == ("30", "from the part: 30 teeth")


@pytest.mark.parametrize("key", ["helical-gear", "bevel-pair"])
def test_offers_for_other_gears_then_part_and_mate_are_read(build, key):
    wheel = make_part(build, number="S-020", name="Differential bevel 36 T", leading_size="36 T, 8 DP")
    make_mate(wheel, make_part(build, number="S-021", name="Differential pinion 16 T"))
    assert filled(wheel, key) == {
        "teeth": ("36", "from the part: 36 teeth"),
        "mate_teeth": ("16", "from its mate S-021: 16 teeth"),
        "diametral_pitch": ("8 DP", "from the part: 8 DP"),
    }


def test_offers_for_a_differential_when_two_like_bevels_and_three_pinions_then_all_are_filled_in(build):
    assembly = make_assembly(build, code="DIF")
    bevel = make_part(
        assembly=assembly,
        number="S-020",
        name="Differential bevel 36 T",
        leading_size="36 T, 8 DP",
        quantity=2,
    )
    pinion = make_part(assembly=assembly, number="S-021", name="Differential pinion 16 T", quantity=3)
    make_mate(bevel, pinion)
    assert filled(bevel, "bevel-differential") == {
        "left_teeth": ("36", "from the part: 36 teeth"),
        "right_teeth": ("36", "from the part: 36 teeth"),
        "pinion_teeth": ("16", "from its mate S-021: 16 teeth"),
        "pinions": ("3", "3 of S-021 are needed"),
        "diametral_pitch": ("8 DP", "from the part: 8 DP"),
    }


def test_offers_for_a_differential_when_one_bevel_is_known_then_the_other_is_left_open(build):
    assembly = make_assembly(build, code="DIF")
    bevel = make_part(assembly=assembly, number="S-020", name="Bevel 36 T", quantity=1)
    make_mate(bevel, make_part(assembly=assembly, number="S-021", name="Bevel pinion 16 T", quantity=1))
    assert set(filled(bevel, "bevel-differential")) == {"left_teeth", "pinion_teeth"}


def test_offers_for_a_differential_then_a_kept_pair_comes_first(build, cast):
    bevel = make_part(build, name="Bevel")
    entered = {"teeth": "36", "mate_teeth": "16", "diametral_pitch": "8", "face_width": "3/4 in"}
    kept = make_record(bevel, user=cast.owner, key="bevel-pair", **entered)
    assert filled(bevel, "bevel-differential") == {
        "left_teeth": ("36", f"from kept sum {kept.pk}: 36 teeth"),
        "pinion_teeth": ("16", f"from kept sum {kept.pk}: 16 teeth"),
        "diametral_pitch": ("8", f"from kept sum {kept.pk}: 8"),
    }


def test_offers_for_a_schedule_then_the_setting_in_use_is_filled_in(build, cast):
    """40/84 = 10/21 (US Army course OD1644, milling, p. 30, the rule)."""
    wheel = make_part(build, name="Wheel 84 T")
    kept = make_record(wheel, user=cast.owner)
    found = filled(wheel, "indexing-schedule")
    assert {name: text for name, (text, _) in found.items()} == {
        "divisions": "84",
        "ratio": "40",
        "circle": "21",
        "turns": "0",
        "holes": "10",
    }
    assert found["circle"][1] == f"from kept sum {kept.pk}: 21"


def test_offers_for_a_keyway_then_a_measured_hole_is_the_bore_as_measured(build, cast):
    bush = make_part(build, name="Bush")
    entered = {"nominal": "1 1/4 in", "hole": "H7", "shaft": "g6", "hole_measured": "1.2530 in"}
    kept = make_record(bush, user=cast.owner, key="fit", **entered)
    assert filled(bush, "keyway") == {
        "shaft_diameter": ("1 1/4 in", f"from kept sum {kept.pk}: 1 1/4 in"),
        "bore_measured": ("1.2530 in", f"from kept sum {kept.pk}: 1.2530 in"),
    }
    assert filled(bush, "press-fit") == {"interface": ("1.2530 in", f"from kept sum {kept.pk}: 1.2530 in")}
    assert filled(bush, "bore-sequence")["finished_bore"][0] == "1 1/4 in"


def test_offers_for_a_fit_then_the_measured_bore_of_a_keyway_is_the_hole_as_measured(build, cast):
    boss = make_part(build, name="Boss")
    entered = {"shaft_diameter": "1 1/8 in", "standard": "b17.1", "bore_measured": "1.1255 in"}
    make_record(boss, user=cast.owner, key="keyway", **entered)
    found = filled(boss, "fit")
    assert (found["nominal"][0], found["hole_measured"][0]) == ("1 1/8 in", "1.1255 in")


def test_offers_for_the_strength_of_a_key_then_its_section_is_the_keyways(build, cast):
    """1 1/8 in takes a key of 1/4 in square by B17.1 (Machinery's Handbook 31, p. 2551)."""
    boss = make_part(build, name="Boss")
    make_record(boss, user=cast.owner, key="keyway", shaft_diameter="1 1/8 in", standard="b17.1")
    found = {name: text for name, (text, _) in filled(boss, "key-strength").items()}
    assert found == {"shaft": "1 1/8 in", "key_width": "0.25 in", "key_height": "0.25 in"}


def test_offers_for_broaching_when_the_keyway_is_metric_then_in_millimetres(build, cast):
    """A shaft of 30 mm takes a key 8 mm wide (ISO 773, the table as read)."""
    boss = make_part(build, name="Boss")
    make_record(boss, user=cast.owner, key="keyway", shaft_diameter="30 mm", standard="iso773")
    assert filled(boss, "broaching")["key_width"][0] == "8 mm"


def test_offers_between_thread_and_tapping_drill_then_either_gives_the_thread(build, cast):
    part = make_part(build, name="Nut")
    thread = make_record(part, user=cast.owner, key="thread", thread="1/4 BSF")
    assert filled(part, "tapping-drill") == {"thread": ("1/4 BSF", f"from kept sum {thread.pk}: 1/4 BSF")}
    other = make_part(build, name="Stud")
    make_record(other, user=cast.owner, key="tapping-drill", thread="2 BA", engagement="70")
    assert filled(other, "thread")["thread"][0] == "2 BA"


def test_offers_for_a_spindle_speed_then_the_drill_is_that_of_the_tapping_drill(build, cast):
    part = make_part(build, name="Nut")
    kept = make_record(part, user=cast.owner, key="tapping-drill", thread="1/4 BSF", drill="5.4 mm")
    found = filled(part, "spindle-speed")
    assert found["diameter"][1] == f"from kept sum {kept.pk}: drill 5.4 mm"
    # The size in the unit the sum was shown in, to a ten-thousandth of a millimetre.
    text, unit = found["diameter"][0].split()
    assert float(text) * (25.4 if unit == "in" else 1) == pytest.approx(5.4, abs=1e-4)


@pytest.mark.parametrize(
    ("size", "name", "key", "expected"),
    [
        ("9/16 in bore", "Nozzle", "bore-sequence", {"finished_bore": "9/16 in"}),
        ("45 mm dia", "Hind axle", "key-strength", {"shaft": "45 mm"}),
        ("45 mm dia", "Hind axle", "bore-sequence", {}),
        ("45 mm bore", "Axle bush", "key-strength", {}),
        ("1/4 BSF", "Stud", "thread", {"thread": "1/4 BSF"}),
        ("M6x1", "Stud", "tapping-drill", {"thread": "M6x1"}),
        ("", "Stud, 2 BA", "thread", {"thread": "2 BA"}),
        ("1/4 BSF", "Adaptor, 1/4 BSF to 2 BA", "thread", {}),
        ("MT2", "Centre", "taper", {"name": "MT2"}),
        ("", "Pin, taper 1:50", "taper", {"rate": "1:50"}),
        ("3 1/4 in PCD", "Cover, 6 holes", "bolt-circle", {"diameter": "3 1/4 in", "holes": "6"}),
        ("3 1/4 in OD", "Cover", "bolt-circle", {}),
    ],
)
def test_offers_of_what_the_part_says_then_only_what_is_plain(build, size, name, key, expected):
    part = make_part(build, name=name, leading_size=size)
    assert {name: text for name, (text, _) in filled(part, key).items()} == expected


@pytest.mark.parametrize(
    ("material", "mass", "casting"),
    [
        ("cast iron", "grey-iron", "cast-iron"),
        ("mild steel", "steel", None),
        ("stainless steel", "stainless", None),
        ("phosphor bronze", "bronze", None),
        ("gunmetal", "gunmetal", "gunmetal"),
        ("brass or gunmetal", None, "gunmetal"),
        ("oak", None, None),
    ],
)
def test_offers_of_a_material_then_the_tables_name_for_it(build, material, mass, casting):
    part = make_part(build, name="Piece", material=material)
    assert filled(part, "mass").get("material", (None,))[0] == mass
    assert filled(part, "casting-allowance").get("metal", (None,))[0] == casting


def test_offers_for_a_casting_then_its_leading_size_is_the_finished_size(build):
    block = make_part(build, name="Block", kind="casting", material="cast iron", leading_size="3 1/8 in bore")
    found = {name: text for name, (text, _) in filled(block, "casting-allowance").items()}
    assert found == {"metal": "cast-iron", "finished_size": "3 1/8 in", "surface": "bore"}
    bar = make_part(build, name="Block", material="cast iron", leading_size="3 1/8 in bore")
    assert set(filled(bar, "casting-allowance")) == {"metal"}


@pytest.mark.parametrize(
    ("scale", "expected"), [("4 in", "4 in to the foot"), ("1:3", "1:3"), ("a third", None)]
)
def test_offers_for_the_scale_then_it_is_the_builds(build, scale, expected):
    build.scale = scale
    build.save()
    assert filled(make_part(build), "scale").get("scale", (None,))[0] == expected


def test_offers_then_each_names_an_entry_says_where_from_and_is_read_as_it_stands(build, cast):
    """Whatever is offered can be read by the entry it is offered to."""
    part = make_part(build, name="Wheel 84 T", leading_size="84 T, 6 DP", material="cast iron")
    for path in sorted(KEPT.glob("*-1.json")):
        one = json.loads(path.read_text())
        make_record(part, user=cast.owner, key=one["key"], unit=one["unit"], **one["entered"])
    for key, calculation in registry.catalogue().items():
        fields = {field.name: field for field in calculation.inputs}
        for name, offered in offers_of(part, key).items():
            assert offered.note
            reading, error = read_one(calculation, fields[name], offered.text, "inch")
            assert (bool(reading), error) == (True, ""), f"{key} {name}: {offered.text}"


def test_table_of_offers_then_every_sum_is_in_it_or_has_no_kin():
    assert registry.catalogue().keys() - GIVERS.keys() == set()


def test_goes_on_to_then_only_sums_that_are_there(build):
    for key in registry.catalogue():
        for other, title in goes_on_to(key):
            assert registry.get(other).title == title


# ---- kept with what was offered ----------------------------------------------------------------------------


def taken_on(page):
    return re.findall(r'name="taken" value="([^"]+)"', page.text)


def test_page_when_an_entry_stands_as_offered_then_keeping_it_remembers_the_sum(site, cast, build):
    boss = make_part(build, name="Boss")
    fit = make_record(boss, user=cast.owner, key="fit", nominal="1 1/8 in", hole="H7", shaft="g6")
    place = reverse("part_calculate", args=[boss.pk, "keyway"])
    page = site.post(place, {"shaft_diameter": "1 1/8 in", "standard": "b17.1"})
    assert taken_on(page) == [f"shaft_diameter:{fit.pk}:inputs.nominal"]
    sent = {"shaft_diameter": "1 1/8 in", "standard": "b17.1", "do": "keep", "token": str(uuid4())}
    answer = site.post(place, sent | {"taken": taken_on(page)})
    shown = words(site.get(answer["Location"]))
    assert "It rests on" in shown
    assert "Fit, 1 1/8 in H7/g6" in shown
    assert "What rests on it" in words(site.get(fit.get_absolute_url()))
    assert "Keyway" in words(site.get(fit.get_absolute_url()))


def test_page_when_the_offer_is_typed_over_then_nothing_is_taken(site, cast, build):
    boss = make_part(build, name="Boss")
    make_record(boss, user=cast.owner, key="fit", nominal="1 1/8 in", hole="H7", shaft="g6")
    place = reverse("part_calculate", args=[boss.pk, "keyway"])
    assert taken_on(site.post(place, {"shaft_diameter": "1.125 in", "standard": "b17.1"})) == []


def test_keep_when_the_sum_is_worked_out_again_in_another_tab_then_the_new_record_is_stale_at_once(
    site, cast, build
):
    boss = make_part(build, name="Boss")
    fit = make_record(boss, user=cast.owner, key="fit", nominal="1 1/8 in", hole="H7", shaft="g6")
    place = reverse("part_calculate", args=[boss.pk, "keyway"])
    sent = {"shaft_diameter": "1 1/8 in", "standard": "b17.1"}
    taken = taken_on(site.post(place, sent))
    again = make_record(boss, user=cast.owner, key="fit", nominal="1.253 in", hole="H7", shaft="g6")
    answer = site.post(place, sent | {"do": "keep", "token": str(uuid4()), "taken": taken})
    shown = words(site.get(answer["Location"]))
    told = f"Sum {fit.pk}, limits and fits, was worked out again as sum {again.pk}: its nominal size is now"
    assert told in shown
    assert told in words(site.get(boss.get_absolute_url()))
    card = words(site.get(reverse("card_new", args=[boss.pk])))
    assert told in card
    # The way on leaves the taken entry to be filled in as it stands now.
    link = re.search(r'href="([^"]+)">Work it out again', site.get(answer["Location"]).text)[1]
    assert entries(site.get(link.replace("&amp;", "&")))["shaft_diameter"] == "1.253 in"


@pytest.mark.parametrize("taken", ["", "x", "shaft_diameter", "shaft_diameter:x:y", "a:1:", "::", "a:²:b"])
def test_keep_when_what_was_taken_is_nonsense_then_it_is_kept_without(site, build, taken):
    boss = make_part(build, name="Boss")
    sent = {"shaft_diameter": "1 1/8 in", "standard": "b17.1", "do": "keep", "token": str(uuid4())}
    place = reverse("part_calculate", args=[boss.pk, "keyway"])
    assert site.post(place, sent | {"taken": taken}).status_code == 302
    assert not boss.records.get().rests_on.exists()


# ---- givers whose sums come and go with the catalogue ------------------------------------------------------


def given(part, key):
    """What the givers of a sum say, whether the catalogue has it or not."""
    kept = {record.key: record for record in reversed(part.records.all())}
    return {name: one.text for giver in GIVERS[key] for name, one in giver(part, kept).items()}


def test_givers_of_a_milling_lead_then_the_lead_is_the_helical_gears(build, cast):
    """Lead = π × pitch diameter / tan of the helix, by hand: 24 teeth of 10 DP at 30° have 15.0796 in."""
    part = make_part(build, name="Gear")
    make_record(part, user=cast.owner, key="helical-gear", teeth="24", diametral_pitch="10", helix_angle="30")
    lead = given(part, "milling-lead")["lead"]
    assert lead.endswith(" in")
    assert float(lead.removesuffix(" in")) == pytest.approx(15.0796, abs=1e-4)


@pytest.mark.parametrize(
    ("thread", "expected"), [("1/4 BSF", {"threads_per_inch": "26"}), ("M6x1", {"pitch": "1 mm"})]
)
def test_givers_of_change_wheels_then_the_pitch_is_the_threads(build, cast, thread, expected):
    """1/4 BSF has 26 threads to the inch (BS 84); M6 coarse a pitch of 1 mm (ISO 261)."""
    part = make_part(build, name="Screw")
    make_record(part, user=cast.owner, key="thread", thread=thread)
    assert given(part, "change-wheels") == expected


def test_givers_of_cutting_a_bevel_then_only_a_pair_of_parallel_depth_counts(build, cast):
    entered = {"teeth": "36", "mate_teeth": "16", "diametral_pitch": "8", "face_width": "3/4 in"}
    part = make_part(build, name="Bevel")
    make_record(part, user=cast.owner, key="bevel-pair", **entered)
    assert given(part, "bevel-cutting") == {}
    make_record(part, user=cast.owner, key="bevel-pair", tooth_depth="parallel", **entered)
    assert given(part, "bevel-cutting") == {
        "teeth": "36",
        "mate_teeth": "16",
        "face_width": "3/4 in",
        "shaft_angle": "90",
        "pressure_angle": "20",
        "diametral_pitch": "8",
    }
