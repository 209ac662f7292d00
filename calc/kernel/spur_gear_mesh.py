"""Kernel room: a spur gear beside its mate: centres, ratio, how far the teeth stay in touch, undercut."""

from dataclasses import dataclass
from fractions import Fraction
from math import cos, degrees, sin, sqrt, tan

from calc.kernel.errors import OutOfRange
from calc.kernel.involute import angle_of_involute, involute
from calc.kernel.spur_gear_entries import PROVED, TEXTBOOKS, figure, line
from calc.kernel.spur_gear_measuring import ANGLE_PLACES, FINE_PLACES
from calc.kernel.spur_gear_sizes import Gear
from calc.kernel.wording import fixed
from calc.kernel.working import WORKED_HERE, Step

#: Places of the path of contact: the contact ratio, worked from it, is shown to three.
PATH_PLACES = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Mesh:
    """A gear and its mate; lengths in the unit of the working."""

    gear: Gear
    mate: Gear

    @property
    def centres(self) -> Fraction:
        """Nominal: half the sum of the pitch diameters."""
        return (self.gear.pitch_diameter + self.mate.pitch_diameter) / 2

    @property
    def ratio(self) -> Fraction:
        """Turns of the pinion for one of the wheel."""
        small, large = sorted((self.gear.teeth, self.mate.teeth))
        return Fraction(large, small)

    @property
    def angle(self) -> float:
        """The pressure angle the pair works at: not the cutter's where a gear is shifted. [radian]"""
        shift, teeth = self.gear.shift + self.mate.shift, self.gear.teeth + self.mate.teeth
        if not shift:
            return self.gear.alpha
        value = involute(self.gear.alpha) + 2 * tan(self.gear.alpha) * float(shift / teeth)
        return angle_of_involute(value) if value > 0 else 0.0

    @property
    def running_centres(self) -> Fraction | float:
        """Where the pair runs with the backlash asked for; the nominal centres where neither is shifted."""
        if not self.gear.shift + self.mate.shift:
            return self.centres
        return float(self.centres) * cos(self.gear.alpha) / cos(self.angle)

    @property
    def base_pitch(self) -> float:
        """From tooth to tooth along the line of contact."""
        return self.gear.circular_pitch * cos(self.gear.alpha)

    @property
    def line_between(self) -> float:
        """The line of contact from base circle to base circle: no flank of either reaches past its ends."""
        return float(self.running_centres) * sin(self.angle)

    def reach(self, gear: Gear) -> float:
        """How far the tip of a gear reaches along the line of contact, from its own base circle."""
        return sqrt(float(gear.tip_diameter) ** 2 - gear.base_diameter**2) / 2 if _stands_over(gear) else 0.0

    def interferes(self, gear: Gear) -> bool:
        """Whether the tip of a gear reaches below the other's base circle, where there is no flank."""
        return self.reach(gear) > self.line_between + 1e-12

    @property
    def path(self) -> float:
        """Length of contact along the line, between the tips and never past the base circles."""
        reaches = (min(self.reach(gear), self.line_between) for gear in (self.gear, self.mate))
        return sum(reaches) - self.line_between

    @property
    def contact_ratio(self) -> float:
        """Pairs of teeth in touch, on the average."""
        return self.path / self.base_pitch


def _stands_over(gear: Gear) -> bool:
    return float(gear.tip_diameter) > gear.base_diameter


def mesh_of(gear: Gear, mate: Gear | None) -> Mesh | None:
    """The pair; None without a mate. Refused where the shift leaves no centres the pair could run at."""
    if mate is None:
        return None
    mesh = Mesh(gear=gear, mate=mate)
    if mesh.angle <= 0 or mesh.path <= 0:
        raise OutOfRange(
            "profile_shift" if gear.shift else "outside_diameter_measured",
            "enough for the teeth to stay in touch",
            f"A pair of {gear.teeth} and {mate.teeth} teeth would lose touch between one tooth and the next.",
        )
    return mesh


def mesh_steps(mesh: Mesh) -> list[Step]:
    """The lines of the pair: centres, ratio, the pressure angle it works at, contact."""
    gear, mate, pitch = mesh.gear, mesh.mate, mesh.gear.pitch
    words = "(teeth + mate’s teeth) / (2 × diametral pitch)"
    figures = f"({gear.teeth} + {mate.teeth}) / (2 × {figure(pitch.figure)})"
    if not pitch.per_inch:
        words = "(teeth + mate’s teeth) × module / 2"
        figures = f"({gear.teeth} + {mate.teeth}) × {figure(pitch.figure)} / 2"
    shown, unit = fixed(mesh.centres, pitch.places), pitch.unit
    names = ("teeth", "mate’s teeth")
    top, bottom = names if gear.teeth >= mate.teeth else names[::-1]
    large, small = max(gear.teeth, mate.teeth), min(gear.teeth, mate.teeth)
    return [
        line("Centre distance, nominal", (words, figures), shown, unit, WORKED_HERE),
        line("Ratio", (f"{top} / {bottom}", f"{large} / {small}"), fixed(mesh.ratio, 4), "to 1", WORKED_HERE),
        *(_shifted_steps(mesh) if gear.shift else []),
        *_contact_steps(mesh),
    ]


def _shifted_steps(mesh: Mesh) -> list[Step]:
    """Where a gear is shifted: the angle the pair works at and the centres it runs at."""
    gear, pitch, alpha = mesh.gear, mesh.gear.pitch, f"{figure(mesh.gear.angle)}°"
    value = involute(mesh.angle)
    teeth = f"({gear.teeth} + {mesh.mate.teeth})"
    shown = fixed(degrees(mesh.angle), ANGLE_PLACES)
    return [
        line(
            "Involute of the angle the pair works at",
            (
                "inv(pressure angle) + 2 × shift × tan(pressure angle) / (teeth + mate’s teeth)",
                f"inv({alpha}) + 2 × {figure(gear.shift)} × tan({alpha}) / {teeth}",
            ),
            fixed(value, FINE_PLACES + 2),
            source=PROVED,
        ),
        line(
            "Angle the pair works at",
            ("angle of inv(involute of the pair)", f"angle of inv({fixed(value, FINE_PLACES + 2)})"),
            shown,
            "°",
            PROVED,
        ),
        line(
            "Centres it runs at with its mate not shifted",
            (
                "centre distance × cos(pressure angle) / cos(angle of the pair)",
                f"{figure(mesh.centres)} × cos({alpha}) / cos({_finer(mesh)}°)",
            ),
            fixed(mesh.running_centres, pitch.places),
            pitch.unit,
            PROVED,
        ),
    ]


def _finer(mesh: Mesh) -> str:
    """The angle the pair works at, to the places that the lines below it take."""
    return fixed(degrees(mesh.angle), ANGLE_PLACES + 3)


def _contact_steps(mesh: Mesh) -> list[Step]:
    """Path of contact, and what it is of a base pitch."""
    gear, pitch = mesh.gear, mesh.gear.pitch
    angle = "pressure angle" if not gear.shift else "angle of the pair"
    shown = f"{figure(gear.angle)}°" if not gear.shift else f"{_finer(mesh)}°"
    between = (
        f"{'centre distance' if not gear.shift else 'running centres'} × sin({angle})",
        f"{figure(mesh.running_centres)} × sin({shown})",
    )
    terms = [_reach(mesh, gear, between, ""), _reach(mesh, mesh.mate, between, "mate’s ")]
    words, figures = (f"{terms[0][i]} + {terms[1][i]} − {between[i]}" for i in (0, 1))
    path = fixed(mesh.path, PATH_PLACES)
    apart = pitch.of("π × cos(pressure angle)", f"π × cos({figure(gear.angle)}°)")
    return [
        line("Path of contact", (words, figures), path, pitch.unit, PROVED),
        line(
            "Contact ratio: path of contact in base pitches",
            (f"path of contact / ({apart[0]})", f"{path} / ({apart[1]})"),
            fixed(mesh.contact_ratio, 3),
            source=PROVED,
        ),
    ]


def _reach(mesh: Mesh, gear: Gear, between: tuple[str, str], whose: str) -> tuple[str, str]:
    """How far a tip reaches, as a formula and in figures; no further than the other's base circle."""
    if mesh.interferes(gear):
        return between
    base = f"({figure(gear.pitch_diameter)} × cos({figure(gear.angle)}°))²"
    return (
        f"√({whose}tip diameter² − {whose}base diameter²) / 2",
        f"√({figure(gear.tip_diameter)}² − {base}) / 2",
    )


def undercut_step(gear: Gear) -> Step:
    """The line of the teeth below which a rack of full depth cuts into the flank."""
    shift = figure(gear.shift)
    return line(
        gear.label("teeth below which a rack undercuts"),
        ("2 × (1 − shift) / sin(pressure angle)²", f"2 × (1 − {shift}) / sin({figure(gear.angle)}°)²"),
        fixed(gear.undercut_limit, 2),
        "teeth",
        TEXTBOOKS,
    )


def shift_without_undercut(gear: Gear) -> float:
    """The least shift in modules that takes the flank clear of the rack's tip."""
    return 1 - gear.teeth * sin(gear.alpha) ** 2 / 2
