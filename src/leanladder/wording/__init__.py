"""Every text a user reads, by code and language."""

from leanladder.wording.codes import CAUTIONS, GUIDE_CAUTIONS, WARMING_CAUTION, cautions
from leanladder.wording.texts import UNREVIEWED, WordingError, codes, languages, reviewed, text, unmarked

__all__ = [
    "CAUTIONS",
    "GUIDE_CAUTIONS",
    "UNREVIEWED",
    "WARMING_CAUTION",
    "WordingError",
    "cautions",
    "codes",
    "languages",
    "reviewed",
    "text",
    "unmarked",
]
