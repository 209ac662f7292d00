import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("buildlog", "0001_initial"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="CalculationRecord",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("key", models.CharField(max_length=40)),
                ("revision", models.PositiveIntegerField()),
                ("title", models.CharField(max_length=120)),
                ("headline", models.CharField(max_length=200)),
                ("entered", models.JSONField()),
                ("unit", models.CharField(default="inch", max_length=4)),
                ("readings", models.JSONField(default=dict)),
                ("inputs", models.JSONField()),
                ("results", models.JSONField()),
                ("working", models.JSONField()),
                ("warnings", models.JSONField(default=list)),
                ("sources", models.JSONField(default=list)),
                ("context", models.JSONField(default=dict)),
                ("made_at", models.DateTimeField()),
                ("token", models.UUIDField(editable=False, null=True, unique=True)),
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
                    "part",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="records",
                        to="buildlog.part",
                    ),
                ),
                (
                    "replaces",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="replaced_by",
                        to="calc.calculationrecord",
                    ),
                ),
            ],
            options={
                "ordering": ("-made_at", "-pk"),
                "indexes": [models.Index(fields=["part", "key", "-made_at"], name="record_by_part")],
            },
        ),
    ]
