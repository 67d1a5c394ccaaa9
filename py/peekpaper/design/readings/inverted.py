"""Inverted: the openings are drawn as ink, inside a frame line or simply on the page."""

import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.design.areas import as_area, less
from peekpaper.design.content import Content
from peekpaper.design.readings.card_ink import CardInk

_RIM = 0.05
"""The rim of card around ink that has no frame, as a share of its larger side (from memory)."""


def read_inverted(content: Content, page: Polygon) -> CardInk:
    """Return the frame's area less the ink in it as the card.

    The frame is the outermost ring of ink that holds all other ink; else the page, where all ink lies
    well inside it; else the ink's bounding box and a rim. Thin lines count as what they go around.
    """
    ink = content.cut_lines.area if content.only_lines else content.ink
    if ink.is_empty:
        return CardInk(ink)
    framed = framed_ink(ink)
    if framed is not None:
        frame, openings = framed
    else:
        left, top, right, bottom = ink.bounds
        rim = _RIM * max(right - left, bottom - top)
        on_page = page.buffer(-rim / 5).contains(shapely.box(left, top, right, bottom))
        frame = page if on_page else shapely.box(left - rim, top - rim, right + rim, bottom + rim)
        openings = ink
    return CardInk(as_area(less(frame, openings)))


def framed_ink(ink: MultiPolygon) -> tuple[Polygon, MultiPolygon] | None:
    """Return what the outer edge of a ring of ink holds, and all other ink, where that lies in the ring."""
    *others, outer = sorted(ink.geoms, key=lambda part: shapely.box(*part.bounds).area)
    if not others or len(outer.interiors) != 1:
        return None
    framed = MultiPolygon(others)
    return (Polygon(outer.exterior), framed) if Polygon(outer.interiors[0]).covers(framed) else None
