"""What the cutting of a bevel pair refuses or warns of: faces, cones, teeth, cutters, circles, settings."""

from fractions import Fraction

import pytest

from calc.kernel import bevel_cutting_entries as limits
from calc.kernel.bevel_cutting import bevel_cutting
from calc.kernel.errors import OutOfRange
from tests.kernel.test_bevel_cutting import OTHER_PLATE, PLATES, codes, of


def test_face_when_half_the_small_cone_distance_then_it_goes_and_a_hair_more_is_refused():
    # Mitre gears: the cone distance of the small end is teeth × module / √2.
    half = 30 * 2 / 2**0.5 / 2
    assert of(30, 30, face=Fraction(half) - Fraction(1, 10**9))
    with pytest.raises(OutOfRange) as refused:
        of(30, 30, face=Fraction(half) + Fraction(1, 10**5))
    assert refused.value.field == "face_width"
    assert "a third of the large" in refused.value.limit
    assert "21.213 mm" in refused.value.limit
    assert "Shorten the face" in refused.value.reason


@pytest.mark.parametrize(
    ("teeth", "mate", "shaft", "goes"),
    [
        (60, 12, "95", True),  # 83.6 degrees
        (100, 12, "90", True),  # 83.2
        (150, 12, "90", False),  # 85.4
        (40, 20, "110", True),  # 79.6
        (40, 20, "116", False),  # 86.1
        (40, 20, "120", False),  # a crown gear
        (40, 20, "130", False),  # an internal one
    ],
)
def test_cone_when_85_degrees_or_more_then_it_is_refused_for_either_member(teeth, mate, shaft, goes):
    for one, other in ((teeth, mate), (mate, teeth)):
        if goes:
            assert of(one, other, shaft_angle=shaft, face="5", circles=PLATES + OTHER_PLATE, cutters=(4,))
            continue
        with pytest.raises(OutOfRange) as refused:
            of(one, other, shaft_angle=shaft, face="5", circles=PLATES + OTHER_PLATE, cutters=(4,))
        assert refused.value.field == "shaft_angle"
        assert refused.value.reason


@pytest.mark.parametrize(("shaft", "said"), [("60", False), ("120", False), ("59", True), ("121", True)])
def test_shafts_when_outside_what_was_checked_then_it_is_said(shaft, said):
    outcome = of(30, 30, shaft_angle=shaft, face="8", cutters=(4,))
    assert ("shaft-unchecked" in codes(outcome)) is said


EDGES = [
    ("teeth", limits.TEETH, 1),
    ("mate_teeth", limits.TEETH, 1),
    ("ratio", (1, 360), 1),
    ("try_cutter", limits.CUTTER, 1),
    ("mate_try_cutter", limits.CUTTER, 1),
    ("try_set_over", (0, 4), Fraction(1, 10**6)),
    ("mate_try_set_over", (0, 4), Fraction(1, 10**6)),
    ("try_trim_shallower", (0, 1), Fraction(1, 10**6)),
    ("mate_try_trim_shallower", (0, 1), Fraction(1, 10**6)),
]


@pytest.mark.parametrize(("name", "ends", "step"), EDGES, ids=[edge[0] for edge in EDGES])
def test_entry_when_at_its_limit_then_it_is_worked_and_a_step_outside_is_refused_by_name(name, ends, step):
    entered = {
        "teeth": 40, "mate_teeth": 40, "module": Fraction(2), "face_width": Fraction(1, 2),
        "circles": (*PLATES, (24, 40, 60)), "shaft_angle": Fraction(60), "cutters": (4,),
    }  # fmt: skip
    for end, outside in ((ends[0], ends[0] - step), (ends[1], ends[1] + step)):
        assert bevel_cutting(**entered | {name: end}).results["best"]
        with pytest.raises(OutOfRange) as refused:
            bevel_cutting(**entered | {name: outside})
        assert refused.value.field == name
        assert refused.value.reason


@pytest.mark.parametrize(
    ("entered", "field"),
    [
        ({"teeth": 11}, "teeth"),
        ({"mate_teeth": 8}, "mate_teeth"),
        ({"cutters": ()}, "cutters"),
        ({"cutters": (0, 3)}, "cutters"),
        ({"cutters": (9,)}, "cutters"),
        ({"circles": ()}, "circles"),
        ({"circles": ((20, 1),)}, "circles"),
        ({"mate_cut": "sideways"}, "mate_cut"),
        ({"depth_system": "2.0"}, "depth_system"),
        ({"module": None}, "diametral_pitch"),
        ({"diametral_pitch": Fraction(8)}, "module"),
        ({"try_roll": Fraction(0)}, "try_roll"),
        ({"try_roll": Fraction(3, 2)}, "try_roll"),
        ({"pressure_angle": Fraction(31)}, "pressure_angle"),
        ({"face_width": Fraction(1, 4)}, "face_width"),
        ({"shaft_angle": Fraction(4)}, "shaft_angle"),
    ],
)
def test_entry_when_it_breaks_a_limit_then_the_field_is_named_with_what_to_do(entered, field):
    whole = {
        "teeth": 20, "mate_teeth": 30, "module": Fraction(2), "face_width": Fraction(15), "circles": PLATES,
    }  # fmt: skip
    with pytest.raises(OutOfRange) as refused:
        bevel_cutting(**whole | entered)
    assert refused.value.field == field
    assert refused.value.limit
    assert refused.value.reason


def test_teeth_when_fewer_than_twelve_then_it_says_what_they_want():
    with pytest.raises(OutOfRange) as refused:
        of(11, 30)
    assert "form tool" in refused.value.reason
