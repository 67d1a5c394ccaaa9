"""Filled solids: all ink is card."""

from peekpaper.design.content import Content
from peekpaper.design.readings.card_ink import CardInk


def read_solids(content: Content) -> CardInk:
    """Return the union of all paint as the card."""
    return CardInk(content.ink, content.colours)
