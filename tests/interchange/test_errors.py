from __future__ import annotations

import json

import jsonschema
import pytest

from leanladder.domain.errors import Fault, InputError, LeanladderError, OutsideModelError
from leanladder.interchange.errors import error_object
from leanladder.interchange.schemas import schema_text

FULL = Fault("a.toml", 3, "air_c", "77", "from -30 to 50", "Give it in degC.")


@pytest.mark.parametrize(
    ("error", "exit_code", "code"),
    [
        (LeanladderError("our fault"), 1, None),
        (InputError("bad", FULL), 2, None),
        (OutsideModelError("wet", "the road is wet"), 3, "wet"),
    ],
)
def test_every_error_meets_its_schema(error: LeanladderError, exit_code: int, code: str | None) -> None:
    found = error_object(error)
    jsonschema.validate(found, json.loads(schema_text("error")))
    assert (found["exit_code"], found["code"], found["message"]) == (exit_code, code, error.message)


def test_the_fault_is_told_in_full() -> None:
    found = error_object(InputError("bad", FULL))
    assert [found[key] for key in ("file", "line", "field", "value", "allowed", "remedy")] == [
        "a.toml", 3, "air_c", "77", "from -30 to 50", "Give it in degC.",
    ]  # fmt: skip
