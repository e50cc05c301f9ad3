"""What two who save at one moment hear."""

from __future__ import annotations

import pytest
from django.db import transaction

from leanladder.domain.errors import InputError
from leanladder.records.checking import by_one_only
from leanladder.records.models import Rider


def test_the_second_of_two_who_save_the_same_hears_so_in_plain_words() -> None:
    Rider.objects.create(name="Twice", written={})
    with pytest.raises(InputError, match="someone else saved") as heard, by_one_only(), transaction.atomic():
        Rider.objects.create(name="Twice", written={})
    assert heard.value.fault.remedy
    assert Rider.objects.filter(name="Twice").count() == 1
