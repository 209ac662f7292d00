"""Kernel room: a thread by its name: its sizes, its drills, and what it may be taken for."""

from typing import Any

from calc.kernel.threads import Thread
from calc.kernel.threads_alike import look_alikes, row_of
from calc.kernel.threads_cautions import of_thread
from calc.kernel.threads_drills import Offer, across_flats, clearance_drill, tapping_drills
from calc.kernel.threads_lines import Lines
from calc.kernel.threads_names import thread_named
from calc.kernel.threads_working import engagement, part_text, sizes
from calc.kernel.wording import plain_number
from calc.kernel.working import Outcome


def thread(*, thread: str) -> Outcome:
    """The sizes of a thread of a named series, its tapping and clearance drills, and its look-alikes.

    Parameters
    ----------
    thread : str
        The thread as it is written: ``1/4 BSF``, ``M6x1``, ``2 BA``, ``1/4x40 ME``, ``10-32 UNF``,
        ``1/4 BSP``. A name that may mean two threads is refused, and the readings are named. [-]

    Returns
    -------
    Outcome
        ``series`` [-]; ``threads_per_inch`` [count], none where the series goes by the pitch;
        ``pitch_mm`` [millimetre]; ``flank_angle_deg`` [degree]; ``major_diameter_mm`` [millimetre],
        ``pitch_diameter_mm`` [millimetre], ``minor_diameter_mm`` [millimetre] of the nut,
        ``root_diameter_mm`` [millimetre] of the screw; ``thread_depth_mm`` [millimetre] of the screw;
        ``crest_radius_mm`` [millimetre], none where crests are flat; ``tapping_drill`` [-],
        ``tapping_drill_mm`` [millimetre], ``engagement_percent`` [percent] on ``engagement_base`` [-]
        pitches, ``engagement_other_percent`` [percent] on ``engagement_other_base`` [-], none where one
        base is in use; ``tapping_drills`` [-], every one offered; ``clearance_drill`` [-] and
        ``clearance_drill_mm`` [millimetre], none above the largest drill; ``spanner_mm`` [millimetre],
        from memory, none where not known; ``look_alikes`` [-].

    Raises
    ------
    OutOfRange
        The name can be read in two ways, or gives no series.
    NotInTable
        There is no such thread in the tables.

    Notes
    -----
    Whitworth form: depth 0.640327 of the pitch, flanks 55 degrees; British Standard Pipe rounds the depth
    to 0.001 mm first. BA: depth 0.6, 47.5 degrees. ISO and Unified, 60 degrees: pitch diameter
    D - 0.649519 p, minor diameter of the nut D - 1.082532 p, root of the screw D - 1.226869 p.
    Engagement = 100 (D - drill) / (k p): k 1.280654 Whitworth form, 1.2 BA, 1.082532 ISO and Unified,
    with the older 1.299038 beside it. A drill below the minor diameter is never offered.

    Examples
    --------
    >>> round(thread(thread="2 BA").results["minor_diameter_mm"], 3)
    3.728

    Sources
    -------
    bs84, BSW, BSF and BSB. bs93, BA. iso228, BSP. me_threads, ME. unified, UNC and UNF.
    iso_metric, metric.
    thread_pairs, look-alikes. thread_misprints, drills refused. spanners, from memory.

    Checks
    ------
    bs84#bsw-1-4, bs84#bsw-5-16-depth, threads_derived#ba-2, threads_derived#me-1-4-40,
    iso228#bsp-3-8
    """
    found = thread_named(thread)
    offers, alike = tapping_drills(found), look_alikes(found)
    lines = Lines(found.unit)
    sizes(lines, found)
    engagement(lines, found, offers[0].drill, found.form.full)
    if found.form.other is not None:
        engagement(lines, found, offers[0].drill, found.form.other)
    results = _sizes(found) | _drills(found, offers)
    results["look_alikes"] = [row_of(one) for one in alike]
    return Outcome(
        results=results,
        working=tuple(lines.steps),
        warnings=tuple(of_thread(found, alike)),
        sources=sources(found),
    )


def sources(thread: Thread) -> tuple[str, ...]:
    """The sources a sum about this thread rests on."""
    return (thread.source, "drills", "thread_misprints", "thread_pairs", "spanners")


def _sizes(thread: Thread) -> dict[str, Any]:
    radius = thread.form.radius
    return {
        "series": thread.series,
        "threads_per_inch": None if thread.tpi is None else plain_number(thread.tpi),
        "pitch_mm": float(thread.pitch),
        "flank_angle_deg": float(thread.form.angle_deg),
        "major_diameter_mm": float(thread.major),
        "pitch_diameter_mm": float(thread.pitch_diameter),
        "minor_diameter_mm": float(thread.core),
        "root_diameter_mm": float(thread.root),
        "thread_depth_mm": float(thread.depth),
        "crest_radius_mm": None if radius is None else float(radius * thread.pitch),
    }


def _drills(thread: Thread, offers: list[Offer]) -> dict[str, Any]:
    """The drill to use, every one offered, the clearance drill and the spanner."""
    rows = [offer_row(thread, offer) for offer in offers]
    clear, flats = clearance_drill(thread), across_flats(thread)
    other = thread.form.other
    return {
        "tapping_drill": rows[0]["drill"],
        "tapping_drill_mm": rows[0]["drill_mm"],
        "engagement_percent": rows[0]["engagement_percent"],
        "engagement_base": part_text(thread.form.full),
        "engagement_other_percent": rows[0]["engagement_other_percent"],
        "engagement_other_base": None if other is None else part_text(other),
        "tapping_drills": rows,
        "clearance_drill": None if clear is None else clear.drill.name,
        "clearance_drill_mm": None if clear is None else float(clear.drill.mm),
        "spanner_mm": None if flats is None else float(flats[0]),
    }


def offer_row(thread: Thread, offer: Offer) -> dict[str, Any]:
    """A drill as the results hold it, with what it leaves of the thread on each base in use."""
    other = thread.form.other
    return {
        "drill": offer.drill.name,
        "drill_mm": float(offer.drill.mm),
        "engagement_percent": float(thread.engagement(offer.drill.mm)),
        "engagement_other_percent": None
        if other is None
        else float(thread.engagement(offer.drill.mm, other)),
        "use": offer.use,
        "origin": offer.origin,
    }
