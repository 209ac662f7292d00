"""Kernel room: what a piece of stock or a plain casting weighs, by its section, length and material."""

from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from math import isqrt, pi

from calc.kernel.bolt_circle import unit_of
from calc.kernel.errors import OutOfRange, check_within
from calc.kernel.tables import read_source, read_table
from calc.kernel.threads_lines import Lines
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text
from calc.kernel.working import LOOKED_UP, Caution, Outcome, Step

KEY = "densities"
PI = Fraction(pi)
#: The root of three, to forty places.
ROOT_3 = Fraction(isqrt(3 * 10**80), 10**40)
POUND = Fraction("0.45359237")
SIZE_MM = (Fraction(1, 100), Fraction(5000))
SIZE_REASON = "It is a size across the piece: look at its unit."
LENGTH_MM = (Fraction(1, 100), Fraction(20_000))
LENGTH_REASON = "It is the length of the piece, the thickness of a disc, the width of a rim."
DENSITY = (Fraction(100), Fraction(25_000))
DENSITY_REASON = "Cork and gold lie outside: look at its unit; water has 1000 kg/m³."
COUNT = (1, 10_000)
COUNT_REASON = "It is how many pieces."
NO_MATERIAL = "none"
MATERIALS = (
    "grey-iron", "malleable-iron", "steel", "stainless", "brass", "bronze", "gunmetal", "copper", "aluminium",
    "cast-aluminium", "lead", "ptfe",
)  # fmt: skip
FORMS = ("round", "square", "hexagon", "flat", "tube", "disc", "ring")
HOLLOW = ("tube", "ring")
#: What one pair of hands should not lift alone. [kg]
HEAVY = 25
GEOMETRY = "worked here from the section"

#: For each form: the words and figures of its area, and the area from size, thickness and inside diameter.
_ROUND = ("π / 4 × diameter²", "π / 4 × {}²", lambda across: PI / 4 * across**2)
_RING = (
    "π / 4 × (outside diameter² − inside diameter²)", "π / 4 × ({}² − {}²)",
    lambda across, inside: PI / 4 * (across**2 - inside**2),
)  # fmt: skip
AREAS: Mapping[str, tuple[str, str, Callable[..., Fraction]]] = {
    "round": _ROUND,
    "disc": _ROUND,
    "square": ("side²", "{}²", lambda across: across**2),
    "hexagon": ("√3 / 2 × across flats²", "√3 / 2 × {}²", lambda across: ROOT_3 / 2 * across**2),
    "flat": ("width × thickness", "{} × {}", lambda across, thick: across * thick),
    "tube": _RING,
    "ring": _RING,
}


def mass(
    *,
    form: str,
    across: Fraction,
    length: Fraction,
    thickness: Fraction | None = None,
    inside_diameter: Fraction | None = None,
    material: str = NO_MATERIAL,
    density: Fraction | None = None,
    pieces: int = 1,
) -> Outcome:
    """The volume and the mass of pieces of one section, with what the mass may be where densities vary.

    Parameters
    ----------
    form : str
        Of the section. [-] round or square or hexagon or flat or tube or disc or ring
    across : Fraction
        Diameter, outside of a tube; side; across the flats; width. [mm] 0.01 mm to 5000 mm
    length : Fraction
        Of one piece; thickness of a disc, width of a rim. [mm] 0.01 mm to 20000 mm
    thickness : Fraction, optional
        Of a flat; of the wall of a tube or ring. [mm] 0.01 mm to 5000 mm
    inside_diameter : Fraction, optional
        Of a tube or ring, instead of its wall. [mm] 0.01 mm to 5000 mm
    material : str
        Takes its density from the table. [-] none or grey-iron or malleable-iron or steel or stainless
        or brass or bronze or gunmetal or copper or aluminium or cast-aluminium or lead or ptfe
    density : Fraction, optional
        Instead of a material. [kg/m³] 100 kg/m³ to 25000 kg/m³
    pieces : int
        How many alike. [count] 1 to 10000

    Returns
    -------
    Outcome
        ``area_mm2`` [square millimetre] of the section; ``volume_cm3`` [cubic centimetre] of one piece;
        ``density_kg_m3`` [kilogram per cubic metre]; ``mass_each_kg`` [kilogram]; ``mass_kg`` [kilogram]
        of all; ``mass_low_kg`` [kilogram] and ``mass_high_kg`` [kilogram], what that may be by the
        lowest and the highest density of the material, none with a density of one's own;
        ``inside_diameter_mm`` [millimetre], none where it is not hollow.

    Raises
    ------
    OutOfRange
        An entry is outside its limits, or one is missing or too many for the form.

    Notes
    -----
    Mass = area × length × density × pieces. Holes, spokes, fillets and rounded corners are not counted.

    Examples
    --------
    >>> mass(form="square", across=Fraction(9), length=Fraction(9), density=Fraction(1000)).results["mass_kg"]
    0.000729

    Sources
    -------
    densities, Mechanics of Materials.

    Checks
    ------
    densities#disc, densities#round-bar, densities#hexagon, densities#plate, densities#tube
    """
    inside = _checked(form, across, length, thickness, inside_diameter, material, density, pieces)
    row = _row(material)
    weight = Fraction(row["use"]) if row else density or Fraction()
    sizes = _sizes(form, across, thickness, inside)
    area = AREAS[form][2](*sizes)
    volume = area * length
    each = volume * weight / 10**9
    return Outcome(
        results={
            "area_mm2": float(area),
            "volume_cm3": float(volume / 1000),
            "density_kg_m3": float(weight),
            "mass_each_kg": float(each),
            "mass_kg": float(each * pieces),
            "mass_low_kg": _at(row, "low", volume * pieces),
            "mass_high_kg": _at(row, "high", volume * pieces),
            "inside_diameter_mm": None if inside is None else float(inside),
        },
        working=tuple(_working(form, sizes, across, thickness, length, row, weight, pieces)),
        warnings=tuple(_cautions(row, each)),
        sources=(KEY,) if row else (),
    )


def _checked(
    form: str, across: Fraction, length: Fraction, thickness: Fraction | None, inside: Fraction | None,
    material: str, density: Fraction | None, pieces: int,
) -> Fraction | None:  # fmt: skip
    """The inside diameter where the form is hollow; refuses by name what is wrong."""
    for field, value, limits, unit, reason in (
        ("across", across, SIZE_MM, " mm", SIZE_REASON),
        ("length", length, LENGTH_MM, " mm", LENGTH_REASON),
        ("thickness", thickness, SIZE_MM, " mm", SIZE_REASON),
        ("inside_diameter", inside, SIZE_MM, " mm", SIZE_REASON),
        ("density", density, DENSITY, " kg/m³", DENSITY_REASON),
        ("pieces", Fraction(pieces), COUNT, "", COUNT_REASON),
    ):
        check_within(field, value, limits, unit, reason)
    for field, chosen, choices in (("form", form, FORMS), ("material", material, (NO_MATERIAL, *MATERIALS))):
        if chosen not in choices:
            raise OutOfRange(field, " or ".join(choices), "It is one of the choices.")
    if (density is None) == (material == NO_MATERIAL):
        raise OutOfRange("density", "either a material or a density", "Each gives the density alone.")
    return _hollow(form, across, thickness, inside)


def _hollow(
    form: str, across: Fraction, thickness: Fraction | None, inside: Fraction | None
) -> Fraction | None:
    if form not in HOLLOW:
        if inside is not None:
            raise OutOfRange("inside_diameter", "left out", "Only a tube and a ring have one.")
        if (thickness is not None) != (form == "flat"):
            limit = "entered for a flat" if form == "flat" else "left out"
            raise OutOfRange(
                "thickness", limit, "A flat has one, and a tube or ring its wall; no other form."
            )
        return None
    if (thickness is None) == (inside is None):
        raise OutOfRange("thickness", "either the wall or the inside diameter", "Each gives the other.")
    found = inside if inside is not None else across - 2 * (thickness or Fraction())
    if not 0 < found < across:
        field = "inside_diameter" if inside is not None else "thickness"
        most = across if inside is not None else across / 2
        raise OutOfRange(
            field, f"less than {decimal_text(most, 4)} mm", "There is no hole, or no wall, left."
        )
    return found


def _row(material: str) -> Mapping[str, str] | None:
    return next((row for row in read_table(KEY, "densities").rows if row["material"] == material), None)


def _sizes(
    form: str, across: Fraction, thickness: Fraction | None, inside: Fraction | None
) -> list[Fraction]:
    """The sizes that the area is worked out of, in the order its formula has them."""
    if inside is not None:
        return [across, inside]
    return [across, thickness] if form == "flat" and thickness is not None else [across]


def _at(row: Mapping[str, str] | None, end: str, volume: Fraction) -> float | None:
    return float(volume * Fraction(row[end]) / 10**9) if row else None


def _working(
    form: str, sizes: Sequence[Fraction], across: Fraction, thickness: Fraction | None, length: Fraction,
    row: Mapping[str, str] | None, weight: Fraction, pieces: int,
) -> list[Step]:  # fmt: skip
    """In the unit of the first size as far as the volume, and from there in kilograms."""
    unit = unit_of(across)
    lines = Lines(unit)
    if form in HOLLOW and thickness is not None:
        lines.length("Inside diameter", "outside diameter − 2 × wall", "{} − 2 × {}", [across, thickness],
                     lambda outer, wall: outer - 2 * wall)  # fmt: skip
    words, figures, area = AREAS[form]
    square, cube = ("in²", "in³") if unit == INCH else ("mm²", "mm³")
    places = 4 if unit == INCH else 2
    exact = [size / unit for size in sizes]
    lines.bare("Area of the section", words, figures, exact, area, places, square, GEOMETRY)
    lines.bare("Volume of one piece", "area × length", "{} × {}", [area(*exact), length / unit],
               lambda wide, long: wide * long, places, cube)  # fmt: skip
    volume = area(*exact) * length / unit
    if row:
        lines.bare(f"Density of {row['words']}", LOOKED_UP, "{}", [weight], lambda found: found, 0, "kg/m³",
                   _where(row["use_origin"]))  # fmt: skip
    cubic = "× 25.4² × 25.4 " if unit == INCH else ""
    turn = unit**3
    for label, many in (("Mass of one piece", 1), ("Mass of all", pieces)):
        if many > 1 or label == "Mass of one piece":
            times, figure = (" × pieces", f" × {many}") if many > 1 else ("", "")
            lines.bare(label, f"volume {cubic}× density / 1000² / 1000{times}",
                       f"{{}} {cubic}× {{}} / 1000² / 1000{figure}", [volume, weight],
                       lambda room, heavy, many=many: room * turn * heavy / 10**9 * many, 3,
                       "kg")  # fmt: skip
    kilograms = volume * turn * weight / 10**9 * pieces
    lines.bare("The same in pounds", "mass / 0.45359237", "{} / 0.45359237", [kilograms],
               lambda heavy: heavy / POUND, 3, "lb")  # fmt: skip
    for end, label in (("low", "Lightest"), ("high", "Heaviest")):
        if row and row["low"] != row["high"]:
            lines.bare(f"{label}, by {row[end]} kg/m³", f"mass × {row[end]} / density",
                       f"{{}} × {row[end]} / {{}}", [kilograms, weight],
                       lambda heavy, use, end=end: heavy * Fraction(row[end]) / use, 3,
                       "kg", _where(row["range_origin"]))  # fmt: skip
    return lines.steps


def _where(origin: str) -> str:
    return f"{read_source(KEY).short}, read" if origin == "read" else "density from memory"


def _cautions(row: Mapping[str, str] | None, each: Fraction) -> list[Caution]:
    found = []
    if row and "memory" in (row["range_origin"], row["use_origin"]):
        both = row["range_origin"] == row["use_origin"]
        what = "The densities are" if both else f"{row['use']} kg/m³ is"
        rest = "" if both else f"; the range, {row['low']} to {row['high']}, was read"
        found.append(
            Caution(code="from-memory", text=f"{what} from memory{rest}. Weigh a piece where it matters.")
        )
    if each > HEAVY:
        found.append(
            Caution(
                code="heavy",
                text=f"One piece is {decimal_text(each, 1)} kg: lift it with a hoist or with help, and see "
                "what the table of the machine may carry.",
            )
        )
    return found
