"""Knock-outs: shapes in the background's colour are painted over the card, and are its openings."""

import numpy as np

from peekpaper.design.content import Content, same_colour, visible
from peekpaper.design.readings.card_ink import CardInk


def read_knock_outs(content: Content) -> CardInk:
    """Return the paint that shows and is not of the background's colour as the card."""
    classes = np.array([same_colour(paint.colour, content.background) for paint in content.painted], np.int64)
    return CardInk(visible(content.painted, classes)[0])
