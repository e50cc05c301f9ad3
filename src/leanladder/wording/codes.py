"""Codes that always go together."""

from __future__ import annotations

# What stands beside every ladder.
CAUTIONS = (
    "dry_only",
    "limit",
    "closed_course",
    "rules_first",
    "maker_first",
    # of what is told wrongly, this costs most: docs/evidence/odds.md
    "told_rightly",
    "no_weaving",
    "no_harder",
)

# Beside a ladder that lets riders drive and brake harder upright, in place of no_harder.
WARMING_CAUTION = "upright_only"

# What stands beside every guide.
GUIDE_CAUTIONS = (
    "shoulder_not_centre",
    "road_dry_warm",
    "card_from_zero",
    "limit",
    "closed_course",
    "rules_first",
    "maker_first",
)


def cautions(*, warming: bool = False) -> tuple[str, ...]:
    """Return the codes of what stands beside a ladder.

    warming: whether it lets riders drive and brake harder upright, and must say how.
    """
    return tuple(WARMING_CAUTION if warming and code == "no_harder" else code for code in CAUTIONS)
