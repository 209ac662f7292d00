import django.core.validators
import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Build",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=60, verbose_name="name")),
                (
                    "scale",
                    models.CharField(
                        blank=True,
                        help_text="As it is spoken of: 4 in, or 1:3.",
                        max_length=40,
                        verbose_name="scale",
                    ),
                ),
                (
                    "description",
                    models.CharField(
                        blank=True,
                        help_text="Single-cylinder, two-speed, general purpose …",
                        max_length=200,
                        verbose_name="what it is",
                    ),
                ),
                (
                    "units",
                    models.CharField(
                        choices=[("inch", "inches"), ("mm", "millimetres")],
                        default="inch",
                        max_length=4,
                        verbose_name="a bare number is in",
                    ),
                ),
                (
                    "currency",
                    models.CharField(
                        choices=[
                            ("GBP", "pounds (GBP)"),
                            ("EUR", "euros (EUR)"),
                            ("USD", "US dollars (USD)"),
                            ("AUD", "Australian dollars (AUD)"),
                            ("NZD", "New Zealand dollars (NZD)"),
                            ("CAD", "Canadian dollars (CAD)"),
                            ("CHF", "Swiss francs (CHF)"),
                            ("SEK", "Swedish kronor (SEK)"),
                        ],
                        default="GBP",
                        max_length=3,
                        verbose_name="money in",
                    ),
                ),
                ("is_demo", models.BooleanField(default=False, editable=False)),
                ("side_view", models.CharField(blank=True, editable=False, max_length=20)),
                ("created_at", models.DateTimeField(auto_now_add=True)),
            ],
            options={
                "ordering": ("name", "pk"),
            },
        ),
        migrations.CreateModel(
            name="Assembly",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "code",
                    models.CharField(
                        help_text="Short, as in part numbers: FW, CY, S.",
                        max_length=12,
                        verbose_name="letters",
                    ),
                ),
                ("name", models.CharField(max_length=80, verbose_name="name")),
                (
                    "balloon",
                    models.CharField(
                        blank=True,
                        help_text="Its number on the general arrangement: 7, or 4.1.",
                        max_length=6,
                        verbose_name="balloon",
                    ),
                ),
                ("balloon_key", models.CharField(default="", editable=False, max_length=60)),
                (
                    "parent",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="children",
                        to="buildlog.assembly",
                    ),
                ),
                (
                    "build",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="assemblies",
                        to="buildlog.build",
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "assemblies",
                "ordering": ("balloon_key", "code"),
            },
        ),
        migrations.CreateModel(
            name="DividingHead",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "name",
                    models.CharField(
                        help_text="What you call it: H1, or big head.", max_length=40, verbose_name="name"
                    ),
                ),
                (
                    "ratio",
                    models.PositiveIntegerField(
                        default=40,
                        help_text="Turns of the crank for one turn of the spindle.",
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(360),
                        ],
                        verbose_name="ratio",
                    ),
                ),
                (
                    "direct_circles",
                    models.CharField(
                        blank=True,
                        help_text="Holes on the plate at the spindle, if it has one: 24.",
                        max_length=60,
                        verbose_name="direct plate",
                    ),
                ),
                (
                    "change_gears",
                    models.CharField(
                        blank=True,
                        help_text="Those that go between spindle and plate; one owned twice is written twice: 24, 24, 28.",
                        max_length=200,
                        verbose_name="change gears",
                    ),
                ),
                ("is_usual", models.BooleanField(default=False, verbose_name="the one I usually use")),
                (
                    "owner",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="dividing_heads",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("-is_usual", "name", "pk"),
            },
        ),
        migrations.CreateModel(
            name="GearCutter",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "pitch",
                    models.CharField(
                        help_text="As stamped: 8 DP, or 2 mod.", max_length=20, verbose_name="pitch"
                    ),
                ),
                (
                    "pressure_angle",
                    models.CharField(
                        default="20", help_text="In degrees.", max_length=20, verbose_name="pressure angle"
                    ),
                ),
                (
                    "number",
                    models.CharField(
                        blank=True, help_text="As stamped: 5, or 5 1/2.", max_length=10, verbose_name="number"
                    ),
                ),
                (
                    "numbering",
                    models.CharField(
                        choices=[
                            ("1 cuts the rack", "1 cuts the rack, 8 the fewest teeth"),
                            ("1 cuts 12 and 13", "1 cuts 12 and 13 teeth, 8 the rack"),
                        ],
                        default="1 cuts the rack",
                        max_length=20,
                        verbose_name="numbering",
                    ),
                ),
                (
                    "from_teeth",
                    models.PositiveIntegerField(
                        help_text="Fewest teeth marked on it.",
                        validators=[
                            django.core.validators.MinValueValidator(6),
                            django.core.validators.MaxValueValidator(1000),
                        ],
                        verbose_name="from",
                    ),
                ),
                (
                    "to_teeth",
                    models.PositiveIntegerField(
                        blank=True,
                        help_text="Most teeth marked on it; left empty for the rack.",
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(6),
                            django.core.validators.MaxValueValidator(1000),
                        ],
                        verbose_name="to",
                    ),
                ),
                (
                    "depth_marked",
                    models.CharField(
                        blank=True,
                        help_text="As stamped: 0.270 in.",
                        max_length=20,
                        verbose_name="depth marked",
                    ),
                ),
                ("note", models.CharField(blank=True, max_length=120, verbose_name="note")),
                ("pitch_key", models.CharField(default="", editable=False, max_length=60)),
                (
                    "owner",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="gear_cutters",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("pitch_key", "pressure_angle", "from_teeth", "pk"),
            },
        ),
        migrations.CreateModel(
            name="IndexPlate",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "name",
                    models.CharField(
                        help_text="1, 2, 3 or what is stamped on it.", max_length=20, verbose_name="plate"
                    ),
                ),
                (
                    "first_face",
                    models.CharField(
                        help_text="Holes in each circle: 15,16,17,18,19,20",
                        max_length=200,
                        verbose_name="circles",
                    ),
                ),
                (
                    "second_face",
                    models.CharField(blank=True, max_length=200, verbose_name="circles on the back"),
                ),
                (
                    "head",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="plates",
                        to="buildlog.dividinghead",
                    ),
                ),
            ],
            options={
                "ordering": ("name", "pk"),
            },
        ),
        migrations.CreateModel(
            name="ListDraft",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("file_name", models.CharField(max_length=200)),
                ("how_read", models.CharField(max_length=200)),
                ("rows", models.JSONField()),
                ("created_at", models.DateTimeField()),
                ("accepted_at", models.DateTimeField(blank=True, null=True)),
                (
                    "build",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="list_drafts",
                        to="buildlog.build",
                    ),
                ),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("-created_at",),
            },
        ),
        migrations.CreateModel(
            name="Membership",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "role",
                    models.CharField(
                        choices=[("owner", "owner"), ("builder", "builder")], default="builder", max_length=10
                    ),
                ),
                (
                    "build",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="memberships",
                        to="buildlog.build",
                    ),
                ),
                (
                    "user",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="memberships",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
        ),
        migrations.AddField(
            model_name="build",
            name="members",
            field=models.ManyToManyField(
                related_name="builds", through="buildlog.Membership", to=settings.AUTH_USER_MODEL
            ),
        ),
        migrations.CreateModel(
            name="Part",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("number", models.CharField(max_length=20, verbose_name="number")),
                (
                    "hand",
                    models.CharField(
                        blank=True,
                        choices=[("", "no hand"), ("L", "left"), ("R", "right")],
                        default="",
                        max_length=1,
                        verbose_name="hand",
                    ),
                ),
                ("name", models.CharField(max_length=120, verbose_name="name")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("casting", "casting"),
                            ("from stock", "from stock"),
                            ("bought", "bought"),
                            ("made up", "made up"),
                        ],
                        default="from stock",
                        max_length=10,
                        verbose_name="kind",
                    ),
                ),
                ("material", models.CharField(blank=True, max_length=80, verbose_name="made of")),
                ("leading_size", models.CharField(blank=True, max_length=40, verbose_name="leading size")),
                ("sheet", models.CharField(blank=True, max_length=30, verbose_name="sheet")),
                (
                    "casting_number",
                    models.CharField(blank=True, max_length=20, verbose_name="casting number"),
                ),
                ("weight", models.CharField(blank=True, max_length=20, verbose_name="weight")),
                ("notes", models.TextField(blank=True, max_length=2000, verbose_name="notes")),
                (
                    "lesson",
                    models.TextField(
                        blank=True, max_length=1000, verbose_name="lesson for the next like part"
                    ),
                ),
                (
                    "stage",
                    models.CharField(
                        choices=[
                            ("not started", "Not started"),
                            ("in hand", "In hand"),
                            ("machined", "Machined"),
                            ("fitted", "Fitted"),
                            ("painted", "Painted"),
                            ("on the engine", "On the engine"),
                        ],
                        default="not started",
                        max_length=13,
                    ),
                ),
                (
                    "good",
                    models.PositiveIntegerField(
                        default=0, validators=[django.core.validators.MaxValueValidator(99999)]
                    ),
                ),
                (
                    "scrap",
                    models.PositiveIntegerField(
                        default=0, validators=[django.core.validators.MaxValueValidator(99999)]
                    ),
                ),
                ("waits_for", models.CharField(blank=True, max_length=120, verbose_name="waits for")),
                ("waits_since", models.DateField(blank=True, editable=False, null=True)),
                ("stage_at", models.DateTimeField(blank=True, editable=False, null=True)),
                ("binned_at", models.DateTimeField(blank=True, editable=False, null=True)),
                ("number_key", models.CharField(default="", editable=False, max_length=130)),
                ("size_nm", models.BigIntegerField(editable=False, null=True)),
                ("hatch", models.CharField(default="", editable=False, max_length=2)),
                ("search_text", models.TextField(default="", editable=False)),
                (
                    "build",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="parts", to="buildlog.build"
                    ),
                ),
            ],
            options={
                "ordering": ("number_key", "hand"),
            },
        ),
        migrations.CreateModel(
            name="HistoryLine",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("at", models.DateTimeField()),
                (
                    "stage",
                    models.CharField(
                        choices=[
                            ("not started", "Not started"),
                            ("in hand", "In hand"),
                            ("machined", "Machined"),
                            ("fitted", "Fitted"),
                            ("painted", "Painted"),
                            ("on the engine", "On the engine"),
                        ],
                        max_length=13,
                    ),
                ),
                ("good", models.PositiveIntegerField()),
                ("scrap", models.PositiveIntegerField()),
                ("text", models.CharField(max_length=300)),
                ("token", models.UUIDField(editable=False, null=True, unique=True)),
                (
                    "by",
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
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="history",
                        to="buildlog.part",
                    ),
                ),
            ],
            options={
                "ordering": ("-at", "-pk"),
            },
        ),
        migrations.CreateModel(
            name="PartUse",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                (
                    "quantity",
                    models.PositiveIntegerField(
                        default=1,
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(9999),
                        ],
                    ),
                ),
                (
                    "assembly",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="uses",
                        to="buildlog.assembly",
                    ),
                ),
                (
                    "part",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="uses", to="buildlog.part"
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
            },
        ),
        migrations.CreateModel(
            name="WorkCard",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("number", models.PositiveIntegerField()),
                ("paper", models.CharField(choices=[("A4", "A4"), ("A5", "A5")], default="A4", max_length=2)),
                ("title", models.CharField(max_length=200)),
                ("sheet", models.JSONField()),
                ("made_at", models.DateTimeField()),
                ("token", models.UUIDField(editable=False, null=True, unique=True)),
                (
                    "build",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="cards", to="buildlog.build"
                    ),
                ),
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
                        on_delete=django.db.models.deletion.CASCADE, related_name="cards", to="buildlog.part"
                    ),
                ),
            ],
            options={
                "ordering": ("-number",),
            },
        ),
    ]
