"""Outlines made easy to cut: rounded corners, no slivers or notches, few nodes."""

from collections.abc import Mapping

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LinearRing, MultiPolygon, Polygon

from peekpaper.backing.outlines.corridor import led_through
from peekpaper.backing.outlines.fitted import covered
from peekpaper.geometry.areas import holding, plainer, polygonal
from peekpaper.geometry.elementary import hypot
from peekpaper.geometry.grid import grown, one_grown, to_grid
from peekpaper.geometry.overlay import intersection, union

TURN_MM = 0.3
"""The radius that a blade turns in without trouble (common practice, no published source)."""

_CORNER_MM = 0.06
_LOSS = 0.0095
_LEAST_LOSS_MM = 0.001
_SHORT_MM = 0.2
_ROOM_MM = 0.004
_PLAIN_MM = 0.001
_NOTCH_MM2 = 0.03
_QUARTER_SEGMENTS = 8

Areas = Mapping[int, Polygon | MultiPolygon]


def eased_outlines(
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
    areas = [
        _plain_area(area, inner, before) for area, inner, before in zip(rounded, core, whole, strict=True)
    ]
    oriented = shapely.orient_polygons(np.array(areas, dtype=object))
    rings = shapely.simplify(shapely.get_exterior_ring(oriented), _PLAIN_MM, preserve_topology=False)
    begun = [_from_longest_side(ring) for ring in rings]
    points, owner = shapely.get_coordinates(begun, return_index=True)
    eased = led_through(points, owner, *_leeway(points, owner, core, lip_mm))
    return dict(zip(numbers, _sound(np.array(eased, dtype=object), core, room, whole), strict=True))


def _from_longest_side(ring: LinearRing) -> LinearRing:
    """Return a ring that begins in the middle of its longest side.

    An outline goes through its ring's first node whatever may be seen past it, so that must lie where a
    straight side runs anyway.
    """
    if ring.is_empty:
        return ring
    nodes = shapely.get_coordinates(ring)
    longest = int(np.argmax(hypot(*np.diff(nodes, axis=0).T)))
    # Half-way between two lines of the grid the last bit would tell to which of them the node goes.
    middle = to_grid((nodes[longest] + nodes[longest + 1]) / 2)
    return LinearRing(np.vstack([middle, np.roll(nodes[:-1], -longest - 1, axis=0), middle]))


def _without_slivers(whole: NDArray[np.object_], core: NDArray[np.object_]) -> NDArray[np.object_]:
    """Round what juts out and drop slivers (opening of mathematical morphology), sparing the lip."""
    opened = _grown(_grown(whole, -TURN_MM), TURN_MM)
    shapely.prepare(opened)
    bare = ~shapely.covers(opened, core)
    spared = union(_grown(whole[bare], -_CORNER_MM), covered(core[bare]))
    opened[bare] = union(opened[bare], spared)
    return opened


def _without_notches(areas: NDArray[np.object_], room: NDArray[np.object_]) -> NDArray[np.object_]:
    """Fill notches as far as there is room (closing of mathematical morphology)."""
    closed = _grown(_grown(areas, TURN_MM), -TURN_MM)
    notched = shapely.area(closed) - shapely.area(areas) > _NOTCH_MM2
    filled = areas.copy()
    filled[notched] = union(intersection(closed[notched], room[notched]), areas[notched])
    return filled


def _plain_area(rounded: Polygon | MultiPolygon, core: Polygon | MultiPolygon, fitted: Polygon) -> Polygon:
    """Return a rounded area, or the fitted one where rounding tore it or made a hole."""
    part = holding(polygonal(rounded), core)
    return fitted if part.interiors or not part.covers(core) else part


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
    length = hypot(*np.diff(points, axis=0).T)
    long = np.flatnonzero((owner[1:] == owner[:-1]) & (length > lip[1:] / 2) & (length > _SHORT_MM))
    sides = shapely.linestrings(np.stack([points[long], points[long + 1]], axis=1))
    between = shapely.distance(edges[owner[long]], sides)
    np.minimum.at(least, long, between)
    np.minimum.at(least, long + 1, between)
    most = np.maximum(np.minimum(least, lip_mm) * _LOSS, np.minimum(_LEAST_LOSS_MM, least / 2))
    return np.maximum(least - lip_mm, 0) + most, -np.minimum(2 * _PLAIN_MM, most / 2)


def _sound(
    eased: NDArray[np.object_],
    core: NDArray[np.object_],
    room: NDArray[np.object_],
    fitted: NDArray[np.object_],
) -> list[Polygon]:
    """Return the outlines, each mended where it leaves its room or its core."""
    shapely.prepare(eased)
    allowed = _grown(room, _ROOM_MM)
    shapely.prepare(allowed)
    good = (
        shapely.is_valid(eased)
        & ~shapely.is_empty(eased)
        & shapely.covers(eased, core)
        & shapely.covers(allowed, eased)
    )
    return [
        area if fine else _mended(area, inner, space, before)
        for area, fine, inner, space, before in zip(eased, good, core, room, fitted, strict=True)
    ]


def _mended(
    area: Polygon, core: Polygon | MultiPolygon, room: Polygon | MultiPolygon, fitted: Polygon
) -> Polygon:
    if area.is_valid and not area.is_empty:
        within = union(intersection(area, one_grown(room, _ROOM_MM / 2)), covered([core])[0])
        mended = holding(polygonal(within), core)
        if not mended.interiors and mended.covers(core):
            return mended
    return fitted
