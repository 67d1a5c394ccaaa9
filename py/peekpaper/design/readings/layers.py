"""Colours as layers: one is the card and the others are papers seen through it, or all but one are the
card.
"""

from shapely import MultiPolygon

from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.sheet.colours import same_colour
from peekpaper.design.sheet.content import Content
from peekpaper.geometry.areas import as_area
from peekpaper.geometry.overlay import union_all


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


def read_all_but(content: Content, opening_colour: str | None) -> CardInk:
    """Return what shows of all colours but one as the card, and that one as a given colour.

    Without `opening_colour`, or where the file lacks it, that is the least likely card of the seen colours.
    """
    seen = content.seen_colours
    if len(seen) < 2:
        return CardInk(content.contrast, content.colours)
    left = next(
        (colour for colour in seen if opening_colour and same_colour(colour[0], opening_colour)), seen[-1]
    )
    kept = [colour for colour in seen if colour is not left]
    names = (*(name for name, _ in kept), left[0])
    return CardInk(as_area(union_all([area for _, area in kept])), names, (left,))
