"""The columns of a parts list: their headings, the words that stand for them, what they may hold."""

import re
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Column:
    """One column of a list, and what becomes of its cells."""

    key: str  # the heading we write, in small letters; also its name in messages
    words: tuple[str, ...]  # other headings that mean it, folded
    field: str = ""  # the field of a part it fills; empty where it says which part, or where it is used
    limit: int = 2000
    clears: bool = True  # an empty cell clears what the build has
    figures: bool = True  # a size or a number is expected, so a date is a spreadsheet's doing


COLUMNS = (
    Column(
        "number", ("partno", "partnumber", "partnr", "partref", "ref", "no", "nr"), limit=40, clears=False
    ),
    Column("hand", ("handed", "handing", "side", "lhrh", "lorr", "lr"), limit=20),
    Column("name", ("partname", "description", "title", "called"), "name", 120, clears=False, figures=False),
    Column("assembly", ("assy", "assemblies", "usedin", "usedon", "whereused", "group", "unit"), limit=100),
    Column(
        "quantity",
        ("qty", "quant", "off", "numberoff", "nooff", "nroff", "count", "howmany"),
        clears=False,
    ),
    Column(
        "kind",
        ("type", "source", "kindofpart", "madeorbought", "howmade"),
        "kind",
        40,
        clears=False,
        figures=False,
    ),
    Column("material", ("madeof", "of", "matl", "metal", "madefrom"), "material", 80, figures=False),
    Column(
        "leading size", ("size", "leadingsizes", "mainsize", "dimension", "dimensions"), "leading_size", 40
    ),
    Column(
        "sheet",
        ("sheetno", "sheetnumber", "drawing", "drawingno", "drawingnumber", "drg", "drgno", "dwg", "dwgno"),
        "sheet",
        30,
    ),
    Column(
        "casting number",
        (
            "castingno",
            "castingnr",
            "casting",
            "castingref",
            "pattern",
            "patternno",
            "patternnumber",
            "castno",
        ),
        "casting_number",
        20,
    ),
    Column("notes", ("note", "remarks", "remark", "comments", "comment"), "notes", 2000, figures=False),
)
BY_KEY = {column.key: column for column in COLUMNS}
FIELDS = tuple(column for column in COLUMNS if column.field)
KEYS = tuple(column.key for column in COLUMNS)


def folded(text: str) -> str:
    """A heading without its case, spaces and stops: `Part No.` is `partno`."""
    return re.sub(r"[\W_]+", "", text.casefold())


_MEANT = {folded(word): column.key for column in COLUMNS for word in (column.key, *column.words)}


@dataclass(frozen=True)
class Headings:
    """Which cell of a row belongs to which column."""

    places: dict[int, str]
    aside: tuple[str, ...]  # headings that mean none of our columns
    twice: tuple[str, ...]  # two headings that mean the same column, in words

    @property
    def keys(self) -> tuple[str, ...]:
        return tuple(self.places.values())


def read_headings(cells: Sequence[str]) -> Headings:
    """What the cells of a heading row mean."""
    places: dict[int, str] = {}
    aside, twice = [], []
    for place, text in enumerate(cells):
        key = _MEANT.get(folded(text))
        if key is None:
            if text.strip():
                aside.append(" ".join(text.split())[:30])
        elif key in places.values():
            first = next(cells[at] for at, other in places.items() if other == key)
            twice.append(f"“{first.strip()}” and “{text.strip()}” both mean {key}")
        else:
            places[place] = key
    return Headings(places, tuple(aside), tuple(twice))
