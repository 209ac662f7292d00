"""What one kept sum gives to a work card, and what the builder typed for it."""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Literal, NotRequired, TypedDict

from calc.answers.gear_words import degrees_text, minutes_text
from calc.answers.shapes import Case, unit_word, units_word
from calc.kernel.units import Unit, in_or_mm
from calc.kernel.wording import exact, fixed
from calc.models import CalculationRecord
from calc.sheets import BigFigure, Picture, PlatePicture, Say, SizeWanted, Tally, TickTable

#: The kind of work a share is of: one sum of each at most. "spur-gear", "keyway"
Work = str
#: What a share is to the others of its card. Of gears there is one, as there is of dividings; a setting
#: serves the work of another and is named as an operation only where nothing else is on the card.
Role = Literal["gear", "dividing", "work", "setting"]
#: What the builder is asked for it: the passes and the limits of a blank; which half the part is.
Asked = Literal["passes", "side"]
#: Which half of a keyway or a fit the part is; of a part that is neither for certain both are printed.
Side = Literal["both", "shaft", "hub"]
#: After how many moves the pin is home, and how large one division is, are told by the tally as well:
#: figures from this rank on give way where other sums share the card with it.
TOLD_BY_THE_TALLY = 90

#: Limits nearer than this are told apart by one place more: a fifth of a thou. [mm]
CLOSE_MM = 25.4 / 5000
#: The usual warnings at the machine. common practice, no source
CUTTER_CAUTION = "No gloves near the cutter. Stop it to count or measure."
BROACH_CAUTION = "Face out of line of a broach; never drive one that sticks."
TURNING_BESIDE = "Guard on, chuck key out."  # beside the caution for a cutter, which says the rest
TRAIN_CAUTION = "Stop the machine and cut its supply before reaching into the wheels; guard back on."
HOT_CAUTION = "A hot hub burns: dry, heatproof gloves, tongs. Heat it evenly, never quench it."
TURNING_CAUTION = "Guard on, chuck key out, no gloves near what turns. Stop it to measure."


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """What the builder settled for this card, already as it is printed."""

    passes: tuple[str, ...] = ()  # running totals, the last the whole depth; none leaves a rule
    blank_limits: str = ""  # "+0 −0.005"; empty leaves a rule
    side: Side = "both"
    is_mixed: bool = False  # inches and millimetres meet on the card: each figure bears its unit


class Mate(TypedDict):
    """The gear that this one runs with, as its own sum knows it."""

    teeth: int
    centres: str  # "8.500"; of bevel gears the angle between the shafts
    label: NotRequired[str]  # what that is where it is not the centres: "shafts"


class CardSum(TypedDict):
    """The share of a card that a sum fills; every text is as it is printed."""

    kind: Work
    role: Role
    work: str  # "84 divisions"
    operation: str  # "Cut 84 teeth": what is done, where the builder typed no operation
    rounds: str  # "3 passes"; "" where they are not settled
    count: int | None  # divisions or teeth, to be ticked
    head: str  # the ratio of the dividing head, "40 : 1"; empty on the direct plate
    figures: list[BigFigure]
    proof: Say | None
    notes: list[Say]
    plate: PlatePicture | None
    picture: Picture | None
    tally: Tally | None
    tables: list[TickTable]  # passes, drills, holes: a box to tick beside each
    stops: str
    sizes: list[SizeWanted]
    units: str  # "inches", "millimetres"; "" for counts and degrees alone
    cautions: list[str]
    mate: Mate | None
    outside_mm: float | None  # of a gear, so that its blank is not asked for twice


def share(kind: Work, work: str, operation: str, role: Role = "work") -> CardSum:
    """A share with nothing in it yet."""
    return {
        "kind": kind,
        "role": role,
        "work": work,
        "operation": operation,
        "rounds": "",
        "count": None,
        "head": "",
        "figures": [],
        "proof": None,
        "notes": [],
        "plate": None,
        "picture": None,
        "tally": None,
        "tables": [],
        "stops": "",
        "sizes": [],
        "units": "",
        "cautions": [],
        "mate": None,
        "outside_mm": None,
    }


def case_of(record: CalculationRecord) -> Case:
    """A kept sum as its answer was worded from, for what is worded there already."""
    return Case(
        inputs=record.inputs,
        results=record.results,
        entered=record.entered,
        readings=record.readings,
        unit="mm" if record.unit == "mm" else "inch",
    )


def picture_of(record: CalculationRecord, *kinds: str) -> Picture | None:
    """The first of these pictures that was kept with the sum."""
    kept: Mapping[str, Any] = {one["kind"]: one for one in record.context["answer"].get("pictures") or ()}
    return next((kept[kind] for kind in kinds if kind in kept), None)


def angle_figure(label: str, angle: Any, rank: int) -> BigFigure:
    """Degrees as slides and heads are divided, and the minutes after them where there are any."""
    minutes = minutes_text(angle)
    has_more = "′" in minutes
    return {"label": label, "value": degrees_text(angle), "unit": minutes if has_more else "", "rank": rank}


def codes_of(record: CalculationRecord) -> set[str]:
    """What the sum warned of, by code."""
    return {one["code"] for one in record.warnings}


def stopped_by(record: CalculationRecord, titles: Mapping[str, str], *, but: str = "") -> list[Say]:
    """What the sum stopped at, by its headings, so that it is read before anything is cut."""
    found = codes_of(record) - {but}
    return [
        {"strong": title if title.endswith("?") else f"{title}.", "text": "See the sum."}
        for code, title in titles.items()
        if code in found
    ]


@dataclass(frozen=True, slots=True)
class Shown:
    """Lengths as a card prints them: bare figures in the unit that the title block names."""

    unit: Unit
    is_marked: bool = False  # its unit stands after each

    @property
    def word(self) -> str:
        return units_word(self.unit)

    def _to(self, mm: float, places: int) -> str:
        # A kept figure is a number that stands a hair beside its exact value, which may lie halfway.
        return in_or_mm(exact(mm), self.unit, places)

    def beside(self, *more: str) -> str:
        """What stands after a figure: its unit where the card holds both, and what else there is to say."""
        own = unit_word(self.unit) if self.is_marked else ""
        return ", ".join(filter(None, (own, *more)))

    def wanted(self, figure: str) -> str:
        """A size to measure, with its unit where the card holds both."""
        return f"{figure} {self.beside()}".strip()

    def size(self, mm: float) -> str:
        """A diameter, a centre distance, a size across: to the thou, or to a hundredth of a millimetre."""
        return self._to(mm, 3 if self.unit == "inch" else 2)

    def fine(self, mm: float) -> str:
        """A tooth, a limit: a place more than a size."""
        return self._to(mm, 4 if self.unit == "inch" else 3)

    def depth(self, mm: float) -> str:
        """A depth of cut, as it is set on a dial."""
        return self._to(mm, 4 if self.unit == "inch" else 2)

    def step(self, mm: float) -> str:
        """A depth on the way: as a depth, but in thou where it is a whole number of them."""
        shown = self.depth(mm)
        return shown.removesuffix("0") if self.unit == "inch" else shown

    def limits(self, low: float, high: float) -> str:
        """Two limits, "1.1250–1.1258": to a tenth of a thou or a micrometre, finer where they are close."""
        fewest = 3 if self.unit == "inch" else 2
        places = fewest + (2 if high - low < CLOSE_MM else 1)
        ends = [self._to(end, places) for end in (low, high)]
        while places > fewest and all(end.endswith("0") for end in ends):
            ends, places = [end[:-1] for end in ends], places - 1
        return "–".join(ends)


def two_places(value: Fraction) -> str:
    """An angle of the spindle, to a hundredth of a degree."""
    return fixed(value, 2)
