"""The place on a line between two edges that is as far from the one as from the other."""

import numpy as np
from numpy.typing import NDArray

from peekpaper.backing.sites import Sites

_HALVINGS = 7


def equidistant_points(
    sites: Sites, ends: NDArray[np.int64], nearest: NDArray[np.int64]
) -> NDArray[np.float64]:
    """Return points (k, 2) on the lines between sites `ends` (k, 2), equally far from two edges.

    `nearest` (k, 2) are the sites near which the two edges are measured: two steps along the edge to each
    side. The line must begin nearer to the first edge and end nearer to the second.
    """
    start = sites.points[ends[:, 0]]
    along = sites.points[ends[:, 1]] - start
    first, second = _stretch(sites, nearest[:, 0]), _stretch(sites, nearest[:, 1])
    low, high = np.zeros(len(ends)), np.ones(len(ends))
    low_value, high_value = -np.ones(len(ends)), np.ones(len(ends))
    for _ in range(_HALVINGS):
        middle = np.clip(
            (low * high_value - high * low_value) / (high_value - low_value),
            low + 0.05 * (high - low),
            high - 0.05 * (high - low),
        )
        place = start + middle[:, None] * along
        value = _distance(place, first) - _distance(place, second)
        nearer_first = value < 0
        low_value, high_value = (
            np.where(nearer_first, value, low_value / 2),
            np.where(nearer_first, high_value / 2, value),
        )
        low, high = np.where(nearer_first, middle, low), np.where(nearer_first, high, middle)
    return start + middle[:, None] * along


def _stretch(sites: Sites, at: NDArray[np.int64]) -> NDArray[np.float64]:
    """Return the five nodes (k, 5, 2) of the edge around each site."""
    before, after = sites.before[at], sites.after[at]
    return sites.points[np.stack([sites.before[before], before, at, after, sites.after[after]], axis=1)]


def _distance(places: NDArray[np.float64], stretches: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the distances (k) from places (k, 2) to lines of nodes (k, n, 2)."""
    starts, along = stretches[:, :-1], np.diff(stretches, axis=1)
    offset = places[:, None] - starts
    length2 = np.maximum((along**2).sum(axis=2), 1e-30)
    share = np.clip((offset * along).sum(axis=2) / length2, 0, 1)
    apart = offset - share[..., None] * along
    distance: NDArray[np.float64] = np.sqrt((apart**2).sum(axis=2).min(axis=1))
    return distance
