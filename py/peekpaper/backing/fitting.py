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
_SHIFTS = np.array([(x, y) for x in (0, -1, 1) for y in (0, -1, 1)]) / 2
_CORNERS = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) / 2


@dataclass(frozen=True, slots=True)
class Try:
    """A shape at one of the seat's turns."""

    shape: SimpleShape
    turn: int


class Seat:
    """The place for a simple shape: what it must cover, and the room that it has.

    `turns` are those worth a try, in radians; `is_hopeless` tells that nothing convex fits.
    """

    def __init__(
        self, core: Polygon | MultiPolygon, room: Polygon | MultiPolygon, least_lip_mm: float
    ) -> None:
        self._room = room
        shapely.prepare(self._room)
        hull = shapely.convex_hull(core)
        # Whatever is convex and covers the core with its least lip covers this.
        self.is_hopeless = not room.covers(hull.buffer(0.99 * least_lip_mm, quad_segs=2))
        if self.is_hopeless:
            return
        self._least = least_lip_mm
        self._centre = shapely.get_coordinates(shapely.centroid(shapely.minimum_bounding_circle(core)))[0]
        self._radius = float(shapely.minimum_bounding_radius(core))
        nodes = shapely.get_coordinates(hull)
        self.turns = _promising_turns(nodes)
        there = [nodes @ _turned(-turn) for turn in self.turns]
        self._low = np.array([nodes.min(axis=0) for nodes in there])
        self._high = np.array([nodes.max(axis=0) for nodes in there])

    def needed(self, turn: int) -> tuple[float, float]:
        """Return how wide and high a rectangle must be that covers all at that one of `turns`, in mm."""
        width, height = self._high[turn] - self._low[turn] + 2 * self._least
        return float(width), float(height)

    def tries(self, shapes: Sequence[SimpleShape]) -> list[Try]:
        """Return at each of `turns` the first of `shapes` that is large enough there."""
        found = []
        for turn in range(len(self.turns)):
            fitting = (shape for shape in shapes if self._is_large_enough(shape, turn))
            found += [Try(shape, turn) for shape in [next(fitting, None)] if shape is not None]
        return found

    def first_inside(self, tries: Sequence[Try]) -> tuple[SimpleShape, Polygon] | None:
        """Return the first shape that finds a place inside the room, with its outline there, or None.

        At each turn the middle is tried first, then places shifted as far as the cover allows.
        """
        if not tries:
            return None
        outlines = np.concatenate([self._outlines(one) for one in tries])
        inside = np.flatnonzero(shapely.covers(self._room, outlines))
        if not len(inside):
            return None
        return tries[inside[0] // len(_SHIFTS)].shape, outlines[inside[0]]

    def _is_large_enough(self, shape: SimpleShape, turn: int) -> bool:
        if shape.form is Form.CIRCLE:
            return turn == 0 and shape.width_mm >= 2 * (self._radius + self._least)
        width, height = self.needed(turn)
        return shape.width_mm >= width and shape.height_mm >= height

    def _outlines(self, one: Try) -> NDArray[np.object_]:
        """Return the shape's outline at its turn, in the middle and shifted each way."""
        size = np.array([one.shape.width_mm, one.shape.height_mm])
        if one.shape.form is Form.CIRCLE:
            spare = (size[0] / 2 - self._radius - self._least) * np.sqrt(2)
            centres = shapely.points(self._centre + _SHIFTS * spare)
            circles: NDArray[np.object_] = shapely.buffer(centres, size[0] / 2, quad_segs=24)
            return circles
        middle = (self._low[one.turn] + self._high[one.turn]) / 2
        centres = middle + _SHIFTS * (size - self.needed(one.turn))
        corners = (centres[:, None] + _CORNERS * size) @ _turned(self.turns[one.turn])
        rectangles: NDArray[np.object_] = shapely.polygons(corners)
        return rectangles


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
