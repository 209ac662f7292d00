"""Kernel room: press and shrink fits, pressure and stress by Lamé, force, torque and heat."""

from dataclasses import dataclass
from fractions import Fraction
from math import pi
from typing import Any

from calc.kernel.press_fit_cautions import cautions
from calc.kernel.press_fit_entries import Metal, check, check_shape, expansion_of, metal
from calc.kernel.press_fit_steps import figure, line, shown
from calc.kernel.working import Outcome, Step

PI = Fraction(pi)
D = Fraction(25)  # the example’s shaft, in millimetres
HERE = "worked here"


def press_fit(
    *,
    interface: Fraction,
    hub_outside: Fraction,
    interference: Fraction,
    shaft_bore: Fraction | None = None,
    length: Fraction | None = None,
    friction: Fraction | None = None,
    hub_material: str = "steel",
    shaft_material: str = "steel",
    hub_e: Fraction | None = None,
    hub_poisson: Fraction | None = None,
    hub_expansion: Fraction | None = None,
    shaft_e: Fraction | None = None,
    shaft_poisson: Fraction | None = None,
    assembly_clearance: Fraction = Fraction(0),
    hub_strength: Fraction | None = None,
) -> Outcome:
    """Pressure, stress, force, torque and temperature rise of a press or shrink fit.

    Parameters
    ----------
    interface : Fraction
        Diameter where shaft and hub meet. [mm] 1 mm to 2000 mm
    hub_outside : Fraction
        Outside diameter of the hub. [mm] 1 mm to 5000 mm
    interference : Fraction
        Shaft less bore, on the diameter. [mm] 0.0001 mm to 5 mm
    shaft_bore : Fraction, optional
        Bore of a hollow shaft. [mm] 0.1 mm to 2000 mm
    length : Fraction, optional
        Length in the hub, for force and torque. [mm] 0.5 mm to 2000 mm
    friction : Fraction, optional
        Coefficient of friction, for force and torque. [-] 0.01 to 1
    hub_material : str
        Of the hub: steel or grey iron or bronze or gunmetal or brass or aluminium. [-]
    shaft_material : str
        Of the shaft: steel or grey iron or bronze or gunmetal or brass or aluminium. [-]
    hub_e : Fraction, optional
        Young's modulus of the hub, in place of the material's. [MPa] 1000 MPa to 500000 MPa
    hub_poisson : Fraction, optional
        Poisson's ratio of the hub. [-] 0 to 0.49
    hub_expansion : Fraction, optional
        Expansion of the hub. [per °C] 0.000001 per °C to 0.0001 per °C
    shaft_e : Fraction, optional
        Young's modulus of the shaft. [MPa] 1000 MPa to 500000 MPa
    shaft_poisson : Fraction, optional
        Poisson's ratio of the shaft. [-] 0 to 0.49
    assembly_clearance : Fraction
        Play wanted while the hot hub goes on. [mm] 0 mm to 5 mm
    hub_strength : Fraction, optional
        Strength of the hub's metal in tension, the builder's own figure. [MPa] 1 MPa to 3000 MPa

    Returns
    -------
    Outcome
        ``pressure_mpa`` [megapascal] where they meet; ``hub_hoop_mpa`` [megapascal] at the hub's
        bore; ``shaft_hoop_mpa`` [megapascal] at the shaft's bore, of a solid one throughout;
        ``axial_force_n`` [newton] and ``torque_nm`` [newton metre] that it holds, none without
        length and friction; ``temperature_rise_c`` [degree Celsius], a difference.

    Raises
    ------
    OutOfRange
        An entry breaks a limit, or the diameters do not lie in each other.

    Notes
    -----
    p = interference / (d x (hub give + shaft give)); hub give = ((do2 + d2)/(do2 - d2) + v)/E, shaft
    give = ((d2 + di2)/(d2 - di2) - v)/E, its first term 1 for a solid shaft. Hoop at the hub's bore =
    p (do2 + d2)/(do2 - d2), at the shaft's bore -2 p d2/(d2 - di2). Force = friction x p x pi x d x
    length; torque = force x d/2. Rise = (interference + assembly clearance)/(expansion x d): the
    hub heated, the shaft at room heat.

    Examples
    --------
    >>> press_fit(interface=D, hub_outside=2 * D, interference=D / 1250).results["pressure_mpa"]
    62.1

    Sources
    -------
    elastic_constants, constants.csv.
    expansion, expansion.csv.

    Checks
    ------
    press_fits#cylinders-250, press_fits#steel-25, press_fits#iron-1, press_fits#bored-60,
    press_fits#tyre-68, press_fits#web-25, press_fits#inch-1
    """
    for name, value in (
        ("interface", interface), ("hub_outside", hub_outside), ("shaft_bore", shaft_bore),
        ("length", length), ("interference", interference), ("friction", friction),
        ("assembly_clearance", assembly_clearance),
    ):  # fmt: skip
        check(name, value)
    check("hub_strength", hub_strength, "strength")
    check_shape(interface, hub_outside, shaft_bore, interference)
    hub = metal("hub", hub_material, hub_e, hub_poisson)
    shaft = metal("shaft", shaft_material, shaft_e, shaft_poisson)
    stress = _stress(_Shape(interface, hub_outside, shaft_bore, interference), hub, shaft)
    hold = _hold(stress.pressure, interface, length, friction)
    rate, rate_step = expansion_of(hub_material, hub_expansion)
    rise, rise_step = _rise(rate, interface, interference, assembly_clearance)
    return Outcome(
        results=_results(stress, hold, rise),
        working=(*hub.steps, *shaft.steps, *stress.steps, *hold.steps, rate_step, rise_step),
        warnings=tuple(
            cautions(
                interface=interface, interference=interference, hoop=stress.hub_hoop, rise=rise,
                iron_by_name=hub_material == "grey iron", own_e=hub_e is not None, strength=hub_strength,
            )
        ),
        sources=("elastic_constants", "expansion"),
    )  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Shape:
    interface: Fraction
    outside: Fraction
    bore: Fraction | None
    interference: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class _Stress:
    pressure: Fraction
    hub_hoop: Fraction
    shaft_hoop: Fraction
    steps: tuple[Step, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hold:
    force: Fraction | None = None
    torque: Fraction | None = None
    steps: tuple[Step, ...] = ()


def _stress(shape: _Shape, hub: Metal, shaft: Metal) -> _Stress:
    d, outside, bore = shape.interface, shape.outside, shape.bore or Fraction(0)
    of_hub = (outside**2 + d**2) / (outside**2 - d**2)
    of_shaft = (d**2 + bore**2) / (d**2 - bore**2)
    hub_give, shaft_give = (of_hub + hub.poisson) / hub.e, (of_shaft - shaft.poisson) / shaft.e
    pressure = shape.interference / (d * (hub_give + shaft_give))
    hub_hoop, shaft_hoop = pressure * of_hub, -pressure * (2 * d**2 / (d**2 - bore**2) if bore else 1)
    a, b, c, p = figure(outside), figure(d), figure(bore), figure(pressure)
    millionth = "× 1000000"
    steps = [
        line("Shape of the hub", "(outside² + interface²) / (outside² − interface²)",
             f"({a}² + {b}²) / ({a}² − {b}²)", shown(of_hub, 5), ""),
        line("Shape of the shaft", "(interface² + bore²) / (interface² − bore²)",
             f"({b}² + {c}²) / ({b}² − {c}²)", shown(of_shaft, 5), ""),
        line("Give of the hub, millionths", f"(hub shape + hub ratio) / hub E {millionth}",
             f"({figure(of_hub)} + {figure(hub.poisson)}) / {figure(hub.e)} {millionth}",
             shown(hub_give * 10**6, 4), "per MPa"),
        line("Give of the shaft, millionths", f"(shaft shape − shaft ratio) / shaft E {millionth}",
             f"({figure(of_shaft)} − {figure(shaft.poisson)}) / {figure(shaft.e)} {millionth}",
             shown(shaft_give * 10**6, 4), "per MPa"),
        line("Pressure where they meet", f"interference / (interface × (hub give + shaft give)) {millionth}",
             f"{figure(shape.interference)} / ({b} × ({figure(hub_give * 10**6)} + "
             f"{figure(shaft_give * 10**6)})) {millionth}", shown(pressure, 2), "MPa"),
        line("Hoop stress at the hub’s bore", "pressure × hub shape", f"{p} × {figure(of_hub)}",
             shown(hub_hoop, 2), "MPa"),
    ]  # fmt: skip
    if bore:
        steps.append(
            line("Hoop stress at the shaft’s bore; below nought it is pressed together",
                 "0 − 2 × pressure × interface² / (interface² − bore²)",
                 f"0 − 2 × {p} × {b}² / ({b}² − {c}²)", shown(shaft_hoop, 2), "MPa")
        )  # fmt: skip
    return _Stress(pressure=pressure, hub_hoop=hub_hoop, shaft_hoop=shaft_hoop, steps=tuple(steps))


def _hold(pressure: Fraction, d: Fraction, length: Fraction | None, friction: Fraction | None) -> _Hold:
    """Force and torque; none without both length and friction."""
    if length is None or friction is None:
        return _Hold()
    force = friction * pressure * PI * d * length
    torque = force * d / 2000
    steps = (
        line("Axial force it holds", "friction × pressure × π × interface × length",
             f"{figure(friction)} × {figure(pressure)} × π × {figure(d)} × {figure(length)}",
             shown(force, 1), "N"),
        line("Torque it holds", "force × interface / 2000", f"{figure(force)} × {figure(d)} / 2000",
             shown(torque, 2), "N m", HERE),
    )  # fmt: skip
    return _Hold(force=force, torque=torque, steps=steps)


def _rise(rate: Fraction, d: Fraction, interference: Fraction, play: Fraction) -> tuple[Fraction, Step]:
    """How much warmer than the shaft the hub must be."""
    rise = (interference + play) / (rate * d)
    return rise, line(
        "Rise of temperature of the hub over the shaft",
        "(interference + assembly clearance) / (expansion × interface) × 1000000",
        f"({figure(interference)} + {figure(play)}) / ({figure(rate * 10**6)} × {figure(d)}) × 1000000",
        shown(rise, 1),
        "°C",
        HERE,
    )


def _results(stress: _Stress, hold: _Hold, rise: Fraction) -> dict[str, Any]:
    return {
        "pressure_mpa": float(stress.pressure),
        "hub_hoop_mpa": float(stress.hub_hoop),
        "shaft_hoop_mpa": float(stress.shaft_hoop),
        "axial_force_n": None if hold.force is None else float(hold.force),
        "torque_nm": None if hold.torque is None else float(hold.torque),
        "temperature_rise_c": float(rise),
    }
