"""Places that are equally far from two or three edges."""

import numpy as np
from numpy.typing import NDArray

from peekpaper.backing.zones.sites import Sites
from peekpaper.geometry.vectors import cross, dot, unit

_ROUNDS = 7
"""The most steps of Newton's method, which doubles the right digits with each."""
_EVEN_MM = 1e-5
"""Two distances that differ by less count as even: a hundredth of a micrometre."""
_STRETCH = np.arange(-2, 3)
"""Nodes of an edge, two to each side, between which the nearest place on it is sought."""
_SPREAD = 16
"""So many nodes spread over a whole edge are looked at before a walk along it (from memory)."""
_STRIDES = np.array([-8, -4, -2, -1, 0, 1, 2, 4, 8])
"""How many nodes such a walk looks ahead at once."""


def equidistant_points(
    sites: Sites, ends: NDArray[np.int64], nearest: NDArray[np.int64]
) -> NDArray[np.float64]:
    """Return points (k, 2) on the lines between sites `ends` (k, 2), equally far from two edges.

    `nearest` (k, 2) are the sites on the two edges from which the nearest place on each is looked for, by
    walking along it. The line must begin nearer to the first edge and end nearer to the second. Newton's
    method on the difference of both distances, kept in a bracket that halves where a step would leave it.
    """
    start = sites.points[ends[:, 0]]
    along = sites.points[ends[:, 1]] - start
    low, share, high = np.zeros(len(ends)), np.full(len(ends), 0.5), np.ones(len(ends))
    first, second = (nearer_sites(sites, start + along / 2, nearest[:, k]) for k in range(2))
    left = np.arange(len(ends))
    for _ in range(_ROUNDS):
        place = start[left] + share[left, None] * along[left]
        to_first, first[left], foot = nearest_along(sites, place, first[left])
        to_second, second[left], other_foot = nearest_along(sites, place, second[left])
        value = to_first - to_second
        low[left] = np.where(value < 0, share[left], low[left])
        high[left] = np.where(value < 0, high[left], share[left])
        slope = dot(unit(place - foot) - unit(place - other_foot), along[left])
        newton = share[left] - value / np.where(np.abs(slope) < 1e-9, np.inf, slope)
        within = (newton >= low[left]) & (newton <= high[left])
        share[left] = np.where(within, newton, (low[left] + high[left]) / 2)
        left = left[np.abs(value) > _EVEN_MM]
    return start + share[:, None] * along


def bend_points(
    sites: Sites, triangles: NDArray[np.int64], nearest: NDArray[np.int64], starts: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return points (k, 2) inside triangles (k, 3), equally far from the two edges `nearest` (k, 2).

    Newton's method on the difference of both distances, from `starts` (k, 2).
    """
    places = starts
    first, second = (nearer_sites(sites, starts, nearest[:, k]) for k in range(2))
    for _ in range(3):
        to_first, first, foot = nearest_along(sites, places, first)
        to_second, second, other_foot = nearest_along(sites, places, second)
        slope = unit(places - foot) - unit(places - other_foot)
        step = (to_second - to_first) / np.maximum(dot(slope, slope), 0.1)
        places = _kept_inside(sites.points[triangles], starts, places + step[:, None] * slope)
    return places


def meeting_points(
    sites: Sites, triangles: NDArray[np.int64], nearest: NDArray[np.int64]
) -> NDArray[np.float64]:
    """Return points (k, 2) inside triangles (k, 3), equally far from the three edges `nearest` (k, 3).

    The circumcentre of the nearest places on the three edges, taken again from there until it stands.
    """
    corners = sites.points[triangles]
    middle: NDArray[np.float64] = corners.mean(axis=1)
    places, near = middle, [nearer_sites(sites, middle, nearest[:, k]) for k in range(3)]
    for _ in range(_ROUNDS):
        feet = []
        for k in range(3):
            _, near[k], foot = nearest_along(sites, places, near[k])
            feet.append(foot)
        places = _kept_inside(corners, middle, _circumcentre(feet[0], feet[1], feet[2], places))
    return places


def _circumcentre(
    a: NDArray[np.float64], b: NDArray[np.float64], c: NDArray[np.float64], otherwise: NDArray[np.float64]
) -> NDArray[np.float64]:
    ab, ac = b - a, c - a
    doubled = 2 * (ab[:, 0] * ac[:, 1] - ab[:, 1] * ac[:, 0])
    ab2, ac2 = dot(ab, ab), dot(ac, ac)
    flat = np.abs(doubled) <= 1e-9 * (ab2 + ac2)
    doubled = np.where(flat, 1, doubled)
    x = (ac[:, 1] * ab2 - ab[:, 1] * ac2) / doubled
    y = (ab[:, 0] * ac2 - ac[:, 0] * ab2) / doubled
    return np.where(flat[:, None], otherwise, a + np.stack([x, y], axis=1))


def _kept_inside(
    corners: NDArray[np.float64], inside: NDArray[np.float64], places: NDArray[np.float64]
) -> NDArray[np.float64]:
    """Draw places (k, 2) that lie outside their triangles (k, 3, 2) back towards a point inside."""
    share = np.ones(len(places))
    for k in range(3):
        start, along = corners[:, k], corners[:, (k + 1) % 3] - corners[:, k]
        depth = cross(along, inside - start)
        reached = cross(along, places - start)
        least = 0.02 * depth
        beyond = reached < least
        # A triangle may be so thin that the point lies on its edge: from there is no way to go.
        is_deep = depth > 0
        crossing = np.where(is_deep, depth - least, 0.0) / np.where(beyond & is_deep, depth - reached, 1.0)
        share = np.where(beyond, np.minimum(share, crossing), share)
    kept: NDArray[np.float64] = inside + share[:, None] * (places - inside)
    return kept


def nearer_sites(sites: Sites, places: NDArray[np.float64], at: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return nodes (k) on the edges of sites `at` (k) from which the nearest to each place is close.

    The nearest of sixteen nodes spread over the edge and of `at`, then of those within a few strides.
    """
    spread = np.arange(_SPREAD)[:, None] * sites.length[at] // _SPREAD
    at = _nearest_of(sites, places, at, spread)
    for _ in range(2):
        at = _nearest_of(sites, places, at, _STRIDES[:, None])
    return at


def _nearest_of(
    sites: Sites, places: NDArray[np.float64], at: NDArray[np.int64], steps: NDArray[np.int64]
) -> NDArray[np.int64]:
    ahead = sites.along(at, steps)
    apart = sites.points[ahead] - places
    nearest: NDArray[np.int64] = ahead[dot(apart, apart).argmin(axis=0), np.arange(len(at))]
    return nearest


def nearest_along(
    sites: Sites, places: NDArray[np.float64], at: NDArray[np.int64]
) -> tuple[NDArray[np.float64], NDArray[np.int64], NDArray[np.float64]]:
    """Return the distances (k) from places to the edge two steps around sites `at`.

    Also the nearest nodes (k), from which to look again, and the nearest places (k, 2) on the edge.
    """
    stretch = sites.along(at, _STRETCH[:, None])
    nodes = sites.points[stretch]
    along = np.diff(nodes, axis=0)
    offset = places - nodes[:-1]
    length2 = np.maximum(dot(along, along), 1e-30)
    share = np.clip(dot(offset, along) / length2, 0, 1)
    apart = offset - share[..., None] * along
    distance2 = dot(apart, apart)
    best, every = distance2.argmin(axis=0), np.arange(len(at))
    node = stretch[best + (share[best, every] > 0.5), every]
    return np.sqrt(distance2[best, every]), node, places - apart[best, every]
