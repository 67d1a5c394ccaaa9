"""Each piece's zone: the part of the plane that lies nearer to its openings than to any other piece's."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.backing.areas import polygonal
from peekpaper.backing.bisector import equidistant_points
from peekpaper.backing.sites import FRAME, Sites

OPEN = -2
"""The owner of an opening that stays open: it claims no zone."""


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

    A site on an owned edge is its own nearest; others learn theirs from neighbours in the triangulation.
    """
    own = np.append(owners, [OPEN, FRAME])[sites.opening]
    nearest = np.where(own == OPEN, -1, np.arange(len(own)))
    distance = np.where(own == OPEN, np.inf, 0.0)
    sides = np.concatenate(
        [sites.triangles[:, [0, 1]], sites.triangles[:, [1, 2]], sites.triangles[:, [2, 0]]]
    )
    sides = np.concatenate([sides, sides[:, ::-1]])
    sides = sides[own[sides[:, 1]] == OPEN]
    changed = own != OPEN
    while True:
        wave = sides[changed[sides[:, 0]]]
        if not len(wave):
            break
        offered = nearest[wave[:, 0]]
        apart = sites.points[wave[:, 1]] - sites.points[offered]
        offer = np.hypot(apart[:, 0], apart[:, 1])
        best = distance.copy()
        np.minimum.at(best, wave[:, 1], offer)
        taken = (offer <= best[wave[:, 1]]) & (offer < distance[wave[:, 1]])
        changed = np.zeros(len(own), bool)
        changed[wave[taken, 1]] = True
        nearest[wave[taken, 1]] = offered[taken]
        distance = best
    return nearest, own[nearest]


def _borders(sites: Sites, nearest: NDArray[np.int64], owner: NDArray[np.int64]) -> _Borders:
    triangles = sites.triangles[_mixed(owner[sites.triangles])]
    count = len(sites.points)
    following_corner = triangles[:, [1, 2, 0]]
    # The side from a corner to the next one, named alike from both of its triangles.
    names = np.minimum(triangles, following_corner) * count + np.maximum(triangles, following_corner)
    crossed = owner[triangles] != owner[following_corner]
    side_names, side = np.unique(names, return_inverse=True)
    side = side.reshape(names.shape)
    ends = np.stack([side_names // count, side_names % count], axis=1)
    used = np.zeros(len(side_names), bool)
    used[side[crossed]] = True
    split = np.full((len(side_names), 2), np.nan)
    split[used] = equidistant_points(sites, ends[used], nearest[ends[used]])
    three = crossed.all(axis=1)
    junctions = _junctions(sites.points[triangles], split[side], three)
    # A corner whose owner has only this corner: its border enters on the next side, leaves on the previous.
    alone = crossed & crossed[:, [2, 0, 1]]
    pair = alone & ~three[:, None]
    rows, corner = np.nonzero(alone)
    enters, leaves = side[rows, corner], side[rows, (corner + 2) % 3]
    mine = owner[triangles[rows, corner]]
    junction = np.where(three[rows], rows, -1)
    other_rows, other_corner = np.nonzero(pair)
    others = owner[following_corner[other_rows, other_corner]]
    start = np.concatenate([enters, side[other_rows, (other_corner + 2) % 3]])
    end = np.concatenate([leaves, side[other_rows, other_corner]])
    zone = np.concatenate([mine, others])
    via = np.concatenate([junction, np.full(len(others), -1)])
    return _linked(zone, start, end, via, split, junctions)


def _mixed(owners: NDArray[np.int64]) -> NDArray[np.bool_]:
    mixed: NDArray[np.bool_] = (owners != owners[:, :1]).any(axis=1)
    return mixed


def _junctions(
    corners: NDArray[np.float64], splits: NDArray[np.float64], three: NDArray[np.bool_]
) -> NDArray[np.float64]:
    """Return the place where three zones meet in a triangle: its circumcentre where that lies inside."""
    centre = np.full((len(corners), 2), np.nan)
    a, b, c = (corners[three, k] for k in range(3))
    ab, ac = b - a, c - a
    doubled = 2 * (ab[:, 0] * ac[:, 1] - ab[:, 1] * ac[:, 0])
    ab2, ac2 = (ab**2).sum(axis=1), (ac**2).sum(axis=1)
    with np.errstate(divide="ignore", invalid="ignore"):
        x = (ac[:, 1] * ab2 - ab[:, 1] * ac2) / doubled
        y = (ab[:, 0] * ac2 - ac[:, 0] * ab2) / doubled
    around = a + np.stack([x, y], axis=1)
    inside = np.ones(len(a), bool)
    for first, second in ((a, b), (b, c), (c, a)):
        side, to = second - first, around - first
        inside &= side[:, 0] * to[:, 1] - side[:, 1] * to[:, 0] > 0
    centre[three] = np.where(inside[:, None], around, splits[three].mean(axis=1))
    return centre


def _linked(
    zone: NDArray[np.int64],
    start: NDArray[np.int64],
    end: NDArray[np.int64],
    via: NDArray[np.int64],
    split: NDArray[np.float64],
    junctions: NDArray[np.float64],
) -> _Borders:
    """String the strokes together: each runs on with the stroke of its zone that starts where it ends."""
    strokes, bent = len(zone), np.flatnonzero(via >= 0)
    points = np.concatenate([split[start], junctions[via[bent]]])
    order = np.lexsort((start, zone))
    span = len(split) + 1
    keys = (zone * span + start)[order]
    onward = order[np.minimum(np.searchsorted(keys, zone * span + end), strokes - 1)]
    following = np.concatenate([onward, onward[bent]])
    following[bent] = strokes + np.arange(len(bent))
    return _Borders(np.append(zone, zone[bent]), points, following)


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
