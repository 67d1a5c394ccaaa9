"""Outlines made easy to cut: rounded corners, no slivers or notches, few nodes."""

from collections.abc import Mapping

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LinearRing, MultiPolygon, Polygon

from peekpaper.backing.areas import holding, polygonal
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
    rings = [holding(polygonal(area), inner).exterior for area, inner in zip(rounded, core, strict=True)]
    points, owner = shapely.get_coordinates(rings, return_index=True)
    points, slack = _drawn_in(points, owner, core)
    eased = simplified([LinearRing(points[begin:end]) for _, begin, end in _stretches(owner)], slack)
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


def _grown(areas: NDArray[np.object_], distance_mm: float) -> NDArray[np.object_]:
    grown: NDArray[np.object_] = shapely.buffer(areas, distance_mm, quad_segs=_QUARTER_SEGMENTS)
    return grown


def _drawn_in(
    points: NDArray[np.float64], owner: NDArray[np.int64], core: NDArray[np.object_]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Draw nodes towards their openings by a slack, and return them with it (n): then both sides have it."""
    feet = np.empty_like(points)
    for number, begin, end in _stretches(owner):
        edge = shapely.boundary(core[number])
        shapely.prepare(edge)
        lines = shapely.shortest_line(edge, shapely.points(points[begin:end]))
        feet[begin:end] = shapely.get_coordinates(lines)[::2]
    towards = feet - points
    lip = np.hypot(towards[:, 0], towards[:, 1])
    slack = np.minimum(lip * _SLACK, _SLACK_MM)
    return points + towards * (slack / np.maximum(lip, 1e-12))[:, None], slack


def _stretches(owner: NDArray[np.int64]) -> list[tuple[int, int, int]]:
    """Return each owner's number and where its points begin and end."""
    begins = np.flatnonzero(np.append(True, owner[1:] != owner[:-1]))
    ends = np.append(begins[1:], len(owner))
    return [(int(owner[begin]), int(begin), int(end)) for begin, end in zip(begins, ends, strict=True)]


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
        within = holding(
            polygonal(area.intersection(room.buffer(_ROOM_MM / 2)).union(covered([core])[0])), core
        )
        filled = Polygon(within.exterior)
        if filled.is_valid and (filled.covers(core) or not fitted.covers(core)):
            return filled
    return fitted
