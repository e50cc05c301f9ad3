"""What changed in the records."""

from __future__ import annotations

from django.db import models

from leanladder.records.models.given import LONGEST_REASON
from leanladder.records.models.people import LONGEST_NAME, Person


class Change(models.Model):
    """One save or removal: what kind of thing, its key and name; as it was and as it is now.

    was is None for something new, now for something removed. who is None where nobody was signed in or
    the person was removed since; who_name stays.
    """

    what = models.CharField(max_length=20)
    key = models.CharField(max_length=40)
    name = models.CharField(max_length=2 * LONGEST_NAME)
    at = models.DateTimeField()
    who = models.ForeignKey(Person, on_delete=models.SET_NULL, null=True, related_name="+")
    who_name = models.CharField(max_length=150, blank=True, default="")
    was = models.JSONField(null=True)
    now = models.JSONField(null=True)
    reason = models.CharField(max_length=LONGEST_REASON, blank=True, default="")

    class Meta:
        """The latest first, found by what it is of."""

        ordering = ("-at", "-pk")
        indexes = (models.Index(fields=("what", "key"), name="change_of"),)

    def __str__(self) -> str:
        """What, which."""
        return f"{self.what} {self.name}"
