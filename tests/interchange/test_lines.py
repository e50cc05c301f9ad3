from __future__ import annotations

import pytest

from leanladder.interchange.lines import Key, line_of

TEXT = """\
schema = "x/1"  # = here
"quoted key" = 1
dotted.key = 2
list = [
  "a = 1",   # no key
  [2, 3],
]
[table]
inline = { a = 1, b = "[" }
after = 3
[[many]]
x = 1
[[many]]
x = 2
[many.deep]
y = 3
[table.sub]
z = 4
"""


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("schema",), 1),
        (("quoted key",), 2),
        (("dotted", "key"), 3),
        (("list", 1, 0), 4),
        (("table",), 8),
        (("table", "inline", "b"), 9),
        (("table", "after"), 10),
        (("many", 0, "x"), 12),
        (("many", 1, "x"), 14),
        (("many", 1), 13),
        (("many", 1, "deep", "y"), 16),
        (("table", "sub", "z"), 18),
        (("table", "absent"), 8),
        (("absent",), None),
        (("a",), None),
        ((), None),
    ],
)
def test_the_line_of_a_key(path: tuple[Key, ...], line: int | None) -> None:
    assert line_of(TEXT, path) == line
