"""The one error base, and the two kinds a user can meet."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fault:
    """Where and what: the figures behind an error message.

    file, line and field locate the fault; value is what was found, allowed the range or
    the names that would do, remedy the next step in plain words. All are optional text.
    """

    file: str | None = None
    line: int | None = None
    field: str | None = None
    value: str | None = None
    allowed: str | None = None
    remedy: str | None = None


class LeanladderError(Exception):
    """Base of every error the project raises on purpose.

    exit_code is the process's exit code (design: 1 our fault, 2 input, 3 model not applicable).
    """

    exit_code = 1

    def __init__(self, message: str, fault: Fault | None = None) -> None:
        super().__init__(message)
        self.message = message
        self.fault = fault if fault is not None else Fault()

    def __str__(self) -> str:
        """One line: place, message, allowed range and remedy."""
        fault = self.fault
        place = [part for part in (fault.file, f"line {fault.line}" if fault.line else None) if part]
        if fault.field:
            place.append(fault.field)
        text = f"{', '.join(place)}: {self.message}" if place else self.message
        if fault.allowed:
            text += f" Allowed: {fault.allowed}."
        if fault.remedy:
            text += f" {fault.remedy}"
        return text


class InputError(LeanladderError):
    """Something the user gave cannot be used as it is; exit code 2."""

    exit_code = 2


class OutsideModelError(LeanladderError):
    """The model does not apply, so there is no number; exit code 3.

    code is a stable name of the reason (a key of `leanladder.wording`).
    """

    exit_code = 3

    def __init__(self, code: str, message: str, fault: Fault | None = None) -> None:
        super().__init__(message, fault)
        self.code = code
