"""Several writers at one moment on the database in force, and what stands after it, as JSON.

A program of its own, since it sets Django up with a database that is not that of the other tests.
"""

from __future__ import annotations

import json
import sys
import threading
from collections.abc import Callable
from typing import Any

import django

django.setup()

from django.db import connection  # noqa: E402  # only once Django is set up
from django_tasks_db.models import DBTaskResult  # noqa: E402  # the same

from leanladder.domain.errors import InputError  # noqa: E402  # the same
from leanladder.records import days, given, links, stable  # noqa: E402  # the same
from leanladder.records.models import Given, Link, Plan, Rider  # noqa: E402  # the same
from leanladder.web import plans  # noqa: E402  # the same

WRITERS = 6


def at_once(write: Callable[[int], object]) -> dict[str, Any]:
    """Let all write at one moment; return how many did, how many heard why not, and what else happened."""
    ready, lock = threading.Barrier(WRITERS), threading.Lock()
    told: dict[str, Any] = {"done": 0, "refused": 0, "other": []}

    def one(number: int) -> None:
        ready.wait()
        try:
            write(number)
            end = "done"
        except InputError:
            end = "refused"
        except Exception as error:  # noqa: BLE001  # that nothing else happens is what is looked at
            end = repr(error)
        finally:
            connection.close()
        with lock:
            if end in told:
                told[end] += 1
            else:
                told["other"].append(end)

    threads = [threading.Thread(target=one, args=(number,)) for number in range(WRITERS)]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    return told


def main() -> int:
    """Write, look, and say."""
    day = days.demo_day(None).pk
    run, other = (each.name for each in days.runs(day)[:2])

    def gives(run_name: str, word: str) -> object:
        return given.give_out(day, run_name, "{}", word=word, valid_minutes=20.0, by=None)

    many = at_once(lambda number: gives(run, f"word {number}"))
    same = at_once(lambda _: gives(other, "the same"))
    asked = at_once(lambda _: plans.progress(day))
    looked = at_once(lambda _: links.link_for(day, "Wren"))
    entry = stable.riders()[0].written
    saved = at_once(lambda _: stable.save_rider("Twice", entry, None))
    found = {
        "vendor": connection.vendor,
        "writers": WRITERS,
        "given": many | {"counting": Given.objects.filter(run_name=run, void_at=None).count()},
        "same_word": same,
        "plans": {
            "plans": Plan.objects.count(),
            "jobs": DBTaskResult.objects.count(),
            "other": asked["other"],
        },
        "links": {"links": Link.objects.filter(rider_name="Wren").count(), "other": looked["other"]},
        "riders": {"riders": Rider.objects.filter(name="Twice").count(), "other": saved["other"]},
    }
    sys.stdout.write(json.dumps(found) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
