"""`leanladder password NAME`: a new password for who lost theirs, on the laptop itself."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

from leanladder.cli.backup import ready_records
from leanladder.cli.common import emit


def password(
    name: Annotated[str, typer.Argument(metavar="NAME", help="The name that someone signs in with.")],
) -> None:
    """Set someone's password anew; asked for on the terminal, or the first line of what is piped in."""
    ready_records()
    from leanladder.records import people  # noqa: PLC0415  # only once Django is set up

    person = people.person_called(name)
    people.change_password(person, _asked(), by=None)
    emit(f"{person.username} signs in with the new password from now on.")


def _asked() -> str:
    if not sys.stdin.isatty():
        return sys.stdin.readline().rstrip("\r\n")
    return str(typer.prompt("New password", hide_input=True, confirmation_prompt=True))
