"""Whether a database's file is whole, and one that this version knows."""

from __future__ import annotations

import contextlib
import sqlite3
from pathlib import Path

from django.db.migrations.loader import MigrationLoader

from leanladder.domain.errors import Fault, InputError

# The records have nothing of the kind; a stranger's file might. Schemas must be trusted otherwise: SQLite
# counts JSON_VALID, which Django's own checks call, among what a distrusted one may not use.
_RUNS_BY_ITSELF = "SELECT name FROM sqlite_master WHERE type IN ('trigger', 'view')"


def check_database(path: Path, called: str) -> None:
    """Check a database's file, from end to end; raises InputError naming what it is called.

    It must be whole, hold the records, and be of no newer version than this.
    """
    try:
        with contextlib.closing(sqlite3.connect(path)) as found:
            strange = found.execute(_RUNS_BY_ITSELF).fetchone()
            told = [row[0] for row in found.execute("PRAGMA integrity_check")]
            lost = found.execute("PRAGMA foreign_key_check").fetchone()
    except sqlite3.DatabaseError as error:
        strange, told, lost = None, [str(error)], None
    if told != ["ok"] or strange or lost:
        value = str(strange or lost or told[0])[:200]
        fault = Fault(file=called, value=value, remedy="Use another backup; nothing was changed.")
        raise InputError("the database is damaged.", fault)
    _check_known(migrations_of(path), called)


def migrations_of(path: Path) -> dict[str, list[str]]:
    """Return the steps that made a database's tables, app by app, in order; none where it lists none."""
    found: dict[str, list[str]] = {}
    try:
        with contextlib.closing(sqlite3.connect(path)) as opened:
            for app, name in opened.execute("SELECT app, name FROM django_migrations ORDER BY id"):
                found.setdefault(str(app), []).append(str(name))
    except sqlite3.DatabaseError:
        return {}
    return found


def _check_known(applied: dict[str, list[str]], called: str) -> None:
    if "records" not in applied:
        fault = Fault(file=called, remedy="Use another backup; nothing was changed.")
        raise InputError("this database does not hold records.", fault)
    known = MigrationLoader(None).disk_migrations
    replaced = {each for migration in known.values() for each in migration.replaces}
    strange = [
        f"{app}.{name}" for app, names in applied.items() for name in names if (app, name) not in known
    ]
    strange = [each for each in strange if tuple(each.split(".", 1)) not in replaced]
    if strange:
        fault = Fault(file=called, value=strange[0], remedy="Install the newest version, then do it again.")
        raise InputError("it was made by a newer version.", fault)
