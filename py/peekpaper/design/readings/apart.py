"""Cards that lie beside one another on a sheet, each a design of its own."""

from dataclasses import replace

import numpy as np
from shapely import MultiPolygon, Polygon

from peekpaper.design.openings.reading_order import reading_order
from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.sheet.nesting import nesting_of
from peekpaper.design.worth import parts_over_dust


def cards_apart(area: MultiPolygon) -> tuple[MultiPolygon, ...]:
    """Return the cards of an area in reading order, each with what lies in its openings, but for dust."""
    parts = parts_over_dust(area)
    nesting = nesting_of(parts)
    cards = np.flatnonzero(nesting.depth == 0)
    if len(cards) < 2:
        return (area,)
    bits = [parts[nesting.inner[nesting.outer == card]] for card in cards]
    ordered = reading_order([Polygon(part.exterior) for part in parts[cards]])
    return tuple(MultiPolygon([parts[cards[index]], *bits[index]]) for index in ordered)


def alone(ink: CardInk, number: int) -> CardInk:
    """Return one of several cards by its number, counted from 1; all of them where there is no such card."""
    cards = cards_apart(ink.area)
    return replace(ink, area=cards[number - 1]) if 0 < number <= len(cards) else ink
