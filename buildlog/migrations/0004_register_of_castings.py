"""Castings that parts name get a line in the register; sheets are found by their figures."""

from django.db import migrations
from django.db.models import Min

from buildlog.models.castings import casting_key
from buildlog.models.parts import SHEET
from buildlog.numbers import number_key


def register(apps, _schema_editor):
    Part = apps.get_model("buildlog", "Part")
    Casting = apps.get_model("buildlog", "Casting")
    known = {}
    for part in Part.objects.annotate(first=Min("history__at")).order_by("number_key", "hand").iterator():
        named = SHEET.match(part.sheet)
        part.sheet_number = named[1].lstrip("0")[:6] if named else ""
        if part.casting_number:
            number = casting_key(part.casting_number)
            if (part.build_id, number) not in known:
                known[part.build_id, number] = Casting.objects.create(
                    build_id=part.build_id,
                    number=number,
                    number_key=number_key(number),
                    name=part.name,
                    material=part.material,
                )
            part.casting_number = number
            part.casting_since = part.first.date() if part.first else None
        part.save(update_fields=["sheet_number", "casting_number", "casting_since"])


class Migration(migrations.Migration):
    dependencies = [("buildlog", "0003_castings_stores_log")]

    operations = [migrations.RunPython(register, migrations.RunPython.noop)]
