"""Small helpers on areas."""

import shapely
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry


def polygonal(area: BaseGeometry) -> Polygon | MultiPolygon:
    """Return only the polygons of a geometry: operations that just touch leave points and lines behind."""
    if isinstance(area, Polygon | MultiPolygon):
        return area
    parts = [part for part in shapely.get_parts(area) if isinstance(part, Polygon | MultiPolygon)]
    return polygonal(shapely.union_all(parts)) if parts else Polygon()


def holding(area: Polygon | MultiPolygon, inner: Polygon | MultiPolygon) -> Polygon:
    """Return the part of `area` that holds (the most of) `inner`."""
    if isinstance(area, Polygon):
        return area
    parts = shapely.get_parts(area)
    shared = shapely.area(shapely.intersection(parts, inner))
    part: Polygon = parts[int(shared.argmax())]
    return part
