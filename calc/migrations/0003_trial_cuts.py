import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("calc", "0002_record_links"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="TrialCut",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("number", models.PositiveSmallIntegerField()),
                ("small", models.CharField(blank=True, max_length=40)),
                ("small_mm", models.FloatField(null=True)),
                ("large", models.CharField(blank=True, max_length=40)),
                ("large_mm", models.FloatField(null=True)),
                ("note", models.CharField(blank=True, max_length=400)),
                ("made_at", models.DateTimeField()),
                ("token", models.UUIDField(editable=False, unique=True)),
                (
                    "made_by",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "record",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="trials",
                        to="calc.calculationrecord",
                    ),
                ),
            ],
            options={
                "ordering": ("number",),
                "constraints": [
                    models.UniqueConstraint(fields=("record", "number"), name="one_trial_a_number")
                ],
            },
        ),
    ]
