"""Where a simple shape covers an opening with its least lip and stays inside the room."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.backing.punches import Form, SimpleShape

_MOST_TURNS = 6
_STEADY = np.radians(1.0)
_SHIFTS = np.array([(x, y) for x in (0, -1, 1) for y in (0, -1, 1)])
_EDGE_STEP_MM = 0.5
_NEAR = 1.5
_PUSHES = 3
_HAIR_MM = 1e-4
_CORNERS = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) / 2


@dataclass(frozen=True, slots=True)
class Try:
    """A shape at one of the seat's turns."""

    shape: SimpleShape
    turn: int


def has_hope(
    cores: Sequence[MultiPolygon], rooms: Sequence[Polygon | MultiPolygon], least_lip_mm: float
) -> list[bool]:
    """Return for each piece whether its room holds the least convex area over its core and least lip."""
    spaces = np.array(rooms, dtype=object)
    shapely.prepare(spaces)
    hulls = shapely.convex_hull(np.array(cores, dtype=object))
    least = shapely.buffer(hulls, 0.99 * least_lip_mm, quad_segs=2)
    return [bool(hope) for hope in shapely.covers(spaces, least)]


class Seat:
    """The place for a simple shape: what it must cover, and the room that it has.

    `turns` are those worth a try, in radians.
    """

    def __init__(
        self, core: Polygon | MultiPolygon, room: Polygon | MultiPolygon, least_lip_mm: float
    ) -> None:
        self._room = room
        shapely.prepare(self._room)
        hull = shapely.convex_hull(core)
        self._least = least_lip_mm
        self._centre = shapely.get_coordinates(shapely.centroid(shapely.minimum_bounding_circle(core)))[0]
        self._radius = float(shapely.minimum_bounding_radius(core))
        nodes = shapely.get_coordinates(hull)
        promising = _promising_turns(nodes)
        there = [nodes @ _turned(-turn) for turn in promising]
        low = np.array([nodes.min(axis=0) for nodes in there]) - least_lip_mm
        high = np.array([nodes.max(axis=0) for nodes in there]) + least_lip_mm
        least_ones = [
            _corners((low[k] + high[k]) / 2, high[k] - low[k], turn) for k, turn in enumerate(promising)
        ]
        free = np.asarray(shapely.covers(room, shapely.polygons(least_ones)))
        self.turns = [turn for turn, is_free in zip(promising, free, strict=True) if is_free]
        self._low, self._high = low[free], high[free]
        edge = shapely.get_coordinates(shapely.segmentize(room, _EDGE_STEP_MM))
        apart = edge - self._centre
        self._edge = edge[np.hypot(apart[:, 0], apart[:, 1]) < _NEAR * (self._radius + least_lip_mm) + 10]

    def needed(self, turn: int) -> tuple[float, float]:
        """Return how wide and high a rectangle must be that covers all at that one of `turns`, in mm."""
        width, height = self._high[turn] - self._low[turn]
        return float(width), float(height)

    def tries(self, shapes: Sequence[SimpleShape]) -> list[Try]:
        """Return at each of `turns` the first of `shapes` that is large enough there, a circle only once."""
        circles = (shape for shape in shapes if shape.form is Form.CIRCLE and self._holds_circle(shape))
        found = [Try(shape, 0) for shape in [next(circles, None)] if shape is not None]
        for turn in range(len(self.turns)):
            width, height = self.needed(turn)
            large = (
                shape
                for shape in shapes
                if shape.form is not Form.CIRCLE and shape.width_mm >= width and shape.height_mm >= height
            )
            found += [Try(shape, turn) for shape in [next(large, None)] if shape is not None]
        return found

    def first_inside(self, tries: Sequence[Try]) -> tuple[SimpleShape, Polygon] | None:
        """Return the first shape that finds a place inside the room, with its outline there, or None.

        Tried are the middle of what the shape must cover, places shifted each way as far as the cover
        allows, and the place where the room's edges push it.
        """
        for one in tries:
            is_circle = one.shape.form is Form.CIRCLE
            outlines = self._circles(one.shape) if is_circle else self._rectangles(one)
            inside = np.flatnonzero(shapely.covers(self._room, outlines))
            if len(inside):
                return one.shape, outlines[inside[0]]
        return None

    def _holds_circle(self, shape: SimpleShape) -> bool:
        return shape.width_mm >= 2 * (self._radius + self._least)

    def _circles(self, shape: SimpleShape) -> NDArray[np.object_]:
        radius = shape.width_mm / 2
        spare = radius - self._radius - self._least
        pushed = self._centre
        for _ in range(_PUSHES if len(self._edge) else 0):
            apart = pushed - self._edge
            distance = np.hypot(apart[:, 0], apart[:, 1])
            nearest = int(distance.argmin())
            short = max(radius + _HAIR_MM - distance[nearest], 0)
            moved = pushed + apart[nearest] / max(distance[nearest], 1e-9) * short - self._centre
            pushed = self._centre + moved * min(1, spare / max(float(np.hypot(*moved)), 1e-9))
        centres = np.vstack([self._centre + _SHIFTS * spare * np.sqrt(0.5), pushed])
        return np.asarray(shapely.buffer(shapely.points(centres), radius, quad_segs=24))

    def _rectangles(self, one: Try) -> NDArray[np.object_]:
        size = np.array([one.shape.width_mm, one.shape.height_mm])
        middle = (self._low[one.turn] + self._high[one.turn]) / 2
        spare = (size - self.needed(one.turn)) / 2
        edge = self._edge @ _turned(-self.turns[one.turn])
        pushed = middle
        for _ in range(_PUSHES):
            pushed = np.clip(pushed + _push(edge - pushed, size / 2), middle - spare, middle + spare)
        centres = np.vstack([middle + _SHIFTS * spare, pushed])
        return np.asarray(shapely.polygons(_corners(centres[:, None], size, self.turns[one.turn])))


def _corners(centre: NDArray[np.float64], size: NDArray[np.float64], turn: float) -> NDArray[np.float64]:
    """Return the corners of a rectangle; `centre` and `size` are told in axes turned by so many radians."""
    corners: NDArray[np.float64] = (centre + _CORNERS * size) @ _turned(turn)
    return corners


def _push(edge: NDArray[np.float64], half: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how far a rectangle around the origin must move so that edge points (n, 2) leave it.

    Each point inside leaves by the side that it is nearest to; points on opposite sides share the way.
    """
    inside = edge[(np.abs(edge) < half).all(axis=1)]
    depth = half - np.abs(inside)
    across = depth[:, 0] < depth[:, 1]
    push = np.zeros(2)
    for axis, leaves in enumerate((across, ~across)):
        for side in (-1, 1):
            deep = depth[leaves & (np.sign(inside[:, axis]) == side), axis]
            push[axis] -= side * (deep.max() + _HAIR_MM if len(deep) else 0)
    return push


def _promising_turns(hull: NDArray[np.float64]) -> list[float]:
    """Return turns worth a try in radians: upright, and flat on the longest sides of the hull."""
    sides = np.diff(hull, axis=0)
    longest = np.argsort(-np.hypot(sides[:, 0], sides[:, 1]), kind="stable")
    turns = [0.0]
    for turn in (np.arctan2(sides[longest, 1], sides[longest, 0]) % (np.pi / 2)).tolist():
        if all(_STEADY < abs(turn - known) < np.pi / 2 - _STEADY for known in turns):
            turns.append(turn)
        if len(turns) == _MOST_TURNS:
            break
    return [*turns, *(turn + np.pi / 2 for turn in turns)]


def _turned(turn: float) -> NDArray[np.float64]:
    """Return the matrix that turns row vectors by so many radians."""
    return np.array([[np.cos(turn), np.sin(turn)], [-np.sin(turn), np.cos(turn)]])
