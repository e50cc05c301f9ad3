"""The general figures a plan counts on, as plain floats."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from leanladder import catalogue

NAMES = ("heat", "grip", "planning.card", "planning.margin", "planning.warn", "condition")


@dataclass(frozen=True, slots=True)
class Tables:
    """Values of the general tables by name, such as tables.heat["contact_factor"].

    heat, grip and condition are data files of these names, card, margin and warn three tables of
    data/planning.toml; without unit and spread.
    """

    heat: Mapping[str, float]
    grip: Mapping[str, float]
    card: Mapping[str, float]
    margin: Mapping[str, float]
    warn: Mapping[str, float]
    condition: Mapping[str, float]


def shipped_tables() -> Tables:
    """Return the tables that ship with the program."""
    read = [{key: figure.value for key, figure in catalogue.parameters(name).items()} for name in NAMES]
    return Tables(*read)


@dataclass(frozen=True, slots=True)
class Remark:
    """Something a plan has to say: a code, the figures its text takes, and the text's code if another."""

    code: str
    figures: Mapping[str, str | float | int] = field(default_factory=dict)
    said: str | None = None
