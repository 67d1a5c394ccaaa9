"""One triangulation where several are right.

Where more than three points lie on a circle, as in drawings they often do, every way to cut their polygon
into triangles is a Delaunay triangulation, and which one comes out hangs on the precision of the machine.
"""

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from peekpaper.steady import directions

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]

_ON_CIRCLE = 1e-14
"""Above what rounding makes of a determinant that is zero, as a part of its terms."""

_FLAT = 1e-7
"""Corners flatter than this (as a sine) are left alone."""


def fanned(points: Floats, triangles: Indices) -> Indices:
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
        stay = np.ones(len(triangles), bool)
        fans = []
        for group in _groups(tied):
            fan = _fan(points, triangles[group])
            if fan is not None:
                stay[group] = False
                fans.append(fan)
        triangles = np.concatenate([triangles[stay], *fans])
    turns = (triangles.argmin(axis=1)[:, None] + np.arange(3)) % 3
    triangles = np.take_along_axis(triangles, turns, axis=1)
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
    name = np.minimum(start, end) * len(points) + np.maximum(start, end)
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


def _groups(pairs: Indices) -> Iterator[list[int]]:
    """Yield the triangles that hang together by pairs."""
    beside: dict[int, list[int]] = {}
    for one, other in pairs.tolist():
        beside.setdefault(one, []).append(other)
        beside.setdefault(other, []).append(one)
    while beside:
        first, waiting = beside.popitem()
        group = [first]
        while waiting:
            triangle = waiting.pop()
            if triangle in beside:
                group.append(triangle)
                waiting += beside.pop(triangle)
        yield group


def _fan(points: Floats, triangles: Indices) -> Indices | None:
    """Return the polygon of these triangles as a fan; None where they make no convex polygon."""
    corners = np.unique(triangles)
    if len(corners) != len(triangles) + 2:
        return None
    out = points[corners] - points[corners].sum(axis=0) / len(corners)
    ring = corners[np.argsort(directions(out[:, 0], out[:, 1]), kind="stable")]
    ring = np.roll(ring, -int(ring.argmin()))
    fan = np.stack([np.full(len(triangles), ring[0]), ring[1:-1], ring[2:]], axis=1)
    before, after = (_turn(*(points[some[:, corner]] for corner in range(3))) for some in (triangles, fan))
    same = abs(before.sum() - after.sum()) <= _FLAT * before.sum()
    return fan if same and (after > 0).all() else None
