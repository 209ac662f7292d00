"""Kernel room: the change gears that turn a dividing head by the table's screw, for a helix of a lead."""

from collections.abc import Sequence
from fractions import Fraction
from math import atan, degrees, pi
from typing import Any

from calc.kernel.change_wheels import thread_pitch
from calc.kernel.errors import OutOfRange, check_within
from calc.kernel.indexing_entries import RATIO, RATIO_REASON
from calc.kernel.threads_lines import Lines
from calc.kernel.trains import Train, Trains, check_wheels, train_text, train_words, trains_for
from calc.kernel.wording import fixed, mixed_text, plain_number
from calc.kernel.working import COMMON, Caution, Outcome, Step

KEY = "milling1914"
SOURCE = "Practical Treatise on Milling and Milling Machines, 1914, p. 63"
LEAD_MM = (Fraction(1), Fraction(20_000))
LEAD_REASON = "It is how far the helix runs along the axis in one turn."
DIAMETER_MM = (Fraction(1), Fraction(2000))
DIAMETER_REASON = "It is where the helix angle is taken, for a gear its pitch diameter."
DRIVES = {"worm": "the worm", "spindle": "the spindle, for short leads"}
#: Error of a lead past which the angle is told to be out, as a part. common practice, no source
NOTICED = Fraction(1, 500)
_PI = Fraction(pi)


def milling_lead(
    *,
    lead: Fraction,
    change_gears: Sequence[int],
    screw_pitch: Fraction | None = None,
    screw_threads_per_inch: Fraction | None = None,
    ratio: int = 40,
    drive: str = "worm",
    work_diameter: Fraction | None = None,
) -> Outcome:
    """The change gears between the table's screw and the dividing head that mill a helix of a lead.

    Use it for helical gears, and for flutes of cutters and reamers, on a universal mill or any mill whose
    table screw can be geared to the head.

    Parameters
    ----------
    lead : Fraction
        Of the helix. [mm] 1 mm to 20000 mm
    change_gears : sequence of int
        Teeth of the gears owned, each as often as it is owned; at least 2, at most 60. [count] 8 to 400
    screw_pitch : Fraction, optional
        Of the table's screw; this or its threads to the inch. [mm] 0.1 mm to 100 mm
    screw_threads_per_inch : Fraction, optional
        Of the table's screw. [-] 0.25 to 250
    ratio : int
        Turns of the crank for one turn of the spindle. [count] 1 to 360
    drive : str
        What the last gear turns. [-] worm or spindle
    work_diameter : Fraction, optional
        Where the helix angle is taken. [mm] 1 mm to 2000 mm

    Returns
    -------
    Outcome
        ``machine_lead_mm`` [millimetre], the lead with gears one to one; ``train_ratio`` [-], product of the
        drivers over product of the driven; ``exact_trains`` [-], ``exact_trains_count`` [count] and
        ``nearest_trains`` [-] as rows of drivers, first the one on the table's screw, driven, clears,
        lead_mm, lead_error_mm, error_percent, helix_angle_deg and helix_error_arcsec, the last two none
        without a diameter; ``helix_angle_deg`` [degree], wanted.

    Raises
    ------
    OutOfRange
        An entry is outside its limits, or a pitch is given in both ways or in neither.

    Notes
    -----
    Machine lead = ratio × pitch of the screw, the ratio left out where the spindle itself is geared.
    Drivers / driven = machine lead / lead. tan of the helix angle = π × diameter / lead.

    Examples
    --------
    >>> milling_lead(lead=Fraction(80), screw_pitch=Fraction(2), change_gears=[40, 40]).results["train_ratio"]
    1.0

    Sources
    -------
    milling1914, p. 63: leads by change gears.

    Checks
    ------
    milling1914#lead-6160, milling1914#lead-0154
    """
    check_within("lead", lead, LEAD_MM, " mm", LEAD_REASON)
    check_within("ratio", ratio, RATIO, "", RATIO_REASON)
    check_within("work_diameter", work_diameter, DIAMETER_MM, " mm", DIAMETER_REASON)
    if drive not in DRIVES:
        raise OutOfRange("drive", " or ".join(DRIVES), "It is one of the choices.")
    check_wheels("change_gears", change_gears)
    screw = thread_pitch(
        "screw_pitch", screw_pitch, "screw_threads_per_inch", screw_threads_per_inch, "the table’s screw"
    )
    own = screw * (ratio if drive == "worm" else 1)
    found = trains_for(change_gears, own / lead)
    return Outcome(
        results={
            "machine_lead_mm": float(own),
            "train_ratio": float(own / lead),
            "exact_trains": [_row(train, own, lead, work_diameter) for train in found.exact],
            "exact_trains_count": found.exact_count,
            "nearest_trains": [_row(train, own, lead, work_diameter) for train in found.nearest],
            "helix_angle_deg": helix_deg(work_diameter, lead),
        },
        working=tuple(_steps(screw, ratio if drive == "worm" else 1, lead, work_diameter, found)),
        warnings=tuple(_cautions(found, own, lead, work_diameter)),
        sources=(KEY,),
    )


def helix_deg(diameter: Fraction | None, lead: Fraction) -> float | None:
    """The helix angle at a diameter, to the axis. [degree]"""
    return None if diameter is None else degrees(atan(pi * float(diameter) / float(lead)))


def _row(train: Train, own: Fraction, lead: Fraction, diameter: Fraction | None) -> dict[str, Any]:
    made = own / train.ratio
    angle, wanted = helix_deg(diameter, made), helix_deg(diameter, lead)
    return {
        "drivers": list(train.drivers),
        "driven": list(train.driven),
        "clears": train.clears,
        "lead_mm": float(made),
        "lead_error_mm": float(made - lead),
        "error_percent": plain_number((made - lead) / lead * 100),
        "helix_angle_deg": angle,
        "helix_error_arcsec": None if angle is None or wanted is None else (angle - wanted) * 3600,
    }


def _steps(
    screw: Fraction, turns: int, lead: Fraction, diameter: Fraction | None, found: Trains
) -> list[Step]:
    own, lines = screw * turns, Lines(Fraction(1))
    lines.bare("Lead of the machine, gears one to one", "turns for one of the spindle × pitch of the screw",
               f"{turns} × {{}}", [screw], lambda pitch: turns * pitch, 4, "mm", SOURCE)  # fmt: skip
    lines.bare("Drivers over driven", "lead of the machine / lead", "{} / {}", [own, lead],
               lambda one, two: one / two, 9, "", SOURCE)  # fmt: skip
    for train in (*found.exact[:3], *found.nearest[:3]):
        lines.bare(f"Lead that {train_words(train)} gives", "lead of the machine / (drivers / driven)",
                   f"{{}} / ({train_text(train)})", [own], lambda wide, train=train: wide / train.ratio, 4,
                   "mm")  # fmt: skip
    if diameter is not None:
        lines.bare("Helix angle at the diameter", "atan(π × diameter / lead)", "atan(π × {} / {})",
                   [diameter, lead], _angle, 4, "°", COMMON)  # fmt: skip
    return lines.steps


def _angle(diameter: Fraction, lead: Fraction) -> Fraction:
    return Fraction(degrees(atan(float(_PI * diameter / lead))))


def _none_exact(found: Trains, own: Fraction, lead: Fraction) -> list[Caution]:
    """That no train is exact, and where it is so that the nearest is far out."""
    ratio, best = own / lead, own / found.nearest[0].ratio
    text = "No train of one pair or two gives this lead exactly"
    if ratio.denominator < 10**6:
        text += f": drivers over driven must come to {mixed_text(ratio)}"
    cautions = [Caution(code="no-exact", text=f"{text}. The nearest are listed with what they cost.")]
    if abs(best - lead) > NOTICED * lead:
        text = (
            f"The nearest lead is out by {fixed((best - lead) / lead * 100, 2)} %. A gear milled to it does "
            "not lie along its mate: cut both members by the same train, or look for another gear."
        )
        cautions.append(Caution(code="lead-out", text=text))
    return cautions


def _cautions(found: Trains, own: Fraction, lead: Fraction, diameter: Fraction | None) -> list[Caution]:
    cautions = [] if found.exact else _none_exact(found, own, lead)
    cautions += [
        Caution(
            code="hand",
            text=(
                "One idler more or less turns a right-hand helix into a left-hand one. Try the hand on the "
                "blank with the cutter clear of it, before the first cut."
            ),
        ),
        Caution(
            code="table-angle",
            text=(
                "The table, or the cutter’s head, is swivelled to the helix angle at the pitch line; with no "
                "swivel the cutter spoils the form. Take the backlash out of the train the same way for "
                "every cut, and lower the table on the way back."
            ),
        ),
    ]
    if diameter is None:
        cautions.append(
            Caution(code="no-diameter", text="Enter the diameter as well, and the helix angle is worked out.")
        )
    return cautions
