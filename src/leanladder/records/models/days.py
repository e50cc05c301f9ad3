"""Days: who goes out on what, when, in what weather."""

from __future__ import annotations

from django.db import models

from leanladder.records.models.circuits import Circuit
from leanladder.records.models.people import LONGEST_NAME
from leanladder.records.models.stable import Machine, Rider


class Day(models.Model):
    """A day at a circuit; head and surface are empty, and places None, where not stated.

    weather and coaches are lists of entries of a day's file.
    """

    date = models.DateField()
    circuit = models.ForeignKey(Circuit, on_delete=models.PROTECT, related_name="days")
    school = models.CharField(max_length=LONGEST_NAME)
    head = models.CharField(max_length=LONGEST_NAME, blank=True, default="")
    surface = models.CharField(max_length=LONGEST_NAME, blank=True, default="")
    latitude_deg = models.FloatField(null=True, blank=True)
    longitude_deg = models.FloatField(null=True, blank=True)
    altitude_m = models.FloatField(null=True, blank=True)
    weather = models.JSONField(default=list)
    coaches = models.JSONField(default=list)

    class Meta:
        """The latest first."""

        ordering = ("-date", "-pk")

    def __str__(self) -> str:
        """Its date and school."""
        return f"{self.date} {self.school}"


class Brought(models.Model):
    """A machine that is there on a day, with a rider or to spare."""

    day = models.ForeignKey(Day, on_delete=models.CASCADE, related_name="brought")
    machine = models.ForeignKey(Machine, on_delete=models.CASCADE, related_name="brought")
    position = models.PositiveIntegerField(default=0)

    class Meta:
        """A machine stands once on a day."""

        ordering = ("position", "pk")
        constraints = (models.UniqueConstraint(fields=("day", "machine"), name="brought_once"),)

    def __str__(self) -> str:
        """The machine."""
        return str(self.machine)


class Group(models.Model):
    """Riders who go out together; coaches, the names of those who lead them."""

    day = models.ForeignKey(Day, on_delete=models.CASCADE, related_name="groups")
    name = models.CharField(max_length=LONGEST_NAME)
    coaches = models.JSONField(default=list)
    position = models.PositiveIntegerField(default=0)

    class Meta:
        """In the day's order; a name stands once."""

        ordering = ("position", "pk")
        constraints = (models.UniqueConstraint(fields=("day", "name"), name="group_once"),)

    def __str__(self) -> str:
        """Its name."""
        return self.name


class Place(models.Model):
    """A rider in a group; machine and level where they differ that day from the rider's own."""

    group = models.ForeignKey(Group, on_delete=models.CASCADE, related_name="places")
    rider = models.ForeignKey(Rider, on_delete=models.CASCADE, related_name="places")
    machine = models.ForeignKey(
        Machine, on_delete=models.PROTECT, null=True, blank=True, related_name="places"
    )
    level = models.CharField(max_length=LONGEST_NAME, blank=True, default="")
    position = models.PositiveIntegerField(default=0)

    class Meta:
        """In the day's order; a rider stands once in a group."""

        ordering = ("position", "pk")
        constraints = (models.UniqueConstraint(fields=("group", "rider"), name="place_once"),)

    def __str__(self) -> str:
        """Who, in which group."""
        return f"{self.rider}, {self.group}"


class Run(models.Model):
    """One run of a group: at, "HH:MM"; minutes or laps; start, as a day's file writes it, or None."""

    day = models.ForeignKey(Day, on_delete=models.CASCADE, related_name="runs")
    group = models.ForeignKey(Group, on_delete=models.CASCADE, related_name="runs")
    name = models.CharField(max_length=LONGEST_NAME)
    at = models.CharField(max_length=8)
    minutes = models.FloatField(null=True, blank=True)
    laps = models.PositiveIntegerField(null=True, blank=True)
    start = models.JSONField(null=True, blank=True)
    position = models.PositiveIntegerField(default=0)

    class Meta:
        """In the day's order; a name stands once."""

        ordering = ("position", "pk")
        constraints = (models.UniqueConstraint(fields=("day", "name"), name="run_once"),)

    def __str__(self) -> str:
        """Its name and time."""
        return f"{self.name} {self.at}"
