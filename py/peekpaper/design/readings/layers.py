"""Colours as layers: one colour is the card, the others are papers seen through it."""

import numpy as np
import shapely
from shapely import MultiPolygon

from peekpaper.design.content import Content, same_colour, visible
from peekpaper.design.readings.card_ink import CardInk


def read_layers(content: Content, card_colour: str | None) -> CardInk:
    """Return what shows of the card's colour as the card, and what shows of the others as given colours.

    Without `card_colour` the card is the colour that spans most, the larger area where several do.
    """
    seen = seen_colours(content)
    if not seen:
        return CardInk(MultiPolygon())
    names = [colour for colour, _ in seen]
    chosen = next(
        (name for name in names if card_colour and same_colour(name, card_colour.lower())), names[0]
    )
    card = dict(seen)[chosen]
    given = tuple((name, area) for name, area in seen if name != chosen)
    return CardInk(card, given, (chosen, *(name for name in names if name != chosen)))


def seen_colours(content: Content) -> list[tuple[str, MultiPolygon]]:
    """Return the colours that can be seen, the background's left out, the likeliest card first."""
    names: list[str] = []
    classes: list[int] = []
    for paint in content.painted:
        match = next((i for i, name in enumerate(names) if same_colour(name, paint.colour)), None)
        if match is None:
            match = len(names)
            names.append(paint.colour)
        classes.append(match)
    if not names:
        return []
    areas = visible(content.painted, np.array(classes, np.int64))
    seen = [
        (name, area)
        for name, area in zip(names, areas, strict=True)
        if not area.is_empty and not same_colour(name, content.background)
    ]
    spans = [round(shapely.box(*area.bounds).area, 0) for _, area in seen]
    widest = max(spans, default=0.0)
    ranks = [(span < 0.95 * widest, -area.area) for span, (_, area) in zip(spans, seen, strict=True)]
    return [pair for _, pair in sorted(zip(ranks, seen, strict=True), key=lambda ranked: ranked[0])]
