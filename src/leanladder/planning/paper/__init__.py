"""A session's ladders made into sheets, cards and a briefing, before they are typeset."""

from leanladder.planning.paper.briefing import briefings
from leanladder.planning.paper.coach import coach_sheets
from leanladder.planning.paper.dayword import day_word, day_words, free_words
from leanladder.planning.paper.riders import rider_cards

__all__ = ["briefings", "coach_sheets", "day_word", "day_words", "free_words", "rider_cards"]
