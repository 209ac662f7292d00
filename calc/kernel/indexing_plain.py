"""Kernel room: plain and direct indexing, and the nearest setting where nothing is exact."""

from fractions import Fraction
from math import gcd

from calc.kernel.indexing_entries import ANGULAR, ARMY, Dividing, Row
from calc.kernel.wording import bracketed, decimal_text, dms_text, mixed_text, move_sum
from calc.kernel.working import COMMON, Step, line

#: Ratios of heads that are common enough to be borrowed, for saying what another head would do.
USUAL_RATIOS = (40, 60, 72, 80, 90)
NEAREST_ROWS = 6
ARCSECONDS = 3600
TECHNICAL_COLLEGE = "Angular indexing, technical-college course page"


def setting(task: Dividing, circle: int, total: int) -> Row:
    """What every setting of one circle has: turns, spaces, sector arms, when the pin is home, its quarter."""
    turns, holes = divmod(total, circle)
    row: Row = {
        "circle": circle,
        "turns": turns,
        "holes": holes,
        "sector_holes": holes + 1,
        "home_every": circle // gcd(circle, holes),
        "face": task.faces_with(circle)[0],
        "faces": task.faces_with(circle),
    }
    if task.quarter:
        row["quarter_turns"], row["quarter_holes"] = divmod(total // 4, circle)
    return row


def plain_rows(task: Dividing) -> list[Row]:
    """Every circle that makes the move in whole holes, the largest circle first."""
    rows = []
    for circle in task.circles:
        if circle % task.finest.denominator == 0:
            row = setting(task, circle, int(task.move * circle))
            rows.append(row | {"proof": proof_text(task, row)})
    return rows


def proof_text(task: Dividing, row: Row) -> str:
    """The sum a builder checks at the bench: ``84 × 10/21 = 40``, or back to the angle."""
    moved = move_sum(row["turns"], row["holes"], row["circle"])
    if task.divisions is not None:
        return f"{task.divisions} × {bracketed(moved)} = {task.ratio}"
    return f"{bracketed(moved)} × 360/{task.ratio} = {mixed_text(task.angle)}°"


def direct_rows(task: Dividing) -> list[Row]:
    """Every ring of the spindle's own plate that makes the move in whole holes, the smallest first."""
    rows = []
    for circle in task.direct:
        holes = circle * task.angle / 360
        if holes.denominator == 1 and (not task.quarter or holes % 4 == 0):
            row: Row = {
                "circle": circle,
                "holes": int(holes),
                "home_every": circle // gcd(circle, int(holes)),
            }
            rows.append(row | ({"quarter_holes": int(holes) // 4} if task.quarter else {}))
    return rows


def nearest_rows(task: Dividing) -> list[Row]:
    """The settings nearest to the move, least error first; none that misses by half a move or more."""
    best: dict[Fraction, tuple[Fraction, int]] = {}
    parts = 4 if task.quarter else 1
    for circle in task.circles:
        below = int(task.finest * circle) * parts
        for total in (below, below + parts):
            error = (Fraction(total, circle) - task.move) * 360 / task.ratio
            if total and 2 * abs(error) < task.angle:
                best.setdefault(Fraction(total, circle), (error, circle))
    ordered = sorted(best.items(), key=lambda found: (abs(found[1][0]), -found[1][1]))
    return [_nearest_row(task, turns, *found) for turns, found in ordered[:NEAREST_ROWS]]


def _nearest_row(task: Dividing, turns: Fraction, error: Fraction, circle: int) -> Row:
    row = setting(task, circle, int(turns * circle))
    closing = None if task.divisions is None else float(task.divisions * error * ARCSECONDS)
    return row | {
        "error_arcsec": float(error * ARCSECONDS),
        "closing_error_arcsec": closing,
        "works_as_divisions": None if task.divisions is None else works_as(task.ratio / turns),
    }


def works_as(divisions: Fraction) -> int | str:
    """Divisions a setting makes by itself: a count, or text such as ``48 4/7`` when not whole."""
    return divisions.numerator if divisions.denominator == 1 else mixed_text(divisions)


def other_ratios(task: Dividing) -> list[Row]:
    """Heads of another usual ratio on which the same circles make the move, with their best circle."""
    rows = []
    for ratio in USUAL_RATIOS:
        finest = task.finest * ratio / task.ratio
        circle = next((circle for circle in task.circles if circle % finest.denominator == 0), None)
        if ratio != task.ratio and circle is not None:
            turns, holes = divmod(int(task.move * ratio / task.ratio * circle), circle)
            rows.append({"ratio": ratio, "circle": circle, "turns": turns, "holes": holes})
    return rows


def move_steps(task: Dividing, rows: list[Row]) -> list[Step]:
    """The lines that come before any setting: the move of the crank, and which circles will do."""
    steps = [_move_step(task)]
    if task.quarter:
        steps.append(
            line(
                "A quarter of that",
                "crank turns / 4",
                f"{task.move} / 4",
                mixed_text(task.finest),
                unit="turn",
            )
        )
    return [*steps, _circles_step(task, rows)]


def _move_step(task: Dividing) -> Step:
    by_angle = task.by_angle
    return line(
        f"Turns of the crank for one {'move' if by_angle else 'division'}",
        "angle × ratio / 360" if by_angle else "ratio / divisions",
        f"{task.angle} × {task.ratio} / 360" if by_angle else f"{task.ratio} / {task.divisions}",
        mixed_text(task.move),
        unit="turn",
        source=ANGULAR if by_angle else ARMY,
    )


def _circles_step(task: Dividing, rows: list[Row]) -> Step:
    factor, owned = task.finest.denominator, len(task.circles)
    circles = "1 circle" if owned == 1 else f"{owned} circles"
    serving = ", ".join(str(row["circle"]) for row in reversed(rows)) or "none"
    named = f"circle{'' if len(rows) == 1 else 's'} {serving}, of the" if rows else "none of the"
    return line(
        "Circles that will do: the move is whole turns"
        if factor == 1
        else f"Circles that divide by {factor}",
        "of the circles owned",
        f"all of the {circles}" if factor == 1 else f"{named} {circles}",
        "all" if factor == 1 else serving,
        unit="",
        source=ARMY,
    )


def plain_steps(task: Dividing, row: Row) -> list[Step]:
    """The lines of a plain setting: whole turns, spaces, sector arms, proof, pin home, quarter."""
    circle, turns, holes = row["circle"], row["turns"], row["holes"]
    steps = [_whole_turns_step(task)] if turns else []
    if holes:
        steps += [_spaces_step(task, row), _sector_step(row)]
    steps.append(_proof_step(task, row))
    if holes:
        steps.append(
            line(
                "Pin back in its first hole",
                "circle / gcd(spaces, circle)",
                f"{circle} / gcd({holes}, {circle})",
                str(row["home_every"]),
                unit="moves",
            )
        )
    if task.quarter:
        steps.append(
            line(
                f"Spaces of a quarter in the {circle} circle, any whole turns counted in",
                "circle × crank turns / 4",
                f"{circle} × {bracketed(str(task.move))} / 4",
                str(row["quarter_turns"] * circle + row["quarter_holes"]),
                unit="spaces",
            )
        )
    return steps


def _whole_turns_step(task: Dividing) -> Step:
    return line(
        "Whole turns of the crank",
        "whole(crank turns)",
        f"whole({task.move})",
        str(int(task.move)),
        unit="turn" if int(task.move) == 1 else "turns",
        source=ARMY,
    )


def _spaces_step(task: Dividing, row: Row) -> Step:
    circle, turns = row["circle"], row["turns"]
    return line(
        f"Spaces to move in the {circle} circle",
        "circle × (crank turns − whole turns)" if turns else "circle × crank turns",
        f"{circle} × ({task.move} − {turns})" if turns else f"{circle} × {task.move}",
        str(row["holes"]),
        unit="space" if row["holes"] == 1 else "spaces",
        source=ARMY,
    )


def _sector_step(row: Row) -> Step:
    return line(
        "Holes between the sector arms, the pin’s own counted",
        "spaces + 1",
        f"{row['holes']} + 1",
        str(row["sector_holes"]),
        unit="holes",
        source=COMMON,
    )


def _proof_step(task: Dividing, row: Row) -> Step:
    moved = bracketed(move_sum(row["turns"], row["holes"], row["circle"]))
    if task.divisions is None:
        return line(
            "Proof: the angle these make",
            "(whole turns + spaces / circle) × 360 / ratio",
            f"{moved} × 360 / {task.ratio}",
            mixed_text(task.angle),
            unit="°",
        )
    return line(
        "Proof: crank turns for one turn of the work",
        "divisions × (whole turns + spaces / circle)",
        f"{task.divisions} × {moved}",
        str(task.ratio),
        unit="turns, as the head",
    )


def direct_steps(task: Dividing, row: Row) -> list[Step]:
    """The line of the direct plate: spaces on its ring for one move."""
    circle = row["circle"]
    by_count = task.divisions is not None
    return [
        line(
            f"Spaces on the direct plate’s ring of {circle}",
            "ring / divisions" if by_count else "ring × angle / 360",
            f"{circle} / {task.divisions}" if by_count else f"{circle} × {task.angle} / 360",
            str(row["holes"]),
            unit="space" if row["holes"] == 1 else "spaces",
            source=TECHNICAL_COLLEGE,
        )
    ]


def nearest_steps(task: Dividing, row: Row) -> list[Step]:
    """The lines of the nearest setting: its error for one move, and what is left at the last space."""
    moved = bracketed(move_sum(row["turns"], row["holes"], row["circle"]))
    exact = (row["turns"] + Fraction(row["holes"], row["circle"]) - task.move) * 360 * ARCSECONDS / task.ratio
    figures = f"({moved} − {bracketed(str(task.move))}) × 360 × 3600 / {task.ratio}"
    steps = [
        line(
            "Nearest: error of one move, made less wanted",
            "(whole turns + spaces / circle − crank turns) × 360 × 3600 / ratio",
            figures,
            _signed(exact),
            unit="″",
        )
    ]
    if task.divisions is not None:
        steps.append(
            line(
                f"At the last space: it is that much {'shorter' if exact > 0 else 'longer'}",
                "divisions × error",
                f"{task.divisions} × {figures}",
                _signed(task.divisions * exact),
                unit="″",
            )
        )
    return steps


def _signed(arcseconds: Fraction) -> str:
    return decimal_text(arcseconds, 2).replace("-", "−")


def angle_step(task: Dividing) -> Step:
    """The angle of one division in degrees, minutes and seconds."""
    return line("Angle of one division", "360 / divisions", f"360 / {task.divisions}", dms_text(task.angle))
