"""Draw docs/images/ladder.svg: the demo's ladder as the terminal shows it.

Run it from the checkout after the demo's answer has changed: `.venv/bin/python scripts/picture.py`. The
picture asks for no font and no address, so that it looks the same wherever it is opened.
"""

from __future__ import annotations

import io
import subprocess
import sys
from pathlib import Path

from rich.console import Console
from rich.terminal_theme import TerminalTheme
from rich.text import Text

ROOT = Path(__file__).resolve().parent.parent
OUT = ROOT / "docs" / "images" / "ladder.svg"

INK, PAPER = (28, 28, 28), (250, 249, 245)
THEME = TerminalTheme(PAPER, INK, [INK] * 8, [INK] * 8)
# A sheet of text and nothing around it. The names in braces are filled in by the library that draws it.
SHEET = """\
<svg class="{unique_id}" viewBox="0 0 {terminal_width} {terminal_height}" xmlns="http://www.w3.org/2000/svg">
<style>
.{unique_id}-matrix {{ font-family: ui-monospace, Menlo, Consolas, "DejaVu Sans Mono", monospace;
  font-size: {char_height}px; line-height: {line_height}px; font-variant-east-asian: full-width; }}
{styles}
</style>
<defs>{lines}</defs>
<rect fill="#faf9f5" width="100%" height="100%" rx="6"/>
<g transform="translate(10, 10)">{backgrounds}<g class="{unique_id}-matrix">{matrix}</g></g>
</svg>
"""


def demo() -> tuple[str, str]:
    """Return the demo's command as typed and what it prints, as `make demo` does."""
    recipe = subprocess.run(
        ["make", "--no-print-directory", "--dry-run", "demo"],  # noqa: S607  # whichever make there is
        cwd=ROOT, capture_output=True, text=True, check=True,
    ).stdout  # fmt: skip
    command = recipe[recipe.index(".venv/bin/leanladder plan") :].replace("\\\n", " ").split()
    command[0] = str(ROOT / command[0])
    printed = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    return " ".join(
        ["leanladder", *(Path(word).name if "/" in word else word for word in command[1:])]
    ), printed


def draw(typed: str, printed: str) -> str:
    """Return an SVG of a command and what it printed."""
    width = max(len(line) for line in printed.splitlines())
    console = Console(record=True, width=width + 2, file=io.StringIO(), color_system=None)
    console.print(Text(f"$ {typed}\n", style="dim"), Text(printed), sep="\n")
    return console.export_svg(title="", theme=THEME, code_format=SHEET, unique_id="ladder")


def main() -> int:
    """Write the picture."""
    OUT.parent.mkdir(parents=True, exist_ok=True)
    OUT.write_text(draw(*demo()), encoding="utf-8")
    print(OUT.relative_to(ROOT))
    return 0


if __name__ == "__main__":
    sys.exit(main())
