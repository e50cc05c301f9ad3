"""What is shipped beside the code: found as an installed program finds it, locked without addresses."""

from __future__ import annotations

import re
import shlex
from importlib.resources import files
from pathlib import Path

import pytest

from leanladder import wording
from leanladder.cli.main import COMMANDS, main
from leanladder.settings import KEYS

ROOT = Path(__file__).resolve().parents[1]
LOCKED = re.compile(r"[A-Za-z0-9._-]+==[A-Za-z0-9.+!-]+ \\|    --hash=sha256:[0-9a-f]{64}(?: \\)?|#.*|")
LOCKS = ("requirements.lock", "requirements-dev.lock")


@pytest.mark.parametrize(
    "name",
    [
        "py.typed",
        "data/levels.toml",
        "data/tyres/sport-road.toml",
        "data/machines/middleweight-sport.toml",
        "data/example/circuit.csv",
        "data/example-kart/circuit.csv",
        "data/example-mini/circuit.geojson",
        "data/example-mini/tyre.toml",
        "data/example-cruiser/circuit.gpx",
        "schemas/error.json",
    ],
)
def test_data_are_found_within_the_package(name: str) -> None:
    assert files("leanladder").joinpath(name).is_file()


@pytest.mark.parametrize("name", LOCKS)
def test_a_lock_holds_names_versions_and_hashes_only(name: str) -> None:
    lines = (ROOT / name).read_text().splitlines()
    strange = [line for line in lines if not LOCKED.fullmatch(line)]
    assert not strange
    assert sum(line.startswith("#") for line in lines) == 1
    assert sum("--hash" in line for line in lines) > 100


def test_both_locks_agree() -> None:
    run, work = (
        {line.split(" ")[0] for line in (ROOT / name).read_text().splitlines() if "==" in line}
        for name in LOCKS
    )
    assert run < work


def test_the_readme_lists_the_commands_that_are() -> None:
    listed = re.findall(r"^\| `leanladder (\w+)", (ROOT / "README.md").read_text(), re.MULTILINE)
    assert sorted(listed) == sorted(command.__name__ for command in COMMANDS)


@pytest.mark.parametrize("page", ["README.md", "CONTRIBUTING.md", "CHANGELOG.md"])
def test_links_within_the_project_lead_somewhere(page: str) -> None:
    links = re.findall(r"\]\(([^)#:]+)\)", (ROOT / page).read_text())
    assert not [link for link in links if not (ROOT / link).exists()]


def test_the_licence_is_apache_2() -> None:
    text = (ROOT / "LICENSE").read_text()
    assert "Apache License" in text
    assert "END OF TERMS AND CONDITIONS" in text


def readme_commands() -> list[list[str]]:
    """Return the commands that the README shows, in order, as words."""
    text = (ROOT / "README.md").read_text().replace("\\\n", " ")
    shown = re.findall(r"^    leanladder (.+)$", text, re.MULTILINE)
    return [shlex.split(line, comments=True) for line in shown]


def test_the_readmes_commands_work_as_shown(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    commands = readme_commands()
    assert [command[0] for command in commands] == [
        "example",
        "day",
        "sheets",
        "circuit",
        "plan",
        "why",
        "ways",
    ]
    for command in commands:
        assert main(command) == 0, command


def test_the_settings_offer_every_language_there_are_words_for() -> None:
    offered = next(key.allowed for key in KEYS if key.name == "language")
    assert sorted(offered) == sorted(wording.languages())
