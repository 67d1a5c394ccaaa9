"""Geometry as the page draws it: SVG path strings and rounded numbers, in mm."""

from functools import lru_cache

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

DECIMALS = 3
"""A thousandth of a millimetre: far below what a screen shows or a blade cuts."""
_KEPT = 2048
"""So many outlines keep their text: a mend leaves most as they were, and they are told twice or more."""


@lru_cache(_KEPT)
def outline(area: Polygon) -> str:
    """Return the path of an opening, a bar or a piece, which are small and mostly stay as they were."""
    return path(area)


def path(geometry: BaseGeometry) -> str:
    """Return polygons or lines as an SVG path of absolute M, L and Z commands; rings fill by even-odd."""
    return "".join(
        _subpath(line, closed=True) if isinstance(line, shapely.LinearRing) else _subpath(line, closed=False)
        for part in shapely.get_parts(geometry)
        for line in _lines(part)
    )


def _lines(part: BaseGeometry) -> list[LineString]:
    if isinstance(part, Polygon):
        return [part.exterior, *part.interiors] if not part.is_empty else []
    return [part] if isinstance(part, LineString) and not part.is_empty else []


def _subpath(line: LineString, closed: bool) -> str:
    points = np.round(shapely.get_coordinates(line), DECIMALS)
    if closed:
        points = points[:-1]
    return "M" + "L".join(f"{x:g} {y:g}" for x, y in points.tolist()) + ("Z" if closed else "")


def numbers(values: object) -> list[float]:
    """Return coordinates as a flat list of rounded numbers."""
    return [round(float(value), DECIMALS) for value in np.asarray(values, dtype=float).ravel()]


def segment(line: LineString) -> list[float]:
    """Return a segment as [x0, y0, x1, y1]."""
    return numbers(shapely.get_coordinates(line)[[0, -1]])


@lru_cache(_KEPT)
def label_place(area: Polygon) -> tuple[float, ...]:
    """Return where a label sits best in an area, and the room around it: (x, y, radius).

    The place is the pole of inaccessibility (centre of the largest inscribed circle, GEOS).
    """
    tolerance = max(0.05, float(np.sqrt(area.area)) / 50)
    radius_line = shapely.maximum_inscribed_circle(area, tolerance)
    centre = shapely.get_coordinates(radius_line)[0]
    return tuple(numbers([*centre, radius_line.length]))


def joined(parts: BaseGeometry | None) -> str | None:
    """Return the path of what may be absent."""
    return None if parts is None or parts.is_empty else path(parts)
