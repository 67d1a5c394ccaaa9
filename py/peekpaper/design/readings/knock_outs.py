"""Knock-outs: shapes in the background's colour are painted over the card, and are its openings."""

from shapely import MultiPolygon

from peekpaper.design.colours import same_colour
from peekpaper.design.content import Content, visible
from peekpaper.design.readings.card_ink import CardInk


def read_knock_outs(content: Content) -> CardInk:
    """Return the paint that shows and is not of the background's colour as the card."""
    classes = [int(same_colour(paint.colour, content.background)) for paint in content.painted]
    card = visible(content.painted, classes)[0] if 0 in classes else MultiPolygon()
    return CardInk(card, content.colours)
