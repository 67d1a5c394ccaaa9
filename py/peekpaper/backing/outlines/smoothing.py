"""Outlines smoothed so that they are easy to cut: rounded corners, no slivers or notches, few nodes."""

from collections.abc import Mapping

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LinearRing, MultiPolygon, Polygon

from peekpaper.backing.outlines.fitted import covered
from peekpaper.backing.outlines.minimum_link import minimum_link_areas
from peekpaper.geometry.areas import each_holding, plainer
from peekpaper.geometry.grid import grown, to_grid
from peekpaper.geometry.overlay import intersection, union
from peekpaper.geometry.vectors import norms

TURN_MM = 0.3
"""The radius that a blade turns in without trouble (common practice, no published source)."""

_CORNER_LOSS_MM = 0.1
"""What a lip may lose at a corner or tip: as much as a hand cuts beside the line (from memory)."""

_CORNER_MM = 0.06
"""What is taken off all around where rounding would take too much: the promise with some spare."""

_LOSS = 0.0095
"""The share of a lip that may be lost along edges: 1 % is promised."""

_LEAST_LOSS_MM = 0.001
"""A lip of next to nothing may lose so much, that its outline has any leeway at all."""

_SHORT_MM = 0.2
"""Sides shorter than this bring no lip far under that at both their ends."""

_ROOM_MM = 0.004
"""How far an outline may leave its room: a fiftieth of the least gap that a blade tells (from memory)."""

_PLAIN_MM = 0.001
"""Nodes that move an outline by less than a thousandth of a millimetre are left out."""

_NOTCH_MM2 = 0.03
"""Notches that are smaller in area than a pin prick are no trouble to a blade (from memory)."""

_QUARTER_SEGMENTS = 8
"""Chords of a quarter circle of 0.3 mm: 1.4 thousandths of a millimetre off at most."""

_FINE_SEGMENTS = 16
"""Chords of a quarter circle where outlines grow by next to nothing, as finely as the overlay makes them."""

Areas = Mapping[int, Polygon | MultiPolygon]


def smoothed_outlines(
    fitted: Mapping[int, Polygon], cores: Areas, rooms: Areas, lip_mm: float
) -> dict[int, Polygon]:
    """Return outlines easy to cut that cover their cores and stay inside their rooms.

    A lip comes out narrower than the fitted one, or than `lip_mm` where that is less, by 1 % at most along
    edges and by 0.1 mm at most where a corner is rounded or a sliver dropped. Where that can't be, the fitted
    outline stays.
    """
    if not fitted:
        return {}
    numbers = list(fitted)
    whole = np.array([fitted[number] for number in numbers], dtype=object)
    core = np.array([cores[number] for number in numbers], dtype=object)
    room = np.array([rooms[number] for number in numbers], dtype=object)
    rounded = _without_notches(_without_slivers(whole, core), room)
    parts = each_holding(rounded, core)
    # Rounding may tear an outline, or make a hole.
    areas = np.where(_are_pieces(parts, core), parts, whole)
    oriented = shapely.orient_polygons(areas)
    rings = shapely.simplify(shapely.get_exterior_ring(oriented), _PLAIN_MM, preserve_topology=False)
    begun = [_from_longest_side(ring) for ring in rings]
    points, owner = shapely.get_coordinates(begun, return_index=True)
    smooth = minimum_link_areas(points, owner, *_leeway(points, owner, core, lip_mm))
    return dict(zip(numbers, _sound(np.array(smooth, dtype=object), core, room, whole), strict=True))


def _from_longest_side(ring: LinearRing) -> LinearRing:
    """Return a ring that begins in the middle of its longest side.

    An outline goes through its ring's first node whatever may be seen past it, so that must lie where a
    straight side runs anyway.
    """
    if ring.is_empty:
        return ring
    nodes = shapely.get_coordinates(ring)
    longest = int(np.argmax(norms(np.diff(nodes, axis=0))))
    # Half-way between two lines of the grid the last bit would tell to which of them the node goes.
    middle = to_grid((nodes[longest] + nodes[longest + 1]) / 2)
    return LinearRing(np.vstack([middle, np.roll(nodes[:-1], -longest - 1, axis=0), middle]))


def _without_slivers(whole: NDArray[np.object_], core: NDArray[np.object_]) -> NDArray[np.object_]:
    """Round what juts out and drop slivers (opening of mathematical morphology), sparing the lip."""
    opened = _grown(_grown(whole, -TURN_MM), TURN_MM)
    shapely.prepare(opened)
    bare = ~shapely.covers(opened, core)
    whole_still = np.flatnonzero(~bare)
    bare[whole_still] = _too_thin(whole[whole_still], opened[whole_still], core[whole_still])
    spared = union(_grown(whole[bare], -_CORNER_MM), covered(core[bare]))
    opened[bare] = union(opened[bare], spared)
    return opened


def _too_thin(
    whole: NDArray[np.object_], opened: NDArray[np.object_], core: NDArray[np.object_]
) -> NDArray[np.bool_]:
    """Tell (n) where rounding took more of the lip at some node of the core than may be lost at a corner.

    Nothing within a lip as wide as the blade's turn is lost: a disc of that radius fits there everywhere.
    """
    edges = shapely.boundary(np.array([whole, opened]))
    shapely.prepare(edges)
    narrow = np.flatnonzero(shapely.distance(edges[0], shapely.boundary(core)) < TURN_MM)
    points, owner = shapely.get_coordinates(core[narrow], return_index=True)
    before, after = shapely.distance(edges[:, narrow[owner]], shapely.points(points))
    lost = np.zeros(len(whole), dtype=bool)
    lost[narrow[owner[before - after > _CORNER_LOSS_MM]]] = True
    return lost


def _without_notches(areas: NDArray[np.object_], room: NDArray[np.object_]) -> NDArray[np.object_]:
    """Fill notches as far as there is room (closing of mathematical morphology)."""
    closed = _grown(_grown(areas, TURN_MM), -TURN_MM)
    notched = shapely.area(closed) - shapely.area(areas) > _NOTCH_MM2
    filled = areas.copy()
    filled[notched] = union(intersection(closed[notched], room[notched]), areas[notched])
    return filled


def _grown(areas: NDArray[np.object_], distance_mm: float) -> NDArray[np.object_]:
    return plainer(grown(areas, distance_mm, _QUARTER_SEGMENTS))


def _leeway(
    points: NDArray[np.float64], owner: NDArray[np.int64], core: NDArray[np.object_], lip_mm: float
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return how much narrower (n) the lip may come out at each node, and how much wider (n).

    It may not come out wider at all, but must make up for what outlines lost in exactness on the way here.
    """
    edges = shapely.boundary(core)
    shapely.prepare(edges)
    lip = shapely.distance(edges[owner], shapely.points(points))
    least = lip.copy()
    # Between the nodes of a long side the lip may be narrower than at both.
    length = norms(np.diff(points, axis=0))
    long = np.flatnonzero((owner[1:] == owner[:-1]) & (length > lip[1:] / 2) & (length > _SHORT_MM))
    sides = shapely.linestrings(np.stack([points[long], points[long + 1]], axis=1))
    between = shapely.distance(edges[owner[long]], sides)
    np.minimum.at(least, long, between)
    np.minimum.at(least, long + 1, between)
    most = np.maximum(np.minimum(least, lip_mm) * _LOSS, np.minimum(_LEAST_LOSS_MM, least / 2))
    return np.maximum(least - lip_mm, 0) + most, -np.minimum(2 * _PLAIN_MM, most / 2)


def _sound(
    smooth: NDArray[np.object_],
    core: NDArray[np.object_],
    room: NDArray[np.object_],
    fitted: NDArray[np.object_],
) -> list[Polygon]:
    """Return the outlines, each mended where it leaves its room or its core."""
    shapely.prepare(smooth)
    allowed = _grown(room, _ROOM_MM)
    shapely.prepare(allowed)
    good = (
        shapely.is_valid(smooth)
        & ~shapely.is_empty(smooth)
        & shapely.covers(smooth, core)
        & shapely.covers(allowed, smooth)
    )
    spoilt = ~good
    sound = smooth.copy()
    sound[spoilt] = _mended(smooth[spoilt], core[spoilt], room[spoilt], fitted[spoilt])
    return list(sound)


def _mended(
    areas: NDArray[np.object_],
    core: NDArray[np.object_],
    room: NDArray[np.object_],
    fitted: NDArray[np.object_],
) -> NDArray[np.object_]:
    """Return outlines as far as their rooms go, with their cores; the fitted ones where that fails."""
    usable = shapely.is_valid(areas) & ~shapely.is_empty(areas)
    mended = fitted.copy()
    inner = core[usable]
    within = intersection(areas[usable], grown(room[usable], _ROOM_MM / 2, _FINE_SEGMENTS))
    whole = each_holding(union(within, covered(inner)), inner)
    mended[usable] = np.where(_are_pieces(whole, inner), whole, fitted[usable])
    return mended


def _are_pieces(areas: NDArray[np.object_], core: NDArray[np.object_]) -> NDArray[np.bool_]:
    """Tell which areas have no holes and cover their cores."""
    shapely.prepare(areas)
    are_pieces: NDArray[np.bool_] = (shapely.get_num_interior_rings(areas) == 0) & shapely.covers(areas, core)
    return are_pieces
