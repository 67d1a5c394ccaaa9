"""The Delaunay triangulation of points, as indices."""

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.geometry.delaunay_ties import in_order, with_ties_broken
from peekpaper.geometry.pairs import side_names

_NEARNESSES = (0.0, 1e-12, 1e-9, 1e-6)
"""How near points may come to one another, as shares of their extent: at first as near as they do."""


_MOST_LOOKS = 50_000_000
"""Where more pairs of a triangle and a new point would have to be looked at, all is triangulated anew."""
_ON_CIRCLE = 1e-9
"""Points that are so near a circle, as a share of its radius squared, count as inside."""
_ROUNDING = 1e-13
"""What rounding does to that share in a triangle of usual shape, far more than it can."""
_OVERLAP = 1e-6
"""Triangles that overlap by a larger share of the whole are no triangulation."""
_SAME_AREA = 1e-9
"""A cavity and what fills it are equally large but for rounding, as a share."""


def as_complex(points: NDArray[np.float64]) -> NDArray[np.complex128]:
    """Return points (n, 2) as complex numbers (n), which sort by x and then by y."""
    flat: NDArray[np.complex128] = np.ascontiguousarray(points + 0.0).view(np.complex128).ravel()
    return flat


def delaunay(points: NDArray[np.float64]) -> NDArray[np.int64]:
    """Return the triangles (m, 3) of sorted, unique points (n, 2) as their indices, all turning one way.

    Points that all but coincide with others may be left without a triangle. Where points lie on a circle, so
    that several triangulations are right, the same one is taken everywhere.
    """
    return with_ties_broken(points, looked_up(points, _corners(points)))


def delaunay_with(
    points: NDArray[np.float64], triangles: NDArray[np.int64], is_new: NDArray[np.bool_]
) -> NDArray[np.int64]:
    """Return what `delaunay` does, from the `triangles` (m, 3) of those points that are not new.

    Only triangles with a new point inside their circles go; their corners and the new points are triangulated
    by themselves and fill the place (the cavities of Bowyer, 1981, and Watson, 1981, all at once; from
    memory).
    """
    new = points[is_new]
    if not len(new):
        return triangles
    if len(new) * len(triangles) > _MOST_LOOKS:
        return delaunay(points)
    gone = _with_any_inside(points[triangles], new)
    cavity = triangles[gone]
    local = np.flatnonzero(is_new | np.isin(np.arange(len(points)), cavity))
    filling = local[delaunay(points[local])]
    filling = filling[_within(filling, cavity, is_new)]
    before, after = _doubled_areas(points[cavity]).sum(), _doubled_areas(points[filling]).sum()
    is_whole = abs(after - before) <= _SAME_AREA * before and np.isin(np.flatnonzero(is_new), filling).all()
    return in_order(np.concatenate([triangles[~gone], filling])) if is_whole else delaunay(points)


def _with_any_inside(corners: NDArray[np.float64], points: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Tell which triangles (m, 3, 2) have one of the points (k, 2) inside or on their circles, or nearly."""
    start = corners[:, 0]
    (bx, by), (cx, cy) = (corners[:, 1] - start).T, (corners[:, 2] - start).T
    b2, c2 = bx * bx + by * by, cx * cx + cy * cy
    doubled = 2 * np.maximum(_doubled_areas(corners), np.finfo(float).tiny)
    turn = np.where(bx * cy - by * cx < 0, -1.0, 1.0)
    with np.errstate(over="ignore", invalid="ignore"):
        x, y = turn * (cy * b2 - by * c2) / doubled, turn * (bx * c2 - cx * b2) / doubled
        # The circle of a triangle that is all but flat is not known well.
        reach = (x * x + y * y) * (1 + _ON_CIRCLE + _ROUNDING * np.maximum(b2, c2) / doubled)
        x, y = x + start[:, 0], y + start[:, 1]
        inside: NDArray[np.bool_] = np.asarray(~np.isfinite(reach))
        for px, py in points.tolist():
            across, along = x - px, y - py
            inside |= across * across + along * along <= reach
    return inside


def _within(
    filling: NDArray[np.int64], cavity: NDArray[np.int64], is_new: NDArray[np.bool_]
) -> NDArray[np.bool_]:
    """Tell which triangles of a filling lie within a cavity, given as triangles between the same points.

    Each part of a cavity holds a new point, so they are those that hang together with one without crossing
    the cavity's rim.
    """
    names, counts = np.unique(_side_names(cavity, len(is_new)), return_counts=True)
    sides = _side_names(filling, len(is_new))
    order = np.argsort(sides, kind="stable")
    first = np.flatnonzero(sides[order[1:]] == sides[order[:-1]])
    first = first[np.isin(sides[order[first]], names[counts == 1], invert=True)]
    pairs = np.stack([order[first], order[first + 1]], axis=1) // 3
    within: NDArray[np.bool_] = np.asarray(is_new[filling].any(axis=1))
    while (spreads := within[pairs[:, 0]] != within[pairs[:, 1]]).any():
        within[pairs[spreads]] = True
        pairs = pairs[~spreads]
    return within


def _side_names(triangles: NDArray[np.int64], count: int) -> NDArray[np.int64]:
    """Return a number (3 m) for each side of triangles (m, 3) between `count` points, in turn."""
    return side_names(triangles[:, [[0, 1], [1, 2], [2, 0]]], count).ravel()


def _doubled_areas(corners: NDArray[np.float64]) -> NDArray[np.float64]:
    b, c = corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0]
    areas: NDArray[np.float64] = np.abs(b[:, 0] * c[:, 1] - b[:, 1] * c[:, 0])
    return areas


def _corners(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the corners (m, 3, 2) of the triangles of points (n, 2).

    Points that all but coincide can lead the search for the next one's place astray, or to triangles that
    overlap. Then they are taken in another order, by y before x, and at last left out.
    """
    extent = float(np.ptp(points, axis=0).max())
    hull = shapely.convex_hull(shapely.multipoints(points))
    most = 2 * float(shapely.area(hull)) * (1 + _OVERLAP)
    for nearness in _NEARNESSES:
        for turn in (1, -1):
            cloud = shapely.multipoints(points[:, ::turn])
            try:
                triangles = shapely.delaunay_triangles(cloud, nearness * extent)
            except shapely.GEOSException:
                continue
            corners = shapely.get_coordinates(triangles).reshape(-1, 4, 2)[:, :3][:, ::turn, ::turn]
            if _doubled_areas(corners).sum() <= most:
                return corners
    return np.empty((0, 3, 2))


def looked_up(points: NDArray[np.float64], corners: NDArray[np.float64]) -> NDArray[np.int64]:
    """Return the indices (m, 3) of triangle corners (m, 3, 2) among sorted points; strangers are dropped."""
    known, wanted = as_complex(points), as_complex(corners.reshape(-1, 2))
    found = np.minimum(np.searchsorted(known, wanted), len(known) - 1)
    triangles = found.reshape(-1, 3).astype(np.int64)
    are_known: NDArray[np.bool_] = (known[found] == wanted).reshape(-1, 3).all(axis=1)
    return triangles[are_known]
