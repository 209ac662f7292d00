"""Kernel room: a keyway in a hub by push broach, pass by pass, with the shims owned."""

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from calc.kernel.broaching_cautions import cautions
from calc.kernel.broaching_entries import Broaching, broaching_of
from calc.kernel.broaching_shims import Plan, plan_of
from calc.kernel.keyway_depths import root
from calc.kernel.threads_lines import Lines
from calc.kernel.working import COMMON, Outcome, Step


def broaching(
    *,
    bore: Fraction,
    key_width: Fraction,
    hub_crown_depth: Fraction,
    rise_per_pass: Fraction,
    shims: Sequence[Fraction] | None = None,
    hub_length: Fraction | None = None,
    guide_length: Fraction | None = None,
    hub_crown_depth_max: Fraction | None = None,
) -> Outcome:
    """The passes of a push broach: the shims behind it, the depth so far and the size across the bore.

    Depths and sizes are what the owned shims give, not what was wished. Measure across the bore after
    each pass.

    Parameters
    ----------
    bore : Fraction
        The bore of the hub, as measured. [mm] 5 mm to 300 mm
    key_width : Fraction
        Width of the keyway and of the broach. [mm] 2 mm to 63.5 mm
    hub_crown_depth : Fraction
        Depth wanted in the hub, on the centre line from the top of the bore. [mm] 0.2 mm to 40 mm
    rise_per_pass : Fraction
        What the broach takes in one pass: its last tooth less its first. [mm] 0.02 mm to 10 mm
    shims : sequence of Fraction, optional
        Thicknesses owned; one owned twice is listed twice. [mm] at most 12, each 0.01 mm to 40 mm
    hub_length : Fraction, optional
        Length that is cut through. [mm] 1 mm to 500 mm
    guide_length : Fraction, optional
        Length of the guide in the bore, no less than the hub's. [mm] 1 mm to 500 mm
    hub_crown_depth_max : Fraction, optional
        The most that depth may come to; left out, what the strictest standard with such a key allows.
        [mm] 0.2 mm to 40 mm

    Returns
    -------
    Outcome
        ``passes`` [-] in order, each with ``pass``, ``shim_mm`` (the whole stack), ``shims`` (the owned
        pieces in it), ``depth_mm`` so far from the top of the bore and ``across_mm``;
        ``final_depth_mm`` [millimetre] and ``final_across_mm`` [millimetre] after the last of them;
        as wanted ``hub_over_work_mm`` [millimetre] across the bore, ``hub_over_work_max_mm`` [millimetre]
        at most, ``hub_side_depth_mm`` [millimetre] at the wall; ``chord_rise_mm`` [millimetre].

    Raises
    ------
    OutOfRange
        An entry is outside its limits, or the hub is longer than the guide.
    NoSolution
        A shim is missing; says which.

    Notes
    -----
    Passes = depth / rise, rounded up. The first goes without a shim, and each stack is thicker than the
    one before by the rise at most; more passes where the owned shims make the steps shorter. The last stack
    is the least that reaches depth - rise, as long as the keyway stays within its upper limit; else
    the nearest below it. Exact fractions throughout, but for the chord rise.

    Examples
    --------
    >>> broaching(bore=28, key_width=8, hub_crown_depth=3, rise_per_pass=2, shims=[1]).results["passes"][1]
    {'pass': 2, 'shim_mm': 1.0, 'shims': [1.0], 'depth_mm': 3.0, 'across_mm': 31.0}

    Sources
    -------
    broaching_derived, worked by hand from depth and rise.
    bs46, b17_1 and iso773, for the upper limit.

    Checks
    ------
    broaching_derived#two-passes, broaching_derived#rise-62, broaching_derived#rise-45
    """
    task = broaching_of(
        bore=bore, key_width=key_width, hub_crown_depth=hub_crown_depth, rise_per_pass=rise_per_pass,
        shims=shims, hub_length=hub_length, guide_length=guide_length,
        hub_crown_depth_max=hub_crown_depth_max,
    )  # fmt: skip
    plan = plan_of(task)
    return Outcome(
        results=_results(task, plan),
        working=tuple(_working(task, plan)),
        warnings=tuple(cautions(task, plan)),
        sources=("broaching_derived", *_source_of(task)),
    )


def _source_of(task: Broaching) -> tuple[str, ...]:
    if task.is_max_entered or not task.limit_from:
        return ()
    return (task.limit_from.replace(".", "_"),)


def _results(task: Broaching, plan: Plan) -> dict[str, Any]:
    passes = [
        {
            "pass": number,
            "shim_mm": float(sum(pieces)),
            "shims": [float(piece) for piece in pieces],
            "depth_mm": float(sum(pieces) + task.rise),
            "across_mm": float(task.bore + sum(pieces) + task.rise),
        }
        for number, pieces in enumerate(plan.stacks, 1)
    ]
    return {
        "passes": passes,
        "final_depth_mm": passes[-1]["depth_mm"],
        "final_across_mm": passes[-1]["across_mm"],
        "hub_over_work_mm": float(task.bore + task.depth),
        "hub_over_work_max_mm": float(task.bore + task.depth_max),
        "hub_side_depth_mm": float(task.depth + task.chord_rise),
        "chord_rise_mm": float(task.chord_rise),
    }


def _working(task: Broaching, plan: Plan) -> list[Step]:
    """The depth by every datum, the passes it takes, then stack, depth and size across for each."""
    lines = Lines(task.unit)
    _wanted(lines, task)
    lines.length(
        "Passes at least, rounded up to a whole one", "crown depth / rise", "{} / {}", [],
        lambda depth, rise: depth / rise, COMMON, plain=[task.depth / task.unit, task.rise / task.unit],
    )  # fmt: skip
    steps = lines.steps
    # Passes are a bare count, whatever the unit of the lines round it.
    last = steps.pop()
    steps.append(Step(label=last.label, formula=last.formula, figures=last.figures, value=last.value,
                      unit="", source=last.source))  # fmt: skip
    if len(plan.stacks) > 1:
        lines.length(
            "Stack behind the broach wanted at the last pass", "crown depth − rise", "{} − {}",
            [task.depth, task.rise], lambda depth, rise: depth - rise, COMMON,
        )  # fmt: skip
    for number, pieces in enumerate(plan.stacks, 1):
        _pass(lines, task, number, pieces)
    return lines.steps


def _wanted(lines: Lines, task: Broaching) -> None:
    lines.length(
        "Chord rise, from the corners of the keyway to the top of the bore",
        "(bore − √(bore² − key width²)) / 2", "({0} − √({0}² − {1}²)) / 2", [task.bore, task.width],
        lambda across, width: (across - root(across**2 - width**2)) / 2,
    )  # fmt: skip
    lines.length(
        "Depth wanted at the wall", "crown depth + chord rise", "{} + {}", [task.depth, task.chord_rise],
        lambda depth, rise: depth + rise,
    )  # fmt: skip
    lines.length(
        "Wanted across the bore", "bore + crown depth", "{} + {}", [task.bore, task.depth],
        lambda across, depth: across + depth,
    )  # fmt: skip


def _pass(lines: Lines, task: Broaching, number: int, pieces: Sequence[Fraction]) -> None:
    stack = sum(pieces, Fraction())
    if len(pieces) > 1:
        lines.length(
            f"Pass {number}: the stack", "shims together", " + ".join("{}" for _ in pieces), pieces,
            lambda *shims: sum(shims, Fraction()),
        )  # fmt: skip
    lines.length(
        f"Pass {number}: depth from the top of the bore", "stack + rise" if pieces else "rise",
        "{} + {}" if pieces else "{}", [stack, task.rise] if pieces else [task.rise],
        lambda *parts: sum(parts, Fraction()), COMMON,
    )  # fmt: skip
    lines.length(
        f"Pass {number}: across the bore", "bore + depth so far", "{} + {}", [task.bore, stack + task.rise],
        lambda across, depth: across + depth,
    )  # fmt: skip
