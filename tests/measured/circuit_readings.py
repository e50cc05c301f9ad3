"""Corners of the shared circuits, read by eye off plots of the raw files before any was compared.

The plots: the outline with a mark every 100 m, and the heading of each chord between neighbouring
points against the distance, with a line every 25 m; drawn straight from the files, nothing of the
package in between. A reading is (start [m], side, heading turned [deg], sure). Not sure: the turn
is so near 20 degrees that the eye cannot tell on which side of the rule it falls.

A start is read to 25 m; where the points lie further apart than that, to the gap between them:
no one can see between two points where a bend begins. One start, the second of Budapest, was read
as "680 or 750", the road easing out of one turn into the next, and is put down as the middle.
"""

from __future__ import annotations

READ_M = 25.0
READ_DEG = 15.0

Reading = tuple[float, str, float, bool]


def _sure(text: str) -> list[Reading]:
    """Return readings written as `start side turn`, with a `?` where not sure."""
    readings = []
    for item in text.split(","):
        start, side, turn = item.replace("?", "").split()
        readings.append((float(start), {"L": "left", "R": "right"}[side], float(turn), "?" not in item))
    return readings


READINGS: dict[str, list[Reading]] = {
    "Budapest": _sure(
        "590 R 137, 715 R 42, 1080 L 157, 1315 R 55, 1690 R 20?, 1795 L 62, 1985 R 153, 2365 R 86,"
        "2415 L 59, 2565 L 72, 2690 R 94, 2905 L 42, 3080 R 76, 3515 R 96, 3730 L 184, 4000 R 181"
    ),
    "Norisring": _sure("465 L 183, 900 R 90, 980 L 93, 1400 R 23, 1635 L 150, 1855 L 40"),
    "Oschersleben": _sure(
        "365 L 56, 425 R 228, 910 L 179, 1370 L 44, 1475 L 53, 1590 L 45, 1635 R 215, 1970 R 55,"
        "2010 L 58, 2055 R 104, 2725 R 58, 2825 L 62, 3085 R 64, 3275 R 125"
    ),
    "Suzuka": _sure(
        "645 R 58, 775 R 130, 1060 L 55, 1175 R 74, 1325 L 74, 1475 R 110, 1700 L 88, 1885 L 45,"
        "2050 L 27, 2290 R 45, 2435 R 84, 2735 R 36, 2880 L 178, 3085 R 53, 3240 R 25, 3425 R 48,"
        "3775 L 68, 3870 L 138, 4940 L 36, 5370 R 83, 5425 L 88, 5480 R 53, 5600 R 37"
    ),
    "es-1991": _sure(
        "690 R 91, 780 L 70, 940 R 160, 1560 R 180, 1970 L 147, 2205 L 33, 2405 L 92, 2495 R 36,"
        "2730 R 86, 3345 L 193, 3575 R 181, 3910 R 72, 4175 R 89"
    ),
    "fr-1969": _sure(
        "455 L 91, 550 R 82, 705 R 18?, 1140 R 69, 1200 L 109, 1350 R 118, 1460 R 138, 1725 L 47,"
        "2800 L 63, 2875 R 100, 2975 L 23, 3685 R 69, 4090 R 212, 4565 L 158, 4750 R 78, 5100 L 137,"
        "5330 R 127"
    ),
    "it-1914": _sure(
        "665 R 169, 950 L 70, 1070 R 90, 1490 L 59, 1585 R 65, 1935 R 51, 2075 L 70, 2335 R 99,"
        "2625 R 72, 3020 R 80, 3145 L 74, 3535 R 203, 3885 L 39, 3985 R 37, 4405 L 192"
    ),
    "pt-1972": _sure(
        "410 R 125, 525 L 21?, 675 R 70, 910 R 175, 1145 L 182, 1510 R 26, 1990 L 179, 2490 R 135,"
        "2815 R 76, 3030 R 32, 3125 L 87, 3245 R 185"
    ),
}
