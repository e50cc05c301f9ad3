"""The laptop's own key: signs sessions and riders' links; made once, kept in the data folder."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

NAME = "secret.key"
LENGTH = 50


def secret_key(folder: Path) -> str:
    """Return the key kept in a folder; made there, for its owner's eyes alone, where there is none."""
    path = folder / NAME
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return _read(path)
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write(secrets.token_urlsafe(LENGTH))
    return _read(path)


def _read(path: Path) -> str:
    key = path.read_text(encoding="ascii").strip()
    if len(key) >= LENGTH:
        return key
    # cut short by a power loss while it was first written: nothing was signed with it yet
    path.unlink()
    return secret_key(path.parent)
