"""Rain is kept by itself, whether a card counted then or not."""

from typing import Any

import django.db.models.deletion
from django.db import migrations, models

# Why cards of before are void where rain was called in.
WET = ("rain", "damp")


def from_void(apps: Any, _editor: object) -> None:  # noqa: ANN401  # tables as they were then
    """Keep the rain that is known from cards it made void."""
    given, rained = (apps.get_model("records", name) for name in ("Given", "Rained"))
    told = given.objects.filter(void_why__in=WET).exclude(void_word="").order_by("void_at")
    for void in told.values_list("day_id", "void_at", "void_by_name", "void_why", "void_word").distinct():
        day_id, at, by_name, why, word = void
        rained.objects.create(day_id=day_id, at=at, by_name=by_name, why=why, word=word)


class Migration(migrations.Migration):
    dependencies = [
        ("records", "0001_initial"),
    ]

    operations = [
        migrations.CreateModel(
            name="Rained",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("at", models.DateTimeField()),
                ("by_name", models.CharField(blank=True, default="", max_length=150)),
                ("why", models.CharField(max_length=300)),
                ("word", models.CharField(max_length=60)),
                (
                    "day",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="rained",
                        to="records.day",
                    ),
                ),
            ],
            options={
                "ordering": ("-at", "-pk"),
            },
        ),
        migrations.RunPython(from_void, migrations.RunPython.noop),
    ]
