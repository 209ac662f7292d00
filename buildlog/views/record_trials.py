"""Writing down what a trial cut by a kept plan measured; the plan itself is never changed."""

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from buildlog import access, clock
from buildlog.forms.record_trials import TrialForm
from buildlog.views.pages import show
from calc import trials


@require_http_methods(["GET", "HEAD", "POST"])
def record_trial(request: HttpRequest, pk: int) -> HttpResponse:
    """A trial beside a kept plan, by whoever may read the plan; a part in the bin is not worked on."""
    record = access.record_to_read(request.user, pk)
    if not trials.takes_trials(record):
        raise Http404("No teeth are tried by this sum.")
    if record.part and record.part.binned_at:
        raise Http404("The part of this sum is in the bin.")
    form = TrialForm(request.POST if request.method == "POST" else None, record=record)
    if form.is_valid():
        said, token = form.cleaned_data, form.cleaned_data["token"]
        try:
            trial = trials.write_trial(record, said, user=request.user, at=clock.now(), token=token)
        except PermissionError as refused:
            raise Http404(str(refused)) from None
        messages.success(request, f"Trial {trial.number} is written down beside sum {record.pk}.")
        return redirect(record)
    return show(
        request,
        "buildlog/record_trial.html",
        title=f"A trial by sum {record.pk}",
        kind="Calculation record",
        build=record.part.build if record.part else None,
        nav="working",
        marks=("no",) if form.errors else (),
        block={"number": str(record.pk), "units": "as typed"},
        record=record,
        form=form,
        status=422 if form.errors else 200,
    )
