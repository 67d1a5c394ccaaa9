"""Overlays that always come out: unions, differences and intersections of areas.

The exact overlay can stop, or silently drop a part, where edges all but coincide. What stops is done again
among valid areas on a grid, where such edges coincide, and on a coarser one if need be (snap rounding: Hobby,
Practical segment intersection with finite precision output, 1999; from memory). All calls of GEOS that may
stop in this way go through here.
"""

from collections.abc import Callable, Sequence
from typing import Any, TypeVar

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

Shapes = TypeVar("Shapes", BaseGeometry, NDArray[np.object_])
"""One geometry, or an array (n) of them."""

Result = TypeVar("Result")

_PITCHES = (2.0**-20, 2.0**-14, 2.0**-9)
"""Grids in px or mm: a millionth, far above what rounding does; at last 0.002, a tenth of what is cut."""


def union_all(areas: Sequence[BaseGeometry] | NDArray[np.object_]) -> BaseGeometry:
    """Return the union of areas; none of them is lost."""
    parts = np.asarray(areas, dtype=object)
    try:
        return shapely.disjoint_subset_union_all(parts)
    except shapely.GEOSException:
        return snapped_union_all(parts)


def snapped_union_all(areas: NDArray[np.object_]) -> BaseGeometry:
    """Return the union of areas (n) on a grid, slower and surer than the exact one."""
    sound = shapely.make_valid(areas)
    return _on_a_grid(lambda pitch: shapely.union_all(sound, grid_size=pitch))


def noded(lines: NDArray[np.object_], pitch: float) -> NDArray[np.object_]:
    """Return lines (n) cut wherever they meet, each piece once, on a grid of some pitch."""
    try:
        together = shapely.union_all(lines, grid_size=pitch)
    except shapely.GEOSException:
        together = _on_a_grid(lambda coarser: shapely.union_all(lines, grid_size=max(pitch, coarser)))
    return np.asarray(shapely.get_parts(together), dtype=object)


def coverage_union_all(areas: NDArray[np.object_]) -> BaseGeometry:
    """Return the union of areas (n) that share whole sides and do not overlap but by rounding.

    It may be invalid where they meet in a point.
    """
    try:
        return shapely.coverage_union_all(areas)
    except shapely.GEOSException:
        return union_all(areas)


def union(one: Shapes, other: BaseGeometry | NDArray[np.object_]) -> Shapes:
    """Return what lies in either area, for one pair or for each of many."""
    overlaid: Shapes = _overlaid(shapely.union, one, other)
    return overlaid


def difference(one: Shapes, other: BaseGeometry | NDArray[np.object_]) -> Shapes:
    """Return what lies in the first area alone, for one pair or for each of many."""
    overlaid: Shapes = _overlaid(shapely.difference, one, other)
    return overlaid


def intersection(one: Shapes, other: BaseGeometry | NDArray[np.object_]) -> Shapes:
    """Return what two areas have in common, for one pair or for each of many."""
    overlaid: Shapes = _overlaid(shapely.intersection, one, other)
    return overlaid


def symmetric_difference(one: Shapes, other: BaseGeometry | NDArray[np.object_]) -> Shapes:
    """Return what lies in just one of two areas, for one pair or for each of many."""
    overlaid: Shapes = _overlaid(shapely.symmetric_difference, one, other)
    return overlaid


def each_done(
    work: Callable[[NDArray[np.object_]], NDArray[np.object_]], shapes: NDArray[np.object_]
) -> NDArray[np.object_]:
    """Return what `work` makes of geometries (n), of those on a grid for which it stops."""
    try:
        return work(shapes)
    except shapely.GEOSException:
        pass
    if len(shapes) > 1:
        return np.concatenate([each_done(work, shapes[place : place + 1]) for place in range(len(shapes))])
    sound = _sound(shapes[0])
    return _on_a_grid(lambda pitch: work(np.array([shapely.set_precision(sound, pitch)], dtype=object)))


def valid(geometry: BaseGeometry) -> BaseGeometry:
    """Return a geometry whose edges cross as a valid one; every other part that they enclose is a hole.

    Where it all but falls together, so that GEOS stops, what has any area is kept.
    """
    try:
        return shapely.make_valid(geometry)
    except shapely.GEOSException:
        return shapely.make_valid(geometry, method="structure", keep_collapsed=False)


def polygons_of(geometry: BaseGeometry) -> list[Polygon]:
    """Return the polygons of a geometry; points and lines that an overlay left are dropped."""
    parts = shapely.get_parts(shapely.get_parts(geometry))
    return [part for part in parts if isinstance(part, Polygon) and not part.is_empty]


def _overlaid(overlay: Callable[..., Any], one: Any, other: Any) -> Any:
    try:
        return overlay(one, other)
    except shapely.GEOSException:
        pass
    if isinstance(one, BaseGeometry) and isinstance(other, BaseGeometry):
        return _anew(overlay, one, other)
    pairs = np.broadcast(np.asarray(one, dtype=object), np.asarray(other, dtype=object))
    return np.fromiter((_overlaid(overlay, *pair) for pair in pairs), dtype=object)


def _anew(overlay: Callable[..., BaseGeometry], one: BaseGeometry, other: BaseGeometry) -> BaseGeometry:
    left, right = _sound(one), _sound(other)
    return _on_a_grid(lambda pitch: overlay(left, right, grid_size=pitch))


def _sound(geometry: BaseGeometry) -> BaseGeometry:
    """Return a valid area for one that is not, without what has none; lines and points as they are."""
    return MultiPolygon(polygons_of(valid(geometry))) if _is_area(geometry) else geometry


def _is_area(geometry: BaseGeometry) -> bool:
    return any(isinstance(part, Polygon) for part in shapely.get_parts(geometry))


def _on_a_grid(overlay: Callable[[float], Result]) -> Result:
    """Return an overlay on the finest grid on which it comes out."""
    for pitch in _PITCHES[:-1]:
        try:
            return overlay(pitch)
        except shapely.GEOSException:
            continue
    return overlay(_PITCHES[-1])
