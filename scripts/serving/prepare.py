"""Put a head instructor, coaches and planned days on record in the data folder that the environment names.

A program of its own, since it sets Django up: `python scripts/serving/prepare.py DAYS MEMBERS [RIDERS]`.
The last day is left unplanned. Ladders are drawn with so few members, since caps do not matter here; with
RIDERS the groups are filled up to so many. It prints what stands on record as JSON: of each day its key,
date, circuit, a machine, its runs.
"""

from __future__ import annotations

import json
import os
import shutil
import sys
import tempfile
import tomllib
from datetime import date, timedelta
from importlib.resources import as_file, files
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from leanladder.records.models import Day

FILE = "day.toml"
HEAD, COACH = "oda", "maren"
PASSWORD = "a long enough word"  # noqa: S105  # of people who do not exist
COACHES = ("Maren", "Tom")  # as the example day names them


def main() -> int:
    """Make the records and say which."""
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "leanladder.web.settings")
    import django  # noqa: PLC0415  # by the environment as it is now

    django.setup()
    from django.core.management import call_command  # noqa: PLC0415  # only once Django is set up

    call_command("migrate", interactive=False, verbosity=0)
    from leanladder.planning.odds import counting  # noqa: PLC0415  # slow to load

    count, counting.LEAST_MEMBERS, *more = (int(word) for word in sys.argv[1:])
    found = recorded(count, *more)
    sys.stdout.write(json.dumps(found) + "\n")
    return 0


def recorded(count: int, riders: int = 0) -> list[dict[str, object]]:
    """Put people and so many days on record, all but the last with the plan of the first."""
    from leanladder.records import days, people  # noqa: PLC0415  # only once Django is set up

    people.add_head(HEAD, PASSWORD)
    people.add_person(COACH, PASSWORD, "coach", COACHES[0], by=None)
    made = [_example(at, riders).pk for at in range(count)]
    content = ""
    for pk in made[:-1]:
        content = _planned(pk, content)
    return [_told(days.day(pk)) for pk in made]


def _told(day: Day) -> dict[str, object]:
    """What someone who edits a day and hands out of it has to name."""
    from leanladder.records import days, stable  # noqa: PLC0415  # only once Django is set up

    return {
        "day": day.pk,
        "date": day.date.isoformat(),
        "circuit": day.circuit_id,
        "machine": stable.machines()[0].name,
        "runs": [[run.pk, run.name] for run in days.runs(day.pk)],
    }


def _example(later: int, riders: int) -> Day:
    """Put the example day on record, so many days later than it is: on one date there is but one of it.

    riders: how many are to ride at least. Those added ride as the first in the file does.
    """
    from leanladder.records import days  # noqa: PLC0415  # only once Django is set up

    with (
        tempfile.TemporaryDirectory() as folder,
        as_file(files("leanladder") / "data" / "example") as example,
    ):
        copy = Path(shutil.copytree(example, Path(folder) / "day"))
        text = (copy / FILE).read_text(encoding="utf-8")
        written = tomllib.loads(text)
        at = date.fromisoformat(written["date"])
        for number in range(len(written["riders"]), riders):
            text += _more(written, f"Rider {number + 1}")
        text = text.replace(f'date = "{at}"', f'date = "{at + timedelta(days=later)}"')
        (copy / FILE).write_text(text, encoding="utf-8")
        return days.import_day(copy / FILE, None)


def _more(written: dict[str, Any], name: str) -> str:
    """Return one more rider on one more machine, both as the first of the file, as a file writes them."""
    rider, (machine, *_) = written["riders"][0], written["machines"]
    return _table("machines", machine | {"name": name}) + _table(
        "riders", rider | {"name": name, "machine": name}
    )


def _table(kind: str, row: dict[str, Any]) -> str:
    return f"\n[[{kind}]]\n" + "".join(f"{key} = {_value(value)}\n" for key, value in row.items())


def _value(value: object) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_value(each)}" for key, each in value.items()) + " }"
    return json.dumps(value)


def _planned(day_pk: int, content: str) -> str:
    """Keep the plan of a day, worked out where there is no content yet; return its content."""
    from leanladder.records import plans as kept  # noqa: PLC0415  # only once Django is set up
    from leanladder.web import plans  # noqa: PLC0415

    inputs = plans.inputs_of(day_pk)
    digest = inputs.digest()
    if content:
        kept.keep_plan(day_pk, digest, content=content)
    else:
        plans.work_out_now(kept.keep_plan(day_pk, digest, state=kept.State.WAITING).pk, inputs)
    plan = kept.plan_of(day_pk, digest)
    if plan is None:
        raise RuntimeError("the day could not be planned")
    return plan.content


if __name__ == "__main__":
    sys.exit(main())
