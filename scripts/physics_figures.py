"""Draw docs/physics/figures from the engine's own functions and the figures that ship.

Run by `make figures`, after any change of engine or data; the same bytes each time.
"""

from __future__ import annotations

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from scripts.physics import riding, rubber, tyre, weather  # noqa: E402

FOLDER = ROOT / "docs" / "physics" / "figures"


def drawn() -> dict[str, str]:
    """Return every figure by its file's name."""
    makers = (
        riding.cornering_figures,
        riding.ride_figures,
        riding.caps_figures,
        riding.pace_figures,
        rubber.grip_figures,
        rubber.scrubbing_figures,
        weather.air_figures,
        weather.gas_figures,
        weather.sky_figures,
        weather.road_figures,
        weather.road_day_figures,
        weather.constant_figures,
        tyre.tyre_figures,
    )
    found: dict[str, str] = {}
    for maker in makers:
        found |= maker()
    return found


def main() -> int:
    """Write the figures, and take away what is no longer drawn."""
    FOLDER.mkdir(parents=True, exist_ok=True)
    figures = drawn()
    for name, picture in figures.items():
        (FOLDER / name).write_text(picture, encoding="utf-8")
    for path in FOLDER.glob("*.svg"):
        if path.name not in figures:
            path.unlink()
    print(f"{FOLDER.relative_to(ROOT)}: {len(figures)} figures")
    return 0


if __name__ == "__main__":
    sys.exit(main())
