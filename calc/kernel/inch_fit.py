"""Kernel room: the inch fits of ANSI B4.1, limits of a hole and a shaft by the class of fit."""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from calc.kernel.errors import OutOfRange
from calc.kernel.inch_limits import InchLimits, looked_up, nominal_step, results, size_steps
from calc.kernel.tables import read_source, read_table
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text
from calc.kernel.working import Caution, Outcome, Step

KEY = "ansi_b4_1"
NOMINAL = (Fraction(2, 100) * INCH, Fraction(709, 100) * INCH)
NOMINAL_REASON = "The tables to hand end at 7.09 in, force fits at 5.52 in; under 0.02 in there is no room."
#: Every class, in the order of the standard.
FITS = tuple(
    f"{letters}{number}"
    for letters, most in (("RC", 9), ("LC", 11), ("LT", 6), ("LN", 3), ("FN", 5))
    for number in range(1, most + 1)
)
WORDS = {
    "RC": "running or sliding", "LC": "locating, with clearance", "LT": "locating, transition",
    "LN": "locating, with interference", "FN": "force or shrink",
}  # fmt: skip
MEMORY, DERIVED = "memory", "derived"


def inch_fit(*, nominal: Fraction, fit: str) -> Outcome:
    """Limits of size of a hole and a shaft by a class of fit of the American standard, in inches.

    Parameters
    ----------
    nominal : Fraction
        Nominal size, which picks the range. [mm] 0.508 mm to 180.086 mm
    fit : str
        Class of fit: RC1 or RC2 or RC3 or RC4 or RC5 or RC6 or RC7 or RC8 or RC9 or LC1 or LC2 or
        LC3 or LC4 or LC5 or LC6 or LC7 or LC8 or LC9 or LC10 or LC11 or LT1 or LT2 or LT3 or LT4
        or LT5 or LT6 or LN1 or LN2 or LN3 or FN1 or FN2 or FN3 or FN4 or FN5. [-]

    Returns
    -------
    Outcome
        ``hole_upper_mm`` [millimetre], ``hole_lower_mm`` [millimetre], ``shaft_upper_mm``
        [millimetre] and ``shaft_lower_mm`` [millimetre], limits of size; ``hole_es_um``
        [micrometre], ``hole_ei_um`` [micrometre], ``shaft_es_um`` [micrometre] and
        ``shaft_ei_um`` [micrometre], the same from the nominal; ``hole_tolerance_um``
        [micrometre] and ``shaft_tolerance_um`` [micrometre]; ``clearance_max_mm`` [millimetre]
        and ``clearance_min_mm`` [millimetre], below nought interference; ``kind`` [-].

    Raises
    ------
    OutOfRange
        The class does not cover the nominal size; says from where to where it goes.

    Notes
    -----
    The lower limit of the hole is the nominal; the others are it and the thousandths of the table.
    Greatest clearance = hole upper - shaft lower, least = hole lower - shaft upper. The zones bear
    letters that ISO 286 has too, with other figures. A range is over, exclusive, to up to, inclusive.

    Examples
    --------
    >>> round(inch_fit(nominal=Fraction("25.4"), fit="RC4").results["hole_upper_mm"] / 25.4, 6)
    1.0012

    Sources
    -------
    ansi_b4_1, fits.csv and force_fits.csv, each row with where it comes from.

    Checks
    ------
    ansi_b4_1#rc4-1, ansi_b4_1#ln2-3-4, ansi_b4_1#lt5-1-2, ansi_b4_1#fn2-1
    """
    if not NOMINAL[0] <= nominal <= NOMINAL[1]:
        raise OutOfRange("nominal", "0.02 in to 7.09 in", NOMINAL_REASON)
    if fit not in FITS:
        raise OutOfRange(
            "fit", "one of RC1 to RC9, LC1 to LC11, LT1 to LT6, LN1 to LN3, FN1 to FN5", "Choose one."
        )
    row = _row(fit, nominal)
    found = InchLimits(
        nominal=nominal,
        hole_upper=Fraction(row["hole_upper"]),
        shaft_upper=Fraction(row["shaft_upper"]),
        shaft_lower=Fraction(row["shaft_lower"]),
    )
    return Outcome(
        results=results(found),
        working=(nominal_step(nominal), *_looked_up(fit, row, found), *size_steps(found)),
        warnings=tuple(_cautions(fit, row)),
        sources=(KEY,),
    )


def rows_of(fit: str) -> tuple[Mapping[str, str], ...]:
    """The rows of a class, the smallest sizes first."""
    table = read_table(KEY, "force_fits" if fit.startswith("FN") else "fits")
    return tuple(row for row in table.rows if row["fit"] == fit)


def _row(fit: str, nominal: Fraction) -> Mapping[str, str]:
    rows, inches = rows_of(fit), nominal / INCH
    for row in rows:
        if Fraction(row["over_in"]) < inches <= Fraction(row["upto_in"]):
            return row
    first, last = rows[0]["over_in"], rows[-1]["upto_in"]
    raise OutOfRange(
        "nominal", f"over {first} in to {last} in for {fit}",
        f"The table of {fit} covers no other sizes: {decimal_text(inches, 4)} in was entered. "
        "Choose another class, or use the fits of ISO 286.",
    )  # fmt: skip


def span_text(row: Mapping[str, str]) -> str:
    """The range of a row: ``over 0.71 to 1.19 in``."""
    return (
        f"over {decimal_text(Fraction(row['over_in']), 2)} to {decimal_text(Fraction(row['upto_in']), 2)} in"
    )


def source_text(row: Mapping[str, str]) -> str:
    """Where the figures of a row come from."""
    how = {
        "read": f"read: {row['where']}",
        DERIVED: f"put together here from the {row['where']}",
        MEMORY: "from memory",
    }[row["how"]]
    return f"{read_source(KEY).short}, {row['fit']} ({how})"


def _looked_up(fit: str, row: Mapping[str, str], found: InchLimits) -> list[Step]:
    source = source_text(row)
    return [
        looked_up(f"{label} of {fit}, {span_text(row)}", value, source)
        for label, value in (
            ("Hole upper", found.hole_upper),
            ("Shaft upper", found.shaft_upper),
            ("Shaft lower", found.shaft_lower),
        )
    ]


def _cautions(fit: str, row: Mapping[str, str]) -> Iterator[Caution]:
    """What was not read, and that the letters are not those of ISO 286."""
    if row["how"] == MEMORY:
        yield Caution(
            code="from-memory",
            text=f"{fit} {span_text(row)} is from memory: no page of it was read. Look it up in the standard "
            "before the work depends on it.",
        )
    if row["how"] == DERIVED:
        yield Caution(
            code="derived",
            text=f"{fit} {span_text(row)} was not read as printed: it is put together from {row['where']}.",
        )
    zones = "/".join(zone for zone in (row["hole_zone"], row["shaft_zone"]) if zone)
    yield Caution(
        code="not-iso",
        text=f"The standard calls these zones {zones}. They are its own figures in inches: ISO 286 has the "
        "same letters with others. Give the limits, not the letters, to whoever works in millimetres.",
    )
