"""Simple shapes for openings that a hand cuts: upright, about the origin, as far as 1 from there."""

import math
from collections.abc import Callable, Mapping
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from peekpaper.geometry.vectors import norms

_NODES = 96
"""Corners of a round shape: less than 0.1 % off at any size, 1 - cos(pi / 96)."""


class CutShape(StrEnum):
    """The shapes to choose from."""

    CIRCLE = "circle"
    SQUARE = "square"
    HEART = "heart"
    LEAF = "leaf"
    DROP = "drop"
    STAR = "star"


def unit_outline(shape: CutShape) -> NDArray[np.float64]:
    """Return the outline (n, 2) of a shape, y down."""
    outline = _OUTLINES[shape]()
    outline = outline - (outline.max(axis=0) + outline.min(axis=0)) / 2
    unit: NDArray[np.float64] = outline / float(norms(outline).max())
    return unit


def placed_outline(
    shape: CutShape, middle: tuple[float, float], edge: tuple[float, float]
) -> tuple[tuple[float, float], ...]:
    """Return a shape's outline about `middle`, as large as `edge` is away."""
    radius = math.dist(middle, edge)
    return tuple((middle[0] + radius * x, middle[1] + radius * y) for x, y in unit_outline(shape).tolist())


def _turns() -> NDArray[np.float64]:
    return 2 * np.pi * (np.arange(_NODES) + 0.5) / _NODES


def _circle() -> NDArray[np.float64]:
    turn = _turns()
    return np.stack([np.cos(turn), np.sin(turn)], axis=1)


def _square() -> NDArray[np.float64]:
    return np.array([(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)])


def _heart() -> NDArray[np.float64]:
    """Two half rounds over a point, as one folds and cuts it."""
    turn = np.linspace(np.pi, 2 * np.pi, _NODES // 4)
    left = np.stack([0.5 * np.cos(turn) - 0.5, 0.5 * np.sin(turn)], axis=1)
    side = np.linspace(0, 1, _NODES // 4)[1:-1, None]
    # From the side of the round down to the point, full at first.
    bow = np.concatenate([1 - side**1.6, 1.25 * side], axis=1)
    right = left * (-1, 1)
    return np.concatenate([left, right[::-1], bow, [(0.0, 1.25)], (bow * (-1, 1))[::-1]])


def _leaf() -> NDArray[np.float64]:
    """Two arcs that meet in points."""
    wide = np.linspace(-1, 1, _NODES // 2)
    right = np.stack([np.sqrt(1.25**2 - wide**2) - 0.75, wide], axis=1)
    return np.concatenate([right, (right * (-1, 1))[::-1][1:-1]])


def _drop() -> NDArray[np.float64]:
    """A round with a point above it, where its tangents meet."""
    turn = np.linspace(-np.pi / 6, 7 * np.pi / 6, _NODES)
    return np.concatenate([np.stack([np.cos(turn), np.sin(turn)], axis=1), [(0.0, -2.0)]])


def _star() -> NDArray[np.float64]:
    """Five points; the inner corners lie on the lines between points (golden section)."""
    turn = np.pi * np.arange(10) / 5 - np.pi / 2
    reach = np.where(np.arange(10) % 2 == 0, 1.0, ((3 - math.sqrt(5)) / 2))
    star: NDArray[np.float64] = reach[:, None] * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    return star


_OUTLINES: Mapping[CutShape, Callable[[], NDArray[np.float64]]] = {
    CutShape.CIRCLE: _circle,
    CutShape.SQUARE: _square,
    CutShape.HEART: _heart,
    CutShape.LEAF: _leaf,
    CutShape.DROP: _drop,
    CutShape.STAR: _star,
}
