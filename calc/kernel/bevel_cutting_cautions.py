"""Kernel room: what a builder must know before cutting a bevel pair in three rounds."""

from collections.abc import Iterator

from calc.kernel.bevel_cutting_entries import CHECKED_DEG, Cutting
from calc.kernel.bevel_cutting_plans import Plan, Plans, Task, tasks_of
from calc.kernel.bevel_cutting_results import quarter_missed
from calc.kernel.bevel_cutting_section import flank_errors
from calc.kernel.bevel_pair_sizes import Bevel
from calc.kernel.formative import cutter_cautions
from calc.kernel.spur_gear_cautions import USUAL_ANGLES
from calc.kernel.spur_gear_cutters import cutter_for
from calc.kernel.wording import fixed, mixed_text
from calc.kernel.working import Caution


def cautions(question: Cutting, plans: Plans) -> Iterator[Caution]:
    """Every caution the answer needs, the weightiest first."""
    tasks = tasks_of(question)
    yield from _of_running(plans)
    yield _same_hand()
    pairs = ((question.gear, tasks[0]), (question.mate, tasks[1]))
    for bevel, task in pairs:
        yield from _of_quarter(bevel, task)
    yield from _together(question, plans)
    yield from _of_model(question)
    yield _of_pitch(question)
    for bevel, task in pairs:
        is_metric = not question.pitch.per_inch
        yield from cutter_cautions(f"The {bevel.teeth}", bevel.formative, "8", is_metric=is_metric)
        yield from _of_owned(bevel, task)
    yield from _of_held(tasks[1])
    yield from _of_bench(question)


def _of_running(plans: Plans) -> Iterator[Caution]:
    """Pairs that would not turn at their right mounting."""
    named = {"textbook’s": plans.textbook, "best": plans.best, "tried": plans.given}
    tight = [name for name, plan in named.items() if plan is not None and plan.run.backlash < 0]
    if tight:
        yield Caution(
            code="jams",
            text=(
                f"By the {' and the '.join(tight)} settings the pair jams at its right mounting: there is no "
                "play left between the flanks. It wants metal off, by filing or by other settings."
            ),
        )


def _same_hand() -> Caution:
    """Which way things go; to the same hand at the handles the cutter comes down on a tooth."""
    return Caution(
        code="same-hand",
        text=(
            "Seen from the blank, cutter and rolled space go the same way. The table carries the blank, so "
            "at the handles it is the opposite: table to the left, roll to the right. Table and roll to the "
            "same hand bring the cutter down on the tooth beside the space."
        ),
    )


def _of_quarter(bevel: Bevel, task: Task) -> Iterator[Caution]:
    """No quarter in whole holes: said before the first cut, with what it costs."""
    head = task.head
    if head.quarter_circles:
        return
    pitch, near = bevel.cones.question.pitch, head.rolls()[0]
    missed = quarter_missed(task.member, head) * float(pitch.module)
    done = "leaves on" if missed > 0 else "takes too much, by"
    also = ", ".join(f"{roll.spaces} in {roll.circle}" for roll in head.rolls()[1:3])
    yield Caution(
        code="quarter-none",
        text=(
            f"The {bevel.teeth}: no circle owned both indexes it and gives a quarter of its pitch, "
            f"{mixed_text(head.quarter)} of a turn, in whole holes. The nearest roll is {near.spaces} in "
            f"{near.circle}"
            + (f", then {also}" if also else "")
            + f"; with its set-over put right it {done} {pitch.shown(abs(missed))} at the pitch line of the "
            f"large end. A circle divisible by {head.quarter.denominator} would do it."
        ),
    )


def _together(question: Cutting, plans: Plans) -> Iterator[Caution]:
    """The two plans of a pair are made for one another."""
    if plans.best == plans.textbook:
        yield Caution(
            code="textbook-stays",
            text="No settings with these cutters and plates were found to run better than the textbook’s.",
        )
        return
    text = (
        "The two plans belong together: each member is cut to suit the other as it is planned here, and runs "
        "worse with one cut by the textbook. Mark both cards."
    )
    worse = [str(bevel.teeth) for bevel, task, index in _members(question) if _is_worse(task, plans, index)]
    if worse:
        text += (
            f" The flanks of the {' and of the '.join(worse)} are further from the wanted form than by the "
            "textbook: they suit the mate, and the pair runs better for it."
        )
    yield Caution(code="belong-together", text=text)


def _members(question: Cutting) -> list[tuple[Bevel, Task, str]]:
    tasks = tasks_of(question)
    return [(question.gear, tasks[0], "gear"), (question.mate, tasks[1], "mate")]


def _is_worse(task: Task, plans: Plans, which: str) -> bool:
    """Whether a member's flank is further out by the best plan than by the textbook."""
    worst = [_worst(task, plan, which) for plan in (plans.textbook, plans.best)]
    return worst[1] > worst[0]


def _worst(task: Task, plan: Plan, which: str) -> float:
    settings = (plan.gear if which == "gear" else plan.mate).settings
    return max(max(row[1:]) for row in flank_errors(task.member, settings))


def _of_model(question: Cutting) -> Iterator[Caution]:
    low, high = CHECKED_DEG
    if not low <= question.cones.question.shaft_angle <= high:
        yield Caution(
            code="shaft-unchecked",
            text=(
                f"The model was checked on shafts {low} to {high} degrees apart: outside them these figures "
                "are unchecked. Cut two teeth of a trial blank first."
            ),
        )
    yield Caution(
        code="workshop-gear",
        text=(
            "A workshop gear: quiet running is not promised. The figures hold for cutters of the form the "
            "set is made to, set as they are given here. Measure both ends before the next round."
        ),
    )


def _of_pitch(question: Cutting) -> Caution:
    """The cutter is of the small end, the blank of the large; the depth is the cutter's."""
    pitch, cones = question.pitch, question.cones
    large = fixed(cones.large_module, pitch.places + 1)
    named = f"{fixed(1 / float(cones.large_module), 3)} DP" if pitch.per_inch else f"module {large}"
    return Caution(
        code="small-end-pitch",
        text=(
            f"{pitch.text} is the cutter’s and the small end’s; the blanks are turned by the large end’s, "
            f"{named}. The depth of {pitch.shown(cones.whole_depth)}, by {cones.question.depth_system}, "
            "belongs to the cutter: take the one marked on it. Both gears are made this way and do not run "
            "with taper-depth ones."
        ),
    )


def _of_owned(bevel: Bevel, task: Task) -> Iterator[Caution]:
    """The cutter the formative number asks for is not to hand."""
    right = cutter_for(bevel.formative, "8")
    if right is not None and right.number != task.cutter.number:
        yield Caution(
            code="cutter-not-owned",
            text=(
                f"The {bevel.teeth}, formative {fixed(bevel.formative, 2)}, wants No. {right.number}, "
                f"{right.range_text}, which is not among the cutters owned: the textbook’s plan is worked "
                f"with No. {task.cutter.number}, {task.cutter.range_text}."
            ),
        )


def _of_held(mate: Task) -> Iterator[Caution]:
    """A mate that was rolled in holes these plates have not."""
    if mate.held is not None and mate.held.roll is None:
        yield Caution(
            code="mate-roll-elsewhere",
            text=(
                f"The mate’s roll of {mixed_text(mate.held.crank)} of a turn is not whole holes on a circle "
                "owned that indexes it: it is taken as it was cut, and cannot be set again on these plates."
            ),
        )


def _of_bench(question: Cutting) -> Iterator[Caution]:
    """What must be right on the machine, by what it costs."""
    yield Caution(
        code="set-first",
        text=(
            "Set the cutter on centre to 0.02 mm, a thou, and the tilt by sine bar before anything else: "
            "0.05 mm off centre and a quarter of a degree of tilt cost most. One hole wrong on one side "
            "jams the pair: count the holes of each roll from the central setting, twice."
        ),
    )
    yield Caution(
        code="past-both-ends",
        text=(
            "Feed until the middle of the arbor has passed both ends of the face: stopped short, the cutter "
            "leaves the floor high there. Stop the cutter before a hand or a gauge goes near it, and lock "
            "the spindle for every cut (common practice, no source)."
        ),
    )
    if question.cones.question.angle not in USUAL_ANGLES:
        yield Caution(
            code="angle-unusual",
            text="Stock cutters are made for 14 1/2 and 20 degrees: read the angle off the cutter.",
        )
