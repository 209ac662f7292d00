"""Pages of a kept sum: as it was kept, with what it rests on and what has changed since."""

from typing import Any

from django.http import HttpResponse, JsonResponse
from django.utils.http import urlencode

from calc import pictures, records, registry, trials
from calc.comparing import labels_of
from calc.models import CalculationRecord, RecordLink
from calc.sum_text import sum_text
from calc.views import MARKS, Bench, drawn, plain_text, schedule_address_of, why_of


def record_page(record: CalculationRecord, bench: Bench) -> HttpResponse:
    """A kept sum as it was kept; nothing of it is worked out again."""
    sheet = records.sheet(record)
    answer = records.answer_of(record)
    older = record.replaces
    calculation = registry.get(record.key)
    return bench.show(
        "calc/record.html",
        title=record.title,
        kind="Calculation record",
        marks=MARKS if any(answer[part] for part in ("pins", "beware", "notes", "is_none")) else (),
        why=why_of(answer),
        hatches=pictures.hatches_of(answer.get("pictures", [])),
        block={
            "number": str(record.pk),
            "scale": sheet["title_block"]["scale"],
            "sheet": "1 of 1",
            "issue": f"rule {record.revision}",
            "units": sheet["title_block"]["units"],
            "date": record.made_at,
            "by": sheet["title_block"]["by"],
        },
        record=record,
        bench=bench,
        sheet=sheet,
        answer=answer,
        **drawn(answer, sheet),
        tables=records.tables_of(record),
        schedule_address=schedule_address_of(bench, answer),
        stale=records.stale_reasons(record),
        older=older,
        differences=records.differences(older, record) if older else [],
        newer=list(record.replaced_by.all()),
        rests_on=_rests_on(record),
        held_up=_held_up(record),
        brought_from=_brought_from(record, bench),
        trials=trials.lines_of(record) if trials.takes_trials(record) else [],
        again=f"{bench.address}?{urlencode(_again(record))}" if calculation and bench.address else "",
        card_address=bench.card_address(record) if bench.card_address and record.part_id else "",
    )


def _rests_on(record: CalculationRecord) -> list[dict[str, Any]]:
    """The sums it rests on, each with what was taken from it."""
    labels, links = labels_of(record.key), records.links_of(record)
    heads = CalculationRecord.objects.in_bulk({link["head"] for link in links}) if links else {}
    return [
        {
            "head": head,
            "taken": [
                (labels.get(link["entry"], link["entry"]), link["text"])
                for link in links
                if link["head"] == head.pk
            ],
        }
        for head in heads.values()
    ]


def _held_up(record: CalculationRecord) -> list[CalculationRecord]:
    """The kept sums that rest on this one, each once."""
    links = RecordLink.objects.filter(head=record).select_related("record")
    return list({one.record_id: one.record for one in links}.values())


def _brought_from(record: CalculationRecord, bench: Bench) -> dict[str, Any] | None:
    """The sum of no part that this one was put here from; only who kept that one may open it."""
    first = record.brought_from
    if first is None:
        return None
    return {
        "number": first.pk,
        "date": first.made_at,
        "address": first.get_absolute_url(),
        "may_open": first.made_by_id == bench.user.pk,
        "differs": records.differences(first, record),
    }


def _again(record: CalculationRecord) -> dict[str, str]:
    """The entries of a kept sum as an address, with the row that was in use.

    What it took from other sums is left out: the page fills it in as the newest of them gives it.
    """
    chosen = record.context.get("chosen")
    taken = {link["entry"] for link in records.links_of(record)}
    entered = {name: text for name, text in record.entered.items() if name not in taken}
    return entered | ({"row": f"{chosen['method']}-{chosen['index']}"} if chosen else {})


def record_text(record: CalculationRecord) -> HttpResponse:
    """The kept sum as plain text."""
    return plain_text(sum_text(records.sheet(record), records.tables_of(record)))


def record_json(record: CalculationRecord) -> JsonResponse:
    """The contract's object, under the number it is kept by."""
    return JsonResponse(records.kept_json(record), json_dumps_params={"ensure_ascii": False, "indent": 1})


def record_pdf(record: CalculationRecord) -> HttpResponse:
    """The kept sum on paper."""
    from calc import pdf

    response = HttpResponse(pdf.render_sum(records.sheet(record)), content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="hornplate-sum-{record.pk}.pdf"'
    return response
