"""The physics pages: one a module of the engine, of one shape, with figures that the script still draws."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PAGES = ROOT / "docs" / "physics"
FIGURES = PAGES / "figures"
HEADINGS = [
    "What it computes",
    "Equations",
    "Figures",
    "Sources",
    "Range of validity",
    "Known weaknesses",
    "How it is checked",
]
# The index's table: a page and the modules that it is about.
ROW = re.compile(r"^\| (?:<a [^>]*></a>)?\[[^\]]+\]\(([\w-]+\.md)\) \| (`[^|]+`) \|", re.MULTILINE)
LINK = re.compile(r"!?\[[^\]]*\]\(([^)#]+)(?:#[\w-]*)?\)")


def rows() -> dict[str, list[str]]:
    index = (PAGES / "README.md").read_text(encoding="utf-8")
    return {page: re.findall(r"`(\w+)`", modules) for page, modules in ROW.findall(index)}


def pages() -> list[Path]:
    return sorted(PAGES / page for page in rows())


def test_every_module_of_the_engine_has_one_page() -> None:
    told = [module for modules in rows().values() for module in modules]
    there = [path.stem for path in (ROOT / "src" / "leanladder" / "engine").glob("[!_]*.py")]
    assert sorted(told) == sorted(there)


@pytest.mark.parametrize("page", pages(), ids=lambda path: path.name)
def test_a_page_has_its_parts_in_order(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    assert re.findall(r"^## (.+)$", text, re.MULTILINE) == HEADINGS
    parts = re.split(r"^## .+$", text, flags=re.MULTILINE)[1:]
    assert all(part.strip() for part in parts)
    assert "figures/" in parts[HEADINGS.index("Figures")]


@pytest.mark.parametrize("page", sorted(PAGES.glob("*.md")), ids=lambda path: path.name)
def test_what_a_page_links_to_is_there(page: Path) -> None:
    links = LINK.findall(page.read_text(encoding="utf-8"))
    assert [link for link in links if "://" not in link and not (PAGES / link).exists()] == []


@pytest.mark.parametrize("page", pages(), ids=lambda path: path.name)
def test_the_tests_that_a_page_names_are_there(page: Path) -> None:
    named = re.findall(r"`(tests/[\w/.]+)`", page.read_text(encoding="utf-8"))
    assert named
    assert [name for name in named if not (ROOT / name).exists()] == []


def test_every_figure_is_shown_on_a_page() -> None:
    shown = {
        name
        for page in pages()
        for name in re.findall(r"\(figures/([\w.-]+)\)", page.read_text(encoding="utf-8"))
    }
    assert shown == {path.name for path in FIGURES.glob("*.svg")}


def test_the_script_draws_the_same_bytes(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where this fails after a change of engine or data: `make figures`, and look at them."""
    monkeypatch.syspath_prepend(ROOT)  # scripts are no part of what is installed
    from scripts.physics_figures import drawn

    kept = {path.name: path.read_text(encoding="utf-8") for path in FIGURES.glob("*.svg")}
    made = drawn()
    assert sorted(made) == sorted(kept)
    assert [name for name, picture in made.items() if picture != kept[name]] == []
