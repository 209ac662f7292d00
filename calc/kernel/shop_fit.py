"""Kernel room: workshop allowances of 1914 for a shaft in a hole reamed to the nominal size."""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from calc.kernel.errors import OutOfRange
from calc.kernel.inch_limits import InchLimits, looked_up, nominal_step, results, size_steps
from calc.kernel.tables import read_source, read_table
from calc.kernel.units import INCH
from calc.kernel.wording import mixed_text
from calc.kernel.working import Caution, Outcome, Step

KEY = "workshop_1914"
NOMINAL = (Fraction(1, 16) * INCH, 5 * INCH)
NOMINAL_REASON = "The table goes to 5 in, running fits Y and Z to 4 in; not for pins under 1/16 in."
FITS = ("running", "push", "driving", "forced")
CLASSES = ("X", "Y", "Z")


def shop_fit(*, nominal: Fraction, fit: str, running_class: str = "X") -> Outcome:
    """Limits of a shaft for a hole reamed to size, by the workshop allowances of 1914.

    Parameters
    ----------
    nominal : Fraction
        Size of the hole, taken as exactly that. [mm] 1.5875 mm to 127 mm
    fit : str
        Kind of fit: running or push or driving or forced. [-]
    running_class : str
        Of a running fit only: X or Y or Z: easy, average, fine. [-]

    Returns
    -------
    Outcome
        ``hole_upper_mm`` [millimetre] and ``hole_lower_mm`` [millimetre], both the nominal;
        ``shaft_upper_mm`` [millimetre] and ``shaft_lower_mm`` [millimetre], limits of size;
        ``hole_es_um`` [micrometre] and ``hole_ei_um`` [micrometre], both nought; ``shaft_es_um``
        [micrometre] and ``shaft_ei_um`` [micrometre], from the nominal; ``hole_tolerance_um``
        [micrometre], nought, and ``shaft_tolerance_um`` [micrometre]; ``clearance_max_mm``
        [millimetre] and ``clearance_min_mm`` [millimetre], below nought interference; ``kind`` [-].

    Raises
    ------
    OutOfRange
        The table does not go to that size, or the fit is none of its own.

    Notes
    -----
    Shaft limit = nominal + allowance; the hole is taken as the nominal exactly. The bands are
    printed in sixteenths, and a size between two takes the upper: 17/32 goes with 9/16 to 1.

    Examples
    --------
    >>> round(shop_fit(nominal=Fraction("38.1"), fit="forced").results["shaft_upper_mm"] / 25.4, 6)
    1.504

    Sources
    -------
    workshop_1914, allowances.csv.

    Checks
    ------
    workshop_1914#forced-1-1-2
    """
    if not NOMINAL[0] <= nominal <= NOMINAL[1]:
        raise OutOfRange("nominal", "1/16 in to 5 in", NOMINAL_REASON)
    if fit not in FITS:
        raise OutOfRange("fit", "running, push, driving or forced", "Choose one.")
    if running_class not in CLASSES:
        raise OutOfRange("running_class", "X, Y or Z", "Choose one: easy, average or fine.")
    row, span = _row(fit, running_class, nominal)
    found = InchLimits(
        nominal=nominal,
        hole_upper=Fraction(0),
        shaft_upper=Fraction(row["upper"]),
        shaft_lower=Fraction(row["lower"]),
    )
    return Outcome(
        results=results(found),
        working=(nominal_step(nominal), *_looked_up(row, span, found), *size_steps(found, hole=False)),
        warnings=tuple(_cautions(row, span)),
        sources=(KEY,),
    )


def named(row: Mapping[str, str]) -> str:
    """The fit of a row: ``forced``, ``running X``."""
    return f"{row['fit']} {row['class']}".strip()


def _row(fit: str, running_class: str, nominal: Fraction) -> tuple[Mapping[str, str], str]:
    """The row whose band holds the size, or the next band up, with the band in words."""
    rows = [
        row
        for row in read_table(KEY, "allowances").rows
        if row["fit"] == fit and row["class"] in ("", running_class)
    ]
    for row in rows:
        first, last = Fraction(row["from_in"]), Fraction(row["upto_in"])
        if nominal / INCH <= last:
            lead = f"{mixed_text(first)} " if first else ""
            return row, f"{lead}to {mixed_text(last)} in"
    end = mixed_text(Fraction(rows[-1]["upto_in"]))
    raise OutOfRange(
        "nominal", f"at most {end} in for a {named(rows[-1])} fit",
        "The old table ends there. Choose running fit X, or use the fits of ISO 286.",
    )  # fmt: skip


def _looked_up(row: Mapping[str, str], span: str, found: InchLimits) -> list[Step]:
    source = f"{read_source(KEY).short}, table of fits (read: {row['where']})"
    return [
        looked_up(f"{label} of a {named(row)} fit, {span}", value, source)
        for label, value in (("Shaft upper", found.shaft_upper), ("Shaft lower", found.shaft_lower))
    ]


def _cautions(row: Mapping[str, str], span: str) -> Iterator[Caution]:
    """What these allowances are, and are not."""
    yield Caution(
        code="old-allowance",
        text=f"A workshop allowance of 1914, {span}, and no standard: the hole is taken as exactly the "
        "nominal. Where the hole came out otherwise, the shaft moves with it.",
    )
    yield Caution(
        code="cut-short",
        text="The print cuts its figures to a tenth of a thousandth, so 0.25 stands as 0.2 and 1.25 as 1.2.",
    )
    if row["fit"] == "forced":
        yield Caution(
            code="pressed-again",
            text="A second pressing into the same bore needs less allowance for the same load (Turning and "
            "Boring, 1914).",
        )
