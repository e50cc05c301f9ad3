"""What the commands share: the --json flag, printing, the settings in force."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Mapping
from contextvars import ContextVar
from typing import Annotated, Any

import typer

from leanladder import settings, wording
from leanladder.domain.errors import Fault, InputError
from leanladder.interchange.envelope import dump

JsonFlag = Annotated[bool, typer.Option("--json", help="Print one JSON object and nothing else.")]

_IN_FORCE: ContextVar[Mapping[str, settings.Setting] | None] = ContextVar("settings_in_force", default=None)


# Control characters but for the line's end: a name out of a file must not steer the terminal.
_STEERING = dict.fromkeys({*range(32), *range(127, 160)} - {ord("\n")}, "\N{REPLACEMENT CHARACTER}")


def plain(text: str) -> str:
    """Return text without characters that steer a terminal."""
    return text.translate(_STEERING)


def emit(text: str) -> None:
    """Print a command's whole answer; called once, last, so that a failure leaves stdout empty."""
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(errors="replace")
    told = plain(text).removesuffix("\n") + _translation_note(text)
    _write(f"{told}\n")


def _translation_note(text: str) -> str:
    """Return what the mark of unreviewed sentences means, to stand once below an answer that bears it."""
    marked = f" {wording.UNREVIEWED}" in text
    if not marked or wording.reviewed(language()):
        return ""
    return "\n\n" + wording.unmarked("page.unreviewed", language())


def emit_json(answer: Mapping[str, Any]) -> None:
    """Print a command's answer as JSON, in UTF-8 whatever the terminal speaks (RFC 8259)."""
    text = dump(answer)
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(encoding="utf-8", errors="replace")
    _write(text + "\n")


def _write(text: str) -> None:
    # None where the caller closed it; the stub of the standard library leaves that out.
    if sys.stdout is None:
        raise InputError("standard output is closed.", Fault(remedy="Send the answer to a file or a pipe."))
    sys.stdout.write(text)


def put_in_force(flags: Mapping[str, str | None]) -> Mapping[str, settings.Setting]:
    """Settle the settings for this run from flags, environment, file and defaults, and start the log.

    Raises InputError where one cannot be used.
    """
    try:
        found = settings.load(flags, os.environ, settings.config_file())
        settings.start_log(settings.log_file(), found["log_level"].value)
    except settings.SettingsError as error:
        fault = Fault(error.file, None, error.field, error.value, error.allowed, error.remedy)
        raise InputError(error.message, fault) from None
    _IN_FORCE.set(found)
    return found


def in_force() -> Mapping[str, settings.Setting]:
    """Return the settings of this run."""
    return _IN_FORCE.get() or put_in_force({})


def language() -> str:
    """Return the language of reasons, warnings and cautions."""
    return in_force()["language"].value
