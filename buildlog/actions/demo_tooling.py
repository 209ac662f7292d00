"""The demo's dividing heads and gear cutters: lent to a builder who has none, and taken back unchanged."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.contrib.auth.models import User
from django.db import models

from buildlog.actions.demo_files import rows
from buildlog.models import DividingHead, GearCutter, IndexPlate, Numbering


@dataclass(frozen=True)
class Head:
    """A dividing head of the demo with all that is on it, as values to write or to compare."""

    name: str
    ratio: int
    direct_circles: str
    change_gears: str
    is_usual: bool
    plates: tuple[tuple[str, str, str], ...]


def load_tooling(owner: User) -> bool:
    """The demo's heads and cutters, unless the builder has a head of their own."""
    if DividingHead.objects.filter(owner=owner).exists():
        return False
    for head in _demo_heads():
        made = DividingHead.objects.create(
            owner=owner,
            name=head.name,
            ratio=head.ratio,
            direct_circles=head.direct_circles,
            change_gears=head.change_gears,
            is_usual=head.is_usual,
        )
        IndexPlate.objects.bulk_create(
            IndexPlate(head=made, name=name, first_face=first, second_face=second)
            for name, first, second in head.plates
        )
    for values in _demo_cutters():
        GearCutter.objects.create(owner=owner, **values)
    return True


def remove_tooling(owners: list[int]) -> None:
    """Heads and cutters go that still are as the demo brought them; a changed one is the builder's own."""
    heads, cutters = _demo_heads(), _demo_cutters()
    _delete_unchanged(
        DividingHead.objects.filter(owner_id__in=owners).prefetch_related("plates"),
        lambda head: _head_now(head) in heads,
    )
    _delete_unchanged(
        GearCutter.objects.filter(owner_id__in=owners),
        lambda cutter: any(all(getattr(cutter, key) == it for key, it in one.items()) for one in cutters),
    )


def _demo_heads() -> list[Head]:
    plates: dict[str, list[tuple[str, str, str]]] = {}
    for row in rows("plates.csv"):
        faces = (_circles(row["first face"]), _circles(row["second face"]))
        plates.setdefault(row["head"], []).append((row["plate"], *faces))
    return [
        Head(
            name=row["name"],
            ratio=int(row["ratio"]),
            direct_circles=_circles(row["direct plate"]),
            change_gears=_circles(row["change gears"]),
            is_usual=row["usual"] == "yes",
            plates=tuple(sorted(plates.get(row["name"], []))),
        )
        for row in rows("heads.csv")
    ]


def _circles(text: str) -> str:
    """Numbers with commas, tidied as the entries tidy them."""
    return text.replace(" ", "")


def _demo_cutters() -> list[dict[str, Any]]:
    return [
        {
            "pitch": row["pitch"],
            "pressure_angle": row["pressure angle"],
            "number": row["number"],
            "numbering": Numbering(row["numbering"]),
            "from_teeth": int(row["from teeth"]),
            "to_teeth": int(row["to teeth"]) if row["to teeth"] else None,
            "depth_marked": row["depth marked"],
            "note": row["note"],
        }
        for row in rows("cutters.csv")
    ]


def _head_now(head: DividingHead) -> Head:
    plates = tuple(sorted((plate.name, plate.first_face, plate.second_face) for plate in head.plates.all()))
    return Head(head.name, head.ratio, head.direct_circles, head.change_gears, bool(head.is_usual), plates)


def _delete_unchanged(found: "models.QuerySet[Any]", is_unchanged: Callable[[Any], bool]) -> None:
    for one in found:
        if is_unchanged(one):
            one.delete()
