"""What the page of a sum is filled in with: by the part, by its mates, by its other kept sums."""

import pytest
from django.urls import reverse

from buildlog.offers import offers_of
from tests.factories import make_mate, make_part, make_record
from tests.pages import entries, words

pytestmark = pytest.mark.django_db


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
