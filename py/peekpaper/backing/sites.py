"""Points along the edges of all openings and their triangulation: who is whose neighbour across the card."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

OUTLINE = -2
"""The place in `Sites.opening` of points along the card's outside, which belong to no opening."""
FRAME = -1
"""The place in `Sites.opening` of the four points far outside, which bound all zones."""

_OUTLINE_STEP_MM = 1.0
_FINEST_MM = 0.1
_COARSEST_MM = 0.5
_MOST_STEPS = 25_000


@dataclass(frozen=True, slots=True, eq=False)
class Sites:
    """Points along the openings' edges and the Delaunay triangulation of the plane between them.

    `points` (n, 2) in mm; `opening` (n) is the position of the opening whose edge a point lies on, OUTLINE
    or FRAME; `before` and `after` (n) index the neighbours along that edge. `triangles` (m, 3) index `points`, all
    turning the same way (positive area in x, y).
    """

    points: NDArray[np.float64]
    opening: NDArray[np.int64]
    before: NDArray[np.int64]
    after: NDArray[np.int64]
    triangles: NDArray[np.int64]


def lay_sites(openings: Sequence[Polygon], outline: Polygon | MultiPolygon) -> Sites:
    """Return points at most a step apart along all edges, triangulated.

    The step is half a millimetre, finer for small designs. Points that edges share count for one of them.
    Points along the card's `outline` keep the triangles small towards the outside.
    """
    rings = shapely.get_exterior_ring(np.array(openings, dtype=object))
    step = float(np.clip(shapely.length(rings).sum() / _MOST_STEPS, _FINEST_MM, _COARSEST_MM))
    coordinates, ring = shapely.get_coordinates(shapely.segmentize(rings, step), return_index=True)
    closing = np.append(ring[1:] != ring[:-1], True)
    coordinates, ring = coordinates[~closing], ring[~closing]
    before, after = _cyclic_neighbours(ring)
    outside = shapely.get_coordinates(shapely.segmentize(outline, _OUTLINE_STEP_MM))
    points = np.concatenate([coordinates, outside, _frame(np.concatenate([coordinates, outside]))])
    alone = np.arange(len(coordinates), len(points))
    belongs = np.concatenate([ring, np.full(len(outside), OUTLINE), np.full(4, FRAME)])
    unique, first, place = np.unique(_as_complex(points), return_index=True, return_inverse=True)
    sorted_points = unique.view(np.float64).reshape(-1, 2)
    return Sites(
        sorted_points,
        belongs[first],
        place[np.append(before, alone)[first]],
        place[np.append(after, alone)[first]],
        _delaunay(sorted_points),
    )


def _cyclic_neighbours(ring: NDArray[np.int64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return each point's neighbours' indices before and after it on its ring (rings lie in a row)."""
    index = np.arange(len(ring))
    begins = np.flatnonzero(np.append(True, ring[1:] != ring[:-1]))
    ends = np.append(begins[1:], len(ring)) - 1
    before, after = index - 1, index + 1
    before[begins], after[ends] = ends, begins
    return before, after


def _frame(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the corners of a square so far out that no place among the points is nearest to one."""
    low, high = points.min(axis=0), points.max(axis=0)
    centre, reach = (low + high) / 2, 4 * float((high - low).max()) + 1
    corners: NDArray[np.float64] = centre + reach * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
    return corners


def _as_complex(points: NDArray[np.float64]) -> NDArray[np.complex128]:
    flat: NDArray[np.complex128] = np.ascontiguousarray(points + 0.0).view(np.complex128).ravel()
    return flat


def _delaunay(points: NDArray[np.float64]) -> NDArray[np.int64]:
    """Return the triangles (m, 3) of sorted, unique points as indices."""
    collection = shapely.delaunay_triangles(shapely.multipoints(points))
    corners = shapely.get_coordinates(collection).reshape(-1, 4, 2)[:, :3]
    a, b = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    doubled = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    corners[doubled < 0] = corners[doubled < 0][:, ::-1]
    found: NDArray[np.int64] = np.searchsorted(_as_complex(points), _as_complex(corners.reshape(-1, 2)))
    return found.reshape(-1, 3)
