"""How a run of the command ends: exit codes, stdout, stderr."""

from __future__ import annotations

import errno
import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from leanladder import __version__
from leanladder.cli import main as cli
from leanladder.cli.common import emit
from leanladder.domain.errors import InputError, OutsideModelError
from leanladder.interchange.schemas import schema_text

COMMAND = (sys.executable, "-m", "leanladder.cli")


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch) -> Any:
    """Give a way to make `leanladder schema` raise or print what a test wants."""

    def make(action: Any) -> None:
        monkeypatch.setattr("leanladder.cli.schema.schema_text", lambda _: action())

    return make


def ended(capsys: pytest.CaptureFixture[str], *arguments: str) -> tuple[int, str, str]:
    code = cli.main(arguments)
    out, err = capsys.readouterr()
    return code, out, err


def only_object(text: str) -> dict[str, Any]:
    """Return the one leanladder.error/1 object that text is."""
    found: dict[str, Any] = json.loads(text)
    jsonschema.validate(found, json.loads(schema_text("error")))
    return found


def raiser(error: BaseException) -> Any:
    def action() -> str:
        raise error

    return action


@pytest.mark.parametrize(
    ("error", "code"),
    [
        (InputError("this is bad input."), 2),
        (OutsideModelError("wet_road", "the road is wet."), 3),
        (KeyboardInterrupt(), 130),
        (RuntimeError("secret place 47.1, 8.2"), 1),
        (RecursionError(), 1),
    ],
)
def test_each_kind_of_failure_has_its_exit_code(
    capsys: pytest.CaptureFixture[str], command: Any, error: BaseException, code: int
) -> None:
    command(raiser(error))
    found, out, err = ended(capsys, "schema", "x")
    assert (found, out) == (code, "")
    assert err.strip().startswith("leanladder: ")
    assert len(err.strip().splitlines()) == 1


def test_a_fault_of_our_own_names_the_log_which_tells_where_but_not_what_was_typed(
    capsys: pytest.CaptureFixture[str], command: Any
) -> None:
    command(raiser(RuntimeError("Jo Smith at 47.123")))
    _, _, err = ended(capsys, "schema", "x")
    log = Path(os.environ["LEANLADDER_HOME"]) / "leanladder.log"
    assert str(log) in err
    text = log.read_text()
    assert "unexpected RuntimeError" in text
    assert "in action" in text  # the function that raised
    assert "Smith" not in err + text


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (["exampel", "--json"], "example"),
        (["config", "--jsn", "--json"], "--json"),
        (["example", "--json"], "--json"),
        (["--json"], "--json"),
        (["config", "stray", "--json"], "stray"),
        (["schema", "eror", "--json"], "--json"),
        (["--log-level", "loud", "config", "--json"], "debug, info"),
    ],
)
def test_usage_errors_with_json_are_one_object(
    capsys: pytest.CaptureFixture[str], arguments: list[str], told: str
) -> None:
    code, out, err = ended(capsys, *arguments)
    assert (code, out) == (2, "")
    found = only_object(err)
    assert found["exit_code"] == 2
    assert told in json.dumps(found)


def test_interrupted_with_json_is_one_object_too(
    capsys: pytest.CaptureFixture[str], monkeypatch: Any
) -> None:
    monkeypatch.setattr("leanladder.cli.config.envelope", raiser_of_any(KeyboardInterrupt()))
    code, out, err = ended(capsys, "config", "--json")
    assert (code, out) == (130, "")
    assert only_object(err)["exit_code"] == 130


def raiser_of_any(error: BaseException) -> Any:
    def action(*_: object, **__: object) -> None:
        raise error

    return action


@pytest.mark.parametrize("arguments", [[], ["example"], ["exampel"], ["config", "--air"]])
def test_usage_errors_in_words(capsys: pytest.CaptureFixture[str], arguments: list[str]) -> None:
    code, out, err = ended(capsys, *arguments)
    assert (code, out) == (2, "")
    assert err.startswith("leanladder: ")
    assert "--help` lists what it takes." in err


def test_version_and_help_touch_no_data_folder(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("LEANLADDER_HOME", str(tmp_path / "none"))
    assert ended(capsys, "--version") == (0, f"leanladder {__version__}\n", "")
    code, out, err = ended(capsys, "--help")
    assert (code, err) == (0, "")
    assert "not for public roads" in " ".join(out.split())
    assert not (tmp_path / "none").exists()


@pytest.mark.parametrize("name", [command.__name__ for command in cli.COMMANDS])
def test_every_command_has_help(capsys: pytest.CaptureFixture[str], name: str) -> None:
    code, out, _ = ended(capsys, name, "--help")
    assert code == 0
    assert "Usage" in out


def test_a_data_folder_that_cannot_be_made_is_told(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "taken").write_text("")
    monkeypatch.setenv("LEANLADDER_HOME", str(tmp_path / "taken"))
    code, out, err = ended(capsys, "config")
    assert (code, out) == (2, "")
    assert "Set LEANLADDER_HOME" in err


def test_the_log_tells_the_command_but_nothing_typed(capsys: pytest.CaptureFixture[str]) -> None:
    ended(capsys, "schema", "Jo Smith 47.123")
    text = (Path(os.environ["LEANLADDER_HOME"]) / "leanladder.log").read_text()
    assert "schema ended with 2" in text
    assert "Smith" not in text


def test_what_libraries_warn_of_goes_to_the_log() -> None:
    program = """
import sys, warnings
from leanladder.cli import main, schema
schema.schema_text = lambda _: (warnings.warn("a library is unhappy", RuntimeWarning), "{}")[1]
sys.exit(main.main(["schema", "x"]))
"""
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout, done.stderr) == (0, "{}\n", "")
    assert "a library is unhappy" in (Path(os.environ["LEANLADDER_HOME"]) / "leanladder.log").read_text()


def test_as_a_process_success() -> None:
    done = subprocess.run([*COMMAND, "config", "--json"], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")
    jsonschema.validate(json.loads(done.stdout), json.loads(schema_text("config")))


def test_as_a_process_failure() -> None:
    done = subprocess.run([*COMMAND, "nosuch", "--json"], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (2, "")
    only_object(done.stderr)


def test_a_reader_that_leaves_early_is_no_failure() -> None:
    read, write = os.pipe()
    os.close(read)
    with os.fdopen(write, "w") as pipe:
        done = subprocess.run(
            [*COMMAND, "schema", "error"], stdout=pipe, stderr=subprocess.PIPE, text=True, check=False
        )
    assert (done.returncode, done.stderr) == (0, "")


def test_a_terminal_of_few_letters_gets_json_whole() -> None:
    surroundings = os.environ | {
        "PYTHONIOENCODING": "ascii",
        "LEANLADDER_HOME": os.environ["LEANLADDER_HOME"] + "ü",
    }
    done = subprocess.run([*COMMAND, "config", "--json"], capture_output=True, env=surroundings, check=False)
    assert done.returncode == 0
    assert json.loads(done.stdout.decode("utf-8"))["folders"]["data"].endswith("ü")


@pytest.mark.parametrize(
    ("typed", "field"),
    [
        (["config", "--log-level", "x", "--log-level", "y"], "--log-level"),
        (["plan", "--air", "8", "--air=28"], "--air"),
        (["example", "--out", ""], "--out"),
        (["example", "--out="], "--out"),
        (["circuit", ""], None),
    ],
)
def test_what_is_given_twice_or_is_empty_is_refused_before_anything_is_read(
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    typed: list[str],
    field: str | None,
) -> None:
    monkeypatch.chdir(tmp_path)
    code, out, err = ended(capsys, *typed, "--json")
    assert (code, out) == (2, "")
    told = json.loads(err)
    assert told["field"] == field
    assert told["remedy"]
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    ("option", "value", "kind"), [("--air", "8,5", "number"), ("--laps", "1.5", "whole")]
)
def test_a_word_where_a_number_is_due_is_told_in_plain_words(
    capsys: pytest.CaptureFixture[str], option: str, value: str, kind: str
) -> None:
    code, out, err = ended(capsys, "plan", option, value, "--json")
    assert (code, out) == (2, "")
    told = json.loads(err)
    assert (told["field"], told["value"]) == (option, value)
    assert kind in told["message"]


def test_an_answer_that_finds_no_room_is_no_fault_of_ours(
    capsys: pytest.CaptureFixture[str], command: Any
) -> None:
    command(raiser(OSError(errno.ENOSPC, "No space left on device")))
    code, out, err = ended(capsys, "schema", "x")
    assert (code, out) == (2, "")
    assert "No space left" in err


def test_standard_output_that_was_closed_is_told(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stdout", None)
    code = cli.main(["schema", "error"])
    monkeypatch.undo()
    assert code == 2
    assert "closed" in capsys.readouterr().err


def test_a_name_out_of_a_file_steers_no_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    emit("Quill\x1b[31mmoor\x9b\x07\nnext")
    assert capsys.readouterr().out == "Quill�[31mmoor��\nnext\n"


def test_text_that_no_encoding_holds_is_still_json() -> None:
    told = subprocess.run(
        [sys.executable, "-c", "from leanladder.cli.common import emit_json; emit_json({'name': '\\ud800'})"],
        capture_output=True,
        check=True,
    )
    assert json.loads(told.stdout) == {"name": "?"}


def test_a_closed_standard_error_sends_nothing_to_standard_output(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(sys, "stderr", None)
    code = cli.main(["schema", "laddr"])
    monkeypatch.undo()
    assert (code, capsys.readouterr().out) == (2, "")
