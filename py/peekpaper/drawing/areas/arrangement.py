"""Filling outlines that cross themselves or one another, by the faces that their lines form."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LinearRing, STRtree

from peekpaper.drawing.areas.valid_areas import NOTHING, join_faces
from peekpaper.drawing.drawing import Area
from peekpaper.drawing.outlines.matrix import Points

MAX_MEETINGS = 1_000_000
"""How many pairs of edges may come near each other in one shape."""
MAX_CROSSINGS = 60_000
"""How often the outlines of one shape may cross one another."""
_CHUNK = 500
_PAIRS_AT_ONCE = 2_000_000


class TangledError(Exception):
    """The outlines of a shape cross one another beyond measure."""


def arranged_area(rings: Sequence[LinearRing], *, even_odd: bool) -> Area:
    """Return the filled area of any outlines, by the winding number of each face between them.

    Raises TangledError for more than MAX_MEETINGS pairs of edges near each other, or MAX_CROSSINGS.
    """
    starts, ends = _edges(rings)
    _check_meetings(starts, ends)
    noded = shapely.unary_union(rings)
    lines = shapely.get_parts(noded)
    if len(lines) > 2 * MAX_CROSSINGS + len(starts):
        raise TangledError
    faces = shapely.get_parts(shapely.polygonize(lines))
    if len(faces) == 0:
        return NOTHING
    points = shapely.get_coordinates(shapely.point_on_surface(faces))
    windings = _windings(starts, ends, points)
    return join_faces(faces[windings % 2 != 0 if even_odd else windings != 0])


def check_crossings(lines: Sequence[Points]) -> int:
    """Return how often lines cross or touch, their own neighbouring edges aside.

    Raises TangledError for more than MAX_CROSSINGS, or MAX_MEETINGS pairs of edges near each other.
    """
    rows = [np.column_stack((line.real, line.imag)) for line in lines]
    starts = np.concatenate([row[:-1] for row in rows])
    ends = np.concatenate([row[1:] for row in rows])
    _check_meetings(starts, ends)
    edges = _segments(starts, ends)
    tree = STRtree(edges)
    crossings = 0
    for low in range(0, len(edges), _CHUNK):
        chunk = edges[low : low + _CHUNK]
        crossings += max(0, tree.query(chunk, predicate="intersects").shape[1] - 3 * len(chunk))
        if crossings > 2 * MAX_CROSSINGS:
            raise TangledError
    return crossings // 2


def _edges(rings: Sequence[LinearRing]) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the start points and the end points of all edges, shape (n, 2) each."""
    points, which = shapely.get_coordinates(rings, return_index=True)
    same = which[1:] == which[:-1]
    return points[:-1][same], points[1:][same]


def _segments(starts: NDArray[np.float64], ends: NDArray[np.float64]) -> NDArray[np.object_]:
    return np.atleast_1d(np.asarray(shapely.linestrings(np.stack((starts, ends), axis=1))))


def _check_meetings(starts: NDArray[np.float64], ends: NDArray[np.float64]) -> None:
    edges = _segments(starts, ends)
    tree = STRtree(edges)
    meetings = 0
    for low in range(0, len(edges), _CHUNK):
        meetings += tree.query(edges[low : low + _CHUNK]).shape[1]
        if meetings > 2 * MAX_MEETINGS:
            raise TangledError


def _windings(
    starts: NDArray[np.float64], ends: NDArray[np.float64], points: NDArray[np.float64]
) -> NDArray[np.int64]:
    """Return how often the edges run around each point, by those that a ray to the right crosses.

    (Sunday 2001, "Inclusion of a point in a polygon": the winding number by upward and downward crossings.)
    """
    tree = STRtree(_segments(starts, ends))
    at_once = max(1, _PAIRS_AT_ONCE // len(starts))
    chunks = [points[low : low + at_once] for low in range(0, len(points), at_once)]
    return np.concatenate([_windings_of_few(tree, starts, ends, chunk) for chunk in chunks])


def _windings_of_few(
    tree: STRtree, starts: NDArray[np.float64], ends: NDArray[np.float64], points: NDArray[np.float64]
) -> NDArray[np.int64]:
    right = max(starts[:, 0].max(), ends[:, 0].max()) + 1
    far = np.column_stack((np.full(len(points), right), points[:, 1]))
    point, edge = tree.query(_segments(points, far))
    (x1, y1), (x2, y2), (x, y) = starts[edge].T, ends[edge].T, points[point].T
    down, up = (y1 <= y) & (y2 > y), (y2 <= y) & (y1 > y)
    height = np.where(down | up, y2 - y1, 1.0)
    hits = (down | up) & (x1 + (y - y1) / height * (x2 - x1) > x)
    senses = np.where(hits, np.where(down, 1.0, -1.0), 0.0)
    return np.rint(np.bincount(point, weights=senses, minlength=len(points))).astype(np.int64)
