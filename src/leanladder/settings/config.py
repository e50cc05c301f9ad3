"""Settings: a flag wins over the environment, that over the file, that over the default."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Literal

from leanladder.settings.problems import SettingsError

Origin = Literal["flag", "environment", "file", "default"]


@dataclass(frozen=True, slots=True)
class Key:
    """A setting that exists: its name, what it is for, its default and the values it may take."""

    name: str
    describes: str
    default: str
    allowed: tuple[str, ...]

    @property
    def variable(self) -> str:
        """Return the name of its environment variable."""
        return f"LEANLADDER_{self.name.upper()}"


@dataclass(frozen=True, slots=True)
class Setting:
    """A setting's value and where it came from; place is the flag, variable or file, "" for a default."""

    key: Key
    value: str
    origin: Origin
    place: str


KEYS = (
    Key("language", "language of reasons, warnings and cautions", "en", ("en", "de", "fr")),
    Key(
        "log_level", "least severe messages that the log keeps", "info", ("debug", "info", "warning", "error")
    ),
)


def load(flags: Mapping[str, str | None], environment: Mapping[str, str], file: Path) -> dict[str, Setting]:
    """Return every setting by name, from flags (by key name), environment, file and defaults.

    Raises SettingsError for an unreadable file, an unknown key (naming the nearest) or a value
    that is not allowed.
    """
    written = _written(file)
    return {key.name: _settle(key, flags, environment, written, file) for key in KEYS}


def _settle(
    key: Key,
    flags: Mapping[str, str | None],
    environment: Mapping[str, str],
    written: Mapping[str, object],
    file: Path,
) -> Setting:
    flag = flags.get(key.name)
    if flag is not None:
        return _checked(Setting(key, flag, "flag", "--" + key.name.replace("_", "-")))
    if environment.get(key.variable):
        return _checked(Setting(key, environment[key.variable], "environment", key.variable))
    if key.name in written:
        return _checked(Setting(key, str(written[key.name]), "file", str(file)))
    return Setting(key, key.default, "default", "")


def _checked(setting: Setting) -> Setting:
    key = setting.key
    if setting.value in key.allowed:
        return setting
    file = setting.place if setting.origin == "file" else None
    field = key.name if setting.origin == "file" else setting.place
    close = get_close_matches(setting.value, key.allowed, n=1)
    raise SettingsError(
        f"{setting.value!r} cannot be used.",
        file=file,
        field=field,
        value=setting.value,
        allowed=", ".join(key.allowed),
        remedy=f"Did you mean {close[0]}?" if close else None,
    )


def _written(file: Path) -> dict[str, object]:
    """Return what the settings file says; nothing where there is none."""
    try:
        text = file.read_bytes().decode("utf-8")
        written = tomllib.loads(text)
    except FileNotFoundError:
        return {}
    except (OSError, ValueError, RecursionError) as error:  # not text, not TOML, digits or depth without end
        why = (error.strerror or "unknown") if isinstance(error, OSError) else f"it is not TOML: {error}"
        remedy = "Mend it, or move it away to use the defaults."
        raise SettingsError(f"it cannot be read ({why}).", file=str(file), remedy=remedy) from None
    names = [key.name for key in KEYS]
    unknown = next((name for name in written if name not in names), None)
    if unknown is not None:
        close = get_close_matches(unknown, names, n=1)
        remedy = f"Did you mean {close[0]}?" if close else "Remove the line."
        raise SettingsError(
            f"the key {unknown!r} is unknown.",
            file=str(file),
            field=unknown,
            allowed=", ".join(names),
            remedy=remedy,
        )
    return written
