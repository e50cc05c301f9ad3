"""Machines and riders, from day to day."""

from __future__ import annotations

from django.db import models

from leanladder.records.models.people import LONGEST_NAME


class Machine(models.Model):
    """A machine by its name or number; written is its entry of a day's file, without the name."""

    name = models.CharField(max_length=LONGEST_NAME, unique=True)
    guest = models.BooleanField(default=False)
    written = models.JSONField()

    class Meta:
        """Listed by name."""

        ordering = ("name",)

    def __str__(self) -> str:
        """Its name or number."""
        return self.name


class Rider(models.Model):
    """A rider by name or number; written is their entry of a day's file, without name and group."""

    name = models.CharField(max_length=LONGEST_NAME, unique=True)
    written = models.JSONField()

    class Meta:
        """Listed by name."""

        ordering = ("name",)

    def __str__(self) -> str:
        """Their name or number."""
        return self.name
