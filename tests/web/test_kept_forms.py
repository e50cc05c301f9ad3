"""Forms that keep what was typed in the browser say so where it comes back: it is not on record yet."""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path

import pytest

TEMPLATES = Path(str(files("leanladder") / "web" / "templates"))
NOTES = ("days/kept.html", "stable/form.html")
# What is ticked on a list stays in the browser alone: nothing is sent.
ALONE = "list-{{ kind }}"
FORM = re.compile(r"<form(?P<form>[^>]*data-keep=.*?)</form>", re.DOTALL)


def _forms() -> list[tuple[str, str]]:
    found = [
        (file.name, form) for file in TEMPLATES.rglob("*.html") for form in FORM.findall(file.read_text())
    ]
    return [(name, form) for name, form in found if ALONE not in form]


@pytest.mark.parametrize(("name", "form"), _forms())
def test_a_form_that_is_kept_says_when_it_comes_back(name: str, form: str) -> None:
    assert any(note in form for note in NOTES), name
