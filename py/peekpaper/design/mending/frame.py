"""Frames of card around a whole design, and the hole to hang it by."""

from collections.abc import Iterable

import numpy as np
import shapely
from shapely import MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.design.mending.mends import AddFrame, Change, FrameShape
from peekpaper.geometry.areas import as_area
from peekpaper.geometry.grid import one_grown
from peekpaper.geometry.overlay import difference, union_all

_DOUBLINGS = 12
"""So often the distance is doubled over which parts beside one another count as one outline."""

Bounds = tuple[float, float, float, float]


def frame_around(area: MultiPolygon, frame: AddFrame, mm_per_px: float) -> MultiPolygon:
    """Return a card in mm with a frame around it; parts that do not reach the frame stay apart from it."""
    width, margin, corner, hole = (
        length * mm_per_px for length in (frame.width, frame.margin, frame.corner, frame.hole)
    )
    around = _outline(area, width) if frame.shape is FrameShape.OUTLINE else shapely.box(*area.bounds)
    outer, inner = _grown(around, margin + width, corner), _grown(around, margin, max(corner - width, 0.0))
    if outer.is_empty:
        # So far within the card's outline nothing is left to go around.
        return area
    framed = union_all([area, difference(outer, inner)])
    if hole > 0:
        left, top, right, _ = outer.bounds
        column = shapely.LineString([((left + right) / 2, top), ((left + right) / 2, top + width)])
        middle = Point(column.interpolate(0.5, normalized=True))
        rim = one_grown(middle, hole / 2 + width / 2)
        framed = difference(union_all([framed, difference(rim, inner)]), one_grown(middle, hole / 2))
    return as_area(framed)


def framed_bounds(bounds_px: Bounds, changes: Iterable[Change]) -> Bounds:
    """Return the bounds in px of a card with the frames among its changes."""
    left, top, right, bottom = bounds_px
    for change in changes:
        if isinstance(change, AddFrame):
            by = max(change.margin + change.width, 0.0)
            left, top, right, bottom = left - by, top - by, right + by, bottom + by
    return left, top, right, bottom


def _grown(area: BaseGeometry, by: float, corner: float) -> BaseGeometry:
    """Return an area grown by a distance (mm), its outer corners rounded to a radius."""
    wide = one_grown(area, by, join_style="mitre")
    if corner <= 0 or wide.is_empty:
        return wide
    left, top, right, bottom = wide.bounds
    radius = min(corner, (right - left) / 2, (bottom - top) / 2) * 0.999
    return one_grown(one_grown(wide, -radius, join_style="mitre"), radius)


def _outline(area: MultiPolygon, reach: float) -> BaseGeometry:
    """Return one outline around all parts of a card: over ever wider gaps until it is one."""
    filled = union_all(np.array([Polygon(part.exterior) for part in area.geoms], dtype=object))
    for _ in range(_DOUBLINGS):
        closed = one_grown(one_grown(filled, reach), -reach * 0.999)
        if isinstance(closed, Polygon):
            return Polygon(closed.exterior)
        reach *= 2
    return filled.convex_hull
