"""What happens to a part at the bench: counts, stages, and what a changed need does to them."""

from collections.abc import Mapping
from datetime import datetime
from uuid import UUID

from django.db import transaction

from buildlog import changes, clock
from buildlog.changes import Doer as Doer
from buildlog.changes import recording, row_of, tie_lines
from buildlog.models import Change, Hand, HistoryLine, Part, Stage


class StillToMakeError(Exception):
    """A made stage was asked for while good ones are still to make."""

    def __init__(self, part: Part, stage: Stage) -> None:
        super().__init__(f"{part.to_make} of {part.needed} are still to make")
        self.part = part
        self.stage = stage


class CountRefusedError(ValueError):
    """A count that cannot be; `field` names the entry."""

    def __init__(self, field: str, message: str) -> None:
        super().__init__(message)
        self.field = field


@transaction.atomic
def set_stage(
    part: Part, stage: Stage, *, by: Doer, token: UUID | None = None, count_rest: bool = False
) -> Part:
    """Put a part at a stage; a made stage wants as many good ones as are needed.

    A single part counts as good by being called made; for more, the rest is counted only when asked for.

    Raises
    ------
    StillToMakeError
        More than one is still to make, and they are not to be counted as good.
    """
    part = _locked(part)
    if _done_before(token) or part.stage == stage:
        return part
    words = [f"{part.stage_mark.label} to {stage.label.lower()}"]
    if stage.is_made and part.to_make:
        if part.to_make > 1 and not count_rest:
            raise StillToMakeError(part, stage)
        words.append(f"{part.to_make} counted good with it")
        part.good += part.to_make
    with recording(part.build, f"{part.key}: {words[0]}", by=by) as change:
        change.watch(row_of(part))
        _move(part, stage)
        _note(part, "; ".join(words), by=by, token=token)
        if stage.is_made:
            _tell_twin(part, by=by)
    return part


@transaction.atomic
def record_count(
    part: Part, *, good: int, scrap: int, by: Doer, note: str = "", call_machined: bool, token: UUID | None
) -> Part:
    """Add to the counts of good and scrap; less than nought takes back a wrong count.

    Raises
    ------
    CountRefusedError
        A count would fall below nought or pass what can be kept, or nothing was counted.
    """
    part = _locked(part)
    if _done_before(token):
        return part
    _check_counts(part, good, scrap)
    part.good += good
    part.scrap += scrap
    if scrap > 0 and part.casting_number:
        # A spoiled one took a casting with it, so from today another is wanted.
        part.casting_since = clock.today()
    words = [f"{good:+d} good" if good else "", f"{scrap:+d} scrap" if scrap else "", note]
    text = ", ".join(word for word in words if word)
    with recording(part.build, f"{part.key}: {text}", by=by) as change:
        change.watch(row_of(part))
        stage = part.stage_mark
        if part.is_complete and call_machined and not stage.is_made:
            _move(part, Stage.MACHINED)
            text += f"; {part.good} of {part.needed} good: machined"
        elif stage.is_made and not part.is_complete:
            _move(part, Stage.IN_HAND)
            text += f"; {part.to_make} to make again: set back to in hand"
        elif stage is Stage.NOT_STARTED:
            _move(part, Stage.IN_HAND)
            text += "; in hand"
        _note(part, text, by=by, token=token)
        if part.stage_mark.is_made:
            _tell_twin(part, by=by)
    return part


def needed_changed(part: Part, before: int, by: Doer) -> None:
    """Follow a changed need: a made part that is now short goes back to in hand, and says why.

    Call it inside the transaction that changed where the part is used.
    """
    part = _locked(part)
    now = part.needed
    if now == before:
        return
    changes.watch(row_of(part))
    text = f"Needed {'rose' if now > before else 'fell'} from {before} to {now}"
    if part.stage_mark.is_made and part.to_make:
        text += f": {part.to_make} more to make, so it is back in hand"
        _move(part, Stage.IN_HAND)
    _note(part, text, by=by)


def note_history(part: Part, text: str, *, by: Doer, token: UUID | None = None) -> HistoryLine | None:
    """Write one line in a part's history; one that bears the same token is not written again."""
    return None if _done_before(token) else _note(part, text, by=by, token=token, save=False)


def history_line(
    part: Part,
    text: str,
    *,
    by: Doer,
    at: datetime,
    token: UUID | None = None,
    change: Change | None = None,
) -> HistoryLine:
    """A line of a part's history with how the part stands, not written yet."""
    return HistoryLine(
        part=part,
        at=at,
        by_id=by.pk if by else None,
        stage=part.stage,
        good=part.good,
        scrap=part.scrap,
        text=text[:300],
        token=token,
        change=change,
    )


def note_history_of(told: Mapping[Part, str], *, by: Doer, change: Change | None = None) -> None:
    """Write one line in the history of each of many parts, in one query; of a change, where one is given."""
    at = clock.now()
    lines = HistoryLine.objects.bulk_create(
        history_line(part, text, by=by, at=at, change=change) for part, text in told.items()
    )
    tie_lines(*lines)


def _locked(part: Part) -> Part:
    return Part.objects.select_for_update(of=("self",)).select_related("build").get(pk=part.pk)


def _done_before(token: UUID | None) -> bool:
    return token is not None and HistoryLine.objects.filter(token=token).exists()


def _check_counts(part: Part, good: int, scrap: int) -> None:
    if not good and not scrap:
        raise CountRefusedError(
            "good", "Nothing is counted yet: type how many are good, or how many are scrap."
        )
    for field, change, stands in (("good", good, part.good), ("scrap", scrap, part.scrap)):
        if stands + change < 0:
            raise CountRefusedError(
                field, f"Only {stands} {field} are counted; {-change} cannot be taken back."
            )
        if stands + change > 99_999:
            raise CountRefusedError(
                field, f"{stands + change} is past 99999, the most that is kept. Is it a slip?"
            )


def _move(part: Part, stage: Stage) -> None:
    part.stage = stage
    part.stage_at = clock.now()


def _note(part: Part, text: str, *, by: Doer, token: UUID | None = None, save: bool = True) -> HistoryLine:
    if save:
        part.save(update_fields=["stage", "stage_at", "good", "scrap", "casting_since"])
    line = history_line(part, text, by=by, at=clock.now(), token=token)
    line.save()
    tie_lines(line)
    return line


def twin_of(part: Part) -> Part | None:
    """The other hand of a handed part, if it is in the build."""
    if not part.hand:
        return None
    other = Hand.RIGHT if part.hand == Hand.LEFT else Hand.LEFT
    return (
        Part.objects.live()
        .with_needed()
        .select_related("build")
        .filter(build=part.build, number=part.number, hand=other)
        .first()
    )


def _tell_twin(part: Part, *, by: Doer) -> None:
    """A lesson learnt on one hand is copied to the other while that is still to do."""
    twin = twin_of(part)
    if twin is None or twin.stage_mark.is_made or not part.lesson or part.lesson in twin.lesson:
        return
    lesson = f"From {part.key}: {part.lesson}"
    changes.watch(row_of(twin))
    twin.lesson = f"{twin.lesson}\n{lesson}".strip()[:1000]
    twin.save(update_fields=["lesson"])
    _note(twin, f"Lesson copied from {part.key}", by=by, save=False)
