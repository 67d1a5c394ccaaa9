"""Small steps on areas that keep them valid."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import GEOSException, LinearRing, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.drawing.drawing import Area
from peekpaper.drawing.outlines.matrix import Matrix, Points
from peekpaper.geometry.overlay import coverage_union_all, intersection, snapped_union_all, union_all

NOTHING = MultiPolygon()
_GRID = 2.0**-20
"""In px: far below any tolerance, far above what rounding does to the coordinates of a page."""


def as_area(geometry: BaseGeometry) -> Area:
    """Return the polygons of any geometry as one valid area; points and lines in it are dropped."""
    if not geometry.is_valid:
        geometry = shapely.make_valid(geometry, method="structure", keep_collapsed=False)
    if isinstance(geometry, Polygon | MultiPolygon):
        return geometry
    parts = [part for part in shapely.get_parts(geometry) if isinstance(part, Polygon | MultiPolygon)]
    return as_area(union_all(parts)) if parts else NOTHING


def join(areas: Sequence[Area] | NDArray[np.object_]) -> Area:
    """Return the union of areas.

    Edges that all but coincide can lead the exact overlay astray: it stops, or silently drops a part. On a
    grid such edges mostly coincide; what still goes wrong shows by a part whose inside is missing, and is
    done again by the slower overlay that snaps to the grid throughout.
    """
    parts = shapely.transform(np.asarray(areas, dtype=object), _to_grid)
    try:
        joined = as_area(shapely.disjoint_subset_union_all(parts))
    except GEOSException:
        joined = NOTHING
    if _holds_all(joined, parts):
        return joined
    return as_area(snapped_union_all(parts))


def join_faces(faces: NDArray[np.object_]) -> Area:
    """Return the union of faces of one arrangement of lines, which share whole edges, on the grid."""
    joined = as_area(shapely.transform(as_area(coverage_union_all(faces)), _to_grid))
    return joined if _holds_all(joined, faces) else join(faces)


def _to_grid(points: NDArray[np.float64]) -> NDArray[np.float64]:
    snapped: NDArray[np.float64] = np.round(points / _GRID) * _GRID
    return snapped


def _holds_all(area: Area, parts: NDArray[np.object_]) -> bool:
    if len(parts) < 2:
        return True
    insides = shapely.get_coordinates(shapely.point_on_surface(parts[shapely.area(parts) > _GRID]))
    shapely.prepare(area)
    return bool(shapely.contains_xy(area, insides[:, 0], insides[:, 1]).all())


def intersect(area: Area, window: Area) -> Area:
    """Return what two areas have in common."""
    return as_area(intersection(area, window))


def make_rings(outlines: Sequence[Points]) -> list[LinearRing]:
    """Return outlines, at least one, of at least three points each as closed rings."""
    points = np.concatenate(outlines)
    which = np.repeat(np.arange(len(outlines)), [len(outline) for outline in outlines])
    rings = shapely.linearrings(np.column_stack((points.real, points.imag)), indices=which)
    return list(np.atleast_1d(np.asarray(rings)))


def make_polygons(outlines: Sequence[Points]) -> list[Polygon]:
    """Return outlines of at least three points as polygons, valid or not."""
    return list(np.atleast_1d(np.asarray(shapely.polygons(make_rings(outlines))))) if outlines else []


def transform_area(area: Area, matrix: Matrix) -> Area:
    """Return an area as `matrix` maps it."""

    def move(points: NDArray[np.float64]) -> NDArray[np.float64]:
        x, y = points.T
        return np.column_stack(
            (matrix.a * x + matrix.c * y + matrix.e, matrix.b * x + matrix.d * y + matrix.f)
        )

    return as_area(shapely.transform(area, move))
