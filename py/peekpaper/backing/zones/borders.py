"""The borders between zones, drawn through the triangles whose corners belong to different zones."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from peekpaper.backing.zones.bisector import bend_points, equidistant_points, meeting_points
from peekpaper.backing.zones.found_places import NOTHING, FoundPlaces, found_places
from peekpaper.backing.zones.sites import Sites
from peekpaper.geometry.pairs import pairs_named, side_names
from peekpaper.geometry.vectors import norms

_LONG_STROKE_MM = 0.5
"""A border that runs farther through one triangle gets a bend, so that it stays smooth between curved edges
(from memory)."""


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


@dataclass(frozen=True, slots=True, eq=False)
class Crossings:
    """Where borders cross sides of triangles, by the side's name, and where they bend, by the triangle."""

    splits: FoundPlaces = NOTHING
    bends: FoundPlaces = NOTHING


def zone_borders(
    sites: Sites, nearest: NDArray[np.int64], owner: NDArray[np.int64], known: Crossings
) -> tuple[Borders, Crossings]:
    """Return the strokes of all zones' borders, at most one border through a triangle or three that meet.

    Also returns where they cross and bend; what is `known` of that is not sought again.
    """
    rows = np.flatnonzero((owner[sites.triangles] != owner[sites.triangles[:, :1]]).any(axis=1))
    triangles = sites.triangles[rows]
    onward = triangles[:, [1, 2, 0]]
    crossed = owner[triangles] != owner[onward]
    # A side runs from a corner to the next one; its name is the same from both of its triangles.
    count = len(sites.points)
    names, side = np.unique(side_names(np.stack([triangles, onward], axis=2), count), return_inverse=True)
    side = side.reshape(triangles.shape)
    across = np.unique(side[crossed])
    ends = pairs_named(names, count)[across]
    found = found_places(
        names[across],
        nearest[ends],
        known.splits,
        lambda sought: equidistant_points(sites, ends[sought], nearest[ends[sought]]),
    )
    splits = np.full((len(names), 2), np.nan)
    splits[across] = found.places
    # A corner whose owner has no other corner here: its border enters by the side ahead, leaves by the one
    # behind. With two owners, the other's border is the same stroke backwards.
    row, corner = np.nonzero(crossed & crossed[:, [2, 0, 1]])
    ahead, behind = side[row, corner], side[row, (corner + 2) % 3]
    bend, bends = _bends(sites, rows, nearest, crossed, splits[side], known=known.bends)
    three = np.asarray(crossed.all(axis=1))
    back = ~three[row]
    strokes = _Strokes(
        np.concatenate([owner[triangles[row, corner]], owner[onward[row, corner]][back]]),
        np.concatenate([ahead, behind[back]]),
        np.concatenate([behind, ahead[back]]),
        np.concatenate([bend[row], bend[row][back]]),
    )
    return _linked(strokes, splits, bends.places), Crossings(found, bends)


def _bends(
    sites: Sites,
    rows: NDArray[np.int64],
    nearest: NDArray[np.int64],
    crossed: NDArray[np.bool_],
    splits: NDArray[np.float64],
    *,
    known: FoundPlaces,
) -> tuple[NDArray[np.int64], FoundPlaces]:
    """Return which bend (or -1) the border makes inside each triangle of `rows`, and the bends' places.

    Three zones meet in one; the border between two bends where it is long.
    """
    triangles = sites.triangles[rows]
    # The corner that two sides cut off; none where all three are cut.
    lone = np.where(crossed.all(axis=1), -1, (crossed & crossed[:, [2, 0, 1]]).argmax(axis=1))
    every = np.arange(len(rows))
    enters, leaves = splits[every, lone], splits[every, (lone + 2) % 3]
    bent = np.flatnonzero((lone < 0) | (norms(enters - leaves) > _LONG_STROKE_MM))

    def find(sought: NDArray[np.int64]) -> NDArray[np.float64]:
        at = bent[sought]
        places = np.empty((len(at), 2))
        meets = lone[at] < 0
        three, two = at[meets], at[~meets]
        pair = np.stack([triangles[two, lone[two]], triangles[two, (lone[two] + 1) % 3]], axis=1)
        middles = (enters[two] + leaves[two]) / 2
        places[meets] = meeting_points(sites, triangles[three], nearest[triangles[three]])
        places[~meets] = bend_points(sites, triangles[two], nearest[pair], middles)
        return places

    causes = np.column_stack([nearest[triangles[bent]], lone[bent]])
    bend = np.full(len(rows), -1)
    bend[bent] = np.arange(len(bent))
    return bend, found_places(rows[bent], causes, known, find)


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
