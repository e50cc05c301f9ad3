"""Who may sign in."""

from __future__ import annotations

from django.contrib.auth.models import AbstractUser
from django.db import models

LONGEST_NAME = 60  # as a name in a day's file


class Person(AbstractUser):
    """The head instructor or a coach; a rider needs no account.

    coach_name: which of a day's coaches this is, by the name that the day's file uses. units and
    language: those of their pages.
    """

    class Role(models.TextChoices):
        """What someone may do: the head instructor all, a coach what concerns their own groups."""

        HEAD = "head", "head instructor"
        COACH = "coach", "coach"

    class Units(models.TextChoices):
        """The units that figures are shown in."""

        METRIC = "metric", "metric"
        IMPERIAL = "imperial", "imperial"

    role = models.CharField(max_length=10, choices=Role.choices, default=Role.COACH)
    coach_name = models.CharField(max_length=LONGEST_NAME, blank=True, default="")
    units = models.CharField(max_length=10, choices=Units.choices, default=Units.METRIC)
    language = models.CharField(max_length=2, default="en")

    def __str__(self) -> str:
        """The name that pages show."""
        return self.coach_name or self.username

    @property
    def is_head(self) -> bool:
        """Whether this is a head instructor."""
        return self.role == self.Role.HEAD
