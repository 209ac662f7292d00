"""Kernel room: limits and fits by ISO 286, and the limits of a side made to suit a measured one."""

from fractions import Fraction
from typing import Any

from calc.kernel.errors import OutOfRange
from calc.kernel.fit_cautions import cautions
from calc.kernel.fit_jobs import GAUGE, GAUGE_REASON, gauge_cautions, job_cautions, symbols
from calc.kernel.fit_suit import OTHER, Fitted, Limits, fitted, suited
from calc.kernel.fit_symbols import EXAMPLES, read_symbol
from calc.kernel.fit_tables import KEY
from calc.kernel.fit_words import size_text
from calc.kernel.fit_zones import Zone, limit_steps, zone
from calc.kernel.wording import plain_number
from calc.kernel.working import Outcome

NOMINAL = (Fraction(1, 10), Fraction(3150))
NOMINAL_REASON = (
    "The tables of ISO 286 end at 3150 mm; under a tenth of a millimetre there is no room for them."
)
MEASURED = (Fraction(1, 20), Fraction(3300))
MEASURED_REASON = "It is a hole or a shaft of about the nominal size."


def fit(
    *,
    nominal: Fraction,
    hole: str | None = None,
    shaft: str | None = None,
    hole_measured: Fraction | None = None,
    shaft_measured: Fraction | None = None,
    job: str | None = None,
    gauge_resolution: Fraction | None = None,
) -> Outcome:
    """Limits of size of a hole and a shaft, the play between them, and what suits a measured side.

    Either may be asked for alone. Where one side is made already, enter what it measures: the
    limits of the other are worked out to suit, with the fit's own least clearance.

    Parameters
    ----------
    nominal : Fraction
        Nominal size, which picks the ranges. [mm] 0.1 mm to 3150 mm
    hole : str, optional
        Symbol of the hole, capitals: ``H7``. [-]
    shaft : str, optional
        Symbol of the shaft, small letters: ``g6``. [-]
    hole_measured : Fraction, optional
        The hole as measured, to make the shaft to; both symbols are wanted. [mm] 0.05 mm to 3300 mm
    shaft_measured : Fraction, optional
        The shaft as measured, to make the hole to; both symbols are wanted. [mm] 0.05 mm to 3300 mm
    job : str, optional
        What the fit is to do, where both symbols are left empty: loose or free or running or sliding
        or locating or push or wringing or press or drive or force. [-]
    gauge_resolution : Fraction, optional
        What the builder's own gauge can be read to. [mm] 0.0001 mm to 0.5 mm

    Returns
    -------
    Outcome
        ``hole_upper_mm`` [millimetre], ``hole_lower_mm`` [millimetre], ``shaft_upper_mm``
        [millimetre] and ``shaft_lower_mm`` [millimetre], limits of size; ``hole_es_um``
        [micrometre], ``hole_ei_um`` [micrometre], ``shaft_es_um`` [micrometre] and
        ``shaft_ei_um`` [micrometre], deviations of the symbols; ``hole_tolerance_um``
        [micrometre] and ``shaft_tolerance_um`` [micrometre]; ``clearance_max_mm`` [millimetre]
        and ``clearance_min_mm`` [millimetre], below nought interference; ``kind`` [-];
        ``to_suit`` [-], the side whose limits are made to suit the measured one.

    Raises
    ------
    OutOfRange
        An entry breaks a limit, a symbol is one of the other side, or both sides are measured.
    NotInTable
        ISO 286 does not define the symbol at that size; names what it defines.

    Notes
    -----
    Greatest clearance = hole upper - shaft lower, least = hole lower - shaft upper. Shaft a to h:
    es tabled, ei = es - IT; j to zc: ei tabled, es = ei + IT. Hole A to H: EI tabled, ES = EI + IT;
    J to ZC: ES tabled, with delta = IT(n) - IT(n-1) for K, M, N to IT8 and P to ZC to IT7, but
    M6 = -9 over 250 to 315 mm; EI = ES - IT. js and JS: half the grade each way, not rounded.
    Over 500 mm holes are the shafts with their signs changed, without delta.
    A measured hole: shaft upper = measured - least clearance, shaft lower = that - the shaft's
    grade; the hole's limits stay those of its symbol, and the clearances are those with the hole
    as measured. A measured shaft in the same way. A range is over, exclusive, to up to, inclusive.

    Examples
    --------
    >>> fit(nominal=Fraction(40), hole="H7", shaft="p6").results["shaft_upper_mm"]
    40.042

    Sources
    -------
    iso286, tables of grades and deviations, cell by cell as origins.csv says.

    Checks
    ------
    iso286_corrigendum#e8-100, iso286_corrigendum#f9-300, machine_design#r6-25, fit_page#f7-50,
    iso286#m6-280, fits_derived#g6-25, fits_derived#k7-25
    """
    _check_sizes(nominal, hole_measured, shaft_measured)
    _check_gauge(gauge_resolution)
    sides = dict(zip(("hole", "shaft"), symbols(job, hole, shaft), strict=True))
    if not any(sides.values()):
        raise OutOfRange("hole", "a hole, a shaft or both are wanted", "Enter H7, say, or choose a job.")
    zones = {side: zone(read_symbol(side, text), nominal) for side, text in sides.items() if text}
    measured = {"hole": hole_measured, "shaft": shaft_measured}
    side = next((one for one, size in measured.items() if size is not None), None)
    size = measured[side] if side else None
    if side is None or size is None:
        play = fitted(zones.get("hole"), zones.get("shaft"))
    else:
        _check_suit(zones, side, size, nominal)
        play = suited(zones["hole"], zones["shaft"], side, size)
    steps = [
        step
        for one, found in zones.items()
        for step in (*found.steps, *(() if side == OTHER[one] else limit_steps(found)))
    ]
    return Outcome(
        results=_results(zones, play, OTHER[side] if side else None),
        working=(*steps, *play.steps),
        warnings=(
            *cautions(list(zones.values()), (zones[side], size) if side and size else None),
            *job_cautions(job, hole, shaft),
            *gauge_cautions(
                gauge_resolution,
                {one: found.tolerance_um / 1000 for one, found in zones.items() if one != side},
                play.least,
            ),
        ),
        sources=(KEY,),
    )


def _check_gauge(gauge: Fraction | None) -> None:
    if gauge is not None and not GAUGE[0] <= gauge <= GAUGE[1]:
        raise OutOfRange("gauge_resolution", "0.0001 mm to 0.5 mm", GAUGE_REASON)


def _check_sizes(nominal: Fraction, hole_measured: Fraction | None, shaft_measured: Fraction | None) -> None:
    sizes = {"nominal": (nominal, NOMINAL, NOMINAL_REASON)}
    sizes |= {
        name: (size, MEASURED, MEASURED_REASON)
        for name, size in (("hole_measured", hole_measured), ("shaft_measured", shaft_measured))
        if size is not None
    }
    for name, (size, (low, high), reason) in sizes.items():
        if not low <= size <= high:
            raise OutOfRange(name, f"{float(low):g} mm to {float(high):g} mm", reason)
    if hole_measured is not None and shaft_measured is not None:
        raise OutOfRange(
            "shaft_measured", "the hole or the shaft as measured, not both",
            "Clear the one that is still to be made.",
        )  # fmt: skip


def _check_suit(zones: dict[str, Zone], side: str, size: Fraction, nominal: Fraction) -> None:
    """A side is made to suit where both symbols are there and the measured size is about the nominal."""
    missing = next((one for one in ("hole", "shaft") if one not in zones), None)
    if missing is not None:
        raise OutOfRange(
            missing, f"the {missing} is wanted to suit a measured {side}",
            f"The fit is of two: enter its symbol, such as {EXAMPLES[missing]}.",
        )  # fmt: skip
    if not nominal / 2 <= size <= nominal * 2:
        raise OutOfRange(
            f"{side}_measured", f"{size_text(nominal / 2)} mm to {size_text(nominal * 2)} mm",
            f"It is about the nominal size, {size_text(nominal)} mm: look at its unit.",
        )  # fmt: skip


def _results(zones: dict[str, Zone], play: Fitted, to_suit: str | None) -> dict[str, Any]:
    hole, shaft = zones.get("hole"), zones.get("shaft")
    return {
        **_limits("hole", play.hole),
        **_limits("shaft", play.shaft),
        **_deviations("hole", hole),
        **_deviations("shaft", shaft),
        "clearance_max_mm": None if play.most is None else plain_number(play.most),
        "clearance_min_mm": None if play.least is None else plain_number(play.least),
        "kind": play.kind,
        "to_suit": to_suit,
    }


def _limits(side: str, limits: Limits | None) -> dict[str, Any]:
    return {
        f"{side}_upper_mm": plain_number(limits.upper) if limits else None,
        f"{side}_lower_mm": plain_number(limits.lower) if limits else None,
    }


def _deviations(side: str, found: Zone | None) -> dict[str, Any]:
    return {
        f"{side}_es_um": plain_number(found.upper_um) if found else None,
        f"{side}_ei_um": plain_number(found.lower_um) if found else None,
        f"{side}_tolerance_um": plain_number(found.tolerance_um) if found else None,
    }
