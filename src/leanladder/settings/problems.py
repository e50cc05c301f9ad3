"""What can be wrong with the settings."""

from __future__ import annotations


class SettingsError(ValueError):
    """A setting, its file or the data folder cannot be used; the command turns it into an InputError."""

    def __init__(
        self,
        message: str,
        *,
        file: str | None = None,
        field: str | None = None,
        value: str | None = None,
        allowed: str | None = None,
        remedy: str | None = None,
    ) -> None:
        super().__init__(message)
        self.message = message
        self.file = file
        self.field = field
        self.value = value
        self.allowed = allowed
        self.remedy = remedy
