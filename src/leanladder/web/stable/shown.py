"""What lists show of machines and riders."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Mapping
from typing import Any, NamedTuple

from leanladder import catalogue, wording
from leanladder.records import stable
from leanladder.records.models import Machine, Rider
from leanladder.web.stable import words
from leanladder.web.stable.machine_form import ENDS, initial_of


class MachineRow(NamedTuple):
    """A machine in a line: model, tyres and how they look in words, who rides it."""

    record: Machine
    model: str
    tyres: str
    seen: str
    looked_at: bool
    riders: str


class RiderRow(NamedTuple):
    """A rider in a line; usual_lean_deg is the level's where own_lean is false."""

    record: Rider
    level: str
    machine: str
    usual_lean_deg: float
    own_lean: bool


def machines(language: str) -> list[MachineRow]:
    """Return the machines as rows, by name."""
    riding: dict[str, list[str]] = defaultdict(list)
    for each in stable.riders():
        riding[each.written.get("machine", "")].append(each.name)
    return [
        MachineRow(
            each,
            words.model_words(each.written["machine"], language),
            _tyres(each.written, language),
            _seen(each.written, language),
            bool(_state_of(each.written)),
            ", ".join(riding[each.name]),
        )
        for each in sorted(stable.machines(), key=_by_number)
    ]


def riders(language: str) -> list[RiderRow]:
    """Return the riders as rows, by name."""
    return [
        RiderRow(
            each,
            words.level_words(each.written["level"], language),
            each.written["machine"],
            each.written.get("usual_lean_deg") or catalogue.level(each.written["level"]).usual_lean_deg.value,
            "usual_lean_deg" in each.written,
        )
        for each in sorted(stable.riders(), key=_by_number)
    ]


def _by_number(each: Machine | Rider) -> list[tuple[int, str]]:
    """Return what puts 2 before 10, whatever stands round the figures."""
    parts = re.split(r"(\d+)", each.name.casefold())
    return [(int(part), "") if part.isdecimal() else (-1, part) for part in parts]


def like_last(name: str) -> dict[str, Any]:
    """Return what a new machine's form starts with: model, tyres, pressures of one by name, if there.

    How its tyres look is not taken over: someone looks at each.
    """
    kept = next((each for each in stable.machines() if name and each.name == name), None)
    if kept is None:
        return {}
    written = {key: value for key, value in kept.written.items() if not key.endswith("_state")}
    return {**initial_of("", kept.guest, written), "name": ""}


def _tyres(written: Mapping[str, Any], language: str) -> str:
    fitted = [written.get(end) or written.get("tyre", "") for end in ENDS]
    named = [words.tyre_words(name, language) for name in dict.fromkeys(fitted)]
    return " / ".join(named)


def _seen(written: Mapping[str, Any], language: str) -> str:
    """Return how the tyres look in a few words."""
    return wording.text(f"stable.short_{_state_of(written) or 'unseen'}", language)


def _state_of(written: Mapping[str, Any]) -> str:
    """Return how the tyres look as a machine's form has it; empty where nobody looked."""
    return str(initial_of("", False, written)["tyres_seen"])
