"""`leanladder config`: the settings in force and where each came from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from leanladder import settings
from leanladder.cli.common import JsonFlag, emit, emit_json, in_force
from leanladder.interchange.envelope import envelope


def config(*, as_json: JsonFlag = False) -> None:
    """Print the settings in force, where each came from, and the folders used."""
    found = in_force()
    if as_json:
        emit_json(_answer(found))
    else:
        emit(_lines(found))


def _folders() -> dict[str, str]:
    return {
        "data": str(settings.data_folder()),
        "cache": str(settings.cache_folder()),
        "config_file": str(settings.config_file()),
        "log_file": str(settings.log_file()),
    }


def _answer(found: Mapping[str, settings.Setting]) -> dict[str, Any]:
    rows = [
        {
            "name": item.key.name,
            "value": item.value,
            "origin": item.origin,
            "place": item.place or None,
            "default": item.key.default,
            "allowed": list(item.key.allowed),
            "describes": item.key.describes,
        }
        for item in found.values()
    ]
    body = {"settings": rows, "folders": _folders()}
    return envelope("leanladder.config/1", parameters=None, inputs={}, cautions=(), warnings=(), body=body)


def _lines(found: Mapping[str, settings.Setting]) -> str:
    rows = [
        (item.key.name, item.value, f"{item.origin} {item.place}".strip(), item.key.describes)
        for item in found.values()
    ]
    settled = [
        f"{name:<12}{value:<10}from {origin:<40}{describes}".rstrip()
        for name, value, origin, describes in rows
    ]
    kept = [f"{name:<12}{path}" for name, path in _folders().items()]
    return "\n".join([*settled, "", *kept])
