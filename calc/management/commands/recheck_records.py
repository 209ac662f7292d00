"""`manage.py recheck_records`: what today's code makes of every kept sum; changes nothing."""

from typing import Any

from django.core.management.base import BaseCommand

from calc import records


class Command(BaseCommand):
    help = (
        "Works every kept sum out again with today's code and lists what differs, by record and result. "
        "Changes nothing; ends with 1 when anything differs."
    )

    def handle(self, *_args: Any, **_options: Any) -> None:
        checked = wrong = 0
        for found in records.recheck_all():
            checked += 1
            if not found.agrees:
                wrong += 1
                self._tell(found)
        self.stdout.write(f"{checked} kept sums checked, {wrong} of them come out differently today.")
        if wrong:
            raise SystemExit(1)

    def _tell(self, found: records.Recheck) -> None:
        record = found.record
        where = f" on {getattr(record.part, 'key', '')}" if record.part_id else ""
        self.stdout.write(f"sum {record.pk}{where}, {record.title}:")
        if found.problem:
            self.stdout.write(f"  {found.problem}")
        for one in found.differences:
            self.stdout.write(f"  {one.name}: kept {one.before}, today {one.after}")
