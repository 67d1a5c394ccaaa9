"""Nearest distances between what gets a piece, what stays open, and the outside."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon


def near_pairs(
    areas: Sequence[Polygon], others: Sequence[Polygon], within_mm: float
) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    """Return pairs of positions (k, 2) of `areas` and `others` at most so far apart, and distances (k)."""
    if not areas or not others:
        return np.empty((0, 2), np.int64), np.empty(0)
    first, second = np.array(areas, dtype=object), np.array(others, dtype=object)
    pairs = shapely.STRtree(second).query(first, predicate="dwithin", distance=within_mm).T
    return pairs, shapely.distance(first[pairs[:, 0]], second[pairs[:, 1]])
