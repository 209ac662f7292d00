"""What an answer is made of, whoever shows it: plain values only, so that it can be kept as JSON."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, NotRequired, TypedDict

from calc import measures
from calc.kernel.units import Unit, in_or_mm
from calc.sheets import Picture, PlatePicture, SizeLine, SizeTable

WHY = "Boxed figures are finished sizes, to be worked to."

#: Names of faces by their circles: {(15, 16, 17): "plate 1"}.
Faces = dict[tuple[int, ...], str]

#: Which row is used: {"method": "plain", "index": 1}.
Chosen = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """One run of a sum as it is to be shown: what went in, what came out, which row is used."""

    inputs: Mapping[str, Any]
    results: Mapping[str, Any]
    warnings: Sequence[Mapping[str, str]] = ()
    chosen: Chosen | None = None
    faces: Faces = field(default_factory=dict)
    entered: Mapping[str, str] = field(default_factory=dict)  # the text as typed
    readings: Mapping[str, str] = field(default_factory=dict)  # how each entry was read
    unit: Unit = "inch"  # the unit a bare length was read in


class Fact(TypedDict):
    """One figure of an answer, with what it is a figure of."""

    label: str
    value: str
    small: str  # after the figure: its unit, or where it holds; may be empty
    row: NotRequired[str]  # the row that this fact offers to use instead


class Beware(TypedDict):
    """What must be known before the answer is used."""

    title: str
    text: str


class Move(TypedDict):
    """A move on one circle of a plate; below nought when it is taken backwards."""

    circle: int
    spaces: int


class Plate(TypedDict):
    """The picture: which face, which circle, what is moved on it."""

    name: str  # "Plate 4, first face"; empty where the circles have no plate's name
    face: list[int]
    circle: int
    spaces: int
    turns: int
    sector_holes: int
    second: Move | None


class Pin(TypedDict):
    """Where the pin should be after so many moves."""

    moves: int
    turns: str
    hole: int
    angle: str
    home: bool


class StepLine(TypedDict):
    """One setting with the entries that try one step less and one step more of it; empty where none is."""

    label: str
    now: str
    less: dict[str, str]
    more: dict[str, str]
    less_words: str
    more_words: str


class Answer(TypedDict):
    """What the box at the top says, with what belongs to it."""

    is_none: bool  # there is no plain answer; the facts are what would do
    over: str
    big: str
    under: str
    facts: list[Fact]
    beware: list[Beware]
    notes: list[str]  # warnings that bear on this answer
    plate: Plate | None
    pins: list[Pin]
    pins_note: str
    schedule: dict[str, str]  # entries of the schedule with every row; empty where there is none
    kept_as: NotRequired[str]  # how a kept sum is told from others of its kind; the big figure unless said
    big_small: NotRequired[str]  # the big figure converted, after it: "364.07 mm"
    pictures: NotRequired[list[Picture]]
    sizes: NotRequired[SizeTable]
    steps: NotRequired[list[StepLine]]  # settings that may be tried one step at a time
    units: NotRequired[str]  # what the title block says of its figures: "inches", "millimetres"
    why: NotRequired[str]  # one line for the legend: "Boxed figures are finished sizes, to be worked to."


class Column(TypedDict):
    """The head of a column."""

    label: str
    is_number: bool


class Row(TypedDict):
    """A row that may be used: its id, its cells as shown."""

    id: str
    cells: list[str]
    is_chosen: bool


class Table(TypedDict):
    """Rows of one method."""

    key: str
    title: str
    note: str
    columns: list[Column]
    rows: list[Row]
    may_choose: bool


def empty_answer(over: str, big: str, under: str = "", facts: list[Fact] | None = None) -> Answer:
    """An answer of words and figures alone."""
    return {
        "is_none": False,
        "over": over,
        "big": big,
        "under": under,
        "facts": facts or [],
        "beware": [],
        "notes": [],
        "plate": None,
        "pins": [],
        "pins_note": "",
        "schedule": {},
    }


def fact(label: str, value: str, small: str = "") -> Fact:
    return {"label": label, "value": value, "small": small}


def offer(label: str, value: str, small: str, row: str) -> Fact:
    """A figure that names a row which may be used instead."""
    return {"label": label, "value": value, "small": small, "row": row}


def columns(*labels: str) -> list[Column]:
    """Heads of columns; a label that starts with # stands over figures."""
    return [{"label": label.lstrip("#"), "is_number": label.startswith("#")} for label in labels]


def size_line(label: str, cells: Sequence[str], *, finished: bool = False) -> SizeLine:
    """A line of the sizes."""
    return {"label": label, "cells": list(cells), "finished": finished}


def both(mm: Fraction | float, unit: Unit, inch_places: int, mm_places: int) -> tuple[str, str]:
    """A length in the unit wanted and, converted, in the other: ("14.333 in", "364.07 mm")."""
    inches = f"{in_or_mm(mm, 'inch', inch_places)} in"
    millimetres = f"{in_or_mm(mm, 'mm', mm_places)} mm"
    return (inches, millimetres) if unit == "inch" else (millimetres, inches)


def unit_word(unit: Unit) -> str:
    """A unit as it stands after a figure."""
    return "in" if unit == "inch" else "mm"


def other_unit(unit: Unit) -> Unit:
    """The unit a figure is converted to."""
    return "mm" if unit == "inch" else "inch"


def units_word(unit: Unit) -> str:
    """A unit as a title block and the head of a table name it."""
    return "inches" if unit == "inch" else "millimetres"


def shown_unit(case: Case, name: str) -> Unit:
    """The unit a length was typed in: the page's own where it was bare or not typed at all."""
    text = case.entered.get(name, "")
    if not text.strip():
        return case.unit
    return "inch" if measures.parse_length(text, case.unit).unit in measures.INCH_UNITS else "mm"


def plate_picture(plate: Plate) -> PlatePicture:
    """The picture of an answer as the papers take it."""
    picture: PlatePicture = {
        "face": plate["face"],
        "circle": plate["circle"],
        "spaces": plate["spaces"],
        "turns": plate["turns"],
        "sector_holes": plate["sector_holes"],
    }
    if plate["second"]:
        picture |= {"second_circle": plate["second"]["circle"], "second_spaces": plate["second"]["spaces"]}
    return picture
