"""The tyres' temperatures through depth, lap by lap, as plain text."""

from __future__ import annotations

from collections.abc import Iterator

from leanladder.domain.ladder import Ladder, Lap, TyreEnd
from leanladder.wording import text

_LAP, _END, _FIGURE = 4, 6, 5
_THIRDS = ("left", "centre", "right")


def states_text(ladder: Ladder, language: str = "en") -> str:
    """Return a row a lap and tyre, as the lap ends [degC]: by third, then under the load, gas and rim."""
    parts = [text("states.title", language), text("states.explains", language), _heads(language)]
    parts += [line for lap in ladder.laps for line in _lines(lap, language)]
    return "\n".join(parts)


def _heads(language: str) -> str:
    """Return two lines: what a group of columns is, and each column."""
    three = 3 * _FIGURE
    outer, skin = (f"{text(f'states.{depth}', language):>{three}}" for depth in ("outer", "skin"))
    groups = f"{'':{_LAP + _END}}{outer} {skin}"
    thirds = "".join(f"{text(f'states.{third}', language):>{_FIGURE}}" for third in _THIRDS)
    rest = "".join(
        f"{text(f'states.{name}', language):>9}" for name in ("loaded", "base", "carcass", "gas", "rim")
    )
    lap = f"{text('table.lap', language, lap='').strip():<{_LAP}}{'':{_END}}"
    return f"{groups}\n{lap}{thirds} {thirds}{rest}"


def _lines(lap: Lap, language: str) -> Iterator[str]:
    for name, end in (("front", lap.front_end), ("rear", lap.rear_end)):
        number = str(lap.lap) if name == "front" else ""
        yield f"{number:<{_LAP}}{text(f'end.{name}', language):<{_END}}{_figures(end)}"


def _figures(end: TyreEnd) -> str:
    rubber = end.rubber
    outer = (rubber.left_c, rubber.centre_c, rubber.right_c)
    skin = (rubber.skin_left_c, rubber.skin_centre_c, rubber.skin_right_c)
    deep = (end.loaded_c, end.base_c, rubber.carcass_c, end.gas_c, end.rim_c)
    thirds = " ".join("".join(f"{value:>{_FIGURE}.0f}" for value in row) for row in (outer, skin))
    return thirds + "".join(f"{value:>9.0f}" for value in deep)
