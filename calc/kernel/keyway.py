"""Kernel room: parallel, taper and Woodruff keys and their keyways, by the standards."""

from fractions import Fraction
from typing import Any

from calc.kernel.keyway_cautions import cautions
from calc.kernel.keyway_depths import Side, chord_rise, sides, with_iso_widths
from calc.kernel.keyway_entries import TAPER, WOODRUFF, Keyway, keyway_of
from calc.kernel.keyway_keys import TAPER_ONE_IN, Key, Limits, key_in_use
from calc.kernel.keyway_woodruff import Woodruff, woodruff_in_use
from calc.kernel.keyway_working import SOURCE_KEYS, woodruff_lines, working
from calc.kernel.working import Outcome

PLACES = ("shaft", "hub")
MEASURES = ("side_depth", "crown_depth", "over_work")


def keyway(
    *,
    shaft_diameter: Fraction,
    standard: str,
    kind: str = "parallel",
    section: str = "preferred",
    fit: str = "usual",
    key_width: Fraction | None = None,
    key_number: Fraction | None = None,
    bore_measured: Fraction | None = None,
) -> Outcome:
    """The key for a shaft, and its keyway in shaft and hub by every datum, with limits.

    Use the sizes over the work at the machine: they are the only ones a micrometer reads directly.

    Parameters
    ----------
    shaft_diameter : Fraction
        Nominal diameter of the shaft; it picks the key. [mm] 6 mm to 279.4 mm
    standard : str
        Whose table. [-] bs46 or b17.1 or iso773
    kind : str
        Kind of key. [-] parallel or taper or woodruff
    section : str
        Section of the key; what the standard prefers unless named. [-] preferred or square or rectangular
    fit : str
        Class of fit. The usual one is normal by ISO 773, 1 by B17.1, and BS 46 has none.
        [-] usual or free or normal or close or 1
    key_width : Fraction, optional
        A key of the standard other than the shaft's own. [mm] 2 mm to 63.5 mm
    key_number : Fraction, optional
        A Woodruff key of B17.2 by its number, 404 or 202.5; asked for where a shaft takes several.
        [-] 202 to 1212
    bore_measured : Fraction, optional
        The hub's bore as it came out; the nominal picks the key all the same. [mm] 5 mm to 300 mm

    Returns
    -------
    Outcome
        ``section`` [-] and ``fit`` [-] in use; ``key_width_mm`` [millimetre], ``key_height_mm``
        [millimetre] and ``chord_rise_mm`` [millimetre]; in the shaft and the hub, each with its limits:
        ``shaft_side_depth_mm`` [millimetre], ``shaft_side_depth_min_mm`` [millimetre],
        ``shaft_side_depth_max_mm`` [millimetre], ``shaft_crown_depth_mm`` [millimetre],
        ``shaft_crown_depth_min_mm`` [millimetre], ``shaft_crown_depth_max_mm`` [millimetre],
        ``shaft_over_work_mm`` [millimetre], ``shaft_over_work_min_mm`` [millimetre],
        ``shaft_over_work_max_mm`` [millimetre], ``hub_side_depth_mm`` [millimetre],
        ``hub_side_depth_min_mm`` [millimetre], ``hub_side_depth_max_mm`` [millimetre],
        ``hub_crown_depth_mm`` [millimetre], ``hub_crown_depth_min_mm`` [millimetre],
        ``hub_crown_depth_max_mm`` [millimetre], ``hub_over_work_mm`` [millimetre],
        ``hub_over_work_min_mm`` [millimetre], ``hub_over_work_max_mm`` [millimetre]; limits of the
        keyway's width, the key's width and its length, ``shaft_width_min_mm`` [millimetre],
        ``shaft_width_max_mm`` [millimetre], ``hub_width_min_mm`` [millimetre], ``hub_width_max_mm``
        [millimetre], ``key_width_min_mm`` [millimetre], ``key_width_max_mm`` [millimetre],
        ``length_min_mm`` [millimetre], ``length_max_mm`` [millimetre]; ``key_height_min_mm``
        [millimetre], ``key_height_max_mm`` [millimetre]; of a taper key ``taper_one_in`` [count]; of a
        Woodruff key ``key_number`` [-], ``key_diameter_mm`` [millimetre] and ``key_flat_mm``
        [millimetre]. None where nothing was read.

    Raises
    ------
    OutOfRange
        An entry is outside its limits, or does not belong to the standard.
    NotInTable
        The standard has no key for the shaft, or none of the width entered.
    NoSolution
        It has a key for the shaft, but none of the section or kind asked for, or that was not read.

    Notes
    -----
    Ranges of shafts are over (exclusive) to up to (inclusive), compared exactly.
    Chord rise a = (D - sqrt(D^2 - W^2)) / 2. Crown depth = side depth + a in the shaft, side
    depth - a in the hub. Over the work = shaft - crown depth, bore + crown depth.
    B17.1 tables the side depth, H / 2, and the hub has 0.005 in more; BS 46 and ISO 773 table the
    crown depth (H and h; t1 and t2). The plain name of a depth is its lower limit.
    ``bore_measured`` goes into the rise and the sizes of the hub; ``chord_rise_mm`` is then that of the
    bore, and the shaft's sizes stay those of the shaft.
    A taper key of B17.1 slopes 1/8 in to the foot on one face alone; its hub depth is that of the deep
    end, H / 2 - 0.020 in at the wall. A Woodruff keyseat is C least - W / 2 deep at the wall of the
    shaft and W / 2 + 0.006 in of the hub, but where the depth itself was read, that stands.
    Widths by ISO 773: H9 and D10 free, N9 and JS9 normal, P9 and P9 close; the key h9.

    Examples
    --------
    >>> round(keyway(shaft_diameter=Fraction(25.4), standard="b17.1").results["hub_over_work_mm"] / 25.4, 3)
    1.114

    Sources
    -------
    b17_1, sizes, tolerances, depth control.
    b17_2, Woodruff keys. bs46, square and three rectangular parallel keys. iso773, parallel keys, high form.
    iso286, limits of width.

    Checks
    ------
    b17_2#404, b17_1#taper-1-square, b17_1#depth-1-1-8-square, b17_1#depth-2-1-4-rectangular,
    b17_1#crown-1, bs46#over-1-1-8, iso773#rise-30
    """
    task = keyway_of(
        shaft_diameter=shaft_diameter, standard=standard, kind=kind, section=section, fit=fit,
        key_width=key_width, key_number=key_number, bore_measured=bore_measured,
    )  # fmt: skip
    moon, key = _chosen(task)
    if standard == "iso773":
        key = with_iso_widths(key, task.fit)
    both = sides(task, key)
    return Outcome(
        results=_results(task, key, both) | _kind_results(task, key, moon),
        working=tuple(working(task, key, both) if moon is None else woodruff_lines(task, moon, key, both)),
        warnings=tuple(cautions(task, key, has_depths=both is not None, moon=moon)),
        sources=SOURCE_KEYS[standard] if moon is None else ("b17_2",),
    )


def _chosen(task: Keyway) -> tuple[Woodruff | None, Key]:
    """The key, and what is a Woodruff key’s own where it is one."""
    if task.kind == WOODRUFF and task.standard == "b17.1":
        return woodruff_in_use(task)
    return None, key_in_use(task)


def _kind_results(task: Keyway, key: Key, moon: Woodruff | None) -> dict[str, Any]:
    """What is asked of one kind of key alone; none for the others."""
    return {
        "section": None if moon else key.section,
        "taper_one_in": TAPER_ONE_IN if task.kind == TAPER else None,
        "key_number": moon.number if moon else None,
        "key_diameter_mm": float(moon.diameter) if moon else None,
        "key_flat_mm": float(moon.flat) if moon else None,
        **_limit_results("key_height", moon.height if moon else key.key_height),
    }


def _results(task: Keyway, key: Key, both: tuple[Side, Side] | None) -> dict[str, Any]:
    results: dict[str, Any] = {
        "section": key.section,
        "fit": task.fit or None,
        "key_width_mm": float(key.width),
        "key_height_mm": float(key.height),
        "chord_rise_mm": float(chord_rise(task.bore, key.width)),
    }
    for place, side in zip(PLACES, both or (None, None), strict=True):
        results |= _side_results(place, side)
    widths = (("shaft_width", key.shaft_width), ("hub_width", key.hub_width), ("key_width", key.key_width))
    for name, limits in (*widths, ("length", key.length)):
        results |= _limit_results(name, limits)
    return results


def _side_results(place: str, side: Side | None) -> dict[str, float | None]:
    """Each depth as worked to, least and most; a depth of nothing read is none, never nought."""
    if side is None:
        return {f"{place}_{one}{end}_mm": None for one in MEASURES for end in ("", "_min", "_max")}
    plain = {"side_depth": side.side, "crown_depth": side.crown, "over_work": side.over}
    limits = {
        "side_depth": Limits(side.side, side.side_max),
        "crown_depth": Limits(side.crown, side.crown_max),
        "over_work": side.over_limits,
    }
    results: dict[str, float | None] = {}
    for measure in MEASURES:
        results[f"{place}_{measure}_mm"] = float(plain[measure])
        results |= _limit_results(f"{place}_{measure}", limits[measure])
    return results


def _limit_results(name: str, limits: Limits | None) -> dict[str, float | None]:
    return {
        f"{name}_min_mm": None if limits is None else float(limits.low),
        f"{name}_max_mm": None if limits is None else float(limits.high),
    }
