from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("buildlog", "0001_initial"),
        ("calc", "0001_initial"),
    ]

    operations = [
        migrations.AddField(
            model_name="workcard",
            name="records",
            field=models.ManyToManyField(blank=True, related_name="cards", to="calc.calculationrecord"),
        ),
        migrations.AddConstraint(
            model_name="assembly",
            constraint=models.UniqueConstraint(
                fields=("build", "code"),
                name="one_assembly_a_code",
                violation_error_message="Another assembly of this build has these letters.",
            ),
        ),
        migrations.AddConstraint(
            model_name="assembly",
            constraint=models.UniqueConstraint(
                condition=models.Q(("balloon", ""), _negated=True),
                fields=("build", "balloon"),
                name="one_assembly_a_balloon",
                violation_error_message="Another assembly of this build has this balloon.",
            ),
        ),
        migrations.AddConstraint(
            model_name="membership",
            constraint=models.UniqueConstraint(fields=("build", "user"), name="one_membership_each"),
        ),
        migrations.AddIndex(
            model_name="part",
            index=models.Index(fields=["build", "number_key", "hand"], name="part_by_number"),
        ),
        migrations.AddIndex(
            model_name="part",
            index=models.Index(fields=["build", "stage"], name="part_by_stage"),
        ),
        migrations.AddConstraint(
            model_name="part",
            constraint=models.UniqueConstraint(
                condition=models.Q(("binned_at", None)),
                fields=("build", "number", "hand"),
                name="one_live_part_a_key",
                violation_error_message="Another part of this build has this number and hand.",
            ),
        ),
        migrations.AddIndex(
            model_name="historyline",
            index=models.Index(fields=["part", "-at"], name="history_by_part"),
        ),
        migrations.AddConstraint(
            model_name="partuse",
            constraint=models.UniqueConstraint(
                fields=("part", "assembly"),
                name="one_use_an_assembly",
                violation_error_message="It is already used in this assembly: change the quantity there.",
            ),
        ),
        migrations.AddConstraint(
            model_name="workcard",
            constraint=models.UniqueConstraint(fields=("build", "number"), name="one_card_a_number"),
        ),
    ]
