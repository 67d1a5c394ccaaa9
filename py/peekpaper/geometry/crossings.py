"""How often lines cross, told without working out where."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

_PAIRS_AT_ONCE = 500_000
"""So many pairs of segments are looked up at once at most: some 10 MB."""
_MOST_BESIDE = 10
"""Pairs of segments that may lie beside one another for each that cross, before that counts as crossing."""


def cross_more_often(lines: Sequence[NDArray[np.float64]], most: int) -> bool:
    """Tell whether lines, each of places (n, 2), cross or touch more than `most` times, themselves too.

    Neighbouring segments of a line do not count. It takes no longer than `most` asks for.
    """
    if not lines:
        return False
    starts = np.concatenate([line[:-1] for line in lines])
    ends = np.concatenate([line[1:] for line in lines])
    segments = np.atleast_1d(np.asarray(shapely.linestrings(np.stack([starts, ends], axis=1)), dtype=object))
    tree = shapely.STRtree(segments)
    crossings = near = 0
    # Each meets itself and its neighbours in its line.
    own = np.concatenate([_own(len(line) - 1) for line in lines])
    at_once = max(1, _PAIRS_AT_ONCE // len(segments))
    for low in range(0, len(segments), at_once):
        chunk = segments[low : low + at_once]
        one, other = tree.query(chunk)
        # Each pair comes twice.
        expected = int(own[low : low + at_once].sum())
        near += len(one) - expected
        if near > 2 * _MOST_BESIDE * most:
            return True
        crossings += int(shapely.intersects(chunk[one], segments[other]).sum()) - expected
        if crossings > 2 * most:
            return True
    return False


def _own(count: int) -> NDArray[np.int64]:
    own = np.full(count, 3)
    own[:1] -= 1
    own[-1:] -= 1
    return own
