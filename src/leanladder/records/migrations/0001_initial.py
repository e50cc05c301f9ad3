"""The first tables."""

import django.contrib.auth.models
import django.contrib.auth.validators
import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = [
        ("auth", "0012_alter_user_first_name_max_length"),
    ]

    operations = [
        migrations.CreateModel(
            name="Circuit",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=60, unique=True)),
                ("line_name", models.CharField(max_length=60)),
                ("line", models.BinaryField()),
                ("notes", models.TextField(blank=True, default="")),
            ],
            options={
                "ordering": ("name",),
            },
        ),
        migrations.CreateModel(
            name="Machine",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=60, unique=True)),
                ("guest", models.BooleanField(default=False)),
                ("written", models.JSONField()),
            ],
            options={
                "ordering": ("name",),
            },
        ),
        migrations.CreateModel(
            name="Rider",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=60, unique=True)),
                ("written", models.JSONField()),
            ],
            options={
                "ordering": ("name",),
            },
        ),
        migrations.CreateModel(
            name="Person",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("password", models.CharField(max_length=128, verbose_name="password")),
                ("last_login", models.DateTimeField(blank=True, null=True, verbose_name="last login")),
                (
                    "is_superuser",
                    models.BooleanField(
                        default=False,
                        help_text="Designates that this user has all permissions without explicitly assigning them.",
                        verbose_name="superuser status",
                    ),
                ),
                (
                    "username",
                    models.CharField(
                        error_messages={"unique": "A user with that username already exists."},
                        help_text="Required. 150 characters or fewer. Letters, digits and @/./+/-/_ only.",
                        max_length=150,
                        unique=True,
                        validators=[django.contrib.auth.validators.UnicodeUsernameValidator()],
                        verbose_name="username",
                    ),
                ),
                ("first_name", models.CharField(blank=True, max_length=150, verbose_name="first name")),
                ("last_name", models.CharField(blank=True, max_length=150, verbose_name="last name")),
                ("email", models.EmailField(blank=True, max_length=254, verbose_name="email address")),
                (
                    "is_staff",
                    models.BooleanField(
                        default=False,
                        help_text="Designates whether the user can log into this admin site.",
                        verbose_name="staff status",
                    ),
                ),
                (
                    "is_active",
                    models.BooleanField(
                        default=True,
                        help_text="Designates whether this user should be treated as active. Unselect this instead of deleting accounts.",
                        verbose_name="active",
                    ),
                ),
                (
                    "date_joined",
                    models.DateTimeField(default=django.utils.timezone.now, verbose_name="date joined"),
                ),
                (
                    "role",
                    models.CharField(
                        choices=[("head", "head instructor"), ("coach", "coach")],
                        default="coach",
                        max_length=10,
                    ),
                ),
                ("coach_name", models.CharField(blank=True, default="", max_length=60)),
                (
                    "units",
                    models.CharField(
                        choices=[("metric", "metric"), ("imperial", "imperial")],
                        default="metric",
                        max_length=10,
                    ),
                ),
                ("language", models.CharField(default="en", max_length=2)),
                (
                    "groups",
                    models.ManyToManyField(
                        blank=True,
                        help_text="The groups this user belongs to. A user will get all permissions granted to each of their groups.",
                        related_name="user_set",
                        related_query_name="user",
                        to="auth.group",
                        verbose_name="groups",
                    ),
                ),
                (
                    "user_permissions",
                    models.ManyToManyField(
                        blank=True,
                        help_text="Specific permissions for this user.",
                        related_name="user_set",
                        related_query_name="user",
                        to="auth.permission",
                        verbose_name="user permissions",
                    ),
                ),
            ],
            options={
                "verbose_name": "user",
                "verbose_name_plural": "users",
                "abstract": False,
            },
            managers=[
                ("objects", django.contrib.auth.models.UserManager()),
            ],
        ),
        migrations.CreateModel(
            name="Day",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("date", models.DateField()),
                ("school", models.CharField(max_length=60)),
                ("head", models.CharField(blank=True, default="", max_length=60)),
                ("surface", models.CharField(blank=True, default="", max_length=60)),
                ("latitude_deg", models.FloatField(blank=True, null=True)),
                ("longitude_deg", models.FloatField(blank=True, null=True)),
                ("altitude_m", models.FloatField(blank=True, null=True)),
                ("weather", models.JSONField(default=list)),
                ("coaches", models.JSONField(default=list)),
                (
                    "circuit",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="days", to="records.circuit"
                    ),
                ),
            ],
            options={
                "ordering": ("-date", "-pk"),
            },
        ),
        migrations.CreateModel(
            name="Given",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("run_name", models.CharField(max_length=60)),
                ("at", models.DateTimeField()),
                ("by_name", models.CharField(blank=True, default="", max_length=150)),
                ("word", models.CharField(max_length=60)),
                ("valid_minutes", models.FloatField()),
                ("content", models.TextField()),
                ("riders", models.JSONField(default=list)),
                ("digest", models.CharField(blank=True, default="", max_length=64)),
                ("reason", models.CharField(blank=True, default="", max_length=300)),
                ("void_at", models.DateTimeField(blank=True, null=True)),
                ("void_why", models.CharField(blank=True, default="", max_length=300)),
                ("void_by_name", models.CharField(blank=True, default="", max_length=150)),
                ("void_word", models.CharField(blank=True, default="", max_length=60)),
                (
                    "after",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.given",
                    ),
                ),
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
                    "day",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="given", to="records.day"
                    ),
                ),
            ],
            options={
                "ordering": ("at", "pk"),
            },
        ),
        migrations.CreateModel(
            name="Group",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=60)),
                ("coaches", models.JSONField(default=list)),
                ("position", models.PositiveIntegerField(default=0)),
                (
                    "day",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="groups", to="records.day"
                    ),
                ),
            ],
            options={
                "ordering": ("position", "pk"),
            },
        ),
        migrations.CreateModel(
            name="Link",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("rider_name", models.CharField(max_length=60)),
                ("nonce", models.CharField(max_length=64)),
                ("made_at", models.DateTimeField()),
                ("revoked_at", models.DateTimeField(blank=True, null=True)),
                (
                    "day",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="links", to="records.day"
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
            },
        ),
        migrations.CreateModel(
            name="Lowered",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("level", models.CharField(blank=True, default="", max_length=60)),
                ("chance_of_100", models.FloatField(blank=True, null=True)),
                ("colder_k", models.FloatField(blank=True, null=True)),
                ("quarters", models.PositiveSmallIntegerField(blank=True, null=True)),
                ("reason", models.CharField(max_length=300)),
                ("at", models.DateTimeField()),
                ("by_name", models.CharField(blank=True, default="", max_length=150)),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
                ("ended_by_name", models.CharField(blank=True, default="", max_length=150)),
                ("ended_why", models.CharField(blank=True, default="", max_length=300)),
                (
                    "day",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="lowered", to="records.day"
                    ),
                ),
            ],
            options={
                "ordering": ("-at", "-pk"),
            },
        ),
        migrations.CreateModel(
            name="Brought",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("position", models.PositiveIntegerField(default=0)),
                (
                    "day",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="brought", to="records.day"
                    ),
                ),
                (
                    "machine",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="brought",
                        to="records.machine",
                    ),
                ),
            ],
            options={
                "ordering": ("position", "pk"),
            },
        ),
        migrations.CreateModel(
            name="Measured",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("run_name", models.CharField(blank=True, default="", max_length=60)),
                ("at", models.DateTimeField()),
                ("by_name", models.CharField(blank=True, default="", max_length=150)),
                ("track_c", models.FloatField(blank=True, null=True)),
                ("air_c", models.FloatField(blank=True, null=True)),
                ("cloud", models.FloatField(blank=True, null=True)),
                ("wind_mps", models.FloatField(blank=True, null=True)),
                ("humidity_pct", models.FloatField(blank=True, null=True)),
                ("seen_dry", models.BooleanField(default=False)),
                (
                    "day",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="measured", to="records.day"
                    ),
                ),
            ],
            options={
                "ordering": ("-at", "-pk"),
            },
        ),
        migrations.CreateModel(
            name="OwnFile",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("kind", models.CharField(choices=[("tyre", "tyre"), ("machine", "machine")], max_length=10)),
                ("name", models.CharField(max_length=60)),
                ("text", models.TextField()),
            ],
            options={
                "ordering": ("kind", "name"),
                "constraints": [models.UniqueConstraint(fields=("kind", "name"), name="own_file_once")],
            },
        ),
        migrations.CreateModel(
            name="Plan",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("digest", models.CharField(max_length=64)),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("waiting", "waiting"),
                            ("running", "running"),
                            ("done", "done"),
                            ("failed", "failed"),
                        ],
                        default="waiting",
                        max_length=10,
                    ),
                ),
                ("done", models.PositiveIntegerField(default=0)),
                ("of", models.PositiveIntegerField(default=0)),
                ("content", models.TextField(blank=True, default="")),
                ("error", models.TextField(blank=True, default="")),
                ("made_at", models.DateTimeField()),
                (
                    "day",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="plans", to="records.day"
                    ),
                ),
            ],
            options={
                "ordering": ("-made_at", "-pk"),
            },
        ),
        migrations.CreateModel(
            name="Place",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("level", models.CharField(blank=True, default="", max_length=60)),
                ("position", models.PositiveIntegerField(default=0)),
                (
                    "group",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="places", to="records.group"
                    ),
                ),
                (
                    "machine",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="places",
                        to="records.machine",
                    ),
                ),
                (
                    "rider",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="places", to="records.rider"
                    ),
                ),
            ],
            options={
                "ordering": ("position", "pk"),
            },
        ),
        migrations.CreateModel(
            name="Run",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.CharField(max_length=60)),
                ("at", models.CharField(max_length=8)),
                ("minutes", models.FloatField(blank=True, null=True)),
                ("laps", models.PositiveIntegerField(blank=True, null=True)),
                ("start", models.JSONField(blank=True, null=True)),
                ("position", models.PositiveIntegerField(default=0)),
                (
                    "day",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="runs", to="records.day"
                    ),
                ),
                (
                    "group",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="runs", to="records.group"
                    ),
                ),
            ],
            options={
                "ordering": ("position", "pk"),
            },
        ),
        migrations.CreateModel(
            name="Seen",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("first_at", models.DateTimeField(blank=True, null=True)),
                ("last_at", models.DateTimeField(blank=True, null=True)),
                ("void_read_at", models.DateTimeField(blank=True, null=True)),
                ("told_by", models.CharField(blank=True, default="", max_length=150)),
                ("told_at", models.DateTimeField(blank=True, null=True)),
                (
                    "given",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="seen", to="records.given"
                    ),
                ),
                (
                    "link",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="seen", to="records.link"
                    ),
                ),
            ],
            options={
                "ordering": ("pk",),
            },
        ),
        migrations.CreateModel(
            name="Standing",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("run_name", models.CharField(blank=True, max_length=60, null=True)),
                ("since", models.DateTimeField()),
                ("in_sun", models.BooleanField(default=False)),
                ("in_lane", models.BooleanField(default=True)),
                ("warmers_at", models.DateTimeField(blank=True, null=True)),
                ("ended_at", models.DateTimeField(blank=True, null=True)),
                (
                    "day",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="stops", to="records.day"
                    ),
                ),
            ],
            options={
                "ordering": ("-since", "-pk"),
            },
        ),
        migrations.CreateModel(
            name="Change",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("what", models.CharField(max_length=20)),
                ("key", models.CharField(max_length=40)),
                ("name", models.CharField(max_length=120)),
                ("at", models.DateTimeField()),
                ("who_name", models.CharField(blank=True, default="", max_length=150)),
                ("was", models.JSONField(null=True)),
                ("now", models.JSONField(null=True)),
                ("reason", models.CharField(blank=True, default="", max_length=300)),
                (
                    "who",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ("-at", "-pk"),
                "indexes": [models.Index(fields=["what", "key"], name="change_of")],
            },
        ),
        migrations.AddConstraint(
            model_name="given",
            constraint=models.UniqueConstraint(fields=("day", "word"), name="word_once_a_day"),
        ),
        migrations.AddConstraint(
            model_name="given",
            constraint=models.UniqueConstraint(
                condition=models.Q(("void_at__isnull", True)),
                fields=("day", "run_name"),
                name="one_counts_of_a_run",
            ),
        ),
        migrations.AddConstraint(
            model_name="group",
            constraint=models.UniqueConstraint(fields=("day", "name"), name="group_once"),
        ),
        migrations.AddConstraint(
            model_name="link",
            constraint=models.UniqueConstraint(
                condition=models.Q(("revoked_at__isnull", True)),
                fields=("day", "rider_name"),
                name="one_link_counts",
            ),
        ),
        migrations.AddConstraint(
            model_name="brought",
            constraint=models.UniqueConstraint(fields=("day", "machine"), name="brought_once"),
        ),
        migrations.AddConstraint(
            model_name="plan",
            constraint=models.UniqueConstraint(fields=("day", "digest"), name="plan_once"),
        ),
        migrations.AddConstraint(
            model_name="place",
            constraint=models.UniqueConstraint(fields=("group", "rider"), name="place_once"),
        ),
        migrations.AddConstraint(
            model_name="run",
            constraint=models.UniqueConstraint(fields=("day", "name"), name="run_once"),
        ),
        migrations.AddConstraint(
            model_name="seen",
            constraint=models.UniqueConstraint(fields=("link", "given"), name="seen_once"),
        ),
    ]
