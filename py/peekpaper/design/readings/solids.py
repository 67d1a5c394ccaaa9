"""Filled solids: all ink is card."""

from shapely import MultiPolygon

from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.readings.frame import framed_ink
from peekpaper.design.sheet.content import Content
from peekpaper.design.sheet.mended import Fault, Mended
from peekpaper.design.worth import SEVERAL


def read_solids(content: Content) -> CardInk:
    """Return the union of all paint as the card, but for a line around a card of several openings."""
    framed = framed_ink(content.ink)
    if framed is not None and framed.by_line and len(framed.openings.geoms) == 1:
        card = framed.openings.geoms[0]
        if len(card.interiors) >= SEVERAL:
            border = Mended(Fault.BORDER, framed.frame.boundary)
            return CardInk(MultiPolygon([card]), content.colours, mended=(border,))
    return CardInk(content.ink, content.colours)
