"""The box of an indexing answer, by the method in use; the plate and the pin that go with it."""

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import Any

from calc.answers import indexing_words as words
from calc.answers.shapes import Answer, Case, Fact, Pin, empty_answer, fact, offer
from calc.kernel.indexing_differential import sense_text
from calc.kernel.wording import dms_text, fixed, mixed_text, move_sum, move_text, plural, setting_text

Row = Mapping[str, Any]

MOST_HOMES, MOST_PINS = 6, 14
STEPS = (10, 20, 25, 50, 100, 250, 500, 1000, 2500)


def plain(case: Case, row: Row) -> Answer:
    """An exact setting on one circle."""
    home = row["home_every"]
    facts = [
        fact("Pin home every", str(home), "move" if home == 1 else "moves"),
        fact("Proof", row["proof"]),
        _one(case),
    ]
    if "quarter_holes" in row:
        facts.append(fact("A quarter", move_text(row["quarter_turns"], row["quarter_holes"], row["circle"])))
    others = [(place, other) for place, other in enumerate(case.results["plain"]) if other != row]
    if others and row["holes"]:
        place, other = others[0]
        on = words.on_words((other["circle"],), case.faces)
        facts.append(offer("Also exact", words.row_words(other), on, f"plain-{place}"))
    shown = empty_answer(
        words.over("Plain indexing, exact", row, case.faces),
        setting_text(row),
        words.arms_words(row),
        facts,
    )
    shown["notes"] = [one["text"] for one in case.warnings if one["code"] == "head-ratio"]
    return _with_plate(shown, case, row)


def direct(case: Case, row: Row) -> Answer:
    """An exact setting on the plate at the spindle."""
    holes, circle, count = row["holes"], row["circle"], case.results["divisions"]
    facts = [fact("Pin home every", *plural(row["home_every"], "move").split(" ")), _one(case)]
    if count:
        proof = f"{count} × {holes}/{circle} = {mixed_text(count * Fraction(holes, circle))}"
        facts.insert(1, fact("Proof", proof))
    shown = empty_answer(
        "Direct indexing, exact. The plate on the spindle, the worm out of mesh",
        f"{plural(holes, 'space')} on the direct plate’s ring of {circle}",
        "Turn the spindle by hand from hole to hole, and lock it before each cut.",
        facts,
    )
    shown["plate"] = {
        "name": "The direct plate",
        "face": list(case.inputs["direct_circles"]),
        "circle": circle,
        "spaces": holes,
        "turns": 0,
        "sector_holes": 0,
        "second": None,
    }
    return shown


def compound(case: Case, row: Row) -> Answer:
    """An exact setting by two moves on one face."""
    circle, holes = row["circle_a"], row["holes_a"]
    other, more = row["circle_b"], row["holes_b"]
    way = "the same way" if row["same_direction"] else "the other way"
    sign = "+" if row["same_direction"] else "−"
    name = words.face_words((circle, other), case.faces)
    total = mixed_text(Fraction(case.inputs["ratio"]) * words.angle(case) / 360)
    shown = empty_answer(
        f"Compound indexing, exact. {name}" if name else "Compound indexing, exact",
        f"{holes} in the {circle}, then {more} in the {other}",
        f"First the crank: {plural(holes, 'space')} in the {circle} circle. Then plate and crank together: "
        f"{plural(more, 'space')} in the {other} circle, {way}.",
        [
            fact("Second move", way),
            fact("Proof", f"{holes}/{circle} {sign} {more}/{other} = {total}"),
            _one(case),
        ],
    )
    back = more if row["same_direction"] else -more
    shown["plate"] = {
        "name": name,
        "face": _face(case, circle, other),
        "circle": circle,
        "spaces": holes % circle,
        "turns": holes // circle,
        "sector_holes": holes % circle + 1,
        "second": {"circle": other, "spaces": back % other if back > 0 else -(-back % other)},
    }
    shown["beware"] = [words.beware_two_moves()]
    return shown


def differential(case: Case, row: Row) -> Answer:
    """An exact setting with the plate geared to the spindle."""
    shown = empty_answer(
        words.over("Differential indexing, exact with the change gears on", row, case.faces),
        setting_text(row),
        f"{words.arms_words(row)} {words.gear_words(row)}",
        [
            fact("Change gears", words.gears(row), "drivers / driven"),
            fact("The plate turns", sense_text(row)),
            fact("Without the gears", str(row["works_as_divisions"]), "divisions"),
            _one(case),
        ],
    )
    shown["beware"] = [words.beware_without_gears(case, row), words.beware_sense(row)]
    shown = _with_plate(shown, case, row)
    shown["pins_note"] = f"Holes are counted on the plate, which itself turns. {shown['pins_note']}"
    return shown


def nearest(case: Case, row: Row) -> Answer:
    """A setting that is not exact, with what it leaves at the last space."""
    way = "too far" if row["error_arcsec"] > 0 else "too short"
    facts = [fact("Error of a move", words.arcsec(row["error_arcsec"]), way)]
    if row["closing_error_arcsec"] is not None:
        closing = row["closing_error_arcsec"]
        facts.append(fact("The last space", words.arcsec(closing), words.gap_words(row)))
    shown = empty_answer(
        words.over("Nearest by plain indexing, not exact", row, case.faces),
        setting_text(row),
        words.arms_words(row),
        [*facts, _one(case)],
    )
    shown["beware"] = [words.beware_nearest(case, row)]
    return _with_plate(shown, case, row)


def no_plain(case: Case) -> Answer:
    """That there is no plain setting, and what would do."""
    shown = empty_answer(
        words.subject(case),
        "No plain setting with these circles",
        f"It wants a circle that divides by {case.results['missing_factor']}. You own none.",
        would_do(case),
    )
    shown["is_none"] = True
    said = {"no-plain", "other-ratio"}
    rows = case.results["differential"]
    if rows:
        shown["beware"] = [words.beware_without_gears(case, rows[0])]
        said.add("without-gears")
    shown["notes"] = [warning["text"] for warning in case.warnings if warning["code"] not in said]
    return shown


def would_do(case: Case) -> list[Fact]:
    """What would make an answer where there is no plain one, cheapest first."""
    results, found = case.results, list[Fact]()
    if rows := results["compound"]:
        found.append(offer("Two moves to each", words.row_words(rows[0]), "", "compound-0"))
    if rows := results["differential"]:
        row, on = rows[0], words.face_words((rows[0]["circle"],), case.faces)
        small = f"gears {words.gears(row)}, plate {sense_text(row)}"
        found.append(
            offer(f"{on or 'This head'} with change gears", words.row_words(row), small, "differential-0")
        )
    for row in (results["other_ratios"] or [])[:1]:
        found.append(fact(f"On a head of {row['ratio']} to 1", words.row_words(row)))
    if rows := results["nearest"]:
        small = f"each {words.arcsec(rows[0]['error_arcsec'])} out"
        found.append(offer("Nearest, not exact", words.row_words(rows[0]), small, "nearest-0"))
    return found


def _one(case: Case) -> Fact:
    label = "One division" if case.inputs["divisions"] else "One move"
    return fact(label, dms_text(words.angle(case)))


# ---- the plate and the pin -------------------------------------------------------------------------------


def _with_plate(shown: Answer, case: Case, row: Row) -> Answer:
    shown["plate"] = {
        "name": words.face_words((row["circle"],), case.faces),
        "face": _face(case, row["circle"]),
        "circle": row["circle"],
        "spaces": row["holes"],
        "turns": row["turns"],
        "sector_holes": row["sector_holes"] if row["holes"] else 0,
        "second": None,
    }
    count = case.results["divisions"]
    shown["pins"] = pins(case, row, checkpoints(count, words.home_every(row)))
    if count:
        shown["pins_note"] = (
            "After division n is cut and before the head is indexed, n − 1 moves have been made."
        )
        shown["schedule"] = _schedule_entries(case, row, count)
    return shown


def _face(case: Case, *wanted: int) -> list[int]:
    """The circles of the first face entered that bears these."""
    return list(next(face for face in case.inputs["circles"] if set(wanted) <= set(face)))


def pins(case: Case, row: Row, moves: Sequence[int]) -> list[Pin]:
    """Where the pin and the spindle are after each of these numbers of moves."""
    circle, one = row["circle"], row["turns"] * row["circle"] + row["holes"]
    each = Fraction(one, circle) * 360 / case.inputs["ratio"] if "error_arcsec" in row else words.angle(case)
    return [
        {
            "moves": n,
            "turns": move_sum(n * one // circle, n * one % circle, circle).replace(" + ", " "),
            "hole": n * one % circle,
            "angle": f"{fixed(n * each, 2)}°",
            "home": bool(n) and n * one % circle == 0,
        }
        for n in moves
    ]


def checkpoints(count: int | None, home: int) -> list[int]:
    """Numbers of moves worth a look: the start, the first, when the pin is home, the tens between."""
    if count is None:
        return list(range(min(home, MOST_PINS - 2) + 1))
    homes = range(home, count + 1, home)
    kept = {0, 1, count, *homes[::-1][:: -(-len(homes) // MOST_HOMES) or 1]}
    for step in STEPS:
        tens = set(range(step, count, step))
        if len(kept | tens) <= MOST_PINS:
            return sorted(kept | tens)
    return sorted(kept)


def _schedule_entries(case: Case, row: Row, count: int) -> dict[str, str]:
    """The entries of the schedule, for a setting that comes round by itself; the schedule refuses others."""
    total = count * (row["turns"] + Fraction(row["holes"], row["circle"]))
    if total != case.inputs["ratio"] or count > 1000:
        return {}
    figures = {"divisions": count, "ratio": case.inputs["ratio"], "circle": row["circle"]}
    return {
        name: str(figure)
        for name, figure in (figures | {"turns": row["turns"], "holes": row["holes"]}).items()
    }
