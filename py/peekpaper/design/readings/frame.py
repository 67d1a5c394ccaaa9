"""A frame of ink around all other ink."""

from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.design.sheet.hairlines import hairline_width, is_line
from peekpaper.geometry.areas import as_area, geometries, holes_of
from peekpaper.geometry.overlay import union_all

_MOST_LINES = 3
"""So many lines, one in another, make a frame at most (from memory)."""
_LEAST_HELD = 3
"""So many parts in thin rings and more are a picture in a frame (from memory)."""
_SPECK = 1e-3
"""Holes under this share of an outline's area are where its line meets itself (from memory)."""


@dataclass(frozen=True, slots=True)
class FramedInk:
    """What the outer edge of a ring of ink holds, and the ink inside; `by_line` tells of a thin ring."""

    frame: Polygon
    openings: MultiPolygon
    by_line: bool

    @property
    def is_nest(self) -> bool:
        """Whether one part with holes holds all ink inside: a card in a border, it seems."""
        outer, inner = _outermost(self.openings)
        return bool(outer.interiors) and Polygon(outer.exterior).covers(inner)


def framed_ink(ink: MultiPolygon) -> FramedInk | None:
    """Return the frame around all other ink, and that; None without such a frame.

    Within a frame line further ones are passed over.
    """
    thin = hairline_width(*ink.bounds)
    framed = inner = _framed(ink, thin)
    for _ in range(_MOST_LINES):
        if inner is None or not inner.by_line:
            break
        framed = inner
        inner = _framed(framed.openings, thin)
    return framed


def framed_cards(ink: MultiPolygon) -> tuple[MultiPolygon, MultiPolygon] | None:
    """Return what thin rings beside one another go around, and the ink in them.

    None where they hold less than half of the ink, or next to no parts.
    """
    thin = hairline_width(*ink.bounds)
    parts = geometries(ink.geoms)
    rings = [part for part in parts if is_line(part, thin) and ring_hole(part) is not None]
    outlines = geometries([Polygon(ring.exterior) for ring in rings])
    if not len(outlines):
        return None
    holder, held = shapely.STRtree(parts).query(outlines, predicate="contains_properly")
    held_parts = parts[np.unique(held)]
    if 2 * shapely.area(held_parts).sum() < ink.area or len(held_parts) < _LEAST_HELD:
        return None
    return as_area(union_all(outlines[np.unique(holder)])), MultiPolygon(held_parts.tolist())


def _framed(ink: MultiPolygon, thin: float) -> FramedInk | None:
    if len(ink.geoms) < 2:
        return None
    outer, others = _outermost(ink)
    hole = ring_hole(outer)
    if hole is None or not hole.covers(others):
        return None
    return FramedInk(Polygon(outer.exterior), others, is_line(outer, thin))


def _outermost(ink: MultiPolygon) -> tuple[Polygon, MultiPolygon]:
    """Return the part that spans most, and all others."""
    parts = geometries(shapely.get_parts(ink))
    left, top, right, bottom = shapely.bounds(parts).T
    outer = int(np.argmax((right - left) * (bottom - top)))
    return parts[outer], MultiPolygon(np.delete(parts, outer).tolist())


def ring_hole(part: Polygon) -> Polygon | None:
    """Return the only hole of a part, None where it has none or several."""
    holes = geometries(holes_of(part))
    large = holes[shapely.area(holes) > _SPECK * Polygon(part.exterior).area]
    return large[0] if len(large) == 1 else None
