"""Outlines made easy to cut: rounded corners, no slivers or notches, few nodes."""

from collections.abc import Mapping

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LinearRing, MultiPolygon, Polygon

from peekpaper.backing.areas import holding, plainer, polygonal
from peekpaper.backing.fitted import covered
from peekpaper.backing.simplify import simplified

TURN_MM = 0.3
"""The radius that a blade turns in without trouble (common practice, no published source)."""

_CORNER_MM = 0.06
_SLACK = 0.006
_SLACK_MM = 0.03
_ROOM_MM = 0.004
_NOTCH_MM2 = 0.01
_QUARTER_SEGMENTS = 8

Areas = Mapping[int, Polygon | MultiPolygon]


def eased_outlines(fitted: Mapping[int, Polygon], cores: Areas, rooms: Areas) -> dict[int, Polygon]:
    """Return outlines easy to cut that cover their cores and stay inside their rooms.

    A lip comes out narrower than the fitted one by 1.2 % at most along edges and by 0.1 mm at most
    where a corner is rounded or a sliver dropped. Where that can't be, the fitted outline stays.
    """
    if not fitted:
        return {}
    numbers = list(fitted)
    whole = np.array([fitted[number] for number in numbers], dtype=object)
    core = np.array([cores[number] for number in numbers], dtype=object)
    room = np.array([rooms[number] for number in numbers], dtype=object)
    rounded = _without_notches(_without_slivers(whole, core), room)
    rings = [
        _plain_ring(area, inner, before) for area, inner, before in zip(rounded, core, whole, strict=True)
    ]
    points, owner = shapely.get_coordinates(rings, return_index=True)
    slack = _slack(points, owner, core)
    # Drawn in by the slack, the outline may stray by it to both sides.
    eased = simplified(points + _inward(points, owner) * slack[:, None], owner, slack)
    return dict(zip(numbers, _sound(np.array(eased, dtype=object), core, room, whole), strict=True))


def _without_slivers(whole: NDArray[np.object_], core: NDArray[np.object_]) -> NDArray[np.object_]:
    """Round what juts out and drop slivers (opening of mathematical morphology), sparing the lip."""
    opened = _grown(_grown(whole, -TURN_MM), TURN_MM)
    shapely.prepare(opened)
    bare = ~shapely.covers(opened, core)
    spared = shapely.union(_grown(whole[bare], -_CORNER_MM), covered(core[bare]))
    opened[bare] = shapely.union(opened[bare], spared)
    return opened


def _without_notches(areas: NDArray[np.object_], room: NDArray[np.object_]) -> NDArray[np.object_]:
    """Fill notches as far as there is room (closing of mathematical morphology)."""
    closed = _grown(_grown(areas, TURN_MM), -TURN_MM)
    notched = shapely.area(closed) - shapely.area(areas) > _NOTCH_MM2
    filled = areas.copy()
    filled[notched] = shapely.union(shapely.intersection(closed[notched], room[notched]), areas[notched])
    return filled


def _plain_ring(rounded: Polygon | MultiPolygon, core: Polygon | MultiPolygon, fitted: Polygon) -> LinearRing:
    """Return the outline of a rounded area, or the fitted one where rounding tore it or made a hole."""
    part = holding(polygonal(rounded), core)
    return fitted.exterior if part.interiors or not part.covers(core) else part.exterior


def _grown(areas: NDArray[np.object_], distance_mm: float) -> NDArray[np.object_]:
    return plainer(np.asarray(shapely.buffer(areas, distance_mm, quad_segs=_QUARTER_SEGMENTS)))


def _slack(
    points: NDArray[np.float64], owner: NDArray[np.int64], core: NDArray[np.object_]
) -> NDArray[np.float64]:
    """Return by how much (n) closed rings may stray at each node, from the lip that its two sides leave."""
    edges = shapely.boundary(core)
    shapely.prepare(edges)
    sides = shapely.linestrings(np.stack([points[:-1], points[1:]], axis=1))
    lip = np.where(owner[1:] == owner[:-1], shapely.distance(edges[owner[:-1]], sides), np.inf)
    begins = np.flatnonzero(np.append(True, owner[1:] != owner[:-1]))
    ends = np.append(begins[1:], len(owner)) - 1
    before, after = np.append(np.inf, lip), np.append(lip, np.inf)
    before[begins], after[ends] = before[ends], after[begins]
    slack: NDArray[np.float64] = np.minimum(np.minimum(before, after) * _SLACK, _SLACK_MM)
    return slack


def _inward(points: NDArray[np.float64], owner: NDArray[np.int64]) -> NDArray[np.float64]:
    """Return unit vectors (n, 2) that point into the areas of closed rings (n, 2) lying in a row."""
    begins = np.flatnonzero(np.append(True, owner[1:] != owner[:-1]))
    ends = np.append(begins[1:], len(owner)) - 1
    before, after = np.arange(len(owner)) - 1, np.arange(len(owner)) + 1
    before[begins], after[ends] = ends - 1, begins + 1
    along = _unit(points - points[before]) + _unit(points[after] - points)
    crosses = points[:, 0] * points[after][:, 1] - points[:, 1] * points[after][:, 0]
    crosses[ends] = 0
    turns = np.sign(np.add.reduceat(crosses, begins))[np.searchsorted(ends, np.arange(len(owner)))]
    return _unit(np.stack([-along[:, 1] * turns, along[:, 0] * turns], axis=1))


def _unit(vectors: NDArray[np.float64]) -> NDArray[np.float64]:
    units: NDArray[np.float64] = vectors / np.maximum(np.hypot(vectors[:, 0], vectors[:, 1]), 1e-12)[:, None]
    return units


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
    good = shapely.is_valid(eased) & shapely.covers(eased, core) & shapely.covers(allowed, eased)
    return [
        area if fine else _mended(area, inner, space, before)
        for area, fine, inner, space, before in zip(eased, good, core, room, fitted, strict=True)
    ]


def _mended(
    area: Polygon, core: Polygon | MultiPolygon, room: Polygon | MultiPolygon, fitted: Polygon
) -> Polygon:
    if area.is_valid:
        within = area.intersection(room.buffer(_ROOM_MM / 2)).union(covered([core])[0])
        mended = holding(polygonal(within), core)
        if not mended.interiors and mended.covers(core):
            return mended
    return fitted
