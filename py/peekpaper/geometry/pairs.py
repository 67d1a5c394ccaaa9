"""Pairs of indices as single whole numbers, which sort and are looked up as one.

They have 64 bits on every machine. A browser's own integers have 32, too few for pairs from 46,341 points on.
"""

import numpy as np
from numpy.typing import NDArray


def pair_names(first: NDArray[np.integer], second: NDArray[np.integer], count: int) -> NDArray[np.int64]:
    """Return a number for each pair of indices below `count`, in the pairs' order."""
    names: NDArray[np.int64] = first.astype(np.int64) * count + second
    return names


def side_names(ends: NDArray[np.integer], count: int) -> NDArray[np.int64]:
    """Return a number for each side (..., 2) between two of `count` points, the same either way round."""
    first, second = ends[..., 0], ends[..., 1]
    return pair_names(np.minimum(first, second), np.maximum(first, second), count)


def pairs_named(names: NDArray[np.int64], count: int) -> NDArray[np.int64]:
    """Return the pairs (n, 2) that numbers (n) stand for."""
    return np.stack(np.divmod(names, count), axis=1)
