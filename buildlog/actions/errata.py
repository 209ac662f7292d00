"""Errata as verbs: written down, dealt with part by part, looked at in a new issue, struck out."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db import transaction
from django.db.models import Max

from buildlog import clock
from buildlog.actions.stages import note_history
from buildlog.actions.tokens import written_with
from buildlog.changes import Doer, recording, row_of
from buildlog.errata import flags_of, flags_of_drawing, flags_on
from buildlog.issues import by_age
from buildlog.made import concession_named
from buildlog.models import (
    Build,
    Concession,
    Dealing,
    Drawing,
    Erratum,
    ErratumIssue,
    ErratumPart,
    InIssue,
    Part,
    SheetIssue,
)

#: What can be said only of a part that is made, and what only of one that is not.
OF_A_MADE_PART = (Dealing.REMADE, Dealing.MADE_RIGHT)


class ErratumRefusedError(ValueError):
    """What cannot be written of an erratum; `field` names the entry."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


@transaction.atomic
def write_erratum(
    drawing: Drawing,
    said: Mapping[str, Any],
    untouched: Iterable[int] = (),
    *,
    token: UUID,
    by: Doer,
) -> Erratum:
    """Number an erratum and write it down; the same token gives the one that was written with it.

    Every live part of the sheet is flagged by it, but for those it does not touch.

    Raises
    ------
    PermissionError
        The token belongs to an erratum of another build.
    ErratumRefusedError
        It was found on an issue that the register has not.
    """
    # The build is held first: of two clicks at once the second finds the erratum of the first.
    build = Build.objects.select_for_update().get(pk=drawing.build_id)
    there = written_with(token, Erratum, build_id=build.pk)
    if there:
        return there
    _check_issue(drawing, said["issue"])
    with recording(build, f"Sheet {drawing.number}: erratum written", by=by) as change:
        erratum = Erratum.objects.create(
            build=build,
            drawing=drawing,
            number=(build.errata.aggregate(last=Max("number"))["last"] or 0) + 1,
            written_at=clock.now(),
            written_by_id=_pk(by),
            checked_by_id=_pk(by) if said["checked_on"] else None,
            token=token,
            **said,
        )
        change.came(erratum)
        change.watch(erratum.parts.all())
        parts = Part.objects.live().filter(build=build, sheet_number=drawing.number, pk__in=list(untouched))
        ErratumPart.objects.bulk_create(
            ErratumPart(erratum=erratum, part=part, how=Dealing.NOT_AFFECTED, on=clock.today(), by_id=_pk(by))
            for part in parts
        )
        return erratum


@transaction.atomic
def change_erratum(erratum: Erratum, said: Mapping[str, Any], *, by: Doer) -> Erratum:
    """Mend what an erratum says; what was done about it on parts stays."""
    erratum = Erratum.objects.select_for_update(of=("self",)).select_related("drawing").get(pk=erratum.pk)
    _check_stands(erratum, "where")
    _check_issue(erratum.drawing, said["issue"])
    with recording(erratum.build_id, f"{erratum.key} changed", by=by) as change:
        change.watch(row_of(erratum))
        if said["checked_on"] != erratum.checked_on:
            erratum.checked_by_id = _pk(by) if said["checked_on"] else None
        for name, value in said.items():
            setattr(erratum, name, value)
        erratum.save(update_fields=[*said, "checked_by"])
        return erratum


@transaction.atomic
def strike_erratum(erratum: Erratum, why: str, *, by: Doer) -> bool:
    """Strike out an erratum that was none, with the reason; False where it is struck out already."""
    with recording(erratum.build_id, f"{erratum.key} struck out", by=by) as change:
        change.watch(row_of(erratum))
        return bool(
            Erratum.objects.filter(pk=erratum.pk, struck_at=None).update(
                struck_at=clock.now(), struck_by_id=_pk(by), struck_why=why
            )
        )


# ---- dealt with on a part --------------------------------------------------------------------------------


@dataclass(frozen=True)
class Said:
    """What is done about an erratum on a part."""

    how: Dealing
    words: str = ""
    concession: str = ""  # its number as typed


@transaction.atomic
def deal_with(erratum: Erratum, part: Part, said: Said, *, by: Doer) -> ErratumPart:
    """Mark an erratum dealt with on a part, and write it into the part's history.

    Raises
    ------
    ErratumRefusedError
        It does not flag the part, was dealt with in another way, or what is said cannot be.
    """
    part = Part.objects.select_for_update(of=("self",)).select_related("build").get(pk=part.pk)
    there = ErratumPart.objects.filter(erratum=erratum, part=part).select_related("concession").first()
    if there and there.how == said.how and there.words == said.words and there.on == clock.today():
        return there
    flag = next((one for one in flags_of(part) if one.erratum.pk == erratum.pk), None)
    if flag is None:
        raise ErratumRefusedError("how", f"{erratum.key} does not flag {part.key} any more.")
    if not flag.is_open and flag.how is not Dealing.TO_MAKE:
        raise ErratumRefusedError(
            "how", f"{erratum.key} is dealt with on {part.key} already: {flag.state}. Nothing was changed."
        )
    _check_how(part, said.how, is_made=flag.is_made)
    concession = _concession(part, said.concession) if said.how is Dealing.CONCESSION else None
    values = {"how": said.how, "words": said.words, "concession": concession}
    with recording(part.build, f"{erratum.key} dealt with on {part.key}", by=by) as change:
        change.watch(erratum.parts.filter(part=part))
        dealt, _ = ErratumPart.objects.update_or_create(
            erratum=erratum, part=part, defaults={**values, "on": clock.today(), "by_id": _pk(by)}
        )
        note_history(part, _line(erratum, said, concession), by=by)
        return dealt


def _line(erratum: Erratum, said: Said, concession: Concession | None) -> str:
    done = said.how.label.lower() + (f", {concession.key}" if concession else "")
    return f"{erratum.key} {done}{f': {said.words}' if said.words else ''} ({erratum.words})"


def _check_how(part: Part, how: Dealing, *, is_made: bool) -> None:
    if how in OF_A_MADE_PART and not is_made:
        raise ErratumRefusedError(
            "how",
            f"None of {part.key} is made yet. Choose “{Dealing.TO_MAKE.label}”, or count the good ones "
            "first.",
        )
    if how is Dealing.TO_MAKE and is_made:
        raise ErratumRefusedError(
            "how",
            f"{part.key} is made already, {part.good} good. Measure it: choose “{Dealing.MADE_RIGHT.label}” "
            f"or “{Dealing.REMADE.label}”; if it has to be made again, count it as scrap first.",
        )


def _concession(part: Part, typed: str) -> Concession:
    """The concession that was typed, where it lets this part be used.

    Raises
    ------
    ErratumRefusedError
        It is no number, not there, of another part, or does not keep the part.
    """
    if not typed.strip():
        raise ErratumRefusedError("concession", "Which concession is it? Write its number, as C-009.")
    try:
        found = concession_named(part.build_id, typed)
    except ValueError as none:
        why = f"{none} A concession is opened on a reading that is out of limits: measure {part.key} first."
        raise ErratumRefusedError("concession", why) from None
    if found.part_id != part.pk:
        raise ErratumRefusedError(
            "concession",
            f"{found.key} is on {found.part.key}, not on {part.key}. Write the number of its own.",
        )
    if found.is_open:
        raise ErratumRefusedError(
            "concession", f"{found.key} is not decided yet. Decide it, then write it here."
        )
    if not found.decided.keeps_the_part:
        raise ErratumRefusedError(
            "concession",
            f"{found.key} says {found.decided.label.lower()}: it does not let {part.key} be used.",
        )
    return found


@transaction.atomic
def flag_again(erratum: Erratum, part: Part, *, by: Doer) -> bool:
    """Take back what was said of a part: it has to be looked at again; False where nothing was said."""
    part = Part.objects.select_for_update(of=("self",)).get(pk=part.pk)
    with recording(part.build_id, f"{erratum.key} flagged again on {part.key}", by=by) as change:
        change.watch(erratum.parts.filter(part=part))
        dealt = ErratumPart.objects.filter(erratum=erratum, part=part).exclude(how=Dealing.OPEN)
        done = dealt.update(how=Dealing.OPEN, words="", concession=None, on=None, by=None)
        if done:
            note_history(part, f"{erratum.key} flagged again ({erratum.words})", by=by)
        return bool(done)


# ---- a new issue -----------------------------------------------------------------------------------------


@transaction.atomic
def look_in_issue(erratum: Erratum, state: InIssue, *, by: Doer) -> ErratumIssue:
    """Write down whether the issue worked to still has an erratum; the last thing said counts.

    Parts that are made by then stay flagged; the others lose the flag as they follow the new issue.

    Raises
    ------
    ErratumRefusedError
        It is struck out, or no issue has come since it was found.
    """
    erratum = Erratum.objects.select_for_update(of=("self",)).select_related("drawing").get(pk=erratum.pk)
    _check_stands(erratum, "answer")
    last: SheetIssue | None = erratum.drawing.issues.first()
    if last is None or by_age(last.issue) <= by_age(erratum.issue):
        raise ErratumRefusedError(
            "answer", f"No issue has come since {erratum.key} was found, so there is none to look at."
        )
    with recording(erratum.build_id, f"{erratum.key} looked at in issue {last.issue}", by=by) as change:
        change.watch(erratum.parts.all(), erratum.looks.all())
        if state is InIssue.RIGHT:
            _hold(flag for flag in flags_on(erratum) if flag.is_check)
        look, _ = ErratumIssue.objects.update_or_create(
            erratum=erratum,
            issue=last,
            defaults={"state": state, "on": clock.today(), "by_id": _pk(by)},
        )
        return look


def hold_before_following(drawing: Drawing, parts: Iterable[int]) -> None:
    """Before parts name a new issue: what is made was made to the old one, and stays flagged."""
    moving = set(parts)
    if moving and drawing.errata.exists():
        _hold(flag for flag in flags_of_drawing(drawing) if flag.is_check and flag.part in moving)


def _hold(flags: "Iterable[Any]") -> None:
    ErratumPart.objects.bulk_create(
        (ErratumPart(erratum_id=flag.erratum.pk, part_id=flag.part) for flag in flags), ignore_conflicts=True
    )


# ---- what is checked -------------------------------------------------------------------------------------


def _check_stands(erratum: Erratum, field: str) -> None:
    if erratum.struck_at:
        raise ErratumRefusedError(field, f"{erratum.key} is struck out: {erratum.struck_why}.")


def _check_issue(drawing: Drawing, issue: str) -> None:
    """An erratum is found on an issue that has come, where the register knows of any."""
    have = list(drawing.issues.values_list("issue", flat=True))
    if issue and have and issue not in have:
        raise ErratumRefusedError(
            "issue",
            f"The register has no issue {issue} of sheet {drawing.number}, only {', '.join(reversed(have))}. "
            "Write one of those, or write down the new issue first.",
        )


def _pk(by: Doer) -> int | None:
    return by.pk if by else None
