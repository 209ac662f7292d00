"""The dictionaries the printed papers are drawn from: flat, of plain JSON values, already worded.

A paper works out no fact, it only lays out; whoever builds one of these has the words and figures
ready. Every text may hold whatever a user typed. Where a text is empty the paper draws a rule to
write on, so nothing on a card is blank without one.
"""

from collections.abc import Iterable, Sequence
from typing import Any, Literal, NotRequired, TypedDict

PaperSize = Literal["A4", "A5"]
Hand = Literal["", "LEFT", "RIGHT"]


class Say(TypedDict):
    """A line of words, the first of them in bold."""

    strong: str
    text: str
    lines: NotRequired[int]  # how many it may take among the notes of a card, instead of NOTE_LINES


#: A note of a card is cut short past so many lines.
NOTE_LINES = 3


class Block(TypedDict):
    """One labelled field of a card: bold first, plain under it, a rule where both are empty."""

    label: str  # "Drawing"
    strong: str  # "Sh 12 issue B"
    text: NotRequired[str]  # "face 1 3/4, not 1 5/8"
    boxed: NotRequired[str]  # a short word shouted in a box before the text: "E2"
    hatch: NotRequired[str]  # "ci" "st" "gm" "cu" "wm" "nm": a swatch before the bold words


class BigFigure(TypedDict):
    """A figure worked to, in the largest type."""

    label: str  # "Sector arms, pin's hole counted"
    value: str  # "21"
    unit: NotRequired[str]  # "holes", after it in text size
    wide: NotRequired[bool]  # takes the whole row, as a list of passes does
    rank: NotRequired[int]  # where several sums share a card, the lesser comes first
    of: NotRequired[str]  # the number of its sum


class PlatePicture(TypedDict):
    """What the picture of an index plate shows."""

    face: list[int]  # holes of every circle on this face
    circle: int
    spaces: int
    turns: NotRequired[int]
    sector_holes: NotRequired[int]  # 0: no arms (a direct plate, whole turns)
    second_circle: NotRequired[int]  # compound indexing: the other circle,
    second_spaces: NotRequired[int]  # and its move, below nought when it is taken backwards
    caption: NotRequired[str]  # "20 spaces, 21 holes"


class Picture(TypedDict):
    """A picture of a sum, drawn from its figures: which drawing, with what, and its caption."""

    kind: str  # "gear-blank", "gear-tooth", "keyway-shaft", "keyway-hub", "fit-zones"
    figures: dict[str, Any]  # what the drawing is made from, by name: plain numbers in mm and degrees
    strong: str  # the caption, in bold: "Tooth of the 84"
    text: str  # the rest of it: "20° involute; drawn to scale"
    wide: bool  # takes the wider column
    hatches: NotRequired[list[str]]  # the materials cut in it, for the legend: ["ci", "st"]


class SizeLine(TypedDict):
    """One size, a cell to a column."""

    label: str  # "Outside diameter"
    cells: list[str]  # ["14.333", "3.333"]; an empty one shows a dash
    finished: bool  # boxed: a size to be worked to


class SizeTable(TypedDict):
    """The sizes of a sum side by side."""

    title: str  # "Sizes"
    note: str  # "inches"
    columns: list[str]  # ["Wheel", "Pinion"]
    lines: list[SizeLine]


class TallyRow(TypedDict):
    """Where the pin and the spindle are after the last division of a row."""

    hole: str  # "32"
    angle: str  # "42.86°"


class Tally(TypedDict):
    """Boxes to tick, in tens; `tally_plan` tells how many divisions a box and a row stand for."""

    count: int  # 84
    home: list[int]  # divisions after which the pin is back in its start hole: [21, 42, 63, 84]
    rows: list[TallyRow]  # one for each row of boxes, the last row's for the last division
    note: str  # over the boxes: "one box to a tooth", or what a box stands for
    home_line: Say  # "Pin home after 21, 42, 63, 84." "If it is not, stop."
    passes: NotRequired[int]  # small boxes in each box, one to a pass
    of: NotRequired[str]  # the number of the sum whose passes were settled, so that they must have boxes


class TickTable(TypedDict):
    """Rows worked through one by one, each with a box to tick: passes, drills, holes."""

    title: str  # "Passes of the broach"
    columns: list[str]  # ["Pass", "Shims", "Across, T"]
    rows: list[list[str]]
    reached: str  # over room to write in beside each row; "" for none
    of: NotRequired[str]  # the number of its sum, for the rows there is no room for


class SizeWanted(TypedDict):
    """One size to reach; the room beside it is for what was reached."""

    wanted: str  # "14.333"
    note: str  # "OD, +0 −0.005"
    of: NotRequired[str]  # the number of its sum


class LeftOff(TypedDict):
    """Something a card has no room for."""

    what: str  # as it would be labelled
    of: str  # the number of its sum; "" where it is of none


class WriteIn(TypedDict):
    """A place to write: what to write there, on how many rules."""

    label: str  # "Centred by, figure"
    lines: int


class CardTitle(TypedDict):
    """The title block of a card."""

    title: str  # "Final-drive wheel, teeth"
    number: str  # "S-016 op 50"
    sheet: str  # "1 of 1"
    printed: str  # "28 Nov 2025"
    worked_from: str  # "Worked from sum 34 revision 1, as kept 28 Nov 2025"; "No sum on this card"
    check: str  # "Check the drawing and your own measurement"
    units: str  # "inches"
    by: str  # who worked it out: "Hornplate"


class CardSheet(TypedDict):
    """A work card, one side of A4 or A5.

    With no sum leave `figures` empty, `proof` and `plate` and `tally` None: the working area is
    ruled to write on under `blank_label`.
    """

    paper: PaperSize
    build: str  # "Marlpit, 4 in scale, single cylinder"
    key: str  # "S-016", "H-021-L"
    name: str  # "Final-drive wheel"
    hand: Hand  # shouted in a box at the top; "" shows nothing
    operation: Say  # "Op 50 Cut 84 teeth" ", 3 passes"; both empty: a rule
    quantity: str  # "no hand, 1 needed, 0 good"
    card: str  # "Card 231"
    address: str  # where the QR code leads; "" for no code
    return_line: str  # "Note this number with the sizes"
    blocks: list[Block]  # six, in the usual places: drawing, material, weight / machine, held on, mates
    figures: list[BigFigure]  # the first first: where there is no room, the last are left off
    proof: Say | None  # "Proof: 84 × 20/42 = 40." "First mark every tooth lightly and count 84."
    notes: list[Say]  # more lines under the proof: "Without the gears this makes 60."
    plate: PlatePicture | None
    picture: NotRequired[Picture | None]  # where there is no plate to show
    tables: NotRequired[list[TickTable]]  # over the tally
    tally: Tally | None
    blank_label: str  # over the ruled area, all of it with no tally: "Sketch, settings, working"
    sizes_label: str  # "Wanted, inches"
    sizes: list[SizeWanted]  # empty rows fill what is left
    writes: list[WriteIn]  # under the sizes: centred by, left off
    foot: list[Block]  # three: good stops, in and out, initials and date
    caution: Say  # one or two cautions that fit the operation
    title: CardTitle


class TitleBlock(TypedDict):
    """The title block of a sheet, fields after ISO 7200; a dash where nothing applies."""

    build: str  # "Marlpit, 4 in scale"
    kind: str  # "Calculation record", "Parts list"
    number: str  # "34"
    title: str
    scale: str  # "to scale", "–"
    date: str  # date of issue
    issue: str  # "rule 3"
    units: str  # "counts, degrees"
    by: str  # "the builder"


class DrawnLine(TypedDict):
    """One thing on a drawing: an outline, a circle, a size, words; where it is, in fifths of a millimetre."""

    what: str  # "outline", "circle", "size" and what else calc.pdf_drawing knows
    points: list[tuple[float, float]]
    sizes: list[float]  # a radius, or how far a size stands from the work
    text: str


class DrawnSheet(TypedDict):
    """A drawing with its title block."""

    block: TitleBlock
    lines: list[DrawnLine]


class EntryLine(TypedDict):
    """One entry of a sum: as it was typed and how it was read."""

    label: str
    typed: str
    read: str  # "1 1/4 in = 31.75 mm"; "" where the typed text says it all


class Fact(TypedDict):
    """A short figure under the answer."""

    label: str  # "Pin home every"
    value: str  # "21 moves"


class WorkingLine(TypedDict):
    """One line of working, as the sum wrote it; `source` is the title and page, in words."""

    label: str
    formula: str
    figures: str
    value: str
    unit: str
    source: str


class Warned(TypedDict):
    """What the builder must know about the answer."""

    code: str
    text: str


class SourceLine(TypedDict):
    """A published source: what it is and what was read in it."""

    title: str
    edition: str  # edition, pages, digest of the table


class Schedule(TypedDict):
    """A long table after the working."""

    title: str  # "Where the pin should be"
    columns: list[str]
    rows: list[list[str]]  # as many texts as columns
    hot: list[int]  # places (from 0) of rows in bold: the pin is home
    numbers: NotRequired[list[bool]]  # which columns are of figures


class PrintedTable(TypedDict):
    """Rows of a sum under their heads."""

    title: str  # "Compound indexing"
    note: str
    columns: list[str]
    numbers: list[bool]  # which columns are of figures, and stand at the right
    rows: list[list[str]]  # as many texts as columns
    hot: list[int]  # places (from 0) of rows in bold: the one in use


class SumSheet(TypedDict):
    """A kept sum on paper, A4."""

    title: str  # "Indexing, 84 divisions"
    part: str  # "S-016 Final-drive wheel, 84 T"; "" for a sum with no part
    kept: str  # "Sum 34, revision 1, kept 28 Nov 2025 by the builder"
    answer_label: str  # "Plain indexing, exact. Plate 4, first face"
    answer: str  # "20 spaces in the 42 circle"
    answer_small: NotRequired[str]  # the figure converted, after it: "364.07 mm"
    answer_note: str  # "No whole turns. Sector arms at 21 holes, the pin's own counted."
    facts: list[Fact]  # at most four
    entries: list[EntryLine]
    plate: PlatePicture | None
    plate_caption: str  # "Plate 4, first face, from the front; drawn to scale"
    pictures: NotRequired[list[Picture]]
    sizes: NotRequired[SizeTable | None]
    warnings: list[Warned]
    working: list[WorkingLine]
    schedule: Schedule | None
    tables: NotRequired[list[PrintedTable]]  # the other rows of the results
    sources: list[SourceLine]
    statement: str  # "Worked from the entries shown, by the rules named. Check ... before cutting."
    title_block: TitleBlock


class PartRow(TypedDict):
    """One line of a parts list."""

    key: str  # "H-021-L"
    hand: str  # "L", "R" or ""
    name: str
    kind: str  # "casting"
    material: str
    hatch: str
    size: str  # leading size as typed
    converted: str  # the same in the other measure, or ""
    count: str  # good of needed: "1 / 2"
    stage: int  # 0 not started to 5 on the engine
    stage_word: str  # "Machined"
    sheet: str
    casting: str


class PartGroup(TypedDict):
    """The parts of one assembly."""

    balloon: str  # "7"
    name: str
    note: str  # "32 parts, 11 made"
    rows: list[PartRow]


class PartsListSheet(TypedDict):
    """A parts list on A4 landscape."""

    title: str  # "Parts list"
    scope: str  # "All 420 parts" or the words of the filter
    groups: list[PartGroup]
    hatches: list[tuple[str, str]] | list[list[str]]  # kind and word, for the legend
    title_block: TitleBlock


#: The statement every worked sheet ends with.
STATEMENT = (
    "Worked from the entries shown, by the rules named. "
    "Check against the drawing and your own measurement before cutting."
)


def tally_plan(count: int) -> tuple[int, int]:
    """How many divisions one box of a tally stands for, and how many one row. [count]

    To 200 divisions each has its own box, ten to a row. More would be too small to tick, so a box
    then stands for ten, five to a row, with a cell for each division; above 1,000 it stands for a hundred.
    """
    if count <= 200:
        return 1, 10
    return (10, 50) if count <= 1000 else (100, 500)


def boxes_for_passes(tally: Tally) -> str:
    """The small boxes of a tally, as they are called where a card has no room for them."""
    return f"boxes for {tally.get('passes', 0)} passes"


def size_words(size: SizeWanted) -> str:
    """A size wanted in one line: "14.333 OD, +0 −0.005"."""
    return f"{size['wanted']} {size['note']}"


def row_ends(count: int) -> list[int]:
    """The last division of each row of a tally: where its hole and angle are wanted. [count]"""
    per_row = tally_plan(count)[1]
    return [*range(per_row, count, per_row), count]


def tally_note(count: int, one: str = "division") -> str:
    """What one box stands for, in words."""
    per_box = tally_plan(count)[0]
    if per_box == 1:
        return f"one box to a {one}"
    return "one box for ten" if per_box == 10 else "one box for a hundred"


def listed(numbers: Sequence[int], most: int = 8) -> str:
    """Numbers in a line, the middle left out where there are many: "21, 42, 63, 84"."""
    if len(numbers) <= most:
        return ", ".join(map(str, numbers))
    return f"{listed(numbers[:3])} … {numbers[-1]}"


def home_line(home: Iterable[int], start: str = "start hole") -> Say:
    """The line that tells after which divisions the pin is back in its start hole."""
    at = list(home)
    if not at:
        return {"strong": "The pin does not come home in this count.", "text": ""}
    if len(at) > 1 and at == list(range(1, at[-1] + 1)):
        return {"strong": "Pin home after every division.", "text": f"If it is not in the {start}, stop."}
    return {"strong": f"Pin home after {listed(at)}.", "text": f"If it is not in the {start}, stop."}
