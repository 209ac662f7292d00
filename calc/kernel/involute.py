"""Kernel room: the involute function, its inverse, and angles in degrees for the sums on gears."""

from fractions import Fraction
from math import acos, cbrt, pi, radians, tan

#: Newton's rule doubles its good places at each step: twelve are more than a float can hold.
STEPS = 40


def involute(angle: float) -> float:
    """The involute of an angle: its tangent less itself. [radian] 0 to below a quarter turn"""
    return tan(angle) - angle


def angle_of_involute(value: float) -> float:
    """The angle whose involute is the value. [radian] value above nought

    Newton's rule from a start above the root: the involute grows faster than any straight line,
    so the steps come down to the root and never pass it.
    """
    angle = min(cbrt(3 * value), pi / 2 - 1 / (value + 4))
    for _ in range(STEPS):
        step = (involute(angle) - value) / tan(angle) ** 2
        angle -= step
        if abs(step) < 1e-16:
            break
    return angle


def pressure_angle_at(base_diameter: float, diameter: float) -> float:
    """The pressure angle of an involute at a diameter not below its base circle. [radian]"""
    return acos(min(1.0, base_diameter / diameter))


def in_radians(degrees: Fraction) -> float:
    """An exact angle in degrees as radians, for the trigonometry."""
    return radians(float(degrees))
