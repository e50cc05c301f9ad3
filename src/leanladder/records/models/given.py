"""What was worked out, what was handed out, and who has seen it."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from leanladder.records.models.days import Day
from leanladder.records.models.people import LONGEST_NAME, Person

LONGEST_REASON = 300


class Plan(models.Model):
    """A day as planned, by the digest of all that went in; content is what `stored` writes.

    done and of count its steps while it runs; error says why it failed.
    """

    class State(models.TextChoices):
        """How far a plan is."""

        WAITING = "waiting", "waiting"
        RUNNING = "running", "running"
        DONE = "done", "done"
        FAILED = "failed", "failed"

    day = models.ForeignKey(Day, on_delete=models.CASCADE, related_name="plans")
    digest = models.CharField(max_length=64)
    state = models.CharField(max_length=10, choices=State.choices, default=State.WAITING)
    done = models.PositiveIntegerField(default=0)
    of = models.PositiveIntegerField(default=0)
    content = models.TextField(blank=True, default="")
    error = models.TextField(blank=True, default="")
    made_at = models.DateTimeField()

    class Meta:
        """One plan of a day for a digest."""

        ordering = ("-made_at", "-pk")
        constraints = (models.UniqueConstraint(fields=("day", "digest"), name="plan_once"),)

    def __str__(self) -> str:
        """Of which day, how far."""
        return f"{self.day}: {self.state}"


class Given(models.Model):
    """A run's ladders and cards as handed out: by value, never worked out anew, never removed.

    riders: (rider, machine) by name, in order. digest: that of the day's file then. word: the day word of
    it; valid_minutes [min]. Void since void_at, where set: why, by whom, and the day word that counts
    instead where no new one was given out. after: what it came after.
    """

    day = models.ForeignKey(Day, on_delete=models.PROTECT, related_name="given")
    run_name = models.CharField(max_length=LONGEST_NAME)
    at = models.DateTimeField()
    by = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    by_name = models.CharField(max_length=150, blank=True, default="")
    word = models.CharField(max_length=LONGEST_NAME)
    valid_minutes = models.FloatField()
    content = models.TextField()
    riders = models.JSONField(default=list)
    digest = models.CharField(max_length=64, blank=True, default="")
    reason = models.CharField(max_length=LONGEST_REASON, blank=True, default="")
    void_at = models.DateTimeField(null=True, blank=True)
    void_why = models.CharField(max_length=LONGEST_REASON, blank=True, default="")
    void_by_name = models.CharField(max_length=150, blank=True, default="")
    void_word = models.CharField(max_length=LONGEST_NAME, blank=True, default="")
    after = models.ForeignKey("self", on_delete=models.PROTECT, null=True, blank=True, related_name="+")

    class Meta:
        """A day word is used once a day; one at most of a run counts."""

        ordering = ("at", "pk")
        constraints = (
            models.UniqueConstraint(fields=("day", "word"), name="word_once_a_day"),
            models.UniqueConstraint(
                fields=("day", "run_name"), condition=Q(void_at__isnull=True), name="one_counts_of_a_run"
            ),
        )

    def __str__(self) -> str:
        """Which run, which word."""
        return f"{self.run_name}: {self.word}"

    @property
    def counts(self) -> bool:
        """Whether it is not void; how long it holds is for the clock to say."""
        return self.void_at is None


class Link(models.Model):
    """A rider's own link to their card of a day; nonce goes into its token."""

    day = models.ForeignKey(Day, on_delete=models.CASCADE, related_name="links")
    rider_name = models.CharField(max_length=LONGEST_NAME)
    nonce = models.CharField(max_length=64)
    made_at = models.DateTimeField()
    revoked_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        """A rider has one at most that counts."""

        ordering = ("pk",)
        constraints = (
            models.UniqueConstraint(
                fields=("day", "rider_name"), condition=Q(revoked_at__isnull=True), name="one_link_counts"
            ),
        )

    def __str__(self) -> str:
        """Whose it is."""
        return self.rider_name


class Seen(models.Model):
    """That what was given was opened by a link: first and last when, and when the void was confirmed.

    first_at and last_at are None where it was never opened but a coach told the rider.
    """

    link = models.ForeignKey(Link, on_delete=models.CASCADE, related_name="seen")
    given = models.ForeignKey(Given, on_delete=models.CASCADE, related_name="seen")
    first_at = models.DateTimeField(null=True, blank=True)
    last_at = models.DateTimeField(null=True, blank=True)
    void_read_at = models.DateTimeField(null=True, blank=True)
    told_by = models.CharField(max_length=150, blank=True, default="")
    told_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        """A link and what was given meet once."""

        ordering = ("pk",)
        constraints = (models.UniqueConstraint(fields=("link", "given"), name="seen_once"),)

    def __str__(self) -> str:
        """Who, which."""
        return f"{self.link}, {self.given}"
