"""Pieces without holes: pockets are filled, and what a piece must go around is reached by a slit."""

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Polygon

from peekpaper.backing.areas import holding, polygonal

_WIDTHS_MM = (0.8, 0.2)
_TRIES = 64


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
        area = holding(polygonal(area.difference(slit)), core)
    return area


def _slit(area: Polygon, core: Polygon | MultiPolygon) -> Polygon | None:
    inner, outer = (_spread(ring) for ring in (area.interiors[0], area.exterior))
    ends = np.stack([np.repeat(inner, len(outer), axis=0), np.tile(outer, (len(inner), 1))], axis=1)
    nearest_first = np.argsort(np.hypot(*(ends[:, 1] - ends[:, 0]).T), kind="stable")
    lines = np.asarray(shapely.linestrings(ends[nearest_first]))
    for width in _WIDTHS_MM:
        spared = core.buffer(width / 2)
        shapely.prepare(spared)
        free = lines[shapely.disjoint(spared, lines)]
        if len(free):
            return _lengthened(free[0], width).buffer(width / 2, cap_style="flat")
    return None


def _spread(ring: shapely.LinearRing) -> NDArray[np.float64]:
    places = shapely.line_interpolate_point(ring, np.arange(_TRIES) / _TRIES, normalized=True)
    coordinates: NDArray[np.float64] = shapely.get_coordinates(places)
    return coordinates


def _lengthened(line: LineString, by_mm: float) -> LineString:
    """Return the line with both ends moved out, so that the slit surely cuts through."""
    start, end = shapely.get_coordinates(line)
    along = (end - start) / max(line.length, 1e-9) * by_mm
    return LineString([start - along, end + along])
