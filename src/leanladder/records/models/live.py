"""What happens on the day itself: stops, measurements, limits lowered."""

from __future__ import annotations

from django.db import models

from leanladder.records.models.days import Day
from leanladder.records.models.given import LONGEST_REASON
from leanladder.records.models.people import LONGEST_NAME


class Standing(models.Model):
    """A stop, of one run or of all where run_name is None: since when, in sun or shade, lane or track.

    warmers_at: when warmers went back on, None where not; ended_at: when the wheels rolled again.
    """

    day = models.ForeignKey(Day, on_delete=models.CASCADE, related_name="stops")
    run_name = models.CharField(max_length=LONGEST_NAME, null=True, blank=True)  # None: all runs
    since = models.DateTimeField()
    in_sun = models.BooleanField(default=False)
    in_lane = models.BooleanField(default=True)
    warmers_at = models.DateTimeField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        """The latest first."""

        ordering = ("-since", "-pk")

    def __str__(self) -> str:
        """Which run, since when."""
        return f"{self.run_name or 'all'} since {self.since:%H:%M}"


class Measured(models.Model):
    """What someone measured or saw, for one run or, where run_name is empty, from then on."""

    day = models.ForeignKey(Day, on_delete=models.CASCADE, related_name="measured")
    run_name = models.CharField(max_length=LONGEST_NAME, blank=True, default="")
    at = models.DateTimeField()
    by_name = models.CharField(max_length=150, blank=True, default="")
    track_c = models.FloatField(null=True, blank=True)
    air_c = models.FloatField(null=True, blank=True)
    cloud = models.FloatField(null=True, blank=True)
    wind_mps = models.FloatField(null=True, blank=True)
    humidity_pct = models.FloatField(null=True, blank=True)
    seen_dry = models.BooleanField(default=False)

    class Meta:
        """The latest first."""

        ordering = ("-at", "-pk")

    def __str__(self) -> str:
        """When, for which run."""
        return f"{self.run_name or 'all'} {self.at:%H:%M}"


class Rained(models.Model):
    """That rain or damp was called in for all of a day: when, by whom, and the pit board's word since.

    Kept where no card counted too: whoever goes out after it is for the head instructor to say.
    """

    day = models.ForeignKey(Day, on_delete=models.CASCADE, related_name="rained")
    at = models.DateTimeField()
    by_name = models.CharField(max_length=150, blank=True, default="")
    why = models.CharField(max_length=LONGEST_REASON)
    word = models.CharField(max_length=LONGEST_NAME)

    class Meta:
        """The latest first."""

        ordering = ("-at", "-pk")

    def __str__(self) -> str:
        """When, which word."""
        return f"{self.why} {self.at:%H:%M}: {self.word}"


class Lowered(models.Model):
    """Limits of all lowered at once with a reason: a level at most, a greater chance, a colder track.

    level: the most careful that riders count as; chance_of_100 [in 100]; colder_k [K] taken off the track;
    quarters taken off riders' fans. ended_at: when the head instructor took it back, and why.
    """

    day = models.ForeignKey(Day, on_delete=models.CASCADE, related_name="lowered")
    level = models.CharField(max_length=LONGEST_NAME, blank=True, default="")
    chance_of_100 = models.FloatField(null=True, blank=True)
    colder_k = models.FloatField(null=True, blank=True)
    quarters = models.PositiveSmallIntegerField(null=True, blank=True)
    reason = models.CharField(max_length=LONGEST_REASON)
    at = models.DateTimeField()
    by_name = models.CharField(max_length=150, blank=True, default="")
    ended_at = models.DateTimeField(null=True, blank=True)
    ended_by_name = models.CharField(max_length=150, blank=True, default="")
    ended_why = models.CharField(max_length=LONGEST_REASON, blank=True, default="")

    class Meta:
        """The latest first."""

        ordering = ("-at", "-pk")

    def __str__(self) -> str:
        """Why."""
        return self.reason
