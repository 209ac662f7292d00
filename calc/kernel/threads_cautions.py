"""Kernel room: what must be known of a thread before it is cut, and of a drill before it is used."""

from collections.abc import Iterator
from fractions import Fraction

from calc.kernel.drills import Drill, size_text
from calc.kernel.threads import Thread
from calc.kernel.threads_alike import Alike, words_of
from calc.kernel.threads_drills import Misprint, below_core, misprints
from calc.kernel.units import INCH
from calc.kernel.wording import decimal_text, fixed
from calc.kernel.working import Caution

#: Above so much of the full thread a tap labours in steel; under so much the thread is shallow.
TIGHT, SHALLOW = Fraction(90), Fraction(55)
#: The ISO and Unified form is cut away at the core, so that the same tap labours later.
TIGHT_SIXTY = Fraction(95)
#: How many look-alikes a caution names.
NAMED = 4


def length_text(thread: Thread, mm: Fraction) -> str:
    """A length in the unit of the thread: ``0.2007 in``, ``3.728 mm``."""
    return f"{fixed(mm / INCH, 4)} in" if thread.unit == INCH else f"{fixed(mm, 3)} mm"


def of_thread(thread: Thread, alike: list[Alike]) -> Iterator[Caution]:
    """Every caution on the thread itself, the weightiest first."""
    for drill in below_core(thread):
        yield _below(thread, drill, "The table prints")
    for misprint in misprints(thread):
        yield _misprinted(thread, misprint)
    yield from _core_listed(thread)
    yield from _of_name(thread)
    yield from _look_alikes(thread, alike)


def _below(thread: Thread, drill: Drill, who: str) -> Caution:
    return Caution(
        code="drill-below-core",
        text=(
            f"{who} drill {size_text(drill)} for {thread.name}. It is below the core, "
            f"{length_text(thread, thread.core)}: {fixed(thread.engagement(drill.mm), 1)} % of the thread. "
            "It is refused: the tap would have to cut at its root, and breaks."
        ),
    )


def _misprinted(thread: Thread, misprint: Misprint) -> Caution:
    if misprint.drill.mm < thread.core:
        return _below(thread, misprint.drill, "One list prints")
    base = thread.form.other or thread.form.full
    left = f"{fixed(thread.engagement(misprint.drill.mm, base), 1)} % of {decimal_text(base, 6)} pitches"
    return Caution(
        code="drill-printed-elsewhere",
        text=f"Elsewhere drill {size_text(misprint.drill)} is printed for {thread.name}, "
        f"which leaves {left}. {misprint.why}",
    )


def _core_listed(thread: Thread) -> Iterator[Caution]:
    """A size that a list calls a drill, and that is the core."""
    if not thread.core_listed:
        return
    left = thread.engagement(Fraction(thread.core_listed) * INCH)
    yield Caution(
        code="core-listed",
        text=f"A list of thread sizes has a drill of {thread.core_listed} in for {thread.name}. "
        f"It is the core diameter, {fixed(left, 1)} % of the thread, and is not offered.",
    )


def _of_name(thread: Thread) -> Iterator[Caution]:
    """What the name may be taken for."""
    if thread.series == "BSP":
        yield Caution(
            code="size-is-bore",
            text=f"{thread.size} is the bore of the pipe: over the thread it is {fixed(thread.major, 3)} mm, "
            f"{fixed(thread.major / INCH, 4)} in.",
        )
    if thread.series == "ME":
        memory = " The size itself is from memory." if thread.origin == "memory" else ""
        yield Caution(
            code="no-standard",
            text="No national standard lists these threads, and lists differ in which sizes are 32 and which "
            f"40 to the inch: write the number with the name.{memory}",
        )


def _look_alikes(thread: Thread, alike: list[Alike]) -> Iterator[Caution]:
    same = [one.thread.name for one in alike if one.is_same]
    if same:
        yield Caution(
            code="same-thread",
            text=f"{' and '.join(same)}: the same thread as {thread.name}, under another name.",
        )
    near = [words_of(thread, one) for one in alike if not one.is_same]
    if near:
        more = f" and {len(near) - NAMED} more" if len(near) > NAMED else ""
        yield Caution(
            code="look-alike",
            text=f"Near fits, not interchangeable with {thread.name}: {'; '.join(near[:NAMED])}{more}. "
            "One starts in or on the other by hand, and then binds or holds on little.",
        )


def of_engagement(thread: Thread, engagement: Fraction) -> Iterator[Caution]:
    """A hole that is tight, or that leaves a shallow thread; per cent of the form's own full thread."""
    tight = TIGHT if thread.form.radius is not None else TIGHT_SIXTY
    if engagement > tight:
        yield Caution(
            code="tight",
            text=f"{fixed(engagement, 1)} % is tight for steel, usual in brass: a small tap may break. "
            "65 to 75 % holds as well as the screw.",
        )
    if engagement < SHALLOW:
        yield Caution(
            code="shallow",
            text=f"{fixed(engagement, 1)} % is a shallow thread: it strips before the screw gives.",
        )
