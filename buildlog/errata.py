"""Questions put to errata: which part each of them flags, what became of it, where it is on the sheet."""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from django.db.models import Exists, F, OuterRef, Q, Subquery

from buildlog import clock
from buildlog.issues import by_age, issue_named
from buildlog.models import (
    Build,
    Dealing,
    Drawing,
    Erratum,
    ErratumIssue,
    ErratumPart,
    InIssue,
    Part,
    PartQuerySet,
    PartUse,
    SheetIssue,
    SheetUnits,
    Stage,
)
from buildlog.numbers import key_of

#: From a part, over its build, to the errata of the sheet that it names.
_PATH = "build__drawings__errata"
_SAYS = ("issue", "where", "as_printed", "should_be", "source", "found_on")
_OF_ERRATUM = ("pk", "number", "drawing_id", "written_at", *_SAYS)
_NOT_LOOKED_AT = "not looked at in issue {} yet"


@dataclass(frozen=True)
class Flag:
    """An erratum on one part, and how it was dealt with there."""

    erratum: Erratum
    sheet: str  # the number of the sheet
    units: str  # what the sheet is drawn in; empty where nobody said
    part: int
    key: str
    name: str
    named: str  # the issue that the part names; empty where it names none
    is_made: bool  # at a made stage, or a good one counted
    right_in: str = ""  # the issue in which it was put right
    how: Dealing | None = None  # None where nothing was written down of this part
    words: str = ""
    on: date | None = None
    by: str = ""
    concession: int | None = None
    concession_number: int | None = None

    @property
    def source(self) -> str:
        """Where it is and who says so: `Sheet 7, inches, own layout, 14 Mar`."""
        units = SheetUnits(self.units).label if self.units else ""
        return ", ".join(filter(None, (f"Sheet {self.sheet}", units, self.erratum.known)))

    @property
    def follows(self) -> bool:
        """Whether the part names an issue that is right, or none: it is then worked to the last."""
        if not self.right_in:
            return False
        return not self.named or by_age(self.named) >= by_age(self.right_in)

    @property
    def is_open(self) -> bool:
        """Whether the part has still to be looked at for it."""
        return not self.follows if self.how is None else self.how is Dealing.OPEN

    @property
    def is_check(self) -> bool:
        return self.is_open and self.is_made

    @property
    def is_to_make(self) -> bool:
        """Noted on a part that is not made yet: what it should be is still to be worked to."""
        return self.how is Dealing.TO_MAKE and not self.is_made

    @property
    def state(self) -> str:
        """How it stands with the part, in words."""
        if self.is_open:
            return "made to the sheet as printed: check" if self.is_made else "check before you cut"
        if self.how is None:
            return f"put right in issue {self.right_in}"
        return self.dealt

    @property
    def dealt(self) -> str:
        """What was done, and when: `remade 14 Mar: new pair, 2.435`."""
        done = (self.how or Dealing.OPEN).label
        if self.concession_number:
            done = f"{done}, C-{self.concession_number:03}"
        day = clock.day_words(self.on, clock.today()) if self.on else ""
        said = " ".join(filter(None, (done[:1].lower() + done[1:], day)))
        return f"{said}: {self.words}" if self.words else said

    @property
    def mark(self) -> str:
        if self.is_open:
            return "err"
        return "care" if self.is_to_make else "ok"

    @property
    def short(self) -> str:
        """As it stands in a list of parts: `E-001: check`."""
        return f"{self.erratum.key}: {'check' if self.is_made else 'see it before you cut'}"


def flags_of(part: Part) -> list[Flag]:
    """Every erratum of the sheet a part names, those not dealt with first; in one query, or none."""
    if not part.sheet_number:
        return []
    return _told(Part.objects.filter(pk=part.pk))


def flags_on(erratum: Erratum) -> list[Flag]:
    """The parts an erratum reaches, those not dealt with first: live ones of its sheet, in one query."""
    parts = Part.objects.live().filter(build=erratum.build_id)
    flags = _told(parts.filter(**{_PATH: erratum.pk}), erratum=erratum.pk)
    return [replace(flag, erratum=erratum) for flag in flags]


def flags_of_drawing(drawing: Drawing) -> list[Flag]:
    """Every erratum of a sheet with every live part of it, in one query."""
    parts = Part.objects.live().filter(build=drawing.build_id, sheet_number=drawing.number)
    return _told(parts)


def flags_by_part(build: Build, parts: Iterable[int] | None = None) -> dict[int, list[Flag]]:
    """The errata that live parts have still to be looked at for, by the part, in one query.

    `parts` narrows it to those that a page shows.
    """
    live = Part.objects.live().filter(build=build)
    found: dict[int, list[Flag]] = defaultdict(list)
    for flag in _flags(live if parts is None else live.filter(pk__in=list(parts)), {}):
        if flag.is_open:
            found[flag.part].append(flag)
    return dict(found)


def errata_open_by_part(build: Build) -> set[int]:
    """The live parts that an erratum still flags, in one query."""
    return set(flags_by_part(build))


def counts_by_assembly(build: Build) -> dict[int, int]:
    """How many errata still flag a part of each assembly, in two queries; those with none are left out."""
    flags = flags_by_part(build)
    if not flags:
        return {}
    found: dict[int, set[int]] = defaultdict(set)
    for assembly, part in PartUse.objects.filter(part__in=flags).values_list("assembly", "part"):
        found[assembly].update(flag.erratum.pk for flag in flags[part])
    return {assembly: len(errata) for assembly, errata in found.items()}


def _told(parts: PartQuerySet, erratum: int | None = None) -> list[Flag]:
    """Flags with all that was written down of them, the open ones first, then the latest erratum."""
    dealt = ErratumPart.objects.filter(erratum=OuterRef(_PATH), part=OuterRef("pk"))
    names = {"words": "words", "on": "on", "by": "by__username", "concession": "concession",
             "concession_number": "concession__number"}  # fmt: skip
    more = {f"dealt_{name}": Subquery(dealt.values(path)[:1]) for name, path in names.items()}
    flags = _flags(parts, more, erratum)
    return sorted(flags, key=lambda flag: (not flag.is_open, not flag.is_to_make, -flag.erratum.number))


def _flags(parts: PartQuerySet, more: dict[str, Any], erratum: int | None = None) -> list[Flag]:
    """Each part beside each erratum of its sheet that was not struck out, in the order of the parts."""
    dealt = ErratumPart.objects.filter(erratum=OuterRef(_PATH), part=OuterRef("pk"))
    right = ErratumIssue.objects.filter(erratum=OuterRef(_PATH), state=InIssue.RIGHT)
    # One filter for all of it, so that it is one and the same erratum that is asked about.
    asked: dict[str, Any] = {
        "build__drawings__number": F("sheet_number"),
        f"{_PATH}__isnull": False,
        f"{_PATH}__struck_at": None,
    }
    if erratum is not None:
        asked[f"{_PATH}__pk"] = erratum
    rows = parts.filter(**asked).order_by("number_key", "hand", f"{_PATH}__number")
    rows = rows.annotate(
        e_how=Subquery(dealt.values("how")[:1]),
        e_right=Subquery(right.order_by("issue__recorded_at", "issue").values("issue__issue")[:1]),
        **more,
    )
    told = {f"e_{name}": F(f"{_PATH}__{name}") for name in _OF_ERRATUM}
    told["e_units"] = F(f"{_PATH}__drawing__units")
    own = ("pk", "build_id", "number", "hand", "name", "sheet", "sheet_number", "stage", "good")
    return [_flag(row) for row in rows.values(*own, "e_how", "e_right", *more, **told)]


def _flag(row: dict[str, Any]) -> Flag:
    erratum = Erratum(build_id=row["build_id"], **{name: row[f"e_{name}"] for name in _OF_ERRATUM})
    return Flag(
        erratum=erratum,
        sheet=row["sheet_number"],
        units=row["e_units"],
        part=row["pk"],
        key=key_of(row["number"], row["hand"]),
        name=row["name"],
        named=issue_named(row["sheet"]),
        is_made=Stage(row["stage"]).is_made or row["good"] > 0,
        right_in=row["e_right"] or "",
        how=None if row["e_how"] is None else Dealing(row["e_how"]),
        words=row.get("dealt_words") or "",
        on=row.get("dealt_on"),
        by=row.get("dealt_by") or "",
        concession=row.get("dealt_concession"),
        concession_number=row.get("dealt_concession_number"),
    )


# ---- issues ----------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Line:
    """An erratum in a list: what its parts still want, and whether it is in the issue worked to."""

    erratum: Erratum
    check: int  # parts made to the sheet as printed
    to_see: int  # parts that are not made yet
    in_issue: str  # in words; empty where no later issue has come
    asks: str  # the issue in which it was not looked at yet

    @property
    def is_settled(self) -> bool:
        return not self.check and not self.to_see

    @property
    def state(self) -> str:
        """`1 to check, 2 to see before they are cut`, or that none is left."""
        if self.erratum.struck_at:
            return "struck out"
        words = [
            f"{self.check} made: check" if self.check else "",
            f"{self.to_see} not made yet" if self.to_see else "",
        ]
        return ", ".join(filter(None, words)) or "dealt with on every part"


def lines_of(build: Build, drawing: Drawing | None = None, flags: Iterable[Flag] | None = None) -> list[Line]:
    """The errata of a build or of one sheet, those that want something first; in two queries."""
    found = Erratum.objects.filter(build=build).select_related("drawing")
    if drawing is not None:
        found = found.filter(drawing=drawing)
    if flags is None:
        flags = [flag for of_part in flags_by_part(build).values() for flag in of_part]
    check, to_see = Counter[int](), Counter[int]()
    for flag in flags:
        if flag.is_open:
            (check if flag.is_made else to_see)[flag.erratum.pk] += 1
    lines = [_line(one, check[one.pk], to_see[one.pk]) for one in with_issues(found)]
    return sorted(lines, key=lambda line: (bool(line.erratum.struck_at), not line.asks, line.is_settled))


def with_issues(errata: Any) -> Any:
    """Each erratum with the last issue of its sheet, and what was seen in it and before."""
    issues = SheetIssue.objects.filter(drawing=OuterRef("drawing")).order_by("-recorded_at", "-pk")
    looks = ErratumIssue.objects.filter(erratum=OuterRef("pk"))
    right = looks.filter(state=InIssue.RIGHT).order_by("issue__recorded_at", "issue")
    return errata.annotate(
        last_issue=Subquery(issues.values("issue")[:1]),
        seen_in_last=Exists(looks.filter(issue__issue=OuterRef("last_issue"))),
        right_in=Subquery(right.values("issue__issue")[:1]),
    )


def issue_asked(erratum: Any) -> str:
    """The issue in which an erratum was not looked at yet, of one that `with_issues` gave; or empty."""
    last = erratum.last_issue or ""
    if erratum.struck_at or erratum.right_in or erratum.seen_in_last or by_age(last) <= by_age(erratum.issue):
        return ""
    return str(last)


def _line(erratum: Any, check: int, to_see: int) -> Line:
    asks = issue_asked(erratum)
    if asks:
        words = _NOT_LOOKED_AT.format(asks)
    elif erratum.right_in:
        words = f"put right in issue {erratum.right_in}"
    else:
        words = f"still in issue {erratum.last_issue}" if erratum.seen_in_last else ""
    return Line(erratum, check, to_see, words, asks)


# ---- the spot on the sheet -------------------------------------------------------------------------------


def pins_of(drawing: Drawing, sha256: str, page: int) -> list[dict[str, Any]]:
    """The errata that are pinned to one page of a file of a sheet, each with its spot, 0 to 1 each way.

    One that was pinned to no file in particular is on that page of every file of the sheet.
    """
    errata = drawing.errata.filter(Q(file=sha256) | Q(file=""), struck_at=None, page=page)
    right = Exists(ErratumIssue.objects.filter(erratum=OuterRef("pk"), state=InIssue.RIGHT))
    return [
        {
            "number": one.key,
            "x": one.x,
            "y": one.y,
            "words": one.words,
            "url": one.get_absolute_url(),
            "mark": "ok" if one.is_right else "err",
        }
        for one in errata.exclude(x=None).exclude(y=None).order_by("number").annotate(is_right=right)
    ]
