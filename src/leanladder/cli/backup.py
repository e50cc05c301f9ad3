"""`leanladder backup FILE` and `leanladder restore FILE`: all that is on record, and the signing key."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Annotated

import typer

from leanladder import settings
from leanladder.cli.common import emit

BackupFile = Annotated[Path, typer.Argument(metavar="FILE", help="The backup, a zip.")]


def backup(file: BackupFile) -> None:
    """Write all that is on record into one file, while the app goes on."""
    ready_records()
    from leanladder.records import backup as kept  # noqa: PLC0415  # only once Django is set up

    told = kept.backup(file, _also())
    emit(f"{file}: {sum(size for size, _ in told.files.values())} bytes on record.")


def restore(file: BackupFile) -> None:
    """Put a backup in place of what is on record; a damaged file is refused and nothing changes."""
    ready_records()
    from leanladder.records import backup as kept  # noqa: PLC0415  # only once Django is set up

    old = kept.restore(file, _also())
    emit(f"Restored from {file}." + ("" if old is None else f" What was there before: {old}"))


def ready_records() -> None:
    """Make what is on record ready for a command: the database made, or brought up to date."""
    os.environ["DJANGO_SETTINGS_MODULE"] = "leanladder.web.settings"
    import django  # noqa: PLC0415  # a second to load: only for commands about records
    from django.core.management import call_command  # noqa: PLC0415

    django.setup()
    call_command("migrate", interactive=False, verbosity=0)


def _also() -> dict[str, Path]:
    from leanladder.web.secret import NAME  # noqa: PLC0415  # the pages' own

    return {NAME: settings.data_folder() / NAME}
