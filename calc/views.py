"""Pages of a sum: worked out, kept, opened as it was kept. The site says for whom and for which part."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.cache import patch_vary_headers
from django.utils.http import urlencode
from django_htmx.http import push_url
from django_htmx.middleware import HtmxDetails

from calc import figures, pictures, records, registry
from calc.answers.shapes import Answer, Plate, units_word
from calc.calculation import Calculation
from calc.forms import Offered, SumForm, from_address
from calc.models import CalculationRecord
from calc.records import Taken
from calc.sheets import SumSheet, TitleBlock
from calc.sum_text import sum_text

LEGEND = "Red on the plate is the pin and its move; the next hole is ringed."
MARKS = ("ok", "no", "care")
#: Lines of sizes that stand as high as a picture.
LONG_SIZES = 14
LENGTH_KINDS = ("length", "lengths", "pitch", "module", "drill", "drills")


@dataclass(frozen=True, kw_only=True)
class Bench:
    """Who asks, for which part, with what tooling, and how the site shows a sheet."""

    show: Callable[..., HttpResponse]
    address: str  # of the page itself
    user: Any
    by: str
    now: datetime
    build: str = ""  # as the title block gives it
    unit: str = "inch"
    part: Any = None
    home: Any = None  # the assembly the part is first used in
    offered: Mapping[str, Offered] = field(default_factory=dict)
    head: Any = None
    heads: Sequence[Any] = ()
    head_address: str = ""  # where a first head is written down
    faces: Sequence[tuple[str, list[int]]] = ()
    schedule_address: str = ""
    card_address: Callable[[CalculationRecord], str] | None = None
    text_address: str = ""  # of the same sum as plain text
    goes_on: Sequence[tuple[str, str]] = ()  # sums that a kept one feeds: address and title
    put_address: str = ""  # where a kept sum of no part is put to one
    put_to: Sequence[CalculationRecord] = ()  # the sums on parts that it was put to
    trial_address: str = ""  # where a trial cut by a kept plan is written down

    @property
    def prints_cards(self) -> bool:
        """Whether a kept sum can go on to a card; a template would call the function itself."""
        return self.card_address is not None


def calculate(request: HttpRequest, key: str, bench: Bench) -> HttpResponseBase:
    """One address for a sum: its entries, its answer, the echo of one entry, and keeping it."""
    calculation = registry.get(key)
    if calculation is None:
        raise Http404(f"There is no calculation “{key}”.")
    do = request.POST.get("do", "") if request.method == "POST" else ""
    acts = {"echo": _echo, "keep": _keep}
    response = acts.get(do, _work)(request, calculation, bench)
    patch_vary_headers(response, ["HX-Request"])
    return response


def _echo(request: HttpRequest, calculation: Calculation, bench: Bench) -> HttpResponse:
    """How one entry is read, or what is wrong with it; the other entries are left alone."""
    wanted = next((one for one in calculation.inputs if one.name == request.POST.get("entry")), None)
    if wanted is None:
        raise Http404("There is no such entry.")
    form = SumForm(calculation, request.POST.dict(), offered=bench.offered, unit=bench.unit)
    form.is_valid()
    return render(request, "calc/_entry.html", {"entry": form.entry(wanted), "action": bench.address})


def _work(request: HttpRequest, calculation: Calculation, bench: Bench) -> HttpResponse:
    form = _form_of(request, calculation, bench)
    if form.is_bound and not form.is_valid() and not _is_sent(request, calculation):
        # What the site filled in by itself does not make a sum yet: nothing was typed, so nothing is wrong.
        form = SumForm(calculation, offered=bench.offered, unit=bench.unit)
    return _page(request, calculation, bench, form)


def _is_sent(request: HttpRequest, calculation: Calculation) -> bool:
    """Whether any entry came with the question, and not only what the site fills in."""
    return request.method == "POST" or any(one.name in request.GET for one in calculation.inputs)


def _form_of(request: HttpRequest, calculation: Calculation, bench: Bench) -> SumForm:
    if request.method == "POST":
        data: dict[str, str] = request.POST.dict()
    else:
        data = from_address(calculation, request.GET.dict(), bench.offered)
    return SumForm(calculation, data, offered=bench.offered, unit=bench.unit, row=_row(request))


def _row(request: HttpRequest) -> str:
    """The row to use, as `plain-1`; empty for the first that is exact."""
    return request.POST.get("row") or request.GET.get("row", "")


def _page(
    request: HttpRequest, calculation: Calculation, bench: Bench, form: SumForm, status: int | None = None
) -> HttpResponse:
    """The whole page, or its sum alone where htmx asks."""
    context = _context(bench, form.found)
    partial = _is_partial(request)
    row = _row(request) if form.found and form.found.chosen else ""
    shown = {
        "calculation": calculation,
        "form": form,
        "bench": bench,
        "action": bench.address,
        "partial": partial,
        "token": uuid4(),
        "row": row,
        "head_address": _head_address(bench, form),
        "example": _example(calculation),
        **_found(bench, form, context),
    }
    answer: Answer | None = shown.get("answer")
    found = form.found
    title = calculation.title_of(found.inputs, found.readings) if found else calculation.title
    response = bench.show(
        "calc/_calculation_swap.html" if partial else "calc/calculation.html",
        title=title,
        kind="Calculation, not kept",
        marks=MARKS,
        why=why_of(answer) if answer else LEGEND if form.asks_for_head else "",
        hatches=pictures.hatches_of(answer.get("pictures", [])) if answer else (),
        block=_block(shown.get("sheet"), title, calculation, bench),
        status=status or (422 if form.errors else 200),
        **shown,
    )
    if partial and form.found and request.method == "POST":
        push_url(response, _address(bench, form, row))
    return response


def _example(calculation: Calculation) -> dict[str, Any]:
    """The example of a sum: its entries by their labels, and as the end of an address that works it out."""
    labels = {one.name: one.label for one in calculation.inputs}
    entries = [(labels[name], text) for name, text in calculation.example.items()]
    return {"entries": entries, "query": urlencode(calculation.example)}


def _found(bench: Bench, form: SumForm, context: dict[str, Any]) -> dict[str, Any]:
    """What is shown of the answer, where there is one."""
    found = form.found
    if found is None:
        return {"no_solution": form.no_solution}
    answer = records.answer_of(found, context)
    sheet = records.sheet(found, context=context, build=bench.build, by=bench.by, at=bench.now)
    tables = records.tables_of(found, context)
    return {
        "sheet": sheet,
        "answer": answer,
        **drawn(answer, sheet),
        "tables": tables,
        "row_address": _row_address(bench, form),
        "steps": _steps(bench, form, answer),
        "schedule_address": schedule_address_of(bench, answer),
        "keep_entries": list(found.entered.items()),
        "keep_taken": _still_offered(bench, found),
        "text_address": _text_address(bench, form),
        "earlier": records.latest(bench.part, found.calculation.key) if bench.part is not None else None,
    }


def drawn(answer: Answer, sheet: SumSheet) -> dict[str, Any]:
    """The pictures of an answer; with sizes or drawings of its own a sum has the page made for them."""
    working, beside = sheet["working"], _beside(answer, sheet)
    drawings = pictures.shown(answer.get("pictures", []))
    return {
        "plate": picture(answer["plate"]) if answer["plate"] else None,
        "drawings": drawings,
        "is_drawn": bool(drawings or answer.get("sizes")),
        "sizes_beside": _is_alone(answer),
        "entered_under": _is_alone(answer) and _is_long(answer),
        "lines_beside": working[:beside],
        "lines_below": working[beside:],
    }


def _beside(answer: Answer, sheet: SumSheet) -> int:
    """How many lines of working stand beside sizes and entries; the others go on under both.

    Three lines stand as high as five rows of the others. Fewer than four are not parted from the rest.
    """
    if _is_alone(answer):
        return 0
    sizes = answer.get("sizes")
    rows = len(sheet["entries"]) + (len(sizes["lines"]) if sizes else 0)
    beside, lines = max(6, rows * 3 // 5), len(sheet["working"])
    return beside if lines > beside + 3 else lines


def _is_alone(answer: Answer) -> bool:
    """Whether there is one picture: sizes and entries then stand beside it, and the working under all."""
    return len(answer.get("pictures", [])) == 1


def _is_long(answer: Answer) -> bool:
    """Whether the sizes alone stand as high as a picture, so that what was entered goes under the picture."""
    sizes = answer.get("sizes")
    return sizes is not None and len(sizes["lines"]) > LONG_SIZES


def why_of(answer: Answer) -> str:
    """The line of the legend: what the plate's red means, or what the sum says of its own figures."""
    return answer.get("why") or (LEGEND if answer["plate"] else "")


def _still_offered(bench: Bench, found: records.Run) -> list[str]:
    """The entries that stand as another kept sum offered them, as `bore:12:inputs.bore_measured`."""
    return [
        f"{name}:{offered.taken.head}:{offered.taken.figure}"
        for name, offered in bench.offered.items()
        if offered.taken and found.entered.get(name, "").strip() == offered.text
    ]


def _taken(request: HttpRequest) -> dict[str, Taken]:
    """What the page said was taken from other sums when it was shown; keeping it looks at each again."""
    found = {}
    for said in request.POST.getlist("taken"):
        entry, _, rest = said.partition(":")
        head, _, figure = rest.partition(":")
        if head.isascii() and head.isdigit() and len(head) < 19:
            found[entry] = Taken(int(head), figure)
    return found


def _is_partial(request: HttpRequest) -> bool:
    htmx: HtmxDetails = request.htmx  # type: ignore[attr-defined]
    return bool(htmx) and not htmx.history_restore_request


def _context(bench: Bench, found: records.Run | None) -> dict[str, Any]:
    """What is kept beside the sum: the head, and the names of those faces that were really entered."""
    if found is None:
        return {}
    entered = {tuple(face) for face in found.inputs.get("circles") or ()}
    context: dict[str, Any] = {
        "faces": [[name, circles] for name, circles in bench.faces if tuple(circles) in entered]
    }
    if bench.head is not None and bench.head.ratio == found.inputs.get("ratio"):
        context["head"] = {"name": bench.head.name, "ratio": bench.head.ratio}
    return context


def _address(bench: Bench, form: SumForm, row: str = "") -> str:
    """An address that fills in these entries and works them out, for whoever opens it."""
    typed = {one.name: form.typed(one) for one in form.calculation.inputs}
    query = {name: text for name, text in typed.items() if text or name in bench.offered}
    return f"{bench.address}?{urlencode(query | _choices(bench, form, row))}"


def _text_address(bench: Bench, form: SumForm) -> str:
    """The same as plain text; empty where the site has no place for it."""
    if not bench.text_address:
        return ""
    return _address(replace(bench, address=bench.text_address), form, _row_in_use(form))


def _row_in_use(form: SumForm) -> str:
    return form.row if form.found and form.found.chosen else ""


def _steps(bench: Bench, form: SumForm, answer: Answer) -> list[dict[str, str]]:
    """Settings that may be tried, each with the addresses that try one step less and one step more."""
    typed = {one.name: form.typed(one) for one in form.calculation.inputs}

    def address(entries: Mapping[str, str]) -> str:
        query = {name: text for name, text in {**typed, **entries}.items() if text or name in bench.offered}
        return f"{bench.address}?{urlencode(query)}" if entries else ""

    return [
        {
            "label": step["label"],
            "now": step["now"],
            "less": address(step["less"]),
            "more": address(step["more"]),
            "less_words": step["less_words"],
            "more_words": step["more_words"],
        }
        for step in answer.get("steps", [])
    ]


def _row_address(bench: Bench, form: SumForm) -> str:
    """The start of an address on this page with another row, naming only what would not be filled in."""
    typed = {one.name: form.typed(one) for one in form.calculation.inputs}
    query = {name: text for name, text in typed.items() if text != form.filled_in(name)}
    return f"{bench.address}?{urlencode(query | _choices(bench, form))}&row=".replace("?&", "?")


def _head_address(bench: Bench, form: SumForm) -> str:
    """The start of an address on this page with another head; what was typed and is not the head's stays."""
    typed = {one.name: form.typed(one) for one in form.calculation.inputs}
    of_head = {name for name, offered in bench.offered.items() if offered.of_head}
    query = {
        name: text for name, text in typed.items() if text != form.filled_in(name) and name not in of_head
    }
    return f"{bench.address}?{urlencode(query)}&head=".replace("?&", "?")


def _choices(bench: Bench, form: SumForm, row: str = "") -> dict[str, str]:
    choices = {"row": row} if row else {}
    if form.asks_for_head and bench.head is not None and len(bench.heads) > 1:
        choices["head"] = str(bench.head.pk)
    return choices


def schedule_address_of(bench: Bench, answer: Answer) -> str:
    if not (answer["schedule"] and bench.schedule_address):
        return ""
    return f"{bench.schedule_address}?{urlencode(answer['schedule'])}"


def picture(plate: Plate) -> str:
    """The index plate of an answer, drawn for the page."""
    second = plate["second"]
    return figures.to_svg(
        figures.index_plate(
            face=plate["face"],
            circle=plate["circle"],
            spaces=plate["spaces"],
            turns=plate["turns"],
            sector_holes=plate["sector_holes"],
            second=figures.Move(circle=second["circle"], spaces=second["spaces"]) if second else None,
        )
    )


def _block(sheet: Any, title: str, calculation: Calculation, bench: Bench) -> dict[str, Any]:
    """The fields of the page's title block that the sum decides."""
    block: TitleBlock | None = sheet["title_block"] if sheet else None
    return {
        "title": title,
        "number": block["number"] if block else "—",
        "scale": block["scale"] if block else "—",
        "sheet": "1 of 1",
        "issue": f"rule {calculation.revision}",
        "units": block["units"] if block else _units(calculation, bench),
    }


def _units(calculation: Calculation, bench: Bench) -> str:
    """The units of a sum that is not worked out yet: where it asks for a length, those of a bare one."""
    asks_for_length = any(one.kind in LENGTH_KINDS for one in calculation.inputs)
    return units_word("mm" if bench.unit == "mm" else "inch") if asks_for_length else "counts, degrees"


# ---- keep ------------------------------------------------------------------------------------------------


def _keep(request: HttpRequest, calculation: Calculation, bench: Bench) -> HttpResponse:
    form = _form_of(request, calculation, bench)
    if not form.is_valid() or form.found is None:
        return _page(request, calculation, bench, form)
    try:
        record = records.keep(
            form.found,
            part=bench.part,
            user=bench.user,
            token=_token(request),
            context=_context(bench, form.found),
            at=bench.now,
            taken=_taken(request),
        )
    except PermissionError as refused:
        raise Http404(str(refused)) from None
    if request.POST.get("then") == "card" and bench.card_address:
        return redirect(bench.card_address(record))
    return redirect(record)


def _token(request: HttpRequest) -> UUID:
    """The token of the form; one without is kept all the same, only not guarded from a double click."""
    try:
        return UUID(request.POST.get("token", ""))
    except ValueError:
        return uuid4()


# ---- as text -----------------------------------------------------------------------------------------------


def sum_as_text(request: HttpRequest, key: str, bench: Bench) -> HttpResponse:
    """A sum that is not kept as plain text; what is wrong with its entries where there is none."""
    calculation = registry.get(key)
    if calculation is None:
        raise Http404(f"There is no calculation “{key}”.")
    form = _form_of(request, calculation, bench)
    form.is_valid()
    if form.found is None:
        return plain_text(
            _why_not(form), status=422 if form.errors and _is_sent(request, calculation) else 200
        )
    context = _context(bench, form.found)
    sheet = records.sheet(form.found, context=context, build=bench.build, by=bench.by, at=bench.now)
    return plain_text(sum_text(sheet, records.tables_of(form.found, context)))


def _why_not(form: SumForm) -> str:
    if form.no_solution:
        would = "".join(f"\nWould do: {one}" for one in form.no_solution.would_do)
        return f"{form.calculation.title}\n\n{form.no_solution.message}{would}\n"
    wrong = [f"{entry.label}: {entry.error}" for entry in form.wrong if entry.value.strip()]
    return "\n".join([form.calculation.title, "", "Nothing is worked out yet.", *wrong]) + "\n"


def plain_text(text: str, status: int = 200) -> HttpResponse:
    return HttpResponse(text, content_type="text/plain; charset=utf-8", status=status)
