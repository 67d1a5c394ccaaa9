"""Polygons out of whatever an overlay gives."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

_GRID = 2.0**-20


def as_area(geometry: BaseGeometry) -> MultiPolygon:
    """Return the polygons of a geometry; points and lines that an overlay left are dropped."""
    parts = shapely.get_parts(shapely.get_parts(geometry))
    return MultiPolygon([part for part in parts if isinstance(part, Polygon) and not part.is_empty])


def united(areas: Sequence[BaseGeometry] | NDArray[np.object_]) -> BaseGeometry:
    """Return the union of areas; edges that all but coincide can lead the exact overlay astray."""
    parts = np.asarray(areas, dtype=object)
    try:
        return shapely.disjoint_subset_union_all(parts)
    except shapely.GEOSException:
        return shapely.union_all(shapely.make_valid(parts), grid_size=_GRID)


def less(area: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    """Return an area without what another covers."""
    try:
        return shapely.difference(area, other)
    except shapely.GEOSException:
        return shapely.difference(shapely.make_valid(area), shapely.make_valid(other), grid_size=_GRID)


def holes_of(area: Polygon | MultiPolygon) -> list[Polygon]:
    """Return the interior rings of an area, each as the area that it surrounds."""
    rings, part = shapely.get_rings(shapely.get_parts(area), return_index=True)
    return list(geometries(shapely.polygons(rings[np.diff(part, prepend=-1) == 0])))


def geometries(values: object) -> NDArray[np.object_]:
    """Return what shapely's array functions give as the array that it is."""
    return np.asarray(values, dtype=object)
