"""The parts list on paper, assembly by assembly."""

from collections import defaultdict

from django.utils.formats import date_format

from buildlog import clock
from buildlog.materials import HATCHES, hatch_name
from buildlog.models import Assembly, Build, Part
from calc.pdf import render_parts_list
from calc.sheets import PartGroup, PartRow, PartsListSheet, TitleBlock

DASH = "—"


def parts_list_pdf(build: Build, *, by: str) -> bytes:
    return render_parts_list(parts_list_sheet(build, by=by))


def parts_list_sheet(build: Build, *, by: str) -> PartsListSheet:
    """What the printed list says, already worded; four queries, whatever its length."""
    parts = list(build.parts.live().with_needed().prefetch_related("uses"))
    of_assembly: dict[int | None, list[Part]] = defaultdict(list)
    for part in parts:
        uses = list(part.uses.all())
        for use in uses:
            of_assembly[use.assembly_id].append(part)
        if not uses:
            of_assembly[None].append(part)
    groups = [_group(assembly, of_assembly[assembly.pk]) for assembly in build.assemblies.all()]
    if of_assembly[None]:
        groups.append(_group(None, of_assembly[None]))
    seen = {part.hatch for part in parts}
    return {
        "title": "Parts list",
        "scope": f"All {len(parts)} part records of {build.name}",
        "groups": [group for group in groups if group["rows"]],
        "hatches": [(code, hatch_name(code)) for code, _, _ in HATCHES if code in seen],
        "title_block": _title_block(build, by),
    }


def _group(assembly: Assembly | None, parts: list[Part]) -> PartGroup:
    made = sum(part.stage_mark.is_made for part in parts)
    return {
        "balloon": (assembly.balloon if assembly else "") or DASH,
        "name": str(assembly) if assembly else "Used in no assembly yet",
        "note": f"{len(parts)} {'part' if len(parts) == 1 else 'parts'}, {made} made",
        "rows": [_row(part) for part in parts],
    }


def _row(part: Part) -> PartRow:
    measure = part.size.measure if part.size else None
    return {
        "key": part.key,
        "hand": part.hand,
        "name": part.name,
        "kind": part.kind,
        "material": part.material,
        "hatch": part.hatch,
        "size": part.leading_size,
        "converted": measure.converted() if measure else "",
        "count": f"{part.good} / {part.needed}",
        "stage": part.stage_mark.place,
        "stage_word": str(part.stage_mark.label),
        "sheet": part.sheet,
        "casting": part.casting_number,
    }


def _title_block(build: Build, by: str) -> TitleBlock:
    return {
        "build": build.scale_text,
        "kind": "Parts list",
        "number": DASH,
        "title": f"{build.name}, parts list",
        "scale": DASH,
        "date": date_format(clock.today(), "j M Y"),
        "issue": DASH,
        "units": "as typed, converted beside it",
        "by": by,
    }
