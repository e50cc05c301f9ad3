"""Draw docs/images: the demo's ladder as the terminal shows it, a coach's sheet and a rider's card.

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

from leanladder.cli.plan_day import day_circuit
from leanladder.domain.paper import CoachSheet, RiderCard
from leanladder.interchange.day import read_day
from leanladder.planning.day import plan_day
from leanladder.planning.paper import coach_sheets, day_word, rider_cards
from leanladder.sheets.card import cards_data, cards_pictures
from leanladder.sheets.coach import coach_data, coach_pictures
from leanladder.sheets.typesetter import pages_png

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / "docs" / "images"
OUT = FOLDER / "ladder.svg"
DAY = ROOT / "src" / "leanladder" / "data" / "example" / "day.toml"
PPI = 96.0

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


def papers() -> dict[str, bytes]:
    """Return pictures of a coach's sheet and a rider's card of the example's first session."""
    day = read_day(DAY)
    circuit = day_circuit(day)
    entries = plan_day(day, circuit)
    first = tuple(entry for entry in entries if entry.session == entries[0].session)
    word = day_word(day, circuit, entries).upper()
    sheet = next(
        page for page in coach_sheets(day, circuit, first, word=word) if isinstance(page, CoachSheet)
    )
    card = next(page for page in rider_cards(day, circuit, first, word=word) if isinstance(page, RiderCard))
    return {
        "coach.png": pages_png("coach.typ", coach_data([sheet]), coach_pictures([sheet]), ppi=PPI)[0],
        "card.png": pages_png("card.typ", cards_data([card]), cards_pictures([card]), ppi=PPI)[0],
    }


def main() -> int:
    """Write the pictures."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    OUT.write_text(draw(*demo()), encoding="utf-8")
    for name, picture in papers().items():
        (FOLDER / name).write_bytes(picture)
    print(", ".join(str(path.relative_to(ROOT)) for path in sorted(FOLDER.iterdir())))
    return 0


if __name__ == "__main__":
    sys.exit(main())
