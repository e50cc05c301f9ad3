"""docs/glossary.md is the one list of words: domain, engine and geometry use those and no others.

Every parameter of a function and every field of a class there must stand in the glossary's table,
as it is or without the unit it ends in; and every word of the table must still be in use.
"""

from __future__ import annotations

import ast
import re
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
PACKAGES = ("domain", "engine", "geometry")
ROW = re.compile(r"^\| `([A-Za-z0-9_]+)` \| ([^|]+) \| ([^|]+) \|$", re.MULTILINE)
# What a name may end in: the unit, longest first.
_LISTED = """
c k deg rad m mm m2 m3 mps mps2 kmh bar pa n w kg s min h pct j
w_m2 w_mk w_m2k w_k j_k j_m2 j_m2k j_kgk j_m3k kg_m kg_m3 per_m per_k
"""
UNITS = sorted(_LISTED.split(), key=len, reverse=True)


def stem(name: str) -> str:
    """Return a name without the unit it ends in."""
    for unit in UNITS:
        if name.endswith("_" + unit):
            return name.removesuffix("_" + unit)
    return name


def parameters(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda):
            given = node.args
            some = [*given.posonlyargs, *given.args, *given.kwonlyargs]
            yield from (argument.arg for argument in some if argument.arg not in {"self", "cls"})


def fields(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.ClassDef):
            for part in node.body:
                if isinstance(part, ast.AnnAssign) and isinstance(part.target, ast.Name):
                    yield part.target.id


def words_in_use() -> dict[str, set[str]]:
    """Return every name in use with the modules that use it."""
    found: dict[str, set[str]] = defaultdict(set)
    for package in PACKAGES:
        for path in sorted((ROOT / "src" / "leanladder" / package).rglob("*.py")):
            tree = ast.parse(path.read_text(encoding="utf-8"))
            for name in (*parameters(tree), *fields(tree)):
                found[name.strip("_")].add(f"{package}/{path.name}")
    return found


def glossary() -> list[str]:
    text = (ROOT / "docs" / "glossary.md").read_text(encoding="utf-8")
    return [row[0] for row in ROW.findall(text)]


def test_every_name_stands_in_the_glossary() -> None:
    known = set(glossary())
    missing = {
        name: where for name, where in words_in_use().items() if name not in known and stem(name) not in known
    }
    listed = "\n".join(
        f"  {stem(name)} ({name}: {', '.join(sorted(where))})" for name, where in missing.items()
    )
    assert not missing, f"{len(missing)} names are missing from docs/glossary.md:\n{listed}"


def test_every_word_of_the_glossary_is_in_use() -> None:
    names = words_in_use()
    used = set(names) | {stem(name) for name in names}
    idle = [word for word in glossary() if word not in used]
    assert not idle, f"docs/glossary.md lists words that nothing uses any more: {', '.join(idle)}"


def test_no_word_stands_twice_and_all_stand_in_order() -> None:
    words = glossary()
    assert words == sorted(set(words), key=str.casefold)
