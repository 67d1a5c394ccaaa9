"""A sheet without openings, such as a whole-back, in parts that fit the mat: cut straight, edge to edge."""

import math

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from peekpaper.geometry.areas import as_area, geometries
from peekpaper.geometry.overlay import difference, intersection

_BESIDE_MM = 20.0
"""A cut so near the card's own seams holds less (from memory)."""
_STEP_MM = 2.0
"""How close the places lie that are looked at for a cut."""
_FAR_MM = 1e4
"""Beyond every design."""


def sheet_parts(area: MultiPolygon, most: tuple[float, float], seams: BaseGeometry) -> list[MultiPolygon]:
    """Return an area in mm in parts of at most a width and height, cut where few of the `seams` run along.

    `seams` are those of what is glued onto it, so that neither tears where the other is cut.
    """
    left, top, right, bottom = area.bounds
    for axis, (lower, upper, longest) in enumerate(((left, right, most[0]), (top, bottom, most[1]))):
        count = math.ceil((upper - lower) / longest - 1e-6)
        if count > 1:
            first = count // 2
            low, high = upper - (count - first) * longest, lower + first * longest
            places = np.linspace(low, high, max(1, math.ceil((high - low) / _STEP_MM)) + 1)
            along = shapely.length(shapely.intersection(_strips(places, axis), seams))
            best = np.lexsort((np.abs(places - (lower + upper) / 2), np.rint(along)))[0]
            return [
                part
                for half in _halves(area, float(places[best]), axis)
                if not half.is_empty
                for part in sheet_parts(half, most, seams)
            ]
    return [area]


def _strips(places: NDArray[np.float64], axis: int) -> NDArray[np.object_]:
    far = np.full(len(places), _FAR_MM)
    low, high = places - _BESIDE_MM, places + _BESIDE_MM
    sides = (-far, low, far, high) if axis else (low, -far, high, far)
    return geometries(shapely.box(*sides))


def _halves(area: MultiPolygon, at: float, axis: int) -> list[MultiPolygon]:
    far, corner = _FAR_MM, (_FAR_MM, at) if axis else (at, _FAR_MM)
    first = shapely.box(-far, -far, *corner)
    return [as_area(intersection(area, first)), as_area(difference(area, first))]
