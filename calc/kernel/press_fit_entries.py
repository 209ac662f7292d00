"""Kernel room: the limits of the entries of a press fit, and the constants of its two materials."""

from dataclasses import dataclass
from fractions import Fraction

from calc.kernel.errors import OutOfRange
from calc.kernel.fit_words import size_text
from calc.kernel.press_fit_steps import line, shown
from calc.kernel.tables import read_table
from calc.kernel.working import Step

MATERIALS = ("steel", "grey iron", "bronze", "gunmetal", "brass", "aluminium")
#: Name: least, greatest and why.
LIMITS: dict[str, tuple[Fraction, Fraction, str]] = {
    "interface": (Fraction(1), Fraction(2000), "A diameter, where shaft and hub meet."),
    "hub_outside": (Fraction(1), Fraction(5000), "A diameter, larger than where they meet."),
    "shaft_bore": (
        Fraction(1, 10),
        Fraction(2000),
        "A diameter, less than where they meet; leave it empty if solid.",
    ),
    "interference": (Fraction(1, 10000), Fraction(5), "On the diameter: shaft less bore."),
    "length": (Fraction(1, 2), Fraction(2000), "How far the shaft is in the hub."),
    "assembly_clearance": (Fraction(0), Fraction(5), "Play wanted while the hot hub goes on."),
    "friction": (Fraction(1, 100), Fraction(1), "Dry steel in iron is about 0.1 to 0.2, from memory."),
    "poisson": (Fraction(0), Fraction(49, 100), "No metal has one over a half."),
    "e": (Fraction(1000), Fraction(500000), "From lead to carbide."),
    "expansion": (Fraction(1, 10**6), Fraction(1, 10**4), "Metals lie between. Write 11.4e-6, not 11.4."),
    "strength": (Fraction(1), Fraction(3000), "As the maker of the metal, or a test piece, gives it."),
}
UNITS = {"friction": "", "poisson": "", "e": " MPa", "expansion": " per °C", "strength": " MPa"}
#: An interference over this share of the diameter is a slip of unit.
MOST_SHARE = Fraction(1, 50)
ENTERED = "as entered"


@dataclass(frozen=True, slots=True, kw_only=True)
class Metal:
    """What is wanted of one material, each with its line of working."""

    e: Fraction  # [MPa]
    poisson: Fraction
    steps: tuple[Step, ...]


def check(name: str, value: Fraction | None, rule: str = "") -> None:
    """Refuse a value outside its limits; none is none."""
    low, high, reason = LIMITS[rule or name]
    if value is not None and not low <= value <= high:
        unit = UNITS.get(rule or name, " mm")
        raise OutOfRange(name, f"{float(low):g}{unit} to {float(high):g}{unit}", reason)


def check_shape(
    interface: Fraction, outside: Fraction, bore: Fraction | None, interference: Fraction
) -> None:
    """The hub is larger than the shaft, the shaft than its bore, and the interference a sensible share."""
    if outside <= interface:
        raise OutOfRange(
            "hub_outside", f"over {size_text(interface)} mm",
            "It is the outside of the hub, and the shaft must go in: enter diameters, not radii.",
        )  # fmt: skip
    if bore is not None and bore >= interface:
        raise OutOfRange(
            "shaft_bore", f"under {size_text(interface)} mm", "The bore of the shaft lies inside it."
        )
    most = interface * MOST_SHARE
    if interference > most:
        raise OutOfRange(
            "interference", f"at most {size_text(most)} mm",
            "More than a fiftieth of the diameter is a slip of unit: look whether thousandths of an inch or "
            "millimetres were meant.",
        )  # fmt: skip


def metal(side: str, material: str, e: Fraction | None, poisson: Fraction | None) -> Metal:
    """The constants of one side: as entered, else of the material by name."""
    if material not in MATERIALS:
        raise OutOfRange(
            f"{side}_material", " or ".join(MATERIALS), "Choose one, and enter its own constants."
        )
    check(f"{side}_e", e, "e")
    check(f"{side}_poisson", poisson, "poisson")
    row = next(
        row for row in read_table("elastic_constants", "constants").rows if row["material"] == material
    )
    source = f"elastic constants, {material} (from memory)"
    stiff = Fraction(row["e_gpa"]) * 1000 if e is None else e
    ratio = Fraction(row["poisson"]) if poisson is None else poisson
    return Metal(
        e=stiff,
        poisson=ratio,
        steps=(
            line(f"E of the {side}", "from the table" if e is None else ENTERED, shown(stiff, 3),
                 shown(stiff, 3), "MPa", source if e is None else ENTERED),
            line(f"Poisson’s ratio of the {side}", "from the table" if poisson is None else ENTERED,
                 shown(ratio, 4), shown(ratio, 4), "", source if poisson is None else ENTERED),
        ),
    )  # fmt: skip


def expansion_of(material: str, entered: Fraction | None) -> tuple[Fraction, Step]:
    """The expansion of the hub to a degree Celsius, and its line."""
    check("hub_expansion", entered, "expansion")
    row = next(row for row in read_table("expansion", "expansion").rows if row["material"] == material)
    value = Fraction(row["per_c"]) / 10**6 if entered is None else entered
    read = "from memory: " if row["how"] == "memory" else "read: "
    source = f"expansion of metals, {material} ({read}{row['where']})" if entered is None else ENTERED
    text = shown(value * 10**6, 4)
    label = "Expansion of the hub, millionths to a degree"
    return value, line(label, "from the table" if entered is None else ENTERED, text, text, "per °C", source)
