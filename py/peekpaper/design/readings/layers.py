"""Colours as layers: one colour is the card, the others are papers seen through it."""

from shapely import MultiPolygon

from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.sheet.colours import same_colour
from peekpaper.design.sheet.content import Content


def read_layers(content: Content, card_colour: str | None) -> CardInk:
    """Return what shows of the card's colour as the card, and what shows of the others as given colours.

    Without `card_colour`, or where the file lacks it, the card is the likeliest of the seen colours.
    """
    seen = content.seen_colours
    if not seen:
        return CardInk(MultiPolygon())
    chosen = next((colour for colour in seen if card_colour and same_colour(colour[0], card_colour)), seen[0])
    others = tuple(colour for colour in seen if colour is not chosen)
    return CardInk(chosen[1], (chosen[0], *(name for name, _ in others)), others)
