"""Inverted: the openings are drawn as ink, inside a frame line or simply on the page."""

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.design.content import Content, as_area
from peekpaper.design.readings.card_ink import CardInk

_RIM = 0.05
"""The rim of card around ink that has no frame, as a share of its larger side."""


def read_inverted(content: Content, page: Polygon) -> CardInk:
    """Return the frame's area less the ink in it as the card.

    The frame is the outermost ring of ink that holds all other ink; else the page, where all ink lies
    well inside it; else the ink's bounding box and a rim.
    """
    ink = as_area(shapely.union_all(np.array([paint.area for paint in content.painted], dtype=object)))
    if ink.is_empty:
        return CardInk(ink)
    ring = frame_ring(ink)
    if ring is not None:
        frame = Polygon(ring.exterior)
        holes = as_area(shapely.union_all([part for part in ink.geoms if part is not ring]))
    else:
        left, top, right, bottom = ink.bounds
        rim = _RIM * max(right - left, bottom - top)
        on_page = not page.is_empty and page.buffer(-rim / 5).contains(shapely.box(*ink.bounds))
        frame = page if on_page else shapely.box(left - rim, top - rim, right + rim, bottom + rim)
        holes = ink
    return CardInk(as_area(shapely.difference(frame, holes)))


def frame_ring(ink: MultiPolygon) -> Polygon | None:
    """Return the part of the ink that is a ring around all the rest of it, or None."""
    if len(ink.geoms) < 2:
        return None
    outer = max(ink.geoms, key=lambda part: shapely.box(*part.bounds).area)
    hollow = max((Polygon(ring) for ring in outer.interiors), key=lambda hole: hole.area, default=None)
    if hollow is None:
        return None
    others = shapely.union_all([part for part in ink.geoms if part is not outer])
    return outer if len(outer.interiors) == 1 and hollow.covers(others) else None
