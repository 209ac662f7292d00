"""Kernel room: what the builder must know of a press fit before pressing or heating."""

from collections.abc import Iterator
from fractions import Fraction

from calc.kernel.press_fit_steps import shown
from calc.kernel.units import INCH
from calc.kernel.working import Caution

PSI_IN_MPA = Fraction("0.006894757293168361")
#: A hoop of about 16,000 psi is close to the strength of ordinary grey iron: speak from four fifths of it.
IRON_HOOP = Fraction(16000) * PSI_IN_MPA
SPEAK_FROM = Fraction(4, 5)
#: Rule of thumb for forced fits, thousandths to the inch of diameter (Turning and Boring, 1914).
THUMB = (Fraction(1), Fraction(5, 2))
HOT_C = 250


def cautions(
    *,
    interface: Fraction,
    interference: Fraction,
    hoop: Fraction,
    rise: Fraction,
    iron_by_name: bool,
    own_e: bool,
    strength: Fraction | None,
) -> Iterator[Caution]:
    """Every caution of a press fit, the weightiest first."""
    yield from _of_strength(hoop, iron_by_name, strength)
    yield Caution(
        code="on-diameter",
        text=f"The interference is on the diameter, {shown(interference, 4)} mm: "
        f"{shown(interference / 2, 4)} mm on the radius. A book’s figure on the radius is doubled first.",
    )
    yield from _of_share(interface, interference)
    if iron_by_name and not own_e:
        yield Caution(
            code="iron-varies",
            text="Grey iron is worked with 100 GPa, from memory; by grade it is 62 to 159 GPa (a gear "
            "handbook). Enter its own figure when it is known: pressure and stress go up with it.",
        )
    yield _old_tonnage(interface)
    yield from _of_heat(rise)


def _of_strength(hoop: Fraction, iron_by_name: bool, strength: Fraction | None) -> Iterator[Caution]:
    said = (
        f"The hub is stretched by {shown(hoop, 1)} MPa ({shown(hoop / PSI_IN_MPA / 1000, 2)} ksi) at its bore"
    )
    if strength is not None and hoop > strength * SPEAK_FROM:
        over = "over" if hoop > strength else "near"
        yield Caution(
            code="hub-strength",
            text=f"{said}: {over} the {shown(strength, 1)} MPa you gave for its metal. It may split. "
            "Less interference or a larger hub lowers it.",
        )
    elif strength is None and iron_by_name and hoop > IRON_HOOP * SPEAK_FROM:
        yield Caution(
            code="hub-strength",
            text=f"{said}. About 16 ksi is close to the strength of ordinary grey iron, from memory, and a "
            "casting may be weaker. Your own figure for the iron decides: enter it as the hub’s strength.",
        )
    elif strength is None:
        yield Caution(
            code="no-strength", text=f"{said}. Hold that against the strength of its metal yourself."
        )


def _of_share(interface: Fraction, interference: Fraction) -> Iterator[Caution]:
    share = interference / interface * 1000
    if share > THUMB[1]:
        yield Caution(
            code="over-thumb",
            text=f"That is {shown(share, 2)} thou to the inch of diameter; forced fits run from 1 to 2.5, "
            "and less as the size grows (rule of thumb, Turning and Boring, 1914). Look at its unit.",
        )


def _old_tonnage(interface: Fraction) -> Caution:
    """P = 15 D + 15, which knows nothing of interference, length or hub."""
    inches = interface / INCH
    return Caution(
        code="old-tonnage",
        text=f"Rule of thumb, no physical formula: P = 15 D + 15 gives {shown(15 * inches + 15, 1)} tons "
        f"for D = {shown(inches, 3)} in, for cast-steel centres (Applied Science for Metal Workers, 1919).",
    )


def _of_heat(rise: Fraction) -> Iterator[Caution]:
    if rise > HOT_C:
        yield Caution(
            code="hot",
            text="Steel’s expansion averages 13 to 14 millionths up to 300 °C, from memory: the figure for "
            "cold metal overstates the heat that is needed.",
        )
    yield Caution(
        code="heat",
        text="A hot hub burns and looks cold: gloves, tongs, a trial of where it goes before it is heated, "
        "nothing closed or oily inside. In a press stand clear of the line of the work; a hub can burst.",
    )
