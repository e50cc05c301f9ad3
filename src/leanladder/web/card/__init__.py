"""A rider's card on a phone: by personal link, no account, one response that opens without a network."""

from leanladder.web.card.page import CardPage, card_page
from leanladder.web.card.state import Cards, CardState, Found

__all__ = ["CardPage", "CardState", "Cards", "Found", "card_page"]
