"""Each piece's zone: the part of the plane that lies nearer to its openings than to any other piece's."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.backing.areas import polygonal
from peekpaper.backing.bisector import (
    bend_points,
    equidistant_points,
    meeting_points,
    nearest_along,
    strolled,
)
from peekpaper.backing.sites import FRAME, Sites

OPEN = -2
"""The owner of an opening that stays open: it claims no zone."""

_NEARER_MM = 1e-6
_LONG_STROKE_MM = 0.5


@dataclass(frozen=True, slots=True, eq=False)
class _Borders:
    """The borders of all zones as directed strokes that keep their zone on the positive side.

    Stroke k of zone `zone[k]` runs from `points[k]` to the start of stroke `following[k]`.
    """

    zone: NDArray[np.int64]
    points: NDArray[np.float64]
    following: NDArray[np.int64]


def zones(sites: Sites, owners: Sequence[int]) -> dict[int, Polygon | MultiPolygon]:
    """Return the zone of each owner: a generalised Voronoi diagram of the openings.

    `owners[k]` is the number of the piece behind the k-th opening, or OPEN. Triangles whose corners belong
    to different owners are split where their sides are equally far from both edges; the parts of one
    owner, joined, are its zone. Zones share their borders exactly and cover the design and far around.
    (Approximation of the generalised diagram from sampled boundaries: Okabe, Boots, Sugihara and Chiu,
    Spatial Tessellations, 2nd ed. 2000, section 3.)
    """
    nearest, owner = _nearest_owned(sites, np.asarray(owners, np.int64))
    borders = _borders(sites, nearest, owner)
    return _areas(borders)


def _nearest_owned(sites: Sites, owners: NDArray[np.int64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return for each site the nearest site of an owner, and that owner.

    A site on an owned edge is its own nearest; others learn theirs from neighbours in the triangulation and
    walk along that edge while it comes nearer.
    """
    own = np.append(owners, [OPEN, FRAME])[sites.opening]
    nearest = np.where(own == OPEN, -1, np.arange(len(own)))
    distance = np.where(own == OPEN, np.inf, 0.0)
    sides = sites.triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    sides = sides[own[sides[:, 1]] == OPEN]
    changed = own != OPEN
    while changed.any():
        wave = sides[changed[sides[:, 0]]]
        learner = wave[:, 1]
        places = sites.points[learner]
        offer, offered, _ = nearest_along(sites, places, strolled(sites, places, nearest[wave[:, 0]]))
        best = distance.copy()
        np.minimum.at(best, learner, offer)
        taken = (offer <= best[learner]) & (offer < distance[learner] - _NEARER_MM)
        changed = np.zeros(len(own), bool)
        changed[learner[taken]] = True
        nearest[learner[taken]] = offered[taken]
        distance[learner[taken]] = offer[taken]
    return nearest, own[nearest]


def _borders(sites: Sites, nearest: NDArray[np.int64], owner: NDArray[np.int64]) -> _Borders:
    """Return the strokes of all zones' borders, at most one border through a triangle or three that meet."""
    triangles = sites.triangles[(owner[sites.triangles] != owner[sites.triangles[:, :1]]).any(axis=1)]
    onward = triangles[:, [1, 2, 0]]
    crossed = owner[triangles] != owner[onward]
    # A side runs from a corner to the next one; its name is the same from both of its triangles.
    count = len(sites.points)
    names, side = np.unique(
        np.minimum(triangles, onward) * count + np.maximum(triangles, onward), return_inverse=True
    )
    side = side.reshape(triangles.shape)
    ends = np.stack([names // count, names % count], axis=1)
    across = np.unique(side[crossed])
    splits = np.full((len(names), 2), np.nan)
    splits[across] = equidistant_points(sites, ends[across], nearest[ends[across]])
    three = np.asarray(crossed.all(axis=1))
    # A corner whose owner has no other corner here: its border enters by the side ahead, leaves by the one
    # behind. With two owners, the other's border is the same stroke backwards.
    row, corner = np.nonzero(crossed & crossed[:, [2, 0, 1]])
    ahead, behind = side[row, corner], side[row, (corner + 2) % 3]
    bend, bends = _bends(sites, triangles, nearest, crossed, splits[side])
    back = np.isin(row, np.flatnonzero(three), invert=True)
    return _linked(
        np.concatenate([owner[triangles[row, corner]], owner[onward[row, corner]][back]]),
        np.concatenate([ahead, behind[back]]),
        np.concatenate([behind, ahead[back]]),
        np.concatenate([bend[row], bend[row][back]]),
        splits,
        bends,
    )


def _bends(
    sites: Sites,
    triangles: NDArray[np.int64],
    nearest: NDArray[np.int64],
    crossed: NDArray[np.bool_],
    splits: NDArray[np.float64],
) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    """Return which bend (or -1) the border makes inside each triangle, and the bends' places.

    Three zones meet in one; the border between two bends where it is long.
    """
    three = np.asarray(crossed.all(axis=1))
    meeting = np.flatnonzero(three)
    row, corner = np.nonzero(crossed & crossed[:, [2, 0, 1]] & ~three[:, None])
    enters, leaves = splits[row, corner], splits[row, (corner + 2) % 3]
    long = np.hypot(*(enters - leaves).T) > _LONG_STROKE_MM
    row, corner = row[long], corner[long]
    pair = np.stack([triangles[row, corner], triangles[row, (corner + 1) % 3]], axis=1)
    middles = (enters[long] + leaves[long]) / 2
    bend = np.full(len(triangles), -1)
    bend[np.concatenate([meeting, row])] = np.arange(len(meeting) + len(row))
    places = np.concatenate(
        [
            meeting_points(sites, triangles[meeting], nearest[triangles[meeting]]),
            bend_points(sites, triangles[row], nearest[pair], middles),
        ]
    )
    return bend, places


def _linked(
    zone: NDArray[np.int64],
    start: NDArray[np.int64],
    end: NDArray[np.int64],
    bend: NDArray[np.int64],
    splits: NDArray[np.float64],
    bends: NDArray[np.float64],
) -> _Borders:
    """String the strokes together: each runs on with the stroke of its zone that starts where it ends."""
    strokes, bent = len(zone), np.flatnonzero(bend >= 0)
    order = np.lexsort((start, zone))
    span = len(splits) + 1
    keys = (zone * span + start)[order]
    onward = order[np.minimum(np.searchsorted(keys, zone * span + end), strokes - 1)]
    following = np.concatenate([onward, onward[bent]])
    following[bent] = strokes + np.arange(len(bent))
    return _Borders(
        np.append(zone, zone[bent]), np.concatenate([splits[start], bends[bend[bent]]]), following
    )


def _areas(borders: _Borders) -> dict[int, Polygon | MultiPolygon]:
    rings: dict[int, list[NDArray[np.float64]]] = defaultdict(list)
    following = borders.following.tolist()
    seen = bytearray(len(following))
    for first in range(len(following)):
        if seen[first]:
            continue
        loop, stroke = [], first
        while not seen[stroke]:
            seen[stroke] = 1
            loop.append(stroke)
            stroke = following[stroke]
        rings[int(borders.zone[first])].append(borders.points[loop])
    return {number: _even_odd(loops) for number, loops in rings.items() if number != FRAME}


def _even_odd(loops: list[NDArray[np.float64]]) -> Polygon | MultiPolygon:
    areas = [Polygon(loop) for loop in loops if len(loop) > 2]
    if not areas:
        return Polygon()
    return areas[0] if len(areas) == 1 else polygonal(shapely.symmetric_difference_all(areas))
