"""Filling outlines that nest in one another and never touch: the common case, done without overlay."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon, STRtree

from peekpaper.drawing.areas.valid_areas import as_area
from peekpaper.drawing.drawing import Area


def nested_area(polygons: Sequence[Polygon], *, even_odd: bool) -> Area:
    """Return the filled area of outlines, given as simple polygons whose boundaries don't meet.

    An outline bounds the area where the rule tells its inside from what is around it.
    """
    rings = [polygon.exterior for polygon in polygons]
    areas = shapely.area(polygons)
    senses = np.ones(len(rings)) if even_odd else np.where(shapely.is_ccw(rings), 1.0, -1.0)
    inner, outer = _pairs(polygons)
    around = np.bincount(inner, weights=senses[outer], minlength=len(rings)).astype(float)
    inside, outside = _is_filled(around + senses, even_odd), _is_filled(around, even_odd)
    is_shell, is_hole = inside & ~outside, outside & ~inside
    holes: dict[int, list[int]] = {int(shell): [] for shell in np.flatnonzero(is_shell)}
    for hole, shell in _nearest(inner, outer, areas, is_hole, is_shell):
        holes[shell].append(hole)
    return as_area(
        MultiPolygon(
            [Polygon(rings[shell], [rings[hole] for hole in inside]) for shell, inside in holes.items()]
        )
    )


def _pairs(polygons: Sequence[Polygon]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Return which outlines lie in which others."""
    starts = shapely.points([polygon.exterior.coords[0] for polygon in polygons])
    inner, outer = STRtree(polygons).query(np.atleast_1d(np.asarray(starts)), predicate="within")
    differ = inner != outer
    return inner[differ], outer[differ]


def _nearest(
    inner: NDArray[np.intp],
    outer: NDArray[np.intp],
    areas: NDArray[np.float64],
    is_hole: NDArray[np.bool_],
    is_shell: NDArray[np.bool_],
) -> list[tuple[int, int]]:
    """Return each hole with the smallest shell around it."""
    fits = is_hole[inner] & is_shell[outer]
    inner, outer = inner[fits], outer[fits]
    order = np.lexsort((areas[outer], inner))
    holes, first = np.unique(inner[order], return_index=True)
    return [(int(hole), int(shell)) for hole, shell in zip(holes, outer[order][first], strict=True)]


def _is_filled(windings: NDArray[np.float64], even_odd: bool) -> NDArray[np.bool_]:
    filled: NDArray[np.bool_] = windings % 2 == 1 if even_odd else windings != 0
    return filled
