"""Polygons out of whatever an overlay gives."""

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.geometry.overlay import polygons_of


def as_area(geometry: BaseGeometry) -> MultiPolygon:
    """Return the polygons of a geometry; points and lines that an overlay left are dropped."""
    return MultiPolygon(polygons_of(geometry))


def holes_of(area: Polygon | MultiPolygon) -> list[Polygon]:
    """Return the interior rings of an area, each as the area that it surrounds."""
    rings, part = shapely.get_rings(shapely.get_parts(area), return_index=True)
    return list(geometries(shapely.polygons(rings[np.diff(part, prepend=-1) == 0])))


def geometries(values: object) -> NDArray[np.object_]:
    """Return what shapely's array functions give as the array that it is."""
    return np.asarray(values, dtype=object)
