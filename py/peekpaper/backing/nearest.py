"""Nearest distances between what gets a piece, what stays open, and the outside."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

_NEARLY = 1.01
"""What is at most 1 % farther apart than the closest counts as about as close."""


def near_pairs(
    areas: Sequence[Polygon], others: Sequence[Polygon], within_mm: float
) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    """Return pairs of positions (k, 2) of `areas` and `others` at most so far apart, and distances (k)."""
    if not areas or not others:
        return np.empty((0, 2), np.int64), np.empty(0)
    first, second = np.array(areas, dtype=object), np.array(others, dtype=object)
    pairs = shapely.STRtree(second).query(first, predicate="dwithin", distance=within_mm).T
    return pairs, shapely.distance(first[pairs[:, 0]], second[pairs[:, 1]])


def closest_pairs(
    areas: NDArray[np.object_], others: NDArray[np.object_], reach_mm: float
) -> NDArray[np.int64]:
    """Return the pairs of positions (k, 2) that are about the closest of all, at most `reach_mm` apart.

    All pairs less than 1 % farther apart than the closest are among them. With `others` the same array as
    `areas`, each pair comes once and none with itself.
    """
    itself = areas is others
    shapely.prepare(areas)
    shapely.prepare(others)
    tree = shapely.STRtree(others)
    within = reach_mm / 1024
    while within <= reach_mm:
        pairs = tree.query(areas, predicate="dwithin", distance=within).T
        if itself:
            pairs = pairs[pairs[:, 0] < pairs[:, 1]]
        if len(pairs):
            # What is prepared comes first: that may be one long edge near which all areas lie.
            distances = shapely.distance(others[pairs[:, 1]], areas[pairs[:, 0]])
            least = distances.min()
            if least * _NEARLY <= within:
                near: NDArray[np.int64] = pairs[distances <= least * _NEARLY]
                return near
        within *= 2
    return np.empty((0, 2), np.int64)
