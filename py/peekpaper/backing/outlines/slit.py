"""Pieces without holes: pockets are filled, and what a piece must go around is reached by a slit."""

import shapely
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.geometry.areas import holding, polygonal
from peekpaper.geometry.grid import one_grown
from peekpaper.geometry.overlay import difference
from peekpaper.geometry.polyline import run_on

_WIDTHS_MM = (0.8, 0.2)
"""Widths of a slit, the first that there is room for: a cut with two sides, or little more than one (from
memory)."""
_ASIDE = 1.2
"""By how much farther from the core than needed a way is sought, so that chords of its round ends do not
touch."""


def without_holes(
    area: Polygon, core: Polygon | MultiPolygon, room: Polygon | MultiPolygon
) -> Polygon | None:
    """Return `area` with the holes inside its room filled and a slit to each other hole.

    The slit is the shortest straight one that spares the core. Returns None where there is none.
    """
    while area.interiors:
        hole = Polygon(area.interiors[0])
        rest = Polygon(area.exterior, area.interiors[1:])
        if room.covers(hole):
            area = rest
            continue
        slit = _slit(area, core)
        if slit is None:
            return None
        area = holding(polygonal(difference(area, slit)), core)
    return area


def _slit(area: Polygon, core: Polygon | MultiPolygon) -> BaseGeometry | None:
    """Return a strip from the first hole to the outside through a bar that the piece spans, or None."""
    hole, outside = area.interiors[0], area.exterior
    for width in _WIDTHS_MM:
        spared = one_grown(core, width / 2)
        shapely.prepare(spared)
        # Ways are sought a little farther from the core than they must keep.
        bars = shapely.get_parts(difference(area, one_grown(core, width / 2 * _ASIDE)))
        ways = [
            shapely.shortest_line(hole.intersection(bar), outside.intersection(bar))
            for bar in bars
            if bar.intersects(hole) and bar.intersects(outside)
        ]
        free = [way for way in ways if spared.disjoint(way)]
        if free:
            shortest = min(free, key=lambda way: float(way.length))
            # It surely cuts through where it goes on at both ends.
            return one_grown(run_on(shortest, width), width / 2, cap_style="flat")
    return None
