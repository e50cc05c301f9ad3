"""The records as an app of Django's."""

from __future__ import annotations

from django.apps import AppConfig


class RecordsConfig(AppConfig):
    """The records: their tables carry the label `records`."""

    name = "leanladder.records"
    label = "records"
    verbose_name = "Records"
    default_auto_field = "django.db.models.BigAutoField"
