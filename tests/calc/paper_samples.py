"""Example dictionaries for the printed papers, of the invented build Marlpit.

The figures of the 84 and 57 tooth wheels are worked by hand: 40/84 = 20/42, pin home every
42 / gcd(20, 42) = 21 moves; 40 - 57 x 15/21 = -5/7, so gears 40 over 56, plate against the crank.
"""

from copy import deepcopy
from fractions import Fraction

from calc.sheets import (
    STATEMENT,
    Block,
    CardSheet,
    PartsListSheet,
    SumSheet,
    home_line,
    row_ends,
    tally_note,
)

FACE = [37, 38, 39, 41, 42, 43, 46, 47, 49, 51, 53]
NO_SUM = "No sum on this card"


def blocks() -> list[Block]:
    return [
        {"label": "Drawing", "strong": "Sh 12 issue B", "text": "face 1 3/4, not 1 5/8", "boxed": "E2"},
        {"label": "Made of", "strong": "Cast iron, K-040", "hatch": "ci"},
        {"label": "Weight", "strong": "39 lb", "text": "two hands"},
        {"label": "Machine, head", "strong": "Head H1, 40 : 1", "text": "plate 4, face 1"},
        {"label": "Held on", "strong": ""},
        {"label": "Mates with, last op done?", "strong": ""},
    ]


def tally(divisions, circle, spaces, *, every, **more):
    home = list(range(every, divisions + 1, every))
    rows = [
        {"hole": str(last * spaces % circle), "angle": f"{float(Fraction(360 * last, divisions)):.2f}°"}
        for last in row_ends(divisions)
    ]
    note = tally_note(divisions, "tooth")
    return {
        "count": divisions,
        "home": home,
        "rows": rows,
        "note": note,
        "home_line": home_line(home),
        **more,
    }


#: The 84 tooth final-drive wheel; what `card` adds depends on the paper.
WHEEL = {
    "build": "Marlpit, 4 in scale, single cylinder",
    "key": "S-016",
    "name": "Final-drive wheel",
    "hand": "",
    "operation": {"strong": "Op 50 Cut 84 teeth", "text": ", one pass"},
    "quantity": "no hand, 1 needed, 0 good",
    "card": "Card 231",
    "address": "",
    "figures": [
        {"label": "Index, turn one way only", "value": "20 in 42"},
        {"label": "Sector arms, pin’s hole counted", "value": "21", "unit": "holes"},
        {"label": "Whole turns", "value": "none"},
        {"label": "Pin home every", "value": "21", "unit": "moves"},
    ],
    "proof": {
        "strong": "Proof: 84 × 20/42 = 40.",
        "text": "First mark every tooth lightly and count 84.",
    },
    "notes": [],
    "plate": {
        "face": FACE,
        "circle": 42,
        "spaces": 20,
        "sector_holes": 21,
        "caption": "20 spaces, 21 holes",
    },
    "blank_label": "Sketch, settings, working",
    "sizes_label": "Wanted, inches",
    "sizes": [
        {"wanted": "14.333", "note": "OD, +0 −0.005"},
        {"wanted": "0.2618", "note": "chord at 0.1679"},
    ],
    "writes": [
        {"label": "Centred by, figure", "lines": 1},
        {"label": "Left off: cut, pin, depth. Next", "lines": 2},
    ],
    "foot": [
        {"label": "Good stops", "strong": "", "text": "pin home, end of pass"},
        {"label": "In, out", "strong": ""},
        {"label": "Initials, date", "strong": ""},
    ],
    "caution": {
        "strong": "No gloves near the cutter. Stop it to count or measure.",
        "text": "Blank about 39 lb: two hands.",
    },
    "title": {
        "title": "Final-drive wheel, teeth",
        "number": "S-016 op 50",
        "sheet": "1 of 1",
        "printed": "28 Nov 2025",
        "worked_from": "Worked from sum 34 revision 1, as kept 28 Nov 2025",
        "check": "Check the drawing and your own measurement",
        "units": "inches",
        "by": "Hornplate",
    },
}


def card(paper="A4", **changes) -> CardSheet:
    """The 84 tooth final-drive wheel."""
    made: CardSheet = {
        **deepcopy(WHEEL),
        "paper": paper,
        "return_line": f"{paper}, one side. Sizes go back by this number",
        "blocks": blocks(),
        "tally": tally(84, 42, 20, every=21),
    }
    made.update(changes)
    return made


def differential(paper="A4") -> CardSheet:
    """The 57 tooth wheel, which 40 : 1 cannot divide plainly on a 21 circle."""
    return card(
        paper,
        key="S-009",
        name="Second shaft gear",
        operation={"strong": "Op 50 Cut 57 teeth", "text": ""},
        figures=[
            {"label": "Index, turn one way only", "value": "15 in 21"},
            {"label": "Sector arms, pin’s hole counted", "value": "16", "unit": "holes"},
            {"label": "On the spindle, driver", "value": "40", "unit": "teeth"},
            {"label": "To the plate, driven", "value": "56", "unit": "teeth"},
            {"label": "Plate turns", "value": "opposite", "unit": "to the crank"},
            {"label": "Pin home every", "value": "7", "unit": "moves"},
        ],
        proof={
            "strong": "Proof: 57 × 15/21 − 5/7 = 40.",
            "text": "First mark every tooth lightly and count 57.",
        },
        notes=[
            {
                "strong": "Without the gears this makes 56.",
                "text": "Plate pin out, gears in mesh, head level.",
            }
        ],
        plate={
            "face": [21, 23, 27, 29, 31, 33],
            "circle": 21,
            "spaces": 15,
            "sector_holes": 16,
            "caption": "15 spaces",
        },
        tally=tally(57, 21, 15, every=7),
    )


def compound(paper="A4") -> CardSheet:
    """51 divisions by two circles of one face: 40/51 = 10/15 + 2/17."""
    plate = {"face": [15, 16, 17, 18, 19, 20], "circle": 15, "spaces": 10, "sector_holes": 11}
    return card(
        paper,
        figures=[
            {"label": "First the crank", "value": "10 in 15"},
            {"label": "Then crank and plate, same way", "value": "2 in 17"},
            {"label": "Sector arms", "value": "11", "unit": "holes"},
            {"label": "Both pins home every", "value": "51", "unit": "moves"},
        ],
        proof={"strong": "Proof: 51 × (10/15 + 2/17) = 40.", "text": "Both moves, then cut."},
        plate={**plate, "second_circle": 17, "second_spaces": 2, "caption": "10 in 15, then 2 in 17"},
        tally=tally(51, 15, 10, every=51),
    )


def direct(paper="A4") -> CardSheet:
    """Eight divisions by the head's own plate of 24 holes."""
    return card(
        paper,
        figures=[{"label": "Direct plate, worm out of mesh", "value": "3 in 24", "unit": "holes"}],
        proof={"strong": "Proof: 8 × 3/24 = 1.", "text": ""},
        plate={"face": [24], "circle": 24, "spaces": 3, "caption": "direct plate, 24 holes"},
        tally=tally(8, 24, 3, every=8),
    )


def divisions(count, circle, spaces, every, paper="A4", **more) -> CardSheet:
    return card(paper, tally=tally(count, circle, spaces, every=every, **more))


def no_sum(paper="A4") -> CardSheet:
    made = card(
        paper, figures=[], proof=None, plate=None, tally=None, sizes=[], operation={"strong": "", "text": ""}
    )
    made["title"]["worked_from"] = NO_SUM
    return made


def left_hand(paper="A4") -> CardSheet:
    quantity = "1 needed, 0 good; its twin is H-021-R"
    return card(paper, key="H-021-L", name="Horn bracket", hand="LEFT", quantity=quantity)


LONG_NAME = (
    "Intermediate third-motion shaft compensating gear carrier wheel with long hub and keyed sleeve, "
    "second of the two shown X"
)


def long_names(paper="A4") -> CardSheet:
    made = divisions(200, 20, 4, 5, paper)
    made.update(key="H-0216-R", name=LONG_NAME, hand="RIGHT", card="Card 12345")
    made["operation"] = {
        "strong": "Op 50 Cut 200 divisions on the carrier",
        "text": ", long hub to the tailstock",
    }
    made["blocks"][1]["strong"] = "Phosphor bronze to the drawing, cast stick, 4 1/4 in dia by 3 in, K-040"
    made["blocks"][0]["text"] = (
        "an erratum that runs on over the cell, and over again, and then some more of it"
    )
    made["title"]["title"] = LONG_NAME
    made["sizes"] = [{"wanted": f"{n}.12345", "note": "chordal thickness at the addendum"} for n in range(20)]
    return made


def wordy(paper="A4") -> CardSheet:
    """Every text a hundred times too long, without a space in it to break at."""
    stretched = _stretched(card(paper))
    stretched.update(paper=paper, hand="RIGHT", address="")
    return stretched


def _stretched(value):
    if isinstance(value, str):
        return value.replace(" ", "") * 100 if value and value not in ("ci", "A4", "A5") else value
    if isinstance(value, dict):
        return {key: _stretched(one) for key, one in value.items()}
    return [_stretched(one) for one in value] if isinstance(value, list) else value


CARDS = {
    "plain": card,
    "differential": differential,
    "compound": compound,
    "direct": direct,
    "no_sum": no_sum,
    "left_hand": left_hand,
    "long_names": long_names,
    "three_passes": lambda paper="A4": divisions(84, 42, 20, 21, paper, passes=3),
    "two_hundred": lambda paper="A4": divisions(200, 20, 4, 5, paper),
    "four_hundred": lambda paper="A4": divisions(400, 20, 2, 10, paper),
    "ten_thousand": lambda paper="A4": divisions(10000, 250, 1, 250, paper),
    "two": lambda paper="A4": divisions(2, 20, 0, 1, paper),
}


LINES = [
    (
        "Turns of the crank for one division",
        "ratio / divisions",
        "40 / 84 = 10/21",
        "10/21",
        "turn",
        "od1644 p. 30",
    ),
    (
        "Spaces to move in the 42 circle",
        "circle × turns",
        "42 × 10/21 = 20",
        "20",
        "spaces",
        "od1644 p. 30",
    ),
    (
        "Holes between the sector arms",
        "spaces + 1",
        "20 + 1 = 21",
        "21",
        "holes",
        "common practice, no source",
    ),
]
KEPT = {
    "title": "Indexing, 84 divisions",
    "part": "S-016 Final-drive wheel",
    "kept": "Sum 34, revision 1, kept 28 Nov 2025 by the builder",
    "answer_label": "Plain indexing, exact. Plate 4, first face",
    "answer": "20 spaces in the 42 circle",
    "answer_note": "No whole turns. Sector arms at 21 holes, the pin’s own counted.",
    "facts": [
        {"label": "Pin home every", "value": "21 moves"},
        {"label": "Proof", "value": "84 × 20/42 = 40"},
    ],
    "entries": [
        {"label": "Divisions", "typed": "84", "read": ""},
        {"label": "Ratio of the head", "typed": "40", "read": "40 turns to one"},
        {
            "label": "Circles owned",
            "typed": "37,38,39,41,42,43 / 46,47,49,51,53",
            "read": "2 faces, 11 circles",
        },
    ],
    "plate": {"face": FACE, "circle": 42, "spaces": 20, "sector_holes": 21},
    "plate_caption": "Plate 4, first face, from the front. Circles spread evenly.",
    "warnings": [{"code": "mark-start", "text": "Mark the start hole before the first cut."}],
    "sources": [{"title": "Milling machine operations, course OD1644", "edition": "pages 28 to 34"}],
    "statement": STATEMENT,
    "title_block": {
        "build": "Marlpit, 4 in scale",
        "kind": "Calculation record",
        "number": "34",
        "title": "Indexing, 84 divisions at 40 to 1",
        "scale": "to scale",
        "date": "28 Nov 2025",
        "issue": "rule 3",
        "units": "counts, degrees",
        "by": "the builder",
    },
}


def kept_sum(rows=84, **changes) -> SumSheet:
    names = ("label", "formula", "figures", "value", "unit", "source")
    places = [(n, n * 20 % 42) for n in range(rows + 1)]
    made: SumSheet = {
        **deepcopy(KEPT),
        "working": [dict(zip(names, line, strict=True)) for line in LINES],
        "schedule": {
            "title": "Where the pin should be",
            "columns": ["Moves", "Hole", "Spindle"],
            "rows": [[str(n), str(hole), f"{n * 360 / 84:.2f}°"] for n, hole in places],
            "hot": [n for n, hole in places if not hole],
        },
    }
    made.update(changes)
    return made


STAGES = ("Not started", "In hand", "Machined", "Fitted", "Painted", "On the engine")
HATCHES = [
    ("ci", "cast iron"),
    ("st", "steel"),
    ("gm", "gunmetal, bronze"),
    ("cu", "copper"),
    ("wm", "white metal"),
    ("nm", "packing, timber"),
]


def part_row(number, **changes):
    kind, word = HATCHES[number % 6]
    row = {
        "key": f"H-{number:03d}" + ("-L" if number % 9 == 0 else ""),
        "hand": "L" if number % 9 == 0 else "",
        "name": LONG_NAME if number % 7 == 0 else "Final-drive wheel",
        "kind": "from stock",
        "material": word,
        "hatch": kind,
        "size": "7.375 in OD",
        "converted": "187.325 mm",
        "count": f"{number % 2} / 2",
        "stage": number % 6,
        "stage_word": STAGES[number % 6],
        "sheet": f"Sh {number % 31 + 1}",
        "casting": f"K-{number:03d}",
    }
    row.update(changes)
    return row


def parts_list(count=420, **changes) -> PartsListSheet:
    each = count // 9
    groups = [
        {
            "balloon": str(place + 1),
            "name": f"Assembly {place + 1}",
            "note": f"{each} parts, 11 made",
            "rows": [part_row(place * each + n) for n in range(each)],
        }
        for place in range(9)
    ]
    made: PartsListSheet = {
        "title": "Parts list",
        "scope": f"All {each * 9} parts, by assembly",
        "groups": groups,
        "hatches": HATCHES,
        "title_block": {
            **kept_sum()["title_block"],
            "kind": "Parts list",
            "number": "–",
            "title": "Parts list, all",
        },
    }
    made.update(changes)
    return made
