"""Areas out of whatever an overlay gives, and small steps on them."""

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.geometry.overlay import intersection, polygons_of, union_all

_NOTHING = 0.001
"""A thousandth of a millimetre: nothing that can be cut."""


def as_area(geometry: BaseGeometry) -> MultiPolygon:
    """Return the polygons of a geometry; points and lines that an overlay left are dropped."""
    return MultiPolygon(polygons_of(geometry))


def holes_of(area: Polygon | MultiPolygon) -> list[Polygon]:
    """Return the interior rings of an area, each as the area that it surrounds."""
    if isinstance(area, Polygon) and not area.interiors:
        # Most parts of a drawing have none, and there are thousands.
        return []
    rings, part = shapely.get_rings(shapely.get_parts(area), return_index=True)
    return list(geometries(shapely.polygons(rings[np.diff(part, prepend=-1) == 0])))


def geometries(values: object) -> NDArray[np.object_]:
    """Return what shapely's array functions give as the array that it is."""
    return np.asarray(values, dtype=object)


def plainer(areas: NDArray[np.object_]) -> NDArray[np.object_]:
    """Leave out nodes within a thousandth of a millimetre, so that what follows has less to do."""
    plain = shapely.simplify(areas, _NOTHING, preserve_topology=False)
    sound: NDArray[np.bool_] = shapely.is_valid(plain) & ~shapely.is_empty(plain)
    return np.where(sound, plain, areas)


def polygonal(area: BaseGeometry) -> Polygon | MultiPolygon:
    """Return only the polygons of a geometry: operations that just touch leave points and lines behind."""
    if isinstance(area, Polygon | MultiPolygon):
        return area
    parts = [part for part in shapely.get_parts(area) if isinstance(part, Polygon | MultiPolygon)]
    return polygonal(union_all(parts)) if parts else Polygon()


def holding(area: Polygon | MultiPolygon, inner: Polygon | MultiPolygon) -> Polygon:
    """Return the part of `area` that holds (the most of) `inner`."""
    if isinstance(area, Polygon):
        return area
    parts = shapely.get_parts(area)
    shared = shapely.area(intersection(parts, inner))
    part: Polygon = parts[int(shared.argmax())]
    return part


def each_holding(areas: NDArray[np.object_], inner: NDArray[np.object_]) -> NDArray[np.object_]:
    """Return for each of many geometries (n) the polygon of it that holds (the most of) its `inner` (n)."""
    return geometries([holding(polygonal(area), held) for area, held in zip(areas, inner, strict=True)])
