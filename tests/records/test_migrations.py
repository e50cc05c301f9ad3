"""What tables of before hold is not lost when they change."""

from __future__ import annotations

from importlib import import_module

from django.apps import apps

from leanladder.records import given
from leanladder.records.models import Day, Given, Person, Rained


def test_rain_of_before_is_known_from_the_cards_it_made_void(demo: Day, head: Person) -> None:
    for run, word in (("larks 1", "heron"), ("plovers 1", "otter")):
        given.give_out(demo.pk, run, "{}", word=word, valid_minutes=20.0, by=head)
    given.void(demo.pk, "stopped", head, run_name="larks 1")
    assert given.rained(demo.pk) is None
    given.void(demo.pk, "rain", head, word="badger")
    Rained.objects.all().delete()
    import_module("leanladder.records.migrations.0002_rained").from_void(apps, None)
    (kept,) = Rained.objects.all()
    (at,) = set(Given.objects.values_list("void_at", flat=True))
    assert (kept.at, kept.word, kept.why, kept.by_name) == (at, "badger", "rain", "Oda Fenn")
