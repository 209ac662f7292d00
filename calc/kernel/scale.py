"""Kernel room: full size to scale, the stock that is nearest to it, and what rounding to stock costs."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from calc.kernel.bolt_circle import unit_of
from calc.kernel.errors import OutOfRange, check_within
from calc.kernel.scale_working import Scaled, working
from calc.kernel.stock import FORMS, GAUGES, KEY, SYSTEMS, Stock, other_gauge_mm, stock_list
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, fixed, mixed_text
from calc.kernel.working import Caution, Outcome

RULES = "scales"
SIZE_MM = (Fraction(1, 10), Fraction(100_000))
SIZE_REASON = "It is a size of the engine, from a wire to its length over all."
SCALE = (Fraction(1, 200), Fraction(1))
SCALE_REASON = "It is model over full size: 1:6, or 3 in to the foot, which is 1:4."
ALLOWANCE_MM = (Fraction(), Fraction(50))
ALLOWANCE_REASON = "It is what is left to machine, in all: on a diameter, both sides together."
MASS_KG = (Fraction(1, 1000), Fraction(10**6))
MASS_REASON = "It is the mass of the engine or of the part in full size: look at its unit."
NO_STOCK = "none"
#: A size this much over the largest of the list has no stock near it.
_NEAR = Fraction(11, 10)
_PARTS = 64


def scale(
    *,
    full_size: Fraction,
    scale: Fraction,
    allowance: Fraction = Fraction(),
    form: str = "round",
    system: str = "either",
    full_mass: Fraction | None = None,
) -> Outcome:
    """A full size at its scale, the next stock not below it, the nearest either way, and what each costs.

    Errors are stock less model size: above nought the stock is larger.

    Parameters
    ----------
    full_size : Fraction
        Of the engine. [mm] 0.1 mm to 100000 mm
    scale : Fraction
        Model over full size. [-] 0.005 to 1
    allowance : Fraction
        What is left to machine, in all. [mm] 0 mm to 50 mm
    form : str
        What is to be cut from. [-] round or sheet or plate or none
    system : str
        Which sizes of stock. [-] either or imperial or metric
    full_mass : Fraction, optional
        Of the engine or of the part. [kg] 0.001 kg to 1000000 kg

    Returns
    -------
    Outcome
        ``inches_to_foot`` [inch per foot]; ``model_size_mm`` [millimetre]; ``fraction`` [-], the nearest
        64th of an inch as it stands on a rule, and ``fraction_error_mm`` [millimetre];
        ``size_with_allowance_mm`` [millimetre]; ``stock`` [-] not below that, ``stock_mm`` [millimetre],
        ``stock_error_mm`` [millimetre], ``stock_error_percent`` [per cent] and ``stock_full_size_mm``
        [millimetre], the full size that it stands for; ``nearest_stock`` [-] to the model size either way,
        ``nearest_stock_mm`` [millimetre], ``nearest_stock_error_mm`` [millimetre],
        ``nearest_stock_error_percent`` [per cent] and ``nearest_stock_full_size_mm`` [millimetre]; each
        none where the list has none; ``area_factor`` [-] and ``mass_factor`` [-]; ``model_mass_kg``
        [kilogram], none without a mass.

    Raises
    ------
    OutOfRange
        An entry is outside its limits.
    NotInTable
        The list has no such form in that system.

    Notes
    -----
    Model = full size × scale; n inches to the foot are a scale of n/12. Areas go by the square, masses by
    the cube. Stock is taken not below model size + allowance.

    Examples
    --------
    >>> scale(full_size=Fraction("1676.4"), scale=Fraction(1, 4), form="none").results["fraction"]
    '16 1/2'

    Sources
    -------
    scales, worked by hand.
    stock_sizes, from memory.
    swg, sheet by gauge.

    Checks
    ------
    scales#wheel, scales#engine, scales#bar, scales#sheet
    """
    _checked(full_size, scale, allowance, form, system, full_mass)
    above, nearest = (None, None) if form == NO_STOCK else _found(full_size * scale, allowance, form, system)
    task = Scaled(
        full=full_size, scale=scale, allowance=allowance, mass=full_mass, above=above, nearest=nearest
    )
    sources = (RULES,) if form == NO_STOCK else (RULES, KEY)
    by_gauge = any(one and one.gauge is not None for one in (above, nearest))
    return Outcome(
        results=_results(task),
        working=tuple(working(task, unit_of(full_size))),
        warnings=tuple(_cautions(task, form)),
        sources=(*sources, GAUGES) if by_gauge else sources,
    )


def _checked(
    size: Fraction, share: Fraction, allowance: Fraction, form: str, system: str, mass: Fraction | None
) -> None:
    for field, value, limits, unit, reason in (
        ("full_size", size, SIZE_MM, " mm", SIZE_REASON),
        ("scale", share, SCALE, "", SCALE_REASON),
        ("allowance", allowance, ALLOWANCE_MM, " mm", ALLOWANCE_REASON),
        ("full_mass", mass, MASS_KG, " kg", MASS_REASON),
    ):
        check_within(field, value, limits, unit, reason)
    for field, chosen, choices in (("form", form, (*FORMS, NO_STOCK)), ("system", system, SYSTEMS)):
        if chosen not in choices:
            raise OutOfRange(field, " or ".join(choices), "It is one of the choices.")


def _found(model: Fraction, allowance: Fraction, form: str, system: str) -> tuple[Stock | None, Stock | None]:
    """The least stock not below the size with its allowance, and the nearest to the model size."""
    listed = stock_list(form, system)
    above = next((one for one in listed if one.mm >= model + allowance), None)
    near = None if model > listed[-1].mm * _NEAR else min(listed, key=lambda one: abs(one.mm - model))
    return above, near


def nearest_part(mm: Fraction) -> Fraction:
    """The nearest 64th of an inch, a half upwards. [inch]"""
    return Fraction((2 * _PARTS * mm / INCH + 1) // 2, _PARTS)


def _results(task: Scaled) -> dict[str, Any]:
    part = nearest_part(task.model)
    return {
        "inches_to_foot": float(task.scale * 12),
        "model_size_mm": float(task.model),
        "fraction": mixed_text(part),
        "fraction_error_mm": float(part * INCH - task.model),
        "size_with_allowance_mm": float(task.wanted),
        **_of_stock("stock", task.above, task),
        **_of_stock("nearest_stock", task.nearest, task),
        "area_factor": float(task.scale**2),
        "mass_factor": float(task.scale**3),
        "model_mass_kg": None if task.mass is None else float(task.mass * task.scale**3),
    }


def _of_stock(name: str, stock: Stock | None, task: Scaled) -> dict[str, Any]:
    names = (name, *(f"{name}_{end}" for end in ("mm", "error_mm", "error_percent", "full_size_mm")))
    if stock is None:
        return dict.fromkeys(names)
    error = stock.mm - task.model
    values = (
        stock.name, float(stock.mm), float(error), float(error / task.model * 100),
        float(stock.mm / task.scale),
    )  # fmt: skip
    return dict(zip(names, values, strict=True))


def _cautions(task: Scaled, form: str) -> Sequence[Caution]:
    """What does not scale, where the sizes come from, which gauge is meant."""
    found = [
        Caution(
            code="does-not-scale",
            text="Plate, sheet, wire and threads do not scale: take the next stock, and a thread of a "
            "standard series that is strong enough. A boiler’s plates are worked out by rules of their own.",
        )
    ]
    if form == NO_STOCK:
        return found
    found.append(
        Caution(
            code="from-memory",
            text="The list of stock is from memory, but for sheet by gauge: a supplier’s list decides.",
        )
    )
    if task.above is None:
        found.append(_beyond(task, form))
    gauges = dict.fromkeys(
        one for one in (task.above, task.nearest) if one is not None and one.gauge is not None
    )
    return [*found, *(_gauge(one) for one in gauges)]


def _beyond(task: Scaled, form: str) -> Caution:
    return Caution(
        code="beyond-list",
        text=f"No {form} of the list is as large as {decimal_text(task.wanted / INCH, 4)} in, "
        f"{decimal_text(task.wanted, 3)} mm: it is cast, forged or built up, or a supplier has it.",
    )


def _gauge(stock: Stock) -> Caution:
    number = stock.gauge or 0
    return Caution(
        code="gauge",
        text=f"{stock.name} is {fixed(stock.mm / INCH, 3)} in by the Imperial Standard Wire Gauge. "
        f"{number} AWG would be {fixed(other_gauge_mm(number) / 25.4, 4)} in, by its formula from memory, "
        f"and {number} BG, a gauge for sheet, another again: order by thickness.",
    )
