"""Cards that lie beside one another on a sheet, each a design of its own."""

from dataclasses import replace

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.design.openings.reading_order import reading_order
from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.worth import parts_of
from peekpaper.geometry.areas import geometries


def cards_apart(area: MultiPolygon) -> tuple[MultiPolygon, ...]:
    """Return the cards of an area in reading order, each with what lies in its openings, but for dust."""
    held, loose = parts_of(area)
    outlines = [Polygon(part.exterior) for part in held.geoms]
    if len(outlines) < 2:
        return (area,)
    bits = geometries(loose.geoms)
    bit, holder = shapely.STRtree(outlines).query(shapely.point_on_surface(bits), predicate="within")
    return tuple(
        MultiPolygon([held.geoms[index], *bits[np.unique(bit[holder == index])]])
        for index in reading_order(outlines)
    )


def alone(ink: CardInk, number: int) -> CardInk:
    """Return one of several cards by its number, counted from 1; all of them where there is no such card."""
    cards = cards_apart(ink.area)
    return replace(ink, area=cards[number - 1]) if 0 < number <= len(cards) else ink
