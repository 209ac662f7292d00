"""Writing a record as its form says, and taking one away: each a change that can be read and undone."""

from typing import TypeVar

from django.db.models import Model
from django.forms import ModelForm

from buildlog.changes import Doer, hanging_rows, recording, row_of
from buildlog.models import Build

Kind = TypeVar("Kind", bound=Model)


def write_record(form: "ModelForm[Kind]", build: Build | None, *, by: Doer) -> Kind:
    """Save what a form holds; `build` is None for a builder's own tools."""
    stands = form.instance
    known = stands.pk is not None
    with recording(build, "", by=by) as change:
        if known:
            change.watch(row_of(stands))
        saved: Kind = form.save()
        if not known:
            change.came(saved)
        change.words = f"{saved} {'changed' if known else 'added'}"
    return saved


def take_away(thing: Model, build: Build | None, *, by: Doer) -> None:
    """Delete a record that nothing hangs on; it can be brought back.

    Raises
    ------
    django.db.models.ProtectedError
        Something hangs on it.
    """
    with recording(build, f"{thing} taken away", by=by) as change:
        change.watch(row_of(thing), *hanging_rows(thing))
        thing.delete()
