"""Circuits, and the school's own files of tyres and machines."""

from __future__ import annotations

from django.db import models

from leanladder.records.models.people import LONGEST_NAME


class Circuit(models.Model):
    """A circuit by name: the file with its line as it came, and the notes as circuit-notes/1 text.

    notes is empty where there are none.
    """

    name = models.CharField(max_length=LONGEST_NAME, unique=True)
    line_name = models.CharField(max_length=LONGEST_NAME)
    line = models.BinaryField()
    notes = models.TextField(blank=True, default="")

    class Meta:
        """Listed by name."""

        ordering = ("name",)

    def __str__(self) -> str:
        """The circuit's name."""
        return self.name


class OwnFile(models.Model):
    """A tyre/1 or machine/1 file of the school's own; name is that of its file, without suffix."""

    class Kind(models.TextChoices):
        """What the file describes."""

        TYRE = "tyre", "tyre"
        MACHINE = "machine", "machine"

    kind = models.CharField(max_length=10, choices=Kind.choices)
    name = models.CharField(max_length=LONGEST_NAME)
    text = models.TextField()

    class Meta:
        """One file of a kind by a name."""

        ordering = ("kind", "name")
        constraints = (models.UniqueConstraint(fields=("kind", "name"), name="own_file_once"),)

    def __str__(self) -> str:
        """What a machine's entry calls it."""
        return self.path

    @property
    def path(self) -> str:
        """Its path beside a day's file, as a machine's entry names it."""
        return f"{self.kind}s/{self.name}.toml"
