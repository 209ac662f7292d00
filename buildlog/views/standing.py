"""Changing what stands: one at a time, and told what was typed where the thing is gone meanwhile."""

import re
from collections.abc import Callable
from functools import wraps
from typing import Any

from django.db import models, transaction
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase

from buildlog.forms.standing import ASIDE, PLATE, StandsForm
from buildlog.views.pages import show

View = Callable[..., HttpResponseBase]
_LINE = re.compile(r"^(\w+?)-(\d+)-(\w+)$")
_UNSEEN = {"csrfmiddlewaretoken", *ASIDE}
#: What a set of lines says of itself, and the number of a row: nobody typed either.
_OF_SETS = ("-TOTAL_FORMS", "-INITIAL_FORMS", "-MIN_NUM_FORMS", "-MAX_NUM_FORMS", "-id", "-head")


def changes(model: type[models.Model], form: type[StandsForm]) -> Callable[[View], View]:
    """A view that changes one thing, by the number in its address.

    What it was and what it becomes are read and written with nobody in between: of two that send at once
    the second sees what the first wrote. Where the thing is gone, the page says so with what was typed.
    """

    def decorate(view: View) -> View:
        @wraps(view)
        def changed(request: HttpRequest, pk: int, *args: Any, **kwargs: Any) -> HttpResponseBase:
            if request.method != "POST":
                return view(request, pk, *args, **kwargs)
            try:
                with transaction.atomic():
                    _hold(model, pk)
                    return view(request, pk, *args, **kwargs)
            except Http404:
                return _gone(request, form)

        return changed

    return decorate


def _hold(model: type[models.Model], pk: int) -> None:
    """Whoever else is about to change it waits; where the database takes one writer at a time, all wait."""
    list(model._default_manager.select_for_update().filter(pk=pk).values_list("pk"))


def _gone(request: HttpRequest, form: type[StandsForm]) -> HttpResponse:
    typed = [
        (_label(name, form), text)
        for name in request.POST
        if name not in _UNSEEN and not name.startswith(PLATE) and not name.endswith(_OF_SETS)
        if (text := ", ".join(request.POST.getlist(name)).strip())
    ]
    return show(
        request,
        "buildlog/gone_page.html",
        title=f"This {form.thing} is not there",
        kind="Entry",
        thing=form.thing,
        rows=typed,
        status=404,
    )


def _label(name: str, form: type[StandsForm]) -> str:
    """An entry's name as its page words it; of a line, with its number."""
    field = form.base_fields.get(name)  # type: ignore[attr-defined]
    if field is not None and field.label:
        label = str(field.label)
    elif line := _LINE.match(name):
        label = f"{line[1]} {int(line[2]) + 1}, {line[3].replace('_', ' ')}"
    else:
        label = name.replace("_", " ")
    return label[:1].upper() + label[1:]
