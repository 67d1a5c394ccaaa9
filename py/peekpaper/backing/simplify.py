"""Fewer nodes for many outlines at once, each node with a tolerance of its own."""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon

_PLACES = 9


def simplified(
    points: NDArray[np.float64], ring: NDArray[np.int64], tolerances: NDArray[np.float64]
) -> list[Polygon]:
    """Return the areas of closed rings with nodes left out where the outline stays close to them.

    `points` (n, 2) are the rings' nodes in a row, each ring's first again at its end; `ring` (n) tells the
    ring; `tolerances` (n) how far in mm the new outline may pass a node by. The method of Ramer (1972) and
    of Douglas and Peucker (1973), all rings and all their stretches split at once; areas may come out
    invalid where an outline nearly touches itself.
    """
    kept = _anchors(points, ring)
    while True:
        worst = _worst(points, kept, tolerances)
        if not len(worst):
            break
        kept[worst] = True
    nodes, owner = points[kept], ring[kept]
    ends = np.append(np.flatnonzero(owner[1:] != owner[:-1]) + 1, len(owner)).tolist()
    return [_area(nodes[begin:end]) for begin, end in pairwise([0, *ends])]


def _anchors(points: NDArray[np.float64], ring: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Return which nodes stay in any case: each ring's start, its end and the one farthest from them."""
    begins = np.flatnonzero(np.append(True, ring[1:] != ring[:-1]))
    lengths = np.diff(np.append(begins, len(ring)))
    apart = points - np.repeat(points[begins], lengths, axis=0)
    kept = _first_largest(np.hypot(apart[:, 0], apart[:, 1]), begins)
    kept[begins] = True
    kept[begins + lengths - 1] = True
    return kept


def _worst(
    points: NDArray[np.float64], kept: NDArray[np.bool_], tolerances: NDArray[np.float64]
) -> NDArray[np.int64]:
    """Return for each stretch between kept nodes the node farthest beyond its tolerance, if any is."""
    begins = np.flatnonzero(kept)
    stretch = np.cumsum(kept) - 1
    start = points[begins[stretch]]
    along = points[begins[np.minimum(stretch + 1, len(begins) - 1)]] - start
    offset = points - start
    length2 = np.maximum((along**2).sum(axis=1), 1e-30)
    share = np.clip((offset * along).sum(axis=1) / length2, 0, 1)
    missed = offset - share[:, None] * along
    excess = np.hypot(missed[:, 0], missed[:, 1]) / np.maximum(tolerances, 1e-9)
    excess[kept] = 0
    worst = _first_largest(excess, begins) & (excess > 1)
    return np.flatnonzero(worst)


def _first_largest(values: NDArray[np.float64], begins: NDArray[np.int64]) -> NDArray[np.bool_]:
    """Return where each stretch of values, starting at `begins`, has its largest for the first time.

    Values count as equal to nine places: an outline that is its own mirror image has such pairs, and no two
    machines round them alike.
    """
    values = np.round(values, _PLACES)
    lengths = np.diff(np.append(begins, len(values)))
    is_largest = values == np.repeat(np.maximum.reduceat(values, begins), lengths)
    place = np.where(is_largest, np.arange(len(values)), len(values))
    first = np.zeros(len(values), bool)
    first[np.minimum.reduceat(place, begins)] = True
    return first


def _area(nodes: NDArray[np.float64]) -> Polygon:
    return Polygon(nodes) if len(nodes) > 3 else Polygon()
