"""The words of an indexing answer: rows, gears, plates and errors as a builder says them."""

from collections.abc import Mapping
from fractions import Fraction
from math import gcd
from typing import Any

from calc.answers.shapes import Beware, Case, Faces
from calc.kernel.indexing_differential import sense_text
from calc.kernel.wording import dms_text, fixed, move_sum, move_text

Row = Mapping[str, Any]


def row_words(row: Row) -> str:
    """A row in the fewest words: `20 in 42`, `10 in 15 + 2 in 17`."""
    if "circle_a" in row:
        sign = "+" if row["same_direction"] else "−"
        return f"{row['holes_a']} in {row['circle_a']} {sign} {row['holes_b']} in {row['circle_b']}"
    return move_text(row.get("turns", 0), row["holes"], row["circle"])


def gears(row: Row) -> str:
    """`56/40`, or `24·48/(72·40)` for two pairs; drivers first."""
    over, under = "·".join(map(str, row["drivers"])), "·".join(map(str, row["driven"]))
    return f"{over}/({under})" if len(row["driven"]) > 1 else f"{over}/{under}"


def gear_words(row: Row) -> str:
    """Which change gear goes where."""
    drivers, driven = row["drivers"], row["driven"]
    if len(drivers) == 1:
        return f"Change gears: {drivers[0]} on the spindle drives {driven[0]} to the plate."
    return (
        f"Change gears: {drivers[0]} on the spindle drives {driven[0]}; "
        f"{drivers[1]} on the same stud drives {driven[1]} to the plate."
    )


def arms_words(row: Row) -> str:
    """How the sector arms stand, and that the crank goes one way."""
    if not row["holes"]:
        return "The pin goes back into the same hole each time. Turn one way only."
    arms = f"Sector arms at {row['sector_holes']} holes, the pin’s own counted. Turn one way only."
    return arms if row["turns"] else f"No whole turns. {arms}"


def over(words: str, row: Row, faces: Faces) -> str:
    """The line over the answer: the method, and the plate it is on."""
    where = face_words((row["circle"],), faces) if row["holes"] else ""
    return f"{words}. {where}" if where else words


def face_words(wanted: tuple[int, ...], faces: Faces) -> str:
    """The plate and face that bears these circles, with a capital; empty where plates have no names."""
    name = next((name for face, name in faces.items() if set(wanted) <= set(face)), "")
    return name[:1].upper() + name[1:]


def on_words(wanted: tuple[int, ...], faces: Faces) -> str:
    """The same within a line: `plate 4, first face`."""
    name = face_words(wanted, faces)
    return name[:1].lower() + name[1:]


def arcsec(value: float) -> str:
    """The size of an error, to a tenth of a second of arc; below one second to a hundredth."""
    return f"{fixed(abs(value), 1 if abs(value) >= 1 else 2)}″"


def gap_words(row: Row) -> str:
    """Positive: the last space is that much shorter than the others."""
    return "shorter" if row["closing_error_arcsec"] > 0 else "longer"


def closing_words(row: Row) -> str:
    closing = row["closing_error_arcsec"]
    return "—" if closing is None else f"{arcsec(closing)} {gap_words(row)}"


def subject(case: Case) -> str:
    """What was asked, with the ratio of the head."""
    count = case.inputs["divisions"]
    what = f"{count} divisions" if count else f"moves of {dms_text(angle(case))}"
    return f"Indexing, {what} at {case.inputs['ratio']} to 1"


def angle(case: Case) -> Fraction:
    """The angle of one move as wanted. [degree]"""
    count = case.inputs["divisions"]
    return Fraction(360, count) if count else Fraction(case.inputs["angle"])


def home_every(row: Row) -> int:
    """Moves until the pin is back in its first hole. [count]"""
    return int(row.get("home_every") or row["circle"] // gcd(row["circle"], row["holes"]))


def beware_without_gears(case: Case, row: Row) -> Beware:
    move, makes = move_sum(row["turns"], row["holes"], row["circle"]), row["works_as_divisions"]
    return {
        "title": f"Beware: {row_words(row)} without the change gears makes {makes}",
        "text": f"{case.inputs['ratio']} / ({move}) = {makes}. The row holds only with the change gears on.",
    }


def beware_sense(row: Row) -> Beware:
    return {
        "title": f"The plate must turn {sense_text(row)}",
        "text": f"The other way it makes {row['wrong_way_divisions']}. How many idlers that takes depends on "
        "the head: turn the crank and look before cutting. With the gears on the head stands level, "
        "no spiral can be milled, and the plate’s stop pin must be out.",
    }


def beware_two_moves() -> Beware:
    return {
        "title": "Two moves to every division",
        "text": "One left out or turned the wrong way spoils the work. "
        "Mark the blank lightly all round and count the marks before cutting.",
    }


def beware_nearest(case: Case, row: Row) -> Beware:
    closing, text = row["closing_error_arcsec"], "Whether that can pass is for the drawing to say."
    if closing is not None:
        text = f"The last space comes out {closing_words(row)} than the others. {text}"
        if abs(Fraction(closing)) * 2 > angle(case) * 3600:
            made, wanted = row["works_as_divisions"], case.results["divisions"]
            text = f"By itself it makes {made}, not {wanted}: no use for work that must close."
    return {"title": f"Not exact: each move is {arcsec(row['error_arcsec'])} out", "text": text}
