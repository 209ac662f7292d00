"""Mistakes with keys that the sum catches; the numbers are those of the list of the fits and keys page."""

from math import atan, degrees

import pytest

from calc.kernel.keyway import keyway
from calc.registry import get
from tests.kernel.test_keyway import codes, in_inches, inches


def test_trap_1_depth_from_the_wrong_datum_is_caught_by_showing_all_three_and_what_is_lost():
    """1 in shaft, 1/4 key: 0.125 cut from the crown leaves the seat 0.016 shallow."""
    outcome = keyway(shaft_diameter=inches("1"), standard="b17.1")
    results = outcome.results
    three = [results[f"shaft_{one}_mm"] for one in ("side_depth", "crown_depth", "over_work")]
    assert len({round(size, 3) for size in three}) == 3
    line = next(step for step in outcome.working if "leaves the keyway shallow by" in step.label)
    assert float(line.value) == pytest.approx(0.016, abs=0.0005)


def test_trap_2_bare_depth_is_never_shown_without_its_datum():
    outputs = [output for output in get("keyway").outputs if "depth" in output.name]
    assert outputs
    for output in outputs:
        assert "side" in output.name or "crown" in output.name
        assert "at the keyway wall" in output.help or "from its crown" in output.help
    for kind, more in (("parallel", {}), ("taper", {}), ("woodruff", {"key_number": 404})):
        steps = keyway(shaft_diameter=inches("1"), standard="b17.1", kind=kind, **more).working
        for step in steps:
            if step.label.startswith("Depth"):
                assert "from its crown" in step.label


@pytest.mark.parametrize("shaft", ["3/8", "9/16", "7/8", "1 1/8", "1 5/8", "2 1/8", "3 1/8"])
def test_trap_3_wrong_standard_for_the_shaft_is_warned_of_with_the_others_key(shaft):
    for standard, other in (("bs46", "B17.1"), ("b17.1", "BS 46")):
        outcome = keyway(shaft_diameter=inches(shaft), standard=standard)
        assert "other-standard" in codes(outcome)
        assert any(other in caution.text for caution in outcome.warnings)


def test_trap_3_when_both_standards_agree_then_nothing_is_said():
    assert "other-standard" not in codes(keyway(shaft_diameter=inches("1 1/2"), standard="bs46"))


def test_trap_18_taper_key_tells_its_rate_that_it_is_on_one_face_and_the_whole_angle():
    """1/8 in to the foot on one face: 0.5968 degrees; 1 in 100 is 0.5729 and no match."""
    outcome = keyway(shaft_diameter=inches("1"), standard="b17.1", kind="taper")
    text = next(one.text for one in outcome.warnings if one.code == "taper-on-one-face")
    angle = degrees(atan(1 / outcome.results["taper_one_in"]))
    assert angle == pytest.approx(0.5968, abs=0.00005)
    assert f"{angle:.3f}°" in text
    assert "1/8 in to the foot" in text
    assert "1 in 100" in text
    assert "not by half" in text
    assert in_inches(outcome.results, "hub_side_depth") == pytest.approx(0.105)
