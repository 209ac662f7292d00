"""Writing down a dividing head with its plates; one of a builder's heads is the usual one."""

from typing import TypeAlias

from django.forms import BaseInlineFormSet, ModelForm

from buildlog.changes import Doer, recording, row_of
from buildlog.forms.workshop import BasePlateFormSet, PlateForm
from buildlog.models import DividingHead, IndexPlate

Plates: TypeAlias = "BaseInlineFormSet[IndexPlate, DividingHead, PlateForm]"


def write_head(
    form: "ModelForm[DividingHead]",
    plates: BasePlateFormSet,
    *,
    by: Doer,
) -> DividingHead:
    """Save a head and its plates together; a usual one takes the place of the one before."""
    with recording(None, "", by=by) as change:
        known = form.instance.pk is not None
        if known:
            change.watch(row_of(form.instance))
        change.watch(DividingHead.objects.filter(owner=form.instance.owner_id))
        head: DividingHead = form.save()
        change.watch(head.plates.all())
        plates.instance = head
        plates.save()
        if head.is_usual:
            others = DividingHead.objects.filter(owner=head.owner_id).exclude(pk=head.pk)
            others.update(is_usual=False)
        change.words = f"{head} {'changed' if known else 'added'}"
    return head
