"""Kernel room: one side of a fit, its deviations and limits of size, with their lines of working."""

from dataclasses import dataclass
from fractions import Fraction

from calc.kernel.errors import OutOfRange
from calc.kernel.fit_symbols import LETTERS, Symbol
from calc.kernel.fit_tables import (
    LARGE,
    Cell,
    delta_cell,
    deviation_cell,
    grade_cell,
    is_m6_exception,
)
from calc.kernel.fit_words import figure_text, micrometres, size_text
from calc.kernel.working import LOOKED_UP, Step, line

M6_UM = Fraction(-9)
M6_SOURCE = "ISO 286-1, deviations of holes, note to M6 (read: Machine Drawing, Table 15.3)"
#: Signs of the upper and the lower deviation of each side.
SIGNS = {"hole": ("ES", "EI"), "shaft": ("es", "ei")}


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """One side of a fit at its nominal size: deviations in micrometres, limits in millimetres."""

    symbol: Symbol
    nominal: Fraction
    upper_um: Fraction
    lower_um: Fraction
    cells: tuple[Cell, ...]
    steps: tuple[Step, ...]

    @property
    def tolerance_um(self) -> Fraction:
        """The width of the zone."""
        return self.upper_um - self.lower_um

    @property
    def upper(self) -> Fraction:
        """The greatest size allowed. [mm]"""
        return self.nominal + self.upper_um / 1000

    @property
    def lower(self) -> Fraction:
        """The least size allowed. [mm]"""
        return self.nominal + self.lower_um / 1000


def zone(symbol: Symbol, nominal: Fraction) -> Zone:
    """The zone of a symbol at a nominal size.

    Parameters
    ----------
    symbol : Symbol
        The hole or the shaft.
    nominal : Fraction
        The size that picks the ranges. [mm] over 0 to 3150

    Raises
    ------
    NotInTable
        The standard does not define the symbol at that size; names what it defines.
    OutOfRange
        The zone would reach down to nought.
    """
    grade = grade_cell(symbol, nominal)
    steps = [looked_up(f"{grade.column}, {grade.span}", grade)]
    if symbol.letters.lower() == "js":
        upper, more, cells = _halved(symbol, grade)
    else:
        upper, more, cells = _deviated(symbol, nominal, grade)
    found = Zone(
        symbol=symbol,
        nominal=nominal,
        upper_um=upper,
        lower_um=upper - grade.value,
        cells=(grade, *cells),
        steps=(*steps, *more),
    )
    if found.lower <= 0:
        raise OutOfRange(
            symbol.side,
            f"{symbol.text} goes down to nought or below at {size_text(nominal)} mm",
            "Choose a finer grade, or letters nearer to the nominal size.",
        )
    return found


def looked_up(label: str, found: Cell) -> Step:
    """A line that is read in a table."""
    value = micrometres(found.value)
    return line(label, LOOKED_UP, value, value, "µm", found.source)


def _halved(symbol: Symbol, grade: Cell) -> tuple[Fraction, list[Step], tuple[Cell, ...]]:
    """js and JS: half the grade each way, exactly."""
    up, low = SIGNS[symbol.side]
    half = grade.value / 2
    grade_text = figure_text(grade.value)
    return (
        half,
        [
            line(
                f"Upper deviation of {symbol.text}",
                f"{up} = {grade.column} / 2",
                f"{grade_text} / 2",
                micrometres(half),
                "µm",
            ),
            line(
                f"Lower deviation of {symbol.text}",
                f"{low} = −{grade.column} / 2",
                f"−{grade_text} / 2",
                micrometres(-half),
                "µm",
            ),
        ],
        (),
    )


def is_lower_given(symbol: Symbol) -> bool:
    """Whether the table gives the lower deviation: holes A to H, shafts j to zc."""
    is_clear = LETTERS.index(symbol.letters.lower()) <= LETTERS.index("h")
    return is_clear == (symbol.side == "hole")


def _deviated(
    symbol: Symbol, nominal: Fraction, grade: Cell
) -> tuple[Fraction, list[Step], tuple[Cell, ...]]:
    """Every other letter: the tabled deviation and the grade beside it."""
    up, low = SIGNS[symbol.side]
    given, steps, cells = _fundamental(symbol, nominal, low if is_lower_given(symbol) else up)
    name = grade.column
    if is_lower_given(symbol):
        upper = given + grade.value
        figures = f"{figure_text(given)} + {figure_text(grade.value)}"
        formula, which, shown = f"{up} = {low} + {name}", "Upper", upper
    else:
        upper, lower = given, given - grade.value
        figures = f"{figure_text(given)} − {figure_text(grade.value)}"
        formula, which, shown = f"{low} = {up} − {name}", "Lower", lower
    label = f"{which} deviation of {symbol.text}"
    return upper, [*steps, line(label, formula, figures, micrometres(shown), "µm")], cells


def _fundamental(
    symbol: Symbol, nominal: Fraction, sign: str
) -> tuple[Fraction, list[Step], tuple[Cell, ...]]:
    """The deviation nearest to the zero line, by table, delta or note."""
    found = deviation_cell(symbol, nominal)
    which = "Lower" if is_lower_given(symbol) else "Upper"
    label = f"{which} deviation of {symbol.text}, {sign}, {found.span}"
    if is_m6_exception(symbol, nominal):
        value = micrometres(M6_UM)
        return M6_UM, [line(label, LOOKED_UP, value, value, "µm", M6_SOURCE)], (found,)
    if nominal > LARGE and symbol.side == "hole":
        shaft = looked_up(f"Deviation of the shaft {symbol.letters.lower()}, {found.span}", found)
        mirror = line(
            f"{which} deviation of {symbol.text}: the shaft’s with its sign changed",
            f"{sign} = −shaft deviation",
            f"−{figure_text(found.value)}",
            micrometres(-found.value),
            "µm",
        )
        return -found.value, [shaft, mirror], (found,)
    delta = delta_cell(symbol, nominal)
    if delta is None:
        return found.value, [looked_up(label, found)], (found,)
    return _with_delta(symbol, found, delta, sign)


def _with_delta(
    symbol: Symbol, found: Cell, delta: Cell, sign: str
) -> tuple[Fraction, list[Step], tuple[Cell, ...]]:
    """K, M, N to IT8 and P to ZC to IT7: the tabled value and the delta of the grade."""
    total = found.value + delta.value
    added = line(
        f"Upper deviation of {symbol.text}",
        f"{sign} = tabled value + delta",
        f"{figure_text(found.value)} + {figure_text(delta.value)}",
        micrometres(total),
        "µm",
    )
    steps = [
        looked_up(f"Tabled value of {symbol.letters}, {found.span}", found),
        looked_up(f"Delta for IT{symbol.grade}, {delta.span}", delta),
        added,
    ]
    return total, steps, (found, delta)


def limit_steps(found: Zone) -> list[Step]:
    """The two limits of size, from the nominal and the deviations."""
    up, low = SIGNS[found.symbol.side]
    nominal = figure_text(found.nominal)
    side = found.symbol.side.capitalize()
    return [
        line(
            f"{side}, {which} limit",
            f"nominal + {sign} / 1000",
            f"{nominal} + {figure_text(deviation)} / 1000",
            size_text(limit),
            "mm",
        )
        for which, sign, deviation, limit in (
            ("upper", up, found.upper_um, found.upper),
            ("lower", low, found.lower_um, found.lower),
        )
    ]
