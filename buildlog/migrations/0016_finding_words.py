"""Searching many photos reads the index alone; on PostgreSQL words are found by their threes of letters."""

from django.conf import settings
from django.db import migrations, models

SEARCHED = ("buildlog_logentry", "buildlog_photo", "buildlog_part")


def index_words(_apps, schema_editor):
    """Where the server has `pg_trgm`, which comes with it; without it searching is slower, and the same."""
    if schema_editor.connection.vendor != "postgresql":
        return
    # Who may not bring the extension in is not kept from migrating.
    schema_editor.execute(
        "DO $$ BEGIN CREATE EXTENSION IF NOT EXISTS pg_trgm; "
        "EXCEPTION WHEN insufficient_privilege OR undefined_file OR feature_not_supported THEN NULL; END $$"
    )
    with schema_editor.connection.cursor() as cursor:
        cursor.execute("SELECT 1 FROM pg_extension WHERE extname = 'pg_trgm'")
        if not cursor.fetchone():
            return
    for table in SEARCHED:
        schema_editor.execute(
            f"CREATE INDEX IF NOT EXISTS {table}_words ON {table} USING gin (search_text gin_trgm_ops)"
        )


def forget_words(_apps, schema_editor):
    if schema_editor.connection.vendor == "postgresql":
        for table in SEARCHED:
            schema_editor.execute(f"DROP INDEX IF EXISTS {table}_words")


class Migration(migrations.Migration):
    dependencies = [
        ("buildlog", "0015_arrangement"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.RemoveIndex(model_name="photo", name="photo_by_day"),
        migrations.AddIndex(
            model_name="photo",
            index=models.Index(
                condition=models.Q(("binned_at", None)),
                fields=["build", "-taken_on", "-taken_time", "-id", "search_text", "part", "binned_at"],
                name="photo_by_day",
            ),
        ),
        migrations.RunPython(index_words, forget_words),
    ]
