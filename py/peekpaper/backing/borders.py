"""The borders between zones, drawn through the triangles whose corners belong to different zones."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from peekpaper.backing.bisector import bend_points, equidistant_points, meeting_points
from peekpaper.backing.sites import Sites

_LONG_STROKE_MM = 0.5


@dataclass(frozen=True, slots=True, eq=False)
class Borders:
    """The borders of all zones as directed strokes that keep their zone on the positive side.

    Stroke k of zone `zone[k]` runs from `points[k]` to the start of stroke `following[k]`.
    """

    zone: NDArray[np.int64]
    points: NDArray[np.float64]
    following: NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class _Strokes:
    """Borders triangle by triangle: of a zone, from one split side to another, by a bend or straight (-1)."""

    zone: NDArray[np.int64]
    start: NDArray[np.int64]
    end: NDArray[np.int64]
    bend: NDArray[np.int64]


def zone_borders(sites: Sites, nearest: NDArray[np.int64], owner: NDArray[np.int64]) -> Borders:
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
    strokes = _Strokes(
        np.concatenate([owner[triangles[row, corner]], owner[onward[row, corner]][back]]),
        np.concatenate([ahead, behind[back]]),
        np.concatenate([behind, ahead[back]]),
        np.concatenate([bend[row], bend[row][back]]),
    )
    return _linked(strokes, splits, bends)


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


def _linked(strokes: _Strokes, splits: NDArray[np.float64], bends: NDArray[np.float64]) -> Borders:
    """String the strokes together: each runs on with the stroke of its zone that starts where it ends."""
    count, bent = len(strokes.zone), np.flatnonzero(strokes.bend >= 0)
    order = np.lexsort((strokes.start, strokes.zone))
    own = strokes.zone * (len(splits) + 1)
    known = (own + strokes.start)[order]
    onward = order[np.minimum(np.searchsorted(known, own + strokes.end), count - 1)]
    following = np.concatenate([onward, onward[bent]])
    following[bent] = count + np.arange(len(bent))
    return Borders(
        np.append(strokes.zone, strokes.zone[bent]),
        np.concatenate([splits[strokes.start], bends[strokes.bend[bent]]]),
        following,
    )
