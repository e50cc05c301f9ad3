"""Every page of the app, by the name of its picture; the card of a rider is apart."""

from __future__ import annotations

from typing import Literal, NamedTuple

SIZES = {"phone": (390, 844), "laptop": (1366, 768)}
Who = Literal["head", "coach", "nobody"]
# The first circuit, machine and rider of a laptop. DAY and RUN stand for the keys of a day and a run of it,
# NAME for that run's name.
PATHS: dict[str, str] = {
    "home": "/",
    "own": "/own/",
    "people": "/people/",
    "circuits": "/circuits/",
    "circuit-new": "/circuits/new/",
    "circuit": "/circuits/1/",
    "machines": "/machines/",
    "machine-new": "/machines/new/",
    "machine": "/machines/1/",
    "riders": "/riders/",
    "riders-list": "/riders/list/",
    "rider-new": "/riders/new/",
    "rider": "/riders/1/",
    "files": "/files/",
    "day-new": "/days/new/",
    "day-import": "/days/import/",
    "day": "/days/DAY/",
    "day-head": "/days/DAY/head/",
    "weather": "/days/DAY/weather/",
    "groups": "/days/DAY/groups/",
    "sessions": "/days/DAY/sessions/",
    "ladders": "/days/DAY/ladders/",
    "assumed": "/days/DAY/assumed/",
    "lists": "/days/DAY/lists/",
    "list-evening": "/days/DAY/lists/evening/",
    "list-morning": "/days/DAY/lists/morning/",
    "paper": "/days/DAY/paper/",
    "briefing": "/days/DAY/briefing/",
    "briefing-grip": "/days/DAY/briefing/RUN/",
    "briefing-heat": "/days/DAY/briefing/RUN/heat/",
    "briefing-sides": "/days/DAY/briefing/RUN/sides/?figures=1",
    "briefing-stops": "/days/DAY/briefing/RUN/stops/",
    "briefing-rules": "/days/DAY/briefing/RUN/rules/",
    "live": "/days/DAY/live/",
    "live-run": "/days/DAY/live/RUN/",
    "live-cards": "/days/DAY/live/cards/",
    "live-lower": "/days/DAY/live/lower/",
    "live-rain": "/days/DAY/live/rain/",
    "live-void": "/days/DAY/live/void/",
    "given": "/days/DAY/given/",
    "run": "/ladder/DAY/NAME/who/",
    "ladder": "/ladder/DAY/NAME/1/",
    "ladder-tried": "/ladder/DAY/NAME/1/?lap=2&turn=5&track=12",
    "ladder-sources": "/ladder/DAY/NAME/1/sources/",
    "fault": "/nothing-here/",
}
COACHES = ("home", "day", "ladders", "live", "live-cards")


class Page(NamedTuple):
    """A page: the name of its picture, its path, who looks at it."""

    name: str
    path: str
    who: Who = "head"


def pages(day_pk: int, run_pk: int, run: str) -> list[Page]:
    """Return every page of a laptop with a day, a run of it given by key and name."""
    means = {"DAY": str(day_pk), "RUN": str(run_pk), "NAME": run}
    paths = dict(PATHS)
    for word, meant in means.items():
        paths = {name: path.replace(word, meant) for name, path in paths.items()}
    return [
        Page("login", "/login/", "nobody"),
        *(Page(name, path) for name, path in paths.items()),
        *(Page(f"coach-{name}", paths[name], "coach") for name in COACHES),
    ]
