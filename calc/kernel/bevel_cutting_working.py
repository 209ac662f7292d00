"""Kernel room: the lines of working of cutting a bevel pair: blanks, then rolls and set-overs."""

from collections.abc import Iterator, Sequence
from fractions import Fraction

from calc.kernel.bevel_cutting_entries import Cutting
from calc.kernel.bevel_cutting_plans import Plans, Task, Way, tasks_of
from calc.kernel.bevel_cutting_results import quarter_missed
from calc.kernel.bevel_pair import SOURCE_KEYS
from calc.kernel.bevel_pair_sizes import Bevel
from calc.kernel.bevel_pair_working import SHOWN_ANGLE, bevel_steps, degrees_text
from calc.kernel.spur_gear_entries import PROVED, figure, line
from calc.kernel.spur_gear_measuring import bare
from calc.kernel.wording import bracketed, fixed, mixed_text, move_sum
from calc.kernel.working import Step

#: Places of a share on its own line.
SHARE_PLACES = 3
#: A running error below this is nought on a line, and nothing is a share of nought. [modules]
LEAST_SHOWN = 1e-6


def cutting_steps(question: Cutting, plans: Plans) -> Iterator[Step]:
    """Every line: cones and blanks, then the head's part for the gear and for its mate, then the pair."""
    yield from bevel_steps(question.gear, question.mate)
    tasks = tasks_of(question)
    for bevel, task, by_rule, best in (
        (question.gear, tasks[0], plans.textbook.gear, plans.best.gear),
        (question.mate, tasks[1], plans.textbook.mate, plans.best.mate),
    ):
        yield _quarter_step(bevel, task)
        yield from _way_steps(bevel, task, by_rule, "textbook")
        if task.held is None:
            yield _set_over_step(bevel, task, by_rule)
        if not task.head.quarter_circles and task.held is None:
            yield _missed_step(bevel, task)
        if best != by_rule:
            yield from _way_steps(bevel, task, best, "best")
            yield _trim_step(bevel, best)
    yield from _pair_steps(question, plans)


def source_keys(working: Sequence[Step]) -> tuple[str, ...]:
    """Keys of the sources that the lines name."""
    return tuple(dict.fromkeys(SOURCE_KEYS[step.source] for step in working if step.source in SOURCE_KEYS))


def _quarter_step(bevel: Bevel, task: Task) -> Step:
    head = task.head
    return line(
        bevel.label("turns of the crank for a quarter of the pitch"),
        ("ratio / (4 × teeth)", f"{head.ratio} / (4 × {bevel.teeth})"),
        mixed_text(head.quarter),
        "turn",
        PROVED,
    )


def _way_steps(bevel: Bevel, task: Task, way: Way, plan: str) -> Iterator[Step]:
    """The roll as the crank makes it, the index on the same circle and its proof."""
    head = task.head
    crank = bracketed(_crank_sum(way.crank))
    yield line(
        bevel.label(f"{plan}, roll of the blank, each side"),
        ("roll in turns of the crank × 360 / ratio", f"{crank} × 360 / {head.ratio}"),
        fixed(way.crank * 360 / head.ratio, SHOWN_ANGLE),
        "°",
        PROVED,
    )
    if way.roll is None:
        return
    circle = way.roll.circle
    turns, holes = divmod(int(head.move * circle), circle)
    moved = bracketed(move_sum(turns, holes, circle))
    yield line(
        bevel.label(f"{plan}, spaces from tooth to tooth in the {circle} circle, whole turns counted in"),
        ("circle × ratio / teeth", f"{circle} × {head.ratio} / {bevel.teeth}"),
        str(turns * circle + holes),
        "spaces",
    )
    yield line(
        bevel.label(f"{plan}, proof: crank turns for one turn of the work"),
        ("teeth × (whole turns + spaces / circle)", f"{bevel.teeth} × {moved}"),
        str(head.ratio),
        "turns, as the head",
    )
    yield line(
        bevel.label(f"{plan}, spaces of the roll in the {circle} circle, whole turns counted in"),
        ("circle × roll in turns of the crank", f"{circle} × {crank}"),
        str(way.roll.spaces),
        "spaces",
    )


def _crank_sum(crank: Fraction) -> str:
    """A roll as a sum: ``16/39``, ``1 + 5/39``."""
    turns, part = divmod(crank, 1)
    return move_sum(int(turns), part.numerator, part.denominator) if part else str(turns)


def _set_over_step(bevel: Bevel, task: Task, way: Way) -> Step:
    pitch = bevel.cones.question.pitch
    across = pitch.of("teeth", str(bevel.teeth))
    angle = degrees_text(float(way.crank * 360 / task.head.ratio))
    return line(
        bevel.label("textbook, set-over of the cutter, each side"),
        (f"{across[0]} / 2 × sin(roll)", f"{across[1]} / 2 × sin({angle})"),
        fixed(way.settings.set_over * float(pitch.module), pitch.places),
        pitch.unit,
        PROVED,
    )


def _missed_step(bevel: Bevel, task: Task) -> Step:
    """What the nearest roll leaves at the large end's pitch line; below nought it takes too much."""
    cones, head = bevel.cones, task.head
    pitch, near = cones.question.pitch, head.rolls()[0].crank
    words = (
        "(quarter in turns of the crank − roll in turns of the crank) × 2 × π / ratio × teeth × (module "
        "of the large end − module of the small end) / 2"
    )
    figures = (
        f"({_crank_sum(head.quarter)} − {bracketed(_crank_sum(near))}) × 2 × π / {head.ratio} × "
        f"{bevel.teeth} × ({bare(cones.large_module)} − {bare(cones.small_module)}) / 2"
    )
    return line(
        bevel.label("textbook, left on at the pitch line of the large end by the roll"),
        (words, figures),
        fixed(quarter_missed(task.member, head) * float(pitch.module), pitch.places + 1),
        pitch.unit,
        PROVED,
    )


def _trim_step(bevel: Bevel, way: Way) -> Step:
    pitch, depth = bevel.cones.question.pitch, bevel.cones.whole_depth
    less = way.settings.shallower * float(pitch.module)
    return line(
        bevel.label("best, depth of the two trimming rounds"),
        ("whole depth − trims shallower by", f"{bare(depth)} − {bare(less)}"),
        fixed(float(depth) - less, pitch.places),
        pitch.unit,
        PROVED,
    )


def _pair_steps(question: Cutting, plans: Plans) -> Iterator[Step]:
    """The running error in lengths, and what the best plan has of the textbook's."""
    pitch = question.pitch
    module = pitch.of("running error in modules", "{}")
    named = [("Textbook", plans.textbook), ("Best", plans.best)]
    for name, plan in named:
        yield line(
            f"{name}, running error of the pair over a pitch",
            (module[0], module[1].format(figure(round(plan.run.error, 6)))),
            fixed(Fraction(figure(round(plan.run.error, 6))) * pitch.module, pitch.places + 1),
            pitch.unit,
            PROVED,
        )
    if plans.best != plans.textbook and plans.textbook.run.error >= LEAST_SHOWN:
        parts = [figure(round(plan.run.error, 6)) for _, plan in named]
        yield line(
            "Best, running error for one of the textbook’s",
            ("running error of the best / running error of the textbook’s", f"{parts[1]} / {parts[0]}"),
            fixed(Fraction(parts[1]) / Fraction(parts[0]), SHARE_PLACES),
            source=PROVED,
        )
