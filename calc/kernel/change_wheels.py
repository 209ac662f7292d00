"""Kernel room: the change wheels of a lathe for a thread, out of those owned, and what the nearest costs."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from calc.kernel.errors import OutOfRange, check_within
from calc.kernel.tables import read_source
from calc.kernel.threads_lines import Lines
from calc.kernel.trains import Train, Trains, check_wheels, missing_prime, train_text, train_words, trains_for
from calc.kernel.units import INCH
from calc.kernel.wording import fixed, mixed_text, plain_number
from calc.kernel.working import COMMON, Caution, Outcome, Step, line

KEY = "screwcutting"
PITCH_MM = (Fraction(1, 10), Fraction(100))
PITCH_REASON = "It is the lead of the thread: of one with several starts, what one turn moves on."
TPI = (Fraction(1, 4), Fraction(250))
TPI_REASON = "It is threads to the inch: finer than 250 or coarser than four inches to a turn is not cut so."
#: Lengths over which an error is told. [mm]
OVER_INCH, OVER_25 = INCH, Fraction(25)


def change_wheels(
    *,
    wheels_owned: Sequence[int],
    pitch: Fraction | None = None,
    threads_per_inch: Fraction | None = None,
    screw_pitch: Fraction | None = None,
    screw_threads_per_inch: Fraction | None = None,
) -> Outcome:
    """The change wheels that cut a thread on a lathe's lead screw, with those owned.

    Use it for inch threads on a metric lead screw and the reverse as well: every train is an exact
    fraction, and where none is exact the nearest are told with their error over a length.

    Parameters
    ----------
    wheels_owned : sequence of int
        Teeth of the wheels owned, each as often as it is owned; at least 2, at most 60. [count] 8 to 400
    pitch : Fraction, optional
        Of the thread; this or the threads to the inch. [mm] 0.1 mm to 100 mm
    threads_per_inch : Fraction, optional
        Of the thread. [-] 0.25 to 250
    screw_pitch : Fraction, optional
        Of the lead screw; this or its threads to the inch. [mm] 0.1 mm to 100 mm
    screw_threads_per_inch : Fraction, optional
        Of the lead screw. [-] 0.25 to 250

    Returns
    -------
    Outcome
        ``pitch_mm`` [millimetre] and ``screw_pitch_mm`` [millimetre]; ``train_ratio`` [-], product of the
        drivers over product of the driven; ``exact_trains`` [-], trains that give it, ``exact_trains_count``
        [count] of all there are, and ``nearest_trains`` [-] where none does: each with drivers, first the one
        on the spindle, driven, clears, pitch_mm, error_um, error_over_inch_um and error_over_25_um,
        error_percent, made less wanted. ``missing_factor`` [count], a prime no wheel owned has, none where
        one is not what is missing; ``half_nut_every_mm`` [millimetre], the travel after which the half nut
        falls in again, and ``half_nut_turns`` [count] of the lead screw for it.

    Raises
    ------
    OutOfRange
        An entry is outside its limits, or a pitch is given in both ways or in neither.

    Notes
    -----
    Drivers / driven = pitch of the thread / pitch of the lead screw, in lowest terms p/q: after p turns of
    the screw the carriage has moved q threads, and thread and nut meet again.

    Examples
    --------
    >>> change_wheels(pitch=Fraction(1), screw_pitch=Fraction(2), wheels_owned=[9, 18]).results["train_ratio"]
    0.5

    Sources
    -------
    screwcutting, the rule of drivers and driven.

    Checks
    ------
    screwcutting#five-on-two, screwcutting#metric-127, screwcutting#metric-63,
    screwcutting#inch-on-metric
    """
    wanted = thread_pitch("pitch", pitch, "threads_per_inch", threads_per_inch, "the thread")
    screw = thread_pitch(
        "screw_pitch", screw_pitch, "screw_threads_per_inch", screw_threads_per_inch, "the lead screw"
    )
    check_wheels("wheels_owned", wheels_owned)
    ratio = wanted / screw
    found = trains_for(wheels_owned, ratio)
    used = _used(wanted, screw, found)
    missing = None if found.exact else missing_prime(wheels_owned, ratio)
    return Outcome(
        results={
            "pitch_mm": float(wanted),
            "screw_pitch_mm": float(screw),
            "train_ratio": float(ratio),
            "exact_trains": [_row(train, wanted, screw) for train in found.exact],
            "exact_trains_count": found.exact_count,
            "nearest_trains": [_row(train, wanted, screw) for train in found.nearest],
            "missing_factor": missing,
            "half_nut_every_mm": float(used.numerator * screw),
            "half_nut_turns": used.numerator,
        },
        working=tuple(_steps(wanted, screw, found)),
        warnings=tuple(_cautions(wanted, screw, found, missing)),
        sources=(KEY,),
    )


def thread_pitch(
    pitch_field: str, pitch: Fraction | None, tpi_field: str, tpi: Fraction | None, what: str
) -> Fraction:
    """A pitch given as one or as threads to the inch; raises OutOfRange for both or neither. [mm]"""
    check_within(pitch_field, pitch, PITCH_MM, " mm", PITCH_REASON)
    check_within(tpi_field, tpi, TPI, "", TPI_REASON)
    if (pitch is None) == (tpi is None):
        raise OutOfRange(
            tpi_field if pitch is None else pitch_field,
            f"the pitch of {what} or its threads to the inch",
            "Each gives the other: enter one of the two.",
        )
    return pitch if pitch is not None else INCH / (tpi or 1)


def _row(train: Train, wanted: Fraction, screw: Fraction) -> dict[str, Any]:
    made = train.ratio * screw
    part = (made - wanted) / wanted
    return {
        "drivers": list(train.drivers),
        "driven": list(train.driven),
        "clears": train.clears,
        "pitch_mm": float(made),
        "error_um": float((made - wanted) * 1000),
        "error_over_inch_um": float(part * OVER_INCH * 1000),
        "error_over_25_um": float(part * OVER_25 * 1000),
        "error_percent": plain_number(part * 100),
    }


def _steps(wanted: Fraction, screw: Fraction, found: Trains) -> list[Step]:
    ratio, used = wanted / screw, _used(wanted, screw, found)
    lines = Lines(Fraction(1))
    lines.bare("Drivers over driven", "pitch of the thread / pitch of the lead screw", "{} / {}",
               [wanted, screw], lambda one, two: one / two, 9, "", source_words())  # fmt: skip
    for train in (*found.exact[:3], *found.nearest[:3]):
        named, made = train_text(train), train.ratio * screw
        lines.bare(f"Pitch that {train_words(train)} cuts", "drivers / driven × pitch of the lead screw",
                   f"{named} × {{}}", [screw], lambda pitch, train=train: train.ratio * pitch, 5,
                   "mm")  # fmt: skip
        if not found.exact:
            lines.bare(f"Error of {train_words(train)} over 25 mm",
                       "(pitch cut − pitch of the thread) / pitch of the thread × 25000",
                       "({0} − {1}) / {1} × 25000", [made, wanted],
                       lambda one, two: (one - two) / two * 25000, 1, "µm")  # fmt: skip
    exactly = line(
        "Wheels in lowest terms" if found.exact else "Wheels wanted, in lowest terms",
        "p / q", str(ratio), mixed_text(ratio),
    )  # fmt: skip
    lines.bare("Travel after which the half nut falls in again",
               "turns of the screw × pitch of the lead screw", f"{used.numerator} × {{}}", [screw],
               lambda pitch: used.numerator * pitch, 3, "mm", COMMON)  # fmt: skip
    return [lines.steps[0], exactly, *lines.steps[1:]]


def source_words() -> str:
    """The rule of the change wheels, as a line of working names its source."""
    return read_source(KEY).short


def _used(wanted: Fraction, screw: Fraction, found: Trains) -> Fraction:
    """The ratio the lathe runs at: that of the nearest train where none is exact."""
    return wanted / screw if found.exact else found.nearest[0].ratio


def _cautions(wanted: Fraction, screw: Fraction, found: Trains, missing: int | None) -> list[Caution]:
    cautions = []
    if not found.exact:
        cautions.append(_none_exact(wanted / screw, missing))
    turns = _used(wanted, screw, found).numerator
    if turns > 1:
        cautions.append(
            Caution(
                code="half-nut",
                text=(
                    f"The half nut falls in again only after {turns} turns of the lead screw, "
                    f"{fixed(turns * screw, 2)} mm of travel. Keep it closed and run the lathe back between "
                    "cuts; a metric thread on an inch lead screw, or the reverse, is always cut so."
                ),
            )
        )
    if any(len(train.drivers) > 1 for train in (*found.exact, *found.nearest)):
        cautions.append(
            Caution(
                code="train-clears",
                text=(
                    "Of a train of two pairs try on the quadrant whether the wheels of each stud clear the "
                    "shaft beside it, and whether both pairs reach: the sum knows the teeth, not the "
                    "machine. Stop the lathe before reaching into the wheels."
                ),
            )
        )
    return cautions


def _none_exact(ratio: Fraction, missing: int | None) -> Caution:
    shown = str(ratio) if ratio.denominator < 10**6 else fixed(ratio, 9)
    want = f"Drivers over driven must come to {shown}"
    if missing:
        why = f", and no wheel owned divides by {missing}: one of {missing} teeth would do it"
        if missing == 127:
            why += ", as 127 goes into every exact train between inches and millimetres"
    else:
        why = ", which these wheels do not come to with one pair or two"
    return Caution(code="no-exact", text=f"{want}{why}. The nearest are listed with what they cost.")
