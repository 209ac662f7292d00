"""What a part needs before it can go on: the entry."""

from django.contrib import messages
from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_http_methods

from buildlog import access
from buildlog.actions.castings import NeedRefusedError, set_needs
from buildlog.actions.parts import name_own_casting
from buildlog.forms.needs import NeedsForm
from buildlog.views.pages import show


@require_http_methods(["GET", "HEAD", "POST"])
def part_needs(request: HttpRequest, pk: int) -> HttpResponse:
    """Say which castings a part needs, what comes before it and what it mates with."""
    part = access.part_to_write(request.user, pk)
    form = NeedsForm(request.POST or None, part=part)
    if request.method == "POST" and form.is_valid():
        data = form.cleaned_data
        try:
            with transaction.atomic():
                name_own_casting(part, data["casting_number"], data["castings_each"], by=request.user)
                set_needs(part, form.needs, by=request.user)
        except NeedRefusedError as refused:
            form.add_error(refused.field, str(refused))
        else:
            messages.success(request, "Written down.")
            return redirect(part)
    return show(
        request,
        "buildlog/part_needs.html",
        title=f"{part.key}: what it needs",
        kind="Entry",
        build=part.build,
        nav="parts",
        part=part,
        form=form,
        status=422 if form.errors else 200,
    )
