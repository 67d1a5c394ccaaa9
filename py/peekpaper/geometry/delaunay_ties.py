"""One triangulation where several are right.

Where more than three points lie on a circle, as in drawings they often do, every way to cut their polygon
into triangles is a Delaunay triangulation, and which one comes out hangs on the precision of the machine.
Here the order of the points decides, as in Simulation of Simplicity (Edelsbrunner and Mücke 1990, from
memory).
"""

import numpy as np
from numpy.typing import NDArray

from peekpaper.geometry.elementary import directions
from peekpaper.geometry.pairs import side_names

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]

_ON_CIRCLE = 1e-14
"""Above what rounding makes of a determinant that is zero, as a part of its terms."""

_FLAT = 1e-7
"""Corners flatter than this (as a sine) are left alone."""


def with_ties_broken(points: Floats, triangles: Indices) -> Indices:
    """Return a triangulation (m, 3) of points (n, 2) in which polygons with a circle through them are fans.

    The fans spread from their points of least index. All triangles turn the same way, begin with their least
    index, and come in its order.
    """
    triangles = _one_way(points, triangles)
    tied, corners = _tied(points, triangles)
    if len(tied):
        # Most polygons have four corners: they are cut at once.
        alone = (np.bincount(tied.ravel())[tied] == 1).all(axis=1)
        triangles[tied[alone]] = _cut_in_two(corners[alone])
        triangles, tied = _one_way(points, triangles), tied[~alone]
    if len(tied):
        for hanging_together in _groups_by_size(tied):
            groups, corners = _polygons(triangles, hanging_together)
            fans, are_right = _fans(points, triangles[groups], corners)
            triangles[groups[are_right]] = fans[are_right]
    turns = (triangles.argmin(axis=1)[:, None] + np.arange(3)) % 3
    return in_order(np.take_along_axis(triangles, turns, axis=1))


def in_order(triangles: Indices) -> Indices:
    """Return triangles (m, 3) that begin with their least index in its order."""
    return triangles[np.lexsort(triangles.T[::-1])]


def _one_way(points: Floats, triangles: Indices) -> Indices:
    a, b, c = (points[triangles[:, corner]] for corner in range(3))
    return np.where((_turn(a, b, c) < 0)[:, None], triangles[:, ::-1], triangles)


def _turn(a: Floats, b: Floats, c: Floats) -> Floats:
    """Return twice the areas of triangles, above zero where they turn one way and below where the other."""
    turns: Floats = (b[:, 0] - a[:, 0]) * (c[:, 1] - a[:, 1]) - (b[:, 1] - a[:, 1]) * (c[:, 0] - a[:, 0])
    return turns


def _cut_in_two(corners: Indices) -> Indices:
    """Return the triangles (k, 2, 3) of quadrilaterals (k, 4), cut from the corner of least index.

    `corners` names the ends of one diagonal and then those of the other.
    """
    a, b, c, d = corners.T
    first = (np.minimum(a, b) < np.minimum(c, d))[:, None]
    cut, across = (
        np.where(first, corners[:, :2], corners[:, 2:]),
        np.where(first, corners[:, 2:], corners[:, :2]),
    )
    return np.stack([np.column_stack([cut, across[:, side]]) for side in (0, 1)], axis=1)


def _tied(points: Floats, triangles: Indices) -> tuple[Indices, Indices]:
    """Return pairs (k, 2) of triangles with a common side and a circle through all of their corners.

    Also these corners (k, 4): the ends of the common side, then the other ones.
    """
    start = triangles.ravel()
    end, apex = triangles[:, [1, 2, 0]].ravel(), triangles[:, [2, 0, 1]].ravel()
    name = side_names(np.stack([start, end], axis=1), len(points))
    order = np.argsort(name, kind="stable")
    first = np.flatnonzero(name[order[1:]] == name[order[:-1]])
    one, other = order[first], order[first + 1]
    corners = np.stack([start[one], end[one], apex[one], apex[other]], axis=1)
    a, b, c, d = (points[corner] for corner in corners.T)
    bent = _FLAT * np.maximum(np.abs(b - a).max(axis=1), np.abs(d - c).max(axis=1)) ** 2
    is_tied = _on_circle(a, b, c, d) & (_turn(c, a, d) > bent) & (_turn(d, b, c) > bent)
    pairs: Indices = np.stack([one, other], axis=1)[is_tied] // 3
    return pairs, corners[is_tied]


def _on_circle(a: Floats, b: Floats, c: Floats, d: Floats) -> NDArray[np.bool_]:
    """Tell whether the determinant that is zero for points on a circle is, but for rounding."""
    a, b, c = a - d, b - d, c - d
    value = np.zeros(len(a))
    terms = np.zeros(len(a))
    for one, two, three in ((a, b, c), (b, c, a), (c, a, b)):
        square = one[:, 0] * one[:, 0] + one[:, 1] * one[:, 1]
        left, right = two[:, 0] * three[:, 1], two[:, 1] * three[:, 0]
        value += square * (left - right)
        terms += square * (np.abs(left) + np.abs(right))
    near: NDArray[np.bool_] = np.abs(value) <= _ON_CIRCLE * terms
    return near


def _groups_by_size(pairs: Indices) -> list[Indices]:
    """Return the triangles that hang together by pairs: for each size k of group, all of it (m, k)."""
    beside: dict[int, list[int]] = {}
    for one, other in pairs.tolist():
        beside.setdefault(one, []).append(other)
        beside.setdefault(other, []).append(one)
    by_size: dict[int, list[list[int]]] = {}
    while beside:
        first, waiting = beside.popitem()
        group = [first]
        while waiting:
            triangle = waiting.pop()
            if triangle in beside:
                group.append(triangle)
                waiting += beside.pop(triangle)
        by_size.setdefault(len(group), []).append(group)
    return [np.array(groups, np.int64) for groups in by_size.values()]


def _polygons(triangles: Indices, groups: Indices) -> tuple[Indices, Indices]:
    """Return those groups (m, k) of triangles that have the corners of a polygon, and these (m, k + 2)."""
    all_corners = np.sort(triangles[groups].reshape(len(groups), -1), axis=1)
    is_first = np.ones(all_corners.shape, bool)
    is_first[:, 1:] = all_corners[:, 1:] != all_corners[:, :-1]
    count = groups.shape[1] + 2
    are_polygons = is_first.sum(axis=1) == count
    return groups[are_polygons], all_corners[are_polygons][is_first[are_polygons]].reshape(-1, count)


def _fans(points: Floats, triangles: Indices, corners: Indices) -> tuple[Indices, NDArray[np.bool_]]:
    """Return polygons of k triangles (m, k, 3) as fans (m, k, 3), and whether each fits its polygon.

    It does where the polygon is convex. `corners` (m, k + 2) are the polygons' corners by their indices.
    """
    around = points[corners]
    middle = sum(around[:, place] for place in range(corners.shape[1])) / corners.shape[1]
    out = around - middle[:, None]
    order = np.argsort(directions(out[..., 0], out[..., 1]), axis=1, kind="stable")
    # The least corner comes first.
    start = (order == 0).argmax(axis=1)[:, None]
    order = np.take_along_axis(order, (start + np.arange(order.shape[1])) % order.shape[1], axis=1)
    ring = np.take_along_axis(corners, order, axis=1)
    first = np.broadcast_to(ring[:, :1], ring[:, 2:].shape)
    fans = np.stack([first, ring[:, 1:-1], ring[:, 2:]], axis=-1)
    before, after = (
        _turn(*points[some.reshape(-1, 3).T]).reshape(ring[:, 2:].shape) for some in (triangles, fans)
    )
    whole = before.sum(axis=1)
    same = np.abs(whole - after.sum(axis=1)) <= _FLAT * whole
    return fans, same & (after > 0).all(axis=1)
