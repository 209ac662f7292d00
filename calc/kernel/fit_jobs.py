"""Kernel room: fits by what they are to do, and whether a gauge can tell them."""

from collections.abc import Iterator, Mapping
from fractions import Fraction

from calc.kernel.errors import OutOfRange
from calc.kernel.fit_words import size_text
from calc.kernel.working import Caution

#: Job: hole, shaft. Each is a preferred fit of ANSI B4.2 and ISO 286-1:2010; that k6 is called push and n6
#: wringing is common practice, no source.
JOBS: Mapping[str, tuple[str, str]] = {
    "loose": ("H11", "c11"),
    "free": ("H9", "d9"),
    "running": ("H8", "f7"),
    "sliding": ("H7", "g6"),
    "locating": ("H7", "h6"),
    "push": ("H7", "k6"),
    "wringing": ("H7", "n6"),
    "press": ("H7", "p6"),
    "drive": ("H7", "s6"),
    "force": ("H7", "u6"),
}
GAUGE = (Fraction(1, 10000), Fraction(1, 2))
GAUGE_REASON = "The least that the gauge or micrometer can be read to: 0.01 mm or 0.0005 in."


def symbols(job: str | None, hole: str | None, shaft: str | None) -> tuple[str, str]:
    """The symbols of both sides: as entered, else of the job; empty for a side not asked for."""
    entered = ((hole or "").strip(), (shaft or "").strip())
    if not job or any(entered):
        return entered
    if job not in JOBS:
        raise OutOfRange("job", " or ".join(JOBS), "Choose one, or enter the symbols.")
    return JOBS[job]


def job_cautions(job: str | None, hole: str | None, shaft: str | None) -> Iterator[Caution]:
    """Whose fit the job is, or that the symbols entered go before it."""
    if not job:
        return
    if (hole or "").strip() or (shaft or "").strip():
        yield Caution(code="job-left", text="The symbols entered are used, not the job chosen beside them.")
        return
    named = "" if job not in ("push", "wringing") else f" Calling it {job} is common practice, no source."
    yield Caution(
        code="job",
        text=f"For the job {job}: {'/'.join(JOBS[job])}, a preferred fit of ANSI B4.2 and "
        f"ISO 286-1:2010.{named}",
    )


def gauge_cautions(
    gauge: Fraction | None, tolerances: Mapping[str, Fraction], least: Fraction | None
) -> Iterator[Caution]:
    """That the clearance wanted or the tolerance to be made is finer than the gauge can be read to. [mm]"""
    if gauge is None:
        return
    for side, tolerance in tolerances.items():
        if tolerance < gauge:
            yield Caution(
                code=f"gauge-{side}",
                text=f"The tolerance of the {side}, {size_text(tolerance)} mm, is finer than your gauge "
                f"reads, {size_text(gauge)} mm: it cannot tell whether the {side} is within its limits.",
            )
    if least is not None and 0 < least < gauge:
        yield Caution(
            code="gauge-clearance",
            text=f"The least clearance, {size_text(least)} mm, is finer than your gauge reads, "
            f"{size_text(gauge)} mm: fit it by feel, or measure with something finer.",
        )
