import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("calc", "0001_initial"),
    ]

    operations = [
        migrations.AddField(
            model_name="calculationrecord",
            name="brought_from",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="brought_to",
                to="calc.calculationrecord",
            ),
        ),
        migrations.CreateModel(
            name="RecordLink",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("entry", models.CharField(max_length=40)),
                (
                    "head",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="held_up",
                        to="calc.calculationrecord",
                    ),
                ),
                (
                    "record",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="rests_on",
                        to="calc.calculationrecord",
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
                "constraints": [
                    models.UniqueConstraint(fields=("record", "entry"), name="one_head_an_entry")
                ],
            },
        ),
    ]
