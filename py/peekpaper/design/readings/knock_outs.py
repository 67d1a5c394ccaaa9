"""Knock-outs: shapes in the background's colour are painted over the card, and are its openings."""

from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.sheet.content import Content


def read_knock_outs(content: Content) -> CardInk:
    """Return the paint that shows and is not of the background's colour as the card."""
    return CardInk(content.contrast, content.colours)
