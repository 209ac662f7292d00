"""Kernel room: both members of a bevel pair of parallel depth, cut with disc form cutters in three rounds."""

from collections.abc import Sequence
from fractions import Fraction

from calc.kernel.bevel_cutting_cautions import cautions
from calc.kernel.bevel_cutting_entries import Own, cutting
from calc.kernel.bevel_cutting_plans import plans_of
from calc.kernel.bevel_cutting_results import results_of
from calc.kernel.bevel_cutting_taper import Measured, taper_cautions, taper_results, taper_steps, tapers_of
from calc.kernel.bevel_cutting_working import cutting_steps, source_keys
from calc.kernel.working import Outcome

ALL_CUTTERS = (1, 2, 3, 4, 5, 6, 7, 8)


def bevel_cutting(
    *,
    teeth: int,
    mate_teeth: int,
    face_width: Fraction,
    circles: Sequence[Sequence[int]],
    module: Fraction | None = None,
    diametral_pitch: Fraction | None = None,
    shaft_angle: Fraction = Fraction(90),
    pressure_angle: Fraction = Fraction(20),
    depth_system: str | None = None,
    ratio: int = 40,
    cutters: Sequence[int] | None = None,
    mate_cut: str | None = None,
    mate_cutter: int | None = None,
    mate_roll: Fraction | None = None,
    mate_set_over: Fraction | None = None,
    mate_trim_shallower: Fraction | None = None,
    try_cutter: int | None = None,
    try_roll: Fraction | None = None,
    try_set_over: Fraction | None = None,
    try_trim_shallower: Fraction | None = None,
    mate_try_cutter: int | None = None,
    mate_try_roll: Fraction | None = None,
    mate_try_set_over: Fraction | None = None,
    mate_try_trim_shallower: Fraction | None = None,
    taper_module: Fraction | None = None,
    taper_diametral_pitch: Fraction | None = None,
    taper_thickness_large: Fraction | None = None,
    taper_thickness_small: Fraction | None = None,
    taper_mate_thickness_large: Fraction | None = None,
    taper_mate_thickness_small: Fraction | None = None,
) -> Outcome:
    """Plan the three rounds that cut each member of a bevel pair, and tell how the pair will run.

    Use it before the first cut of straight bevel gears with ordinary disc cutters on a dividing head:
    it works out the teeth that the textbook's settings leave, and looks for the settings of both members
    together, with the cutters and plates to hand, that let the pair run best.

    Parameters
    ----------
    teeth : int
        Teeth of the gear. [count] 12 to 200
    mate_teeth : int
        Teeth of the gear it runs with. [count] 12 to 200
    face_width : Fraction
        Length of the teeth along the pitch cone, at most half the cone distance of the small end, a third
        of the large. [mm] 0.5 mm to 500 mm
    circles : sequence of sequence of int
        Holes of each index circle owned, face by face; at most 100, and at most 40 on one face.
        [count] 2 to 1000
    module : Fraction, optional
        Of the cutters, so at the small end; this or the diametral pitch. [mm] 0.2 mm to 25 mm
    diametral_pitch : Fraction, optional
        Of the cutters, so at the small end; this or the module. [per inch] 1 DP to 120 DP
    shaft_angle : Fraction
        Between the two shafts where they meet; both pitch angles stay below 85 degrees. [degree] 5° to 175°
    pressure_angle : Fraction
        Pressure angle of the cutters. [degree] 14° to 30°
    depth_system : str, optional
        Whole depth in modules; by default 2.157 with a diametral pitch and 2.25 with a module.
        [-] 2.157 or 2.25 or 2.2+0.002 or 2.4
    ratio : int
        Turns of the crank for one turn of the spindle. [count] 1 to 360
    cutters : sequence of int, optional
        Numbers of the cutters owned, of the set of eight; all of them by default, at most 8. [count] 1 to 8
    mate_cut : str, optional
        How the mate is cut already, if it is: it is then held, and the gear suited to it.
        [-] textbook or as given
    mate_cutter : int, optional
        Number of the cutter a mate as given was cut with. [count] 1 to 8
    mate_roll : Fraction, optional
        Its roll each side, in turns of the crank. [-] 0.001 to 20
    mate_set_over : Fraction, optional
        Its set-over each side. [mm] 0 mm to 50 mm
    mate_trim_shallower : Fraction, optional
        How much shallower its trimming rounds were than the first. [mm] 0 mm to 10 mm
    try_cutter : int, optional
        Number of a cutter to try on the gear; what is left empty beside a setting to try is by the
        textbook. [count] 1 to 8
    try_roll : Fraction, optional
        Roll to try, each side, in turns of the crank: whole holes on a circle that indexes the gear.
        [-] 0.001 to 20
    try_set_over : Fraction, optional
        Set-over to try, each side. [mm] 0 mm to 50 mm
    try_trim_shallower : Fraction, optional
        How much shallower the trimming rounds are to be than the first. [mm] 0 mm to 10 mm
    mate_try_cutter : int, optional
        The same for the mate. [count] 1 to 8
    mate_try_roll : Fraction, optional
        The same for the mate. [-] 0.001 to 20
    mate_try_set_over : Fraction, optional
        The same for the mate. [mm] 0 mm to 50 mm
    mate_try_trim_shallower : Fraction, optional
        The same for the mate. [mm] 0 mm to 10 mm
    taper_module : Fraction, optional
        Of a thin bevel cutter, at the large end, for a plan with taper teeth besides; this or the diametral
        pitch. [mm] 0.2 mm to 25 mm
    taper_diametral_pitch : Fraction, optional
        The same as a diametral pitch. [per inch] 1 DP to 120 DP
    taper_thickness_large : Fraction, optional
        Of the gear's bevel cutter, a dedendum of the large end from its tip. [mm] 0.05 mm to 100 mm
    taper_thickness_small : Fraction, optional
        The same at the small end. [mm] 0.05 mm to 100 mm
    taper_mate_thickness_large : Fraction, optional
        Of the mate's bevel cutter. [mm] 0.05 mm to 100 mm
    taper_mate_thickness_small : Fraction, optional
        The same at the small end. [mm] 0.05 mm to 100 mm

    Returns
    -------
    Outcome
        ``textbook`` [-], ``best`` [-] and ``given`` [-], the last none without settings to try. Each plan
        holds for the gear, and under ``mate`` for its mate: cutter_number, cutter_from_teeth,
        cutter_to_teeth, head_tilt_deg, depth_mm of the first round below the face of the blank,
        trim_shallower_mm, set_over_mm and roll_deg each side of the centre, roll_turns, roll_holes and
        roll_circle, index_turns, index_holes and index_circle, index_sector_holes, flank (a row to each of
        17 stations, 0 the small end and 1 the large, with left_on_mm and cut_away_mm of one flank, square
        to it), worst_left_on_mm, worst_cut_away_mm, tooth_small_mm and tooth_large_mm, one tooth straight
        across at the pitch circle as it is left; and for the pair running_error_mm, backlash_mm, below
        nought where it jams, and bearing, 0 to 1.
        ``roll_exact`` [-] and ``mate_roll_exact`` [-], whether a circle that indexes the gear gives the
        quarter of its pitch in whole holes, ``quarter_circles`` [count] and ``mate_quarter_circles``
        [count], the circles owned that do; ``quarter_missed_mm`` [millimetre] and
        ``mate_quarter_missed_mm`` [millimetre], what the nearest roll leaves on at the large end's pitch
        line, below nought what it takes too much. ``directions`` [-], a row to a round: which way the
        cutter stands, the table and the blank are moved, and the flank that is trimmed. ``blank`` [-] and
        ``mate_blank`` [-], each blank: pitch_diameter_mm, outside_diameter_mm, outside_diameter_small_mm,
        face_angle_deg, formative_teeth, crown_to_apex_mm, and the chords wanted at both ends;
        ``cone_distance_mm`` [millimetre], ``module_large_mm`` [millimetre], ``cutter_module_mm``
        [millimetre], ``whole_depth_mm`` [millimetre], ``depth_system`` [-]. ``taper`` [-], none without the
        thicknesses of a bevel cutter: head_tilt_deg, the root angle, set_over_mm and roll_wanted_deg each
        side, roll_deg as whole holes make it, roll_missed_mm at the large end, and the crank as in the
        other plans; its ``mate`` where the mate's cutter was measured.

    Raises
    ------
    OutOfRange
        An entry is outside its limits; module and diametral pitch are both given, or neither; the face is
        too long, a pitch angle 85 degrees or more; a roll to try is not whole holes on a circle that also
        indexes the gear; a mate as given without its settings, or settings of it without that.
    NoSolution
        No circle owned indexes one of the gears.

    Notes
    -----
    First round on centre to full depth, then two with the cutter set over by y and the blank rolled by a
    quarter of its pitch the same way as seen from the blank, one for each flank. Textbook: the cutter by the
    formative number, the roll a quarter of the pitch or the nearest whole holes, y = teeth * module / 2 *
    sine of the roll.
    The teeth left: a straight pass leaves the cutter's own form along the pitch element; the left flank is
    the greatest of the three rounds at every height, seen from the rolled blank. Its error is the base
    radius × (angle wanted − angle left) at the same radius of the developed back cone, the length along the
    line of action.
    Running: on spheres about the apex the flank of one gear is held against the other's at 32 steps of a
    pitch, from both sides; the driven gear stands where it clears them all. Best is the least of running
    error + 3 * play below 0.03 module + play above 0.10 + bearing below 0.95 / 10 + flank errors / 20, over
    cutters, rolls in whole holes, set-overs and shallower trims of both members, looked for in turn; it is
    never one that runs worse than the textbook's.
    Taper teeth, by a cutter of thickness T and t at the two ends, are another method on another blank:
    set-over = (T - R / F * (T - t)) / 2, roll = (half the circular pitch - R / F * (T - t)) / pitch diameter
    in radians, R the cone distance and F the face.

    Examples
    --------
    >>> bevel_cutting(teeth=20, mate_teeth=20, module=2, face_width=9, circles=[[20]]).results["roll_exact"]
    True

    Sources
    -------
    gear_rules, parallel depth, set-over and roll, and the model, derived here. gear_textbooks, pitch angles
    and formative teeth. milling1914, p. 149: ranges of the cutters.

    Checks
    ------
    gear_rules#bevel-cutting-20-30, gear_rules#bevel-cutting-20-40
    """
    question = cutting(
        teeth=teeth,
        mate_teeth=mate_teeth,
        shaft_angle=Fraction(shaft_angle),
        module=module,
        diametral_pitch=diametral_pitch,
        face_width=Fraction(face_width),
        pressure_angle=Fraction(pressure_angle),
        depth_system=depth_system,
        ratio=ratio,
        circles=circles,
        cutter_numbers=ALL_CUTTERS if cutters is None else cutters,
        mate_cut=mate_cut,
        owns=(
            Own("mate_", mate_cutter, mate_roll, mate_set_over, mate_trim_shallower),
            Own("try_", try_cutter, try_roll, try_set_over, try_trim_shallower),
            Own("mate_try_", mate_try_cutter, mate_try_roll, mate_try_set_over, mate_try_trim_shallower),
        ),
    )
    plans = plans_of(question)
    tapers = tapers_of(
        Measured(
            taper_module, taper_diametral_pitch, taper_thickness_large, taper_thickness_small,
            taper_mate_thickness_large, taper_mate_thickness_small,
        ),
        like=question.cones.question,
        depth_system=depth_system,
        face_width=Fraction(face_width),
        heads=(question.head, question.mate_head),
    )  # fmt: skip
    working = (*cutting_steps(question, plans), *taper_steps(tapers))
    return Outcome(
        results=results_of(question, plans) | {"taper": taper_results(tapers)},
        working=working,
        warnings=tuple(dict.fromkeys((*cautions(question, plans), *taper_cautions(tapers)))),
        sources=source_keys(working),
    )
