"""The place on a line between two edges that is as far from the one as from the other."""

import numpy as np
from numpy.typing import NDArray

from peekpaper.backing.sites import Sites

_HALVINGS = 7


def equidistant_points(
    sites: Sites, ends: NDArray[np.int64], nearest: NDArray[np.int64]
) -> NDArray[np.float64]:
    """Return points (k, 2) on the lines between sites `ends` (k, 2), equally far from two edges.

    `nearest` (k, 2) are the sites on the two edges from which the nearest place on each is looked for, by
    walking along it. The line must begin nearer to the first edge and end nearer to the second. The zero of
    the difference of both distances is bracketed and found by the Illinois variant of regula falsi
    (Dowell and Jarratt, BIT 11, 1971).
    """
    start = sites.points[ends[:, 0]]
    along = sites.points[ends[:, 1]] - start
    first, second = nearest[:, 0], nearest[:, 1]
    low, high = np.zeros(len(ends)), np.ones(len(ends))
    low_value, high_value = -np.ones(len(ends)), np.ones(len(ends))
    place = start + along / 2
    for _ in range(_HALVINGS):
        share = (low * high_value - high * low_value) / (high_value - low_value)
        share = np.clip(share, 0.95 * low + 0.05 * high, 0.05 * low + 0.95 * high)
        place = start + share[:, None] * along
        to_first, first = _nearest_along(sites, place, first)
        to_second, second = _nearest_along(sites, place, second)
        value = to_first - to_second
        short = value < 0
        low, low_value = np.where(short, share, low), np.where(short, value, low_value / 2)
        high, high_value = np.where(short, high, share), np.where(short, high_value / 2, value)
    return place


def _nearest_along(
    sites: Sites, places: NDArray[np.float64], at: NDArray[np.int64]
) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Return the distances (k) from places to the edge two steps around sites `at`, and the nearest nodes."""
    before, after = sites.before[at], sites.after[at]
    stretch = np.stack([sites.before[before], before, at, after, sites.after[after]])
    nodes = sites.points[stretch]
    along = np.diff(nodes, axis=0)
    offset = places - nodes[:-1]
    length2 = np.maximum(_dot(along, along), 1e-30)
    share = np.clip(_dot(offset, along) / length2, 0, 1)
    apart = offset - share[..., None] * along
    distance2 = _dot(apart, apart)
    best = distance2.argmin(axis=0)
    every = np.arange(len(at))
    return np.sqrt(distance2[best, every]), stretch[best + (share[best, every] > 0.5), every]


def _dot(a: NDArray[np.float64], b: NDArray[np.float64]) -> NDArray[np.float64]:
    products: NDArray[np.float64] = a[..., 0] * b[..., 0] + a[..., 1] * b[..., 1]
    return products
