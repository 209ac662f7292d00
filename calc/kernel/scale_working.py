"""Kernel room: the lines of working of a size at its scale."""

from dataclasses import dataclass
from fractions import Fraction
from math import floor

from calc.kernel.stock import GAUGES, KEY, Stock
from calc.kernel.tables import read_source
from calc.kernel.threads_lines import Lines
from calc.kernel.units import INCH
from calc.kernel.wording import mixed_text
from calc.kernel.working import Step, figures_enough, line

POUND = Fraction("0.45359237")
_PLACES = 6  # of a 64th, exactly


@dataclass(frozen=True, slots=True, kw_only=True)
class Scaled:
    """A size at its scale, with what was found in the list for it; millimetres."""

    full: Fraction
    scale: Fraction
    allowance: Fraction
    mass: Fraction | None
    above: Stock | None
    nearest: Stock | None

    @property
    def model(self) -> Fraction:
        return self.full * self.scale

    @property
    def wanted(self) -> Fraction:
        return self.model + self.allowance


def working(task: Scaled, unit: Fraction) -> list[Step]:
    """Every line: the model size, the nearest 64th, the stock and its errors, areas and masses.

    Parameters
    ----------
    task : Scaled
        The size, its scale and the stock found.
    unit : Fraction
        What lengths are written in. [mm]
    """
    lines = Lines(unit)
    share = f"{task.scale.numerator}/{task.scale.denominator}"
    lines.bare("Inches to the foot", "scale × 12", f"{share} × 12", [], lambda: task.scale * 12, 4, "in/ft")
    lines.length(
        "Model size", "full size × scale", f"{{}} × {share}", [task.full], lambda full: full * task.scale
    )
    lines.steps.append(_fraction(task.model, unit))
    if task.allowance:
        lines.length("With the allowance", "model size + allowance", "{} + {}", [task.model, task.allowance],
                     lambda model, left: model + left)  # fmt: skip
    for name, stock in (("stock", task.above), ("nearest stock", task.nearest)):
        if stock is not None and (name == "stock" or stock != task.above):
            _stock_lines(lines, name, stock, task, share)
    lines.bare("Areas", "scale²", f"({share})²", [], lambda: task.scale**2, 6, "")
    lines.bare("Volumes and masses", "scale² × scale", f"({share})² × {share}", [], lambda: task.scale**3, 6,
               "")  # fmt: skip
    if task.mass is not None:
        _mass_lines(lines, task.mass, task.scale, share)
    return lines.steps


def _fraction(model: Fraction, unit: Fraction) -> Step:
    """The nearest mark of a rule: the model size in 64ths, rounded, in inches again."""
    over = "" if unit == INCH else " / 25.4"

    def worked(size: Fraction) -> Fraction:
        return Fraction(floor(size / (1 if unit == INCH else INCH) * 64 + Fraction(1, 2)), 64)

    written, shown = figures_enough([model / unit], worked, _PLACES, 4)
    return line(
        "Nearest 64th of an inch",
        f"whole(model size{over} × 64 + 1 / 2) / 64",
        f"whole({written[0]}{over} × 64 + 1 / 2) / 64",
        mixed_text(Fraction(shown)),
        "in",
    )


def _stock_lines(lines: Lines, name: str, stock: Stock, task: Scaled, share: str) -> None:
    what = "Stock not below it" if name == "stock" else "Nearest stock"
    source = (
        f"{read_source(GAUGES).short}, read" if stock.gauge is not None
        else f"{read_source(KEY).short}, from memory"
    )  # fmt: skip
    lines.table(f"{what}, {stock.name}", stock.mm, source)
    sizes = [stock.mm, task.model]
    lines.length(f"{what}, its error", f"{name} − model size", "{} − {}", sizes,
                 lambda have, want: have - want)  # fmt: skip
    lines.bare(f"{what}, its error in per cent", f"({name} / model size − 1) × 100", "({} / {} − 1) × 100",
               [size / lines.unit for size in sizes], lambda have, want: (have / want - 1) * 100, 2,
               "%")  # fmt: skip
    lines.length(f"{what}, the full size it stands for", f"{name} / scale", f"{{}} / ({share})", [stock.mm],
                 lambda have: have / task.scale)  # fmt: skip


def _mass_lines(lines: Lines, mass: Fraction, scale: Fraction, share: str) -> None:
    formula = "full mass × scale² × scale"
    lines.bare("Mass of the model", formula, f"{{}} × ({share})² × {share}", [mass],
               lambda full: full * scale**3, 3, "kg")  # fmt: skip
    lines.bare("The same in pounds", "full mass / 0.45359237 × scale² × scale",
               f"{{}} / 0.45359237 × ({share})² × {share}", [mass], lambda full: full / POUND * scale**3, 2,
               "lb")  # fmt: skip
