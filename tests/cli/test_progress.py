"""A bar where someone watches a long plan, nothing anywhere else, and an interrupt that ends it cleanly."""

from __future__ import annotations

import io
import json
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from leanladder.cli.example import example_files
from leanladder.cli.main import main
from leanladder.cli.progress import progress
from leanladder.domain.errors import InputError
from leanladder.domain.session import Session

Capture = pytest.CaptureFixture[str]
SHOW_CURSOR = "\x1b[?25h"
ERASE_LINE = "\x1b[2K"
ASKED = (
    "--tyre", "sport-road", "--air", "8", "--track", "9", "--humidity", "60",
    "--start", "cold", "--laps", "2", "--rider", "new",
)  # fmt: skip


class Terminal(io.StringIO):
    """Standard error as a terminal that keeps all that was written to it."""

    def isatty(self) -> bool:
        return True


def watched(monkeypatch: pytest.MonkeyPatch) -> Terminal:
    """Put a terminal in place of standard error, within a test: before it, capturing would take it back."""
    terminal = Terminal()
    monkeypatch.setattr(sys, "stderr", terminal)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "80")
    return terminal


def planning(*, after: type[BaseException] = InputError) -> Callable[..., object]:
    """A plan that tells of three laps and of two, and ends in an error, so that nothing is planned."""

    def plan(_: Session, *, progress: Callable[[int, int], None] | None = None) -> object:
        for done, of in ((1, 3), (2, 3), (3, 3), (1, 2)):
            if progress is not None:
                progress(done, of)
        raise after("made up")

    return plan


def asked(demo: dict[str, str], *more: str) -> list[str]:
    return ["plan", *(part for pair in demo.items() for part in pair), *ASKED, *more]


def test_on_a_terminal_it_tells_ladder_and_lap_and_is_gone_at_the_end(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    terminal = watched(monkeypatch)
    with progress(wanted=True) as told:
        assert told is not None
        for done in (1, 2, 3):
            told(done, 3)
        told(1, 2)
    written = terminal.getvalue()
    assert "Ladder 2, lap 1 of 2" in written
    assert written.endswith(ERASE_LINE) or SHOW_CURSOR in written.rpartition("Ladder")[2]


def test_where_nobody_watches_there_is_none(capsys: Capture) -> None:
    with progress(wanted=True) as told:
        assert told is None
    assert capsys.readouterr() == ("", "")


def test_a_short_plan_has_none(monkeypatch: pytest.MonkeyPatch) -> None:
    terminal = watched(monkeypatch)
    with progress(wanted=False) as told:
        assert told is None
    assert terminal.getvalue() == ""


def test_a_closed_standard_error_has_none(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stderr", None)
    with progress(wanted=True) as told:
        assert told is None


@pytest.mark.parametrize(("more", "shown"), [((), False), (("--chance", "99"), True)])
def test_a_plan_has_one_beyond_the_usual_chance(
    monkeypatch: pytest.MonkeyPatch,
    demo: dict[str, str],
    more: tuple[str, ...],
    *,
    shown: bool,
) -> None:
    terminal = watched(monkeypatch)
    monkeypatch.setattr("leanladder.planning.ladder.plan", planning())
    assert main(asked(demo, *more)) == 2
    assert ("Ladder 2, lap 1 of 2" in terminal.getvalue()) == shown


@pytest.mark.parametrize("as_json", [False, True])
def test_an_interrupt_leaves_the_terminal_as_it_was_and_ends_with_130(
    monkeypatch: pytest.MonkeyPatch,
    capsys: Capture,
    demo: dict[str, str],
    *,
    as_json: bool,
) -> None:
    terminal = watched(monkeypatch)
    monkeypatch.setattr("leanladder.planning.ladder.plan", planning(after=KeyboardInterrupt))
    assert main(asked(demo, "--chance", "99", *(["--json"] if as_json else []))) == 130
    written = terminal.getvalue()
    assert SHOW_CURSOR in written
    told = written[written.index("{" if as_json else "leanladder: ") :]
    assert json.loads(told)["exit_code"] == 130 if as_json else told == "leanladder: interrupted.\n"
    assert capsys.readouterr().out == ""


def test_a_day_has_one(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    terminal = watched(monkeypatch)
    write_example(tmp_path)
    monkeypatch.setattr("leanladder.cli.plan_day.plan_day", planning_day(InputError))
    assert main(["plan", str(tmp_path / "day.toml")]) == 2
    assert "Ladder 1, lap 1 of 3" in terminal.getvalue()


def test_an_interrupted_day_writes_no_sheet(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: Capture
) -> None:
    terminal = watched(monkeypatch)
    write_example(tmp_path)
    before = sorted(tmp_path.rglob("*"))
    monkeypatch.setattr("leanladder.cli.day_paper.plan_day", planning_day(KeyboardInterrupt))
    assert main(["sheets", str(tmp_path / "day.toml"), "--out", str(tmp_path / "paper")]) == 130
    assert sorted(tmp_path.rglob("*")) == before
    assert terminal.getvalue().endswith("leanladder: interrupted.\n")
    assert capsys.readouterr().out == ""


def write_example(folder: Path) -> None:
    for name, content in example_files().items():
        (folder / name).write_bytes(content)


def planning_day(after: type[BaseException]) -> Callable[..., object]:
    """A day's plan that tells of one lap and ends in an error."""

    def plan_day(*_: object, progress: Callable[[int, int], None] | None = None, **__: object) -> object:
        if progress is not None:
            progress(1, 3)
        raise after("made up")

    return plan_day


PROGRAM = """
import signal, sys, time
from leanladder.cli.main import main
from leanladder.planning import ladder
signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell's background has it ignored
def plan(*_, **__):
    print("planning", file=sys.stderr, flush=True)
    while True:
        time.sleep(0.01)
ladder.plan = plan
sys.exit(main(sys.argv[1:]))
"""


def test_a_signal_in_the_midst_of_a_plan(demo: dict[str, str]) -> None:
    process = subprocess.Popen(
        [sys.executable, "-c", PROGRAM, *asked(demo, "--chance", "99.5", "--json")],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
    )
    assert process.stderr is not None
    assert process.stderr.readline() == "planning\n"
    process.send_signal(signal.SIGINT)
    out, err = process.communicate(timeout=60)
    assert (process.returncode, out) == (130, "")
    assert json.loads(err)["message"] == "interrupted."
