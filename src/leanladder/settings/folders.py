"""The data folder and what lies in it."""

from __future__ import annotations

import os
from pathlib import Path

import platformdirs

from leanladder.settings.problems import SettingsError

_CONFIG = "config.toml"
_LOG = "leanladder.log"


def data_folder() -> Path:
    """Return the data folder, made where missing, readable by its owner only (mode 0700).

    LEANLADDER_HOME names it; else the platform's usual place. A folder that holds other
    people's things keeps the mode it has. Raises SettingsError where it cannot be made.
    """
    named = os.environ.get("LEANLADDER_HOME")
    folder = Path(named).expanduser() if named else platformdirs.user_data_path("leanladder", appauthor=False)
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if folder.stat().st_mode & 0o777 != 0o700 and _is_ours(folder):
            folder.chmod(0o700)
    except OSError as error:
        raise SettingsError(
            f"the data folder cannot be made ({error.strerror}).",
            file=str(folder),
            remedy="Set LEANLADDER_HOME to a folder that you may write to.",
        ) from None
    return folder


def _is_ours(folder: Path) -> bool:
    """Return whether a folder is empty or holds something only this program would have put there."""
    return not any(folder.iterdir()) or any((folder / name).exists() for name in (_CONFIG, _LOG))


def config_file() -> Path:
    """Return the path of the settings file, whether or not it is there."""
    return data_folder() / _CONFIG


def log_file(of: str = "") -> Path:
    """Return the path of the log, or that of another process beside, by its name."""
    own = data_folder() / _LOG
    return own.with_stem(f"{own.stem}-{of}") if of else own


def cache_folder() -> Path:
    """Return the folder for what can be computed again, such as compiled code, made where missing.

    Within LEANLADDER_HOME where that is set; else the platform's usual place for caches.
    """
    if os.environ.get("LEANLADDER_HOME"):
        folder = data_folder() / "cache"
    else:
        folder = platformdirs.user_cache_path("leanladder")
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    return folder
