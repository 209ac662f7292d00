"""Kernel room: the outline of a spur gear's tooth, from the bottom of the space to the tip, as points."""

from dataclasses import dataclass
from math import acos, asin, cos, hypot, pi, sin, sqrt, tan

from calc.kernel.involute import involute

#: A point of a tooth: its radius, and its angle from the middle of the tooth. [mm, radian]
Polar = tuple[float, float]
HALVINGS = 50


@dataclass(frozen=True, slots=True, kw_only=True)
class Profile:
    """The tooth as a disc cutter leaves it; lengths in one unit, angles in radians.

    Above the base circle the flank is the involute; below it runs straight to the middle of the
    gear, as the forms of disc cutters do (common practice, no source). The corner to the root has
    the radius clearance / (1 - sin(pressure angle)), the greatest that keeps out of the way of a
    rack's tip, or less where the bottom of the space is too narrow for it. A full depth of 2.25
    modules at 20 degrees makes it 0.38 of a module, which is ISO 53's, from memory.
    The cutter of a set is shaped for the fewest teeth of its range; the drawing is of the gear's own.
    """

    teeth: int
    module: float
    alpha: float  # pressure angle
    half_angle: float  # half of the tooth at the pitch circle
    tip: float  # radius
    root: float  # radius
    clearance: float  # whole depth less two modules: what is left below a mate's tip

    @property
    def base(self) -> float:
        """Radius of the base circle."""
        return self.teeth * self.module / 2 * cos(self.alpha)

    @property
    def half_pitch(self) -> float:
        """From the middle of a tooth to the middle of the space beside it."""
        return pi / self.teeth

    def half_tooth(self, radius: float) -> float:
        """Half of the tooth at a radius; below the base circle as at it."""
        rolled = involute(acos(self.base / radius)) if radius > self.base else 0.0
        return self.half_angle + involute(self.alpha) - rolled

    @property
    def fillet(self) -> float:
        """Radius of the corner at the root, as large as it goes."""
        wanted = self.clearance / (1 - sin(self.alpha))
        if self._room(wanted) >= 0:
            return wanted
        low, high = 0.0, wanted
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            low, high = (middle, high) if self._room(middle) >= 0 else (low, middle)
        return low

    def _room(self, fillet: float) -> float:
        """Angle of root circle left between the middle of the space and the middle of the corner."""
        return self.half_pitch - self._corner(fillet)[1]

    def _corner(self, fillet: float) -> tuple[float, float, float]:
        """Middle of the corner (radius, angle from the tooth) and the radius where it meets the flank."""
        middle = self.root + fillet
        along = sqrt(middle**2 - self.base**2) - fillet if middle > self.base else -1.0
        if along >= 0:
            # Touching the involute: its parallel is an involute of the same base circle.
            angle = self.half_tooth(middle) + fillet / self.base
            return middle, angle, hypot(self.base, along)
        return middle, self.half_tooth(self.base) + asin(fillet / middle), sqrt(middle**2 - fillet**2)

    def side(self, *, flank: int, corner: int) -> tuple[Polar, ...]:
        """One side of the tooth from the root to the tip.

        Parameters
        ----------
        flank, corner : int
            Points on the flank and on the corner at the root. [count] at least 2, at least 1
        """
        fillet = self.fillet
        middle, angle, meets = self._corner(fillet)
        points: list[Polar] = [(self.root, angle)]
        swept = self._swept(fillet, middle, angle, meets)
        points += [
            _on_corner(middle, angle, fillet, swept * place / corner) for place in range(1, corner + 1)
        ]
        begins = max(meets, min(self.base, self.tip))
        if begins > meets:
            points.append((begins, self.half_tooth(begins)))
        radii = (begins + (self.tip - begins) * place / (flank - 1) for place in range(1, flank))
        return (*points, *((radius, self.half_tooth(radius)) for radius in radii))

    def _swept(self, fillet: float, middle: float, angle: float, meets: float) -> float:
        """How far the corner turns, from the root circle to the flank."""
        if not fillet:
            return 0.0
        off = angle - self.half_tooth(meets)
        # Seen from the middle of the corner, the root lies straight in and the flank towards the tooth.
        inward = middle - meets * cos(off)
        across = meets * sin(off)
        return pi / 2 if inward <= 0 else acos(max(-1.0, min(1.0, inward / hypot(inward, across))))


def _on_corner(middle: float, angle: float, fillet: float, turned: float) -> Polar:
    """A point of the corner, turned about its middle from straight inwards towards the tooth."""
    out, across = middle - fillet * cos(turned), fillet * sin(turned)
    return hypot(out, across), angle - asin(across / hypot(out, across))


def outline(profile: Profile, *, flank: int, corner: int) -> tuple[Polar, ...]:
    """Both sides of a tooth and its tip, from the middle of one space to the middle of the next."""
    side = profile.side(flank=flank, corner=corner)
    half = profile.half_pitch
    down = ((radius, -angle) for radius, angle in side)
    return ((profile.root, -half), *down, (profile.tip, 0.0), *reversed(side), (profile.root, half))


def shifted_half_angle(teeth: int, alpha: float, shift: float, thinned: float) -> float:
    """Half of a tooth at the pitch circle. [radian]; what is taken off the tooth in modules"""
    return (pi / 2 + 2 * shift * tan(alpha) - thinned) / teeth
