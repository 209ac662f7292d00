"""Pictures of a bevel pair's cutting, from the settings that came out: spaces, rounds, the pair in mesh."""

from collections.abc import Mapping
from math import cos, pi, radians, sin
from typing import Any

from calc.answers.shapes import Case
from calc.answers.spur_gear import unit_of
from calc.kernel.bevel_cutting_section import (
    Member,
    Settings,
    cutter_edge,
    judged_radii,
    round_angles,
    wanted_half_angle,
)
from calc.sheets import Picture

#: Points along a flank; enough for a smooth line and few enough to be kept with a sum.
POINTS = 25
STATIONS = (0.0, 0.5, 1.0)
#: What a drawing keeps of a size [mm] and of an angle [radian].
PLACES, ANGLE_PLACES = 4, 6
WORDS = (
    ("First: on centre", "table and blank on centre"),
    ("Second: trims the left flank", "table left, blank’s top right"),
    ("Third: trims the right flank", "table right, blank’s top left"),
)


def pictures_of(case: Case, plan: Mapping[str, Any]) -> list[Picture]:
    """The rounds, the blanks with their angles, the spaces of both members, the pair in mesh."""
    teeth, mate_teeth = case.inputs["teeth"], case.inputs["mate_teeth"]
    gear, mate = (_sections(case, way, count) for way, count in ((plan, teeth), (plan["mate"], mate_teeth)))
    return [
        {
            "kind": "bevel-rounds",
            "figures": _rounds(case, plan),
            "strong": f"The three rounds of the {teeth}",
            "text": "seen along the feed from the small end; dashed, the space of the first round as rolled",
            "wide": True,
        },
        _blanks(case),
        _space(gear, teeth),
        _space(mate, mate_teeth),
        {
            "kind": "bevel-mesh",
            "figures": {"gear": gear, "mate": mate, "teeth": teeth, "mate_teeth": mate_teeth},
            "strong": "The pair in mesh",
            "text": "on the back cones; what departs from the wanted flank is drawn ten times",
            "wide": True,
        },
    ]


def _blanks(case: Case) -> Picture:
    """Both blanks in section: of one depth, so face, pitch cone and floor are parallel."""
    plan, results, inputs = case.results["best"], case.results, case.inputs
    module = float(results["cutter_module_mm"])
    angles = [float(one["head_tilt_deg"]) for one in (plan, plan["mate"])]
    figures: dict[str, Any] = {
        "teeth": inputs["teeth"],
        "mate_teeth": inputs["mate_teeth"],
        "pitch_angle": angles[0],
        "mate_pitch_angle": angles[1],
        "cone_distance": float(results["cone_distance_mm"]),
        "face_width": float(inputs["face_width"]),
        "addendum": module,
        "dedendum": float(results["whole_depth_mm"]) - module,
        "angles": [[angle, angle, 90 - angle] for angle in angles],
        "is_parallel": True,
        "unit": unit_of(inputs),
    }
    return {
        "kind": "bevel-pair",
        "figures": figures,
        "strong": "The blanks in section",
        "text": "angles from each gear’s own axis; drawn to scale, hubs and bores left out",
        "wide": True,
        "hatches": ["ci"],
    }


def _space(sections: list[dict[str, Any]], teeth: int) -> Picture:
    return {
        "kind": "bevel-spaces",
        "figures": {"sections": sections, "teeth": teeth},
        "strong": f"Tooth space of the {teeth}",
        "text": "on the back cones, drawn to scale; the departure ten times",
        "wide": True,
    }


def member_of(case: Case, way: Mapping[str, Any], teeth: int) -> Member:
    """A member as the model has it, in modules of its cutter."""
    module = float(case.results["cutter_module_mm"])
    angle = radians(way["head_tilt_deg"])
    return Member(
        teeth=teeth,
        cosine=cos(angle),
        sine=sin(angle),
        face=float(case.inputs["face_width"]) / module,
        pressure_angle=radians(float(case.inputs["pressure_angle"])),
        depth=float(case.results["whole_depth_mm"]) / module,
    )


def settings_of(case: Case, way: Mapping[str, Any]) -> Settings:
    """Its settings, in modules and radians."""
    module = float(case.results["cutter_module_mm"])
    return Settings(
        cutter_teeth=int(way["cutter_from_teeth"]),
        roll=radians(way["roll_deg"]),
        set_over=way["set_over_mm"] / module,
        shallower=way["trim_shallower_mm"] / module,
    )


def _sections(case: Case, way: Mapping[str, Any], teeth: int) -> list[dict[str, Any]]:
    member, settings = member_of(case, way, teeth), settings_of(case, way)
    module = float(case.results["cutter_module_mm"])
    return [_section(member, settings, station, module) for station in STATIONS]


def _section(member: Member, settings: Settings, station: float, module: float) -> dict[str, Any]:
    """One section: the flank wanted, the one left, and what each round alone would leave."""
    pitch_radius = member.distance(station) * member.sine / member.cosine
    low, high = pitch_radius + 1 - member.depth, pitch_radius + 1
    radii = [low + (high - low) * step / (POINTS - 1) for step in range(POINTS)]
    angles = round_angles(member, settings, station, radii)

    def line(found: list[tuple[float, float]]) -> list[list[float]]:
        return [
            [round(angle, ANGLE_PLACES), round(radius * module, PLACES)]
            for angle, radius in found
            if angle > 0
        ]

    return {
        "pitch_radius": round(pitch_radius * module, PLACES),
        "pitch": round(pi * module * member.distance(station) / member.small_distance, PLACES),
        "working": round(judged_radii(member, station)[0] * module, PLACES),
        "wanted": line([(wanted_half_angle(member, station, radius), radius) for radius in radii]),
        "left": line([(max(left), radius) for left, radius in zip(angles, radii, strict=True)]),
        "rounds": [
            line([(left[place], radius) for left, radius in zip(angles, radii, strict=True)])
            for place in range(3)
        ],
    }


def _rounds(case: Case, way: Mapping[str, Any]) -> dict[str, Any]:
    member, settings = member_of(case, way, case.inputs["teeth"]), settings_of(case, way)
    module = float(case.results["cutter_module_mm"])
    edge = cutter_edge(settings.cutter_teeth, member.pressure_angle, member.depth, POINTS)
    return {
        "cutter": [[round(across * module, PLACES), round(up * module, PLACES)] for across, up in edge],
        "stands": [
            {
                "set_over": round(over * module, PLACES),
                "lift": round(lift * module, PLACES),
                "roll": round(roll * member.cosine, ANGLE_PLACES),
            }
            for over, lift, roll in settings.rounds()
        ],
        "pitch_radius": round(member.formative / 2 * module, PLACES),
        "pitch": round(pi * module, PLACES),
        "addendum": round(module, PLACES),
        "words": [list(one) for one in WORDS],
    }
