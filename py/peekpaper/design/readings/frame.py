"""A frame of ink around all other ink."""

from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.design.sheet.hairlines import hairline_width, is_line
from peekpaper.design.sheet.nesting import MOST_AROUND, nesting_of
from peekpaper.design.worth import SEVERAL
from peekpaper.geometry.areas import as_area, geometries, holes_of
from peekpaper.geometry.overlay import union_all

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
    for _ in range(MOST_AROUND):
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
    nesting = nesting_of(geometries(ink.geoms))
    is_ring = np.array([is_line(part, thin) and ring_hole(part) is not None for part in nesting.parts], bool)
    held = nesting.parts[nesting.within(is_ring)]
    if 2 * shapely.area(held).sum() < ink.area or len(held) < SEVERAL:
        return None
    rings = nesting.parts[is_ring & (nesting.held > 0)]
    outlines = geometries(shapely.polygons(shapely.get_exterior_ring(rings)))
    return as_area(union_all(outlines)), MultiPolygon(held.tolist())


def _framed(ink: MultiPolygon, thin: float) -> FramedInk | None:
    if len(ink.geoms) < 2:
        return None
    nesting = nesting_of(geometries(ink.geoms))
    around = int(nesting.held.argmax())
    outer = nesting.parts[around]
    if nesting.held[around] < len(nesting.parts) - 1 or ring_hole(outer) is None:
        return None
    others = MultiPolygon(np.delete(nesting.parts, around).tolist())
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
