"""What is searched is worked out anew, with numbers between their own borders; indexes for a long record."""

from django.db import migrations, models

from buildlog.numbers import key_of
from buildlog.searching import fold

BATCH = 500


def work_out(apps, _schema_editor):
    Part = apps.get_model("buildlog", "Part")
    LogEntry = apps.get_model("buildlog", "LogEntry")
    Photo = apps.get_model("buildlog", "Photo")
    _again(Part, _of_part, "number", "hand", "name", "material", "leading_size", "casting_number", "notes")
    _again(LogEntry, lambda entry: f"{entry.done} {entry.left_off} {entry.next}", "done", "left_off", "next")
    _again(Photo, lambda photo: photo.caption, "caption")


def _of_part(part):
    words = (part.name, part.material, part.leading_size, part.casting_number, part.notes)
    return " ".join((key_of(part.number, part.hand), *words))


def _again(model, text_of, *columns):
    """In batches by the primary key, so that any number of rows takes little memory."""
    last = 0
    while rows := list(
        model.objects.filter(pk__gt=last).order_by("pk").only(*columns, "search_text")[:BATCH]
    ):
        for row in rows:
            row.search_text = fold(text_of(row))
        model.objects.bulk_update(rows, ["search_text"])
        last = rows[-1].pk


class Migration(migrations.Migration):
    dependencies = [("buildlog", "0008_changes")]

    operations = [
        migrations.RunPython(work_out, migrations.RunPython.noop),
        migrations.RemoveIndex(
            model_name="logentry",
            name="log_by_day",
        ),
        migrations.RemoveIndex(
            model_name="logentry",
            name="log_by_part",
        ),
        migrations.RemoveIndex(
            model_name="photo",
            name="photo_by_day",
        ),
        migrations.AddIndex(
            model_name="logentry",
            index=models.Index(fields=["build", "-on", "-written_at", "-id", "minutes"], name="log_by_day"),
        ),
        migrations.AddIndex(
            model_name="logentry",
            index=models.Index(fields=["part", "-on", "-written_at", "-id"], name="log_by_part"),
        ),
        migrations.AddIndex(
            model_name="logentry",
            index=models.Index(fields=["build", "-written_at", "-id"], name="log_as_written"),
        ),
        migrations.AddIndex(
            model_name="photo",
            index=models.Index(
                condition=models.Q(("binned_at", None)),
                fields=["build", "-taken_on", "-taken_time", "-id", "search_text", "binned_at"],
                name="photo_by_day",
            ),
        ),
        migrations.AddIndex(
            model_name="photo",
            index=models.Index(
                condition=models.Q(("before_closing_up", True), ("binned_at", None)),
                fields=["build", "-taken_on", "-taken_time", "-id", "before_closing_up", "binned_at"],
                name="photo_before_closing_up",
            ),
        ),
    ]
