"""Kernel room: what is asked of a keyway, checked once, and the limits it is checked by."""

from dataclasses import dataclass
from fractions import Fraction

from calc.kernel.errors import OutOfRange, check_within
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, mixed_text

STANDARDS = ("bs46", "b17.1", "iso773")
INCH_STANDARDS = ("bs46", "b17.1")
#: How each standard is called, in the words the builder reads.
NAMES = {"bs46": "BS 46", "b17.1": "B17.1", "iso773": "ISO 773"}
PARALLEL, TAPER, WOODRUFF = "parallel", "taper", "woodruff"
KINDS = (PARALLEL, TAPER, WOODRUFF)
#: What leaves the section to the standard, and the class of fit.
PREFERRED, USUAL = "preferred", "usual"
SECTIONS = (PREFERRED, "square", "rectangular")
FITS = (USUAL, "free", "normal", "close", "1")

SHAFT_MM = (Fraction(6), Fraction(1397, 5))
SHAFT_REASON = (
    "BS 46 runs from over 1/4 in to 6 in, B17.1 from over 5/16 in to 11 in, ISO 773 from over 6 mm to 130 mm."
)
WIDTH_MM = (Fraction(2), Fraction(127, 2))
WIDTH_REASON = "It is the width of the key across; leave it empty for the key the standard gives the shaft."
NUMBER = (Fraction(202), Fraction(1212))
NUMBER_REASON = (
    "It is the number of a Woodruff key: its diameter in eighths by the last two figures, its width in "
    "thirty-seconds of an inch by those before them: 404 is 1/8 × 1/2 in."
)
BORE_MM = (Fraction(5), Fraction(300))
BORE_REASON = "It is the bore of the hub as measured; leave it empty to work from the size of the shaft."
#: Most that a measured bore may differ from its shaft, as a part of the shaft: more is another hub.
BORE_PART = Fraction(1, 20)


@dataclass(frozen=True, slots=True, kw_only=True)
class Keyway:
    """One keyway asked for, with every entry checked; lengths in millimetres."""

    shaft: Fraction
    standard: str
    kind: str
    section: str  # "" for the standard's preference
    fit: str  # settled: "" where the standard knows none
    key_width: Fraction | None
    key_number: Fraction | None
    bore_measured: Fraction | None

    @property
    def bore(self) -> Fraction:
        """The bore of the hub, as measured where it was."""
        return self.shaft if self.bore_measured is None else self.bore_measured

    @property
    def unit(self) -> Fraction:
        """Millimetres in the unit the standard is worked in."""
        return unit_of(self.standard)

    @property
    def unit_word(self) -> str:
        """The unit the standard is worked in, as written after a figure."""
        return "in" if self.standard in INCH_STANDARDS else "mm"


def unit_of(standard: str) -> Fraction:
    """Millimetres in the unit a standard is worked in."""
    return INCH if standard in INCH_STANDARDS else Fraction(1)


def keyway_of(
    *,
    shaft_diameter: Fraction,
    standard: str,
    kind: str,
    section: str,
    fit: str,
    key_width: Fraction | None,
    key_number: Fraction | None,
    bore_measured: Fraction | None,
) -> Keyway:
    """The checked question; raises OutOfRange naming the first entry that breaks a limit."""
    _choice("standard", standard, STANDARDS)
    _choice("kind", kind, KINDS)
    _choice("section", section, SECTIONS)
    check_within("shaft_diameter", shaft_diameter, SHAFT_MM, " mm", SHAFT_REASON)
    check_within("key_width", key_width, WIDTH_MM, " mm", WIDTH_REASON)
    check_within("key_number", key_number, NUMBER, "", NUMBER_REASON)
    check_within("bore_measured", bore_measured, BORE_MM, " mm", BORE_REASON)
    _of_kind(kind, section, fit, key_number)
    if key_width is not None and 2 * key_width > shaft_diameter:
        raise OutOfRange(
            "key_width", "at most half of the shaft", "A wider keyway leaves too little of the shaft to turn."
        )
    if bore_measured is not None and abs(bore_measured - shaft_diameter) > BORE_PART * shaft_diameter:
        raise OutOfRange(
            "bore_measured",
            "within a twentieth of the shaft’s diameter",
            "It is the bore that goes on this shaft: look at its unit, and that it is no radius.",
        )
    return Keyway(
        shaft=Fraction(shaft_diameter),
        standard=standard,
        kind=kind,
        section="" if section == PREFERRED else section,
        fit="" if kind == WOODRUFF else _fit_for(standard, fit),
        key_width=key_width,
        key_number=key_number,
        bore_measured=bore_measured,
    )


def _of_kind(kind: str, section: str, fit: str, key_number: Fraction | None) -> None:
    """What belongs to Woodruff keys alone, and what they have not."""
    if kind != WOODRUFF:
        if key_number is not None:
            raise OutOfRange(
                "key_number", "left empty but for a Woodruff key", "Choose the kind woodruff, or empty it."
            )
        return
    if section != PREFERRED:
        raise OutOfRange("section", "left as it is with a Woodruff key", "Its number tells its section.")
    if fit != USUAL:
        raise OutOfRange(
            "fit",
            "left as it is with a Woodruff key",
            "Its keyseat has one set of sizes, and no class was read.",
        )


def _choice(field: str, value: str, choices: tuple[str, ...]) -> None:
    if value not in choices:
        raise OutOfRange(field, " or ".join(choices), "It is one of the choices.")


def _fit_for(standard: str, fit: str) -> str:
    """The class of fit in use; each standard has its own, and BS 46 one set of limits and no class."""
    _choice("fit", fit, FITS)
    if standard == "iso773":
        if fit == "1":
            raise OutOfRange("fit", "free, normal or close with ISO 773", "Class 1 belongs to B17.1.")
        return "normal" if fit == USUAL else fit
    if standard == "b17.1":
        if fit not in (USUAL, "1"):
            raise OutOfRange(
                "fit", "1 with B17.1", "Its class 1 was read; free, normal and close belong to ISO 773."
            )
        return "1"
    if fit != USUAL:
        raise OutOfRange("fit", "usual with BS 46", "It has one set of limits and no classes of fit.")
    return ""


# ---- sizes in words --------------------------------------------------------------------------------------


def is_inch_size(mm: Fraction) -> bool:
    """Whether a size is a 64th of an inch."""
    return (mm / INCH * 64).denominator == 1


def is_metric_size(mm: Fraction) -> bool:
    """Whether a size is a whole or half millimetre."""
    return (mm * 2).denominator == 1


def size_text(mm: Fraction, unit: Fraction) -> str:
    """A size with its unit as a builder says it: ``1 1/8 in``, ``1.1235 in``, ``20 mm``."""
    if unit == 1:
        return f"{decimal_text(mm, 4)} mm"
    return f"{inch_text(mm)} in"


def inch_text(mm: Fraction) -> str:
    """A size in inches without its unit, as a fraction where it is a 64th: ``1 1/8``, ``1.1235``."""
    return mixed_text(mm / INCH) if is_inch_size(mm) else decimal_text(mm / INCH, 4)


def plain_size(mm: Fraction, unit: Fraction) -> str:
    """A size without its unit, as the standard writes it: ``1/4``, ``8``."""
    return decimal_text(mm, 4) if unit == 1 else inch_text(mm)
