"""An error as JSON: leanladder.error/1."""

from __future__ import annotations

from typing import Any

from leanladder import ENGINE
from leanladder.domain.errors import LeanladderError, OutsideModelError

SCHEMA = "leanladder.error/1"


def error_object(error: LeanladderError) -> dict[str, Any]:
    """Return the leanladder.error/1 object of an error.

    Every key is always there, null where the error does not know it; `exit_code` is the
    process's, `code` the stable name of the reason where the model does not apply.
    """
    fault = error.fault
    return {
        "schema": SCHEMA,
        "engine": ENGINE,
        "exit_code": error.exit_code,
        "code": error.code if isinstance(error, OutsideModelError) else None,
        "message": error.message,
        "file": fault.file,
        "line": fault.line,
        "field": fault.field,
        "value": fault.value,
        "allowed": fault.allowed,
        "remedy": fault.remedy,
    }
