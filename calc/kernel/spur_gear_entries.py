"""Kernel room: what is asked of a pair of spur gears, checked once, and the limits it is checked by."""

from dataclasses import dataclass, field
from fractions import Fraction

from calc.kernel.errors import OutOfRange, check_within
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, dms_text, fixed
from calc.kernel.working import WORKED_HERE, Step

#: Least and most of each entry, and why, in the words the builder reads.
TEETH = (6, 1000)
TEETH_REASON = (
    "Fewer than six teeth of full depth do not run, and past a thousand the flank is straight to the eye."
)
PITCH = (Fraction(1), Fraction(120))
PITCH_REASON = "It is teeth to an inch of pitch diameter: 8 for 8 DP. Finer than 120 is watchmaking."
MODULE_MM = (Fraction(1, 5), Fraction(25))
MODULE_REASON = "It is millimetres of pitch diameter to a tooth; a size in DP goes under diametral pitch."
ANGLE_DEG = (Fraction(14), Fraction(30))
ANGLE_REASON = "Cutters are made for 14 1/2 and 20 degrees; other gears seldom leave 14 to 30."
SHIFT = (Fraction(-1, 2), Fraction(1))
SHIFT_REASON = "It is in modules, positive outwards: more than these leaves no tooth a cutter can make."
SPAN = (1, 500)
SPAN_REASON = "It is how many teeth stand between the anvils, and fewer than the gear has."
FACE_MM = (Fraction(1, 2), Fraction(500))
FACE_REASON = "It is the width of the teeth along the shaft."
BACKLASH_MM = (Fraction(0), Fraction(5))
BACKLASH_REASON = (
    "It is the play of the pair along the pitch circle, seldom above a twentieth of a module, "
    "and more than half a module leaves no tooth to speak of."
)
PIN_MM = (Fraction(1, 10), Fraction(100))
PIN_REASON = "It is the diameter of one pin; about 1.7 modules stands well in a tooth space."
DIAMETER_MM = (Fraction(1), Fraction(30_000))
DIAMETER_REASON = "It is the outside diameter as turned, across the tips."
CENTRES_MM = (Fraction(1), Fraction(30_000))
CENTRES_REASON = "It is the distance the drawing gives between the two shafts."

#: Up to this a fraction is easier to read than a decimal that does not end.
LONGEST_DENOMINATOR = 1000

DEPTHS = ("2.157", "2.25", "2.2+0.002", "2.4")
DEPTH_REASON = "Take the one that belongs to the cutter: it is marked on it, or on its box."
CUTTER_SETS = ("8", "15")
CUTTER_SET_REASON = "A set has eight cutters, or fifteen with the half numbers."

PROVED = "from memory, worked again here"
NAVY = "US Navy training manual Machinery Repairman, NAVEDTRA 14345, App. III"
NAVY_DEPTH = "US Navy training manual Machinery Repairman, NAVEDTRA 14345, App. IV"
METRIC = "Elements of Metric Gear Technology, sec. 10"
TABLES = "Gear tooth size tables, metric"
MILLING = "Practical Treatise on Milling and Milling Machines, 1914, p. 149"
TEXTBOOKS = "Textbooks on the theory of machines and on machine design"


@dataclass(frozen=True, slots=True, kw_only=True)
class Worked:
    """What is worked in inches where its pitch is to the inch, else in millimetres."""

    per_inch: bool

    @property
    def unit(self) -> str:
        """The unit of the working: ``in`` or ``mm``."""
        return "in" if self.per_inch else "mm"

    @property
    def places(self) -> int:
        """Places a length is shown with on a line of working."""
        return 4 if self.per_inch else 3

    @property
    def in_mm(self) -> Fraction:
        """Millimetres in the unit of the working."""
        return INCH if self.per_inch else Fraction(1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pitch(Worked):
    """The size of the teeth as it was given: a diametral pitch, worked in inches, or a module, in mm."""

    figure: Fraction  # 8 for 8 DP, 2 for module 2
    module: Fraction = field(init=False, compare=False)  # pitch diameter to a tooth, as it is worked

    def __post_init__(self) -> None:
        """The module is asked for hundreds of times in one sum, so it is worked once."""
        object.__setattr__(self, "module", 1 / self.figure if self.per_inch else self.figure)

    @property
    def text(self) -> str:
        """As the trade says it: ``8 DP``, ``module 2``."""
        shown = decimal_text(self.figure, 6)
        return f"{shown} DP" if self.per_inch else f"module {shown}"

    def of(self, words: str, figures: str) -> tuple[str, str]:
        """So many modules as a formula and in figures: divided by the pitch, or times the module."""
        shown = figure(self.figure)
        if self.per_inch:
            return f"{words} / diametral pitch", f"{figures} / {shown}"
        return f"{words} × module", f"{figures} × {shown}"

    def shown(self, length: Fraction | float) -> str:
        """A length of the working with its unit, for people."""
        return f"{fixed(length, self.places)} {self.unit}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """One question about a gear and perhaps its mate; lengths are in the unit of the working."""

    teeth: int
    mate_teeth: int | None
    pitch: Pitch
    angle: Fraction  # degrees
    depth_system: str
    cutter_set: str
    shift: Fraction
    span_teeth: int | None
    backlash: Fraction
    pin: Fraction | None
    measured: Fraction | None
    drawing_centres: Fraction | None


def figure(value: Fraction | float) -> str:
    """A figure inside a sum: a decimal that is exact, else a fraction, else a decimal to twelve places.

    Fractions and figures below nought stand in brackets, so that they may be multiplied.
    """
    exact = Fraction(value)
    shown = decimal_text(abs(exact), 9)
    if Fraction(shown) != abs(exact):
        short = exact.denominator <= LONGEST_DENOMINATOR
        shown = f"{abs(exact.numerator)}/{exact.denominator}" if short else decimal_text(abs(exact), 12)
    if exact < 0:
        return f"(−{shown})"
    return f"({shown})" if "/" in shown else shown


def line(label: str, formula: tuple[str, str], value: str, unit: str = "", source: str = WORKED_HERE) -> Step:
    """One line of working; its formula comes with its figures."""
    return Step(label=label, formula=formula[0], figures=formula[1], value=value, unit=unit, source=source)


def check_range(
    field: str, value: Fraction | int | None, limits: tuple[Fraction | int, Fraction | int], reason: str
) -> None:
    """Refuse a value outside its limits, by name; one that was not given is not looked at."""
    if field != "pressure_angle":
        check_within(field, value, limits, " mm" if field in LENGTHS else "", reason)
    elif value is not None and not limits[0] <= value <= limits[1]:
        low, high = (dms_text(Fraction(limit)) for limit in limits)
        raise OutOfRange(field, f"{low} to {high}", reason)


#: Entries whose limits are millimetres.
LENGTHS = frozenset(
    {
        "module",
        "face_width",
        "backlash",
        "pin_diameter",
        "outside_diameter_measured",
        "drawing_centre_distance",
    }
)


def read_pitch(module: Fraction | None, diametral_pitch: Fraction | None) -> Pitch:
    """The pitch from the one of two that was given; both, or neither, is refused."""
    if module is not None and diametral_pitch is not None:
        raise OutOfRange("module", "either a module or a diametral pitch, not both", "Clear one of the two.")
    if diametral_pitch is not None:
        check_range("diametral_pitch", diametral_pitch, PITCH, PITCH_REASON)
        return Pitch(figure=Fraction(diametral_pitch), per_inch=True)
    if module is None:
        raise OutOfRange(
            "diametral_pitch", "one of two is wanted", "Enter the diametral pitch, or the module in mm."
        )
    check_range("module", module, MODULE_MM, MODULE_REASON)
    return Pitch(figure=Fraction(module), per_inch=False)


def check_choice(field: str, value: str, choices: tuple[str, ...], reason: str) -> None:
    """Refuse a value that is none of the choices."""
    if value not in choices:
        raise OutOfRange(field, " or ".join(choices), reason)


def read_depth_system(depth_system: str | None, pitch: Pitch) -> str:
    """The depth system asked for, or the usual one of the pitch."""
    chosen = depth_system or ("2.157" if pitch.per_inch else "2.25")
    check_choice("depth_system", chosen, DEPTHS, DEPTH_REASON)
    return chosen


def asked(
    *,
    teeth: int,
    mate_teeth: int | None,
    pitch: Pitch,
    angle: Fraction,
    depth_system: str | None,
    cutter_set: str,
    shift: Fraction,
    span_teeth: int | None,
    face_width: Fraction | None,
    backlash: Fraction | None,
    pin: Fraction | None,
    measured: Fraction | None,
    drawing_centres: Fraction | None,
) -> Asked:
    """The checked question; raises OutOfRange naming the first entry that breaks a limit."""
    check_range("teeth", teeth, TEETH, TEETH_REASON)
    check_range("mate_teeth", mate_teeth, TEETH, TEETH_REASON)
    check_range("pressure_angle", angle, ANGLE_DEG, ANGLE_REASON)
    check_range("profile_shift", shift, SHIFT, SHIFT_REASON)
    check_choice("cutter_set", cutter_set, CUTTER_SETS, CUTTER_SET_REASON)
    check_range("span_teeth", span_teeth, (SPAN[0], min(SPAN[1], teeth - 1)), SPAN_REASON)
    check_range("face_width", face_width, FACE_MM, FACE_REASON)
    check_range("backlash", backlash, BACKLASH_MM, BACKLASH_REASON)
    check_range("pin_diameter", pin, PIN_MM, PIN_REASON)
    check_range("outside_diameter_measured", measured, DIAMETER_MM, DIAMETER_REASON)
    check_range("drawing_centre_distance", drawing_centres, CENTRES_MM, CENTRES_REASON)
    question = Asked(
        teeth=teeth,
        mate_teeth=mate_teeth,
        pitch=pitch,
        angle=Fraction(angle),
        depth_system=read_depth_system(depth_system, pitch),
        cutter_set=cutter_set,
        shift=Fraction(shift),
        span_teeth=span_teeth,
        backlash=Fraction(backlash or 0) / pitch.in_mm,
        pin=_worked(pin, pitch),
        measured=_worked(measured, pitch),
        drawing_centres=_worked(drawing_centres, pitch),
    )
    _check_together(question)
    return question


def _worked(length: Fraction | None, pitch: Pitch) -> Fraction | None:
    """A length in the unit of the working."""
    return None if length is None else Fraction(length) / pitch.in_mm


def _check_together(question: Asked) -> None:
    """Refuse entries that are right alone and not beside the others."""
    pitch, module = question.pitch, question.pitch.module
    if question.backlash > module / 2:
        raise OutOfRange("backlash", f"at most {pitch.shown(module / 2)} for {pitch.text}", BACKLASH_REASON)
    if question.drawing_centres is not None and question.mate_teeth is None:
        raise OutOfRange(
            "drawing_centre_distance",
            "only with the teeth of a mate",
            "Enter the mate’s teeth as well, or leave the drawing’s centres empty.",
        )
    pitch_diameter = question.teeth * module
    nominal = pitch_diameter + 2 * (1 + question.shift) * module
    if question.measured is not None and not pitch_diameter < question.measured <= nominal + module:
        raise OutOfRange(
            "outside_diameter_measured",
            f"over {pitch.shown(pitch_diameter)} to {pitch.shown(nominal + module)}",
            f"The blank should be {pitch.shown(nominal)}, and a tip at the pitch circle leaves nothing to "
            "measure from. Measure again, or look at the teeth and the pitch.",
        )
