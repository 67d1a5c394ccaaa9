"""Openings that lie on the two sides of a mirror, as those of wings and of the two boughs of a wreath do.

A figure that one mirror alone lays on itself falls into its halves to the eye where little holds them
together at the mirror (law of symmetry, and parts at the narrowest cuts: Singh, Seyranian and Hoffman 1999,
"Parsing silhouettes: the short-cut rule", from memory). With more mirrors or turns it is one rosette.
"""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.design.motifs.nearness import Link, joined_ones
from peekpaper.geometry.symmetry import Symmetry, symmetries

_FEWEST = 12
"""Fewer openings are seen at once, as one."""
_ASTRIDE = 0.15
"""An opening of which this share of its width lies beyond the mirror belongs to neither half."""
_MOST_ASTRIDE = 0.1
"""No more than this share of the openings lies so: else the middle is a part of the figure like others."""
_HELD = 0.05
"""Nor do more bars cross the mirror than this share of those within either half."""
_ONE_MIRROR = 0.98
"""Mirrors of which the cosine between their directions is less are two."""


def halves(areas: NDArray[np.object_], links: Sequence[Link]) -> list[list[int]]:
    """Return the places of areas (n) by half, and what lies astride the mirror; all in one list without one.

    `links` are the bars between the areas.
    """
    everything = [list(range(len(areas)))]
    if len(areas) < _FEWEST:
        return everything
    found = symmetries(areas)
    mirrors = [symmetry for symmetry in found if np.linalg.det(symmetry.linear) < 0]
    if not mirrors or len(mirrors) < len(found):
        return everything
    normals = np.array([_normal(mirror) for mirror in mirrors])
    if np.abs(normals @ normals[0]).min() < _ONE_MIRROR:
        return everything
    side = _sides(areas, normals[0], mirrors[0].centre)
    ends = np.array([(link.first, link.second) for link in links], dtype=np.int64).reshape(-1, 2)
    within = min(int((side[ends] == half).all(axis=1).sum()) for half in (-1, 1))
    across = int((side[ends].prod(axis=1) < 0).sum())
    if (side == 0).sum() > _MOST_ASTRIDE * len(areas) or across > _HELD * within:
        return everything
    astride: dict[int, list[int]] = {}
    among = [link for link in links if side[link.first] == 0 == side[link.second]]
    group_of = joined_ones(len(areas), among)
    for place in np.flatnonzero(side == 0).tolist():
        astride.setdefault(group_of[place], []).append(place)
    return [np.flatnonzero(side == half).tolist() for half in (-1, 1)] + list(astride.values())


def _normal(mirror: Symmetry) -> NDArray[np.float64]:
    """Return the unit vector (2) that a mirror turns about."""
    # The matrix of a mirror is the identity less twice the square of its normal.
    square = (np.eye(2) - mirror.linear) / 2
    longest = square[int(np.argmax(np.diag(square)))]
    normal: NDArray[np.float64] = longest / np.sqrt((longest**2).sum())
    return normal


def _sides(
    areas: NDArray[np.object_], normal: NDArray[np.float64], centre: NDArray[np.float64]
) -> NDArray[np.int64]:
    """Return for each area -1 or 1, the side of the line through `centre` that it lies on, or 0 for both."""
    points, owner = shapely.get_coordinates(areas, return_index=True)
    away = (points - centre) @ normal
    low, high = np.full(len(areas), np.inf), np.full(len(areas), -np.inf)
    np.minimum.at(low, owner, away)
    np.maximum.at(high, owner, away)
    lesser = np.minimum(-low, high)
    return np.where(lesser > _ASTRIDE * (high - low), 0, np.where(high > -low, 1, -1)).astype(np.int64)
