"""Where a simple shape covers an opening with its least lip and stays inside the room."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.backing.simple.punches import Form, SimpleShape
from peekpaper.geometry.elementary import directions, turned_by_radians
from peekpaper.geometry.grid import grown, to_grid
from peekpaper.geometry.vectors import norms

_MOST_TURNS = 6
"""Turns that a shape is tried in: the sides after the longest five are short (from memory)."""
_SAME_TURN = np.radians(1.0)
"""Turns nearer to each other than a degree are one to the eye."""
_SHIFTS = np.array([(x, y) for x in (0, -1, 1) for y in (0, -1, 1)])
"""Where a shape that has room to spare is tried: the middle, sides and corners of that room."""
_EDGE_STEP_MM = 0.5
"""How far apart points stand that push a shape off the edge of its room."""
_NEAR = 1.5
"""Edge points within so many radii of the middle, and a centimetre, may push."""
_PUSHES = 3
"""A push off one edge may lead onto another: after three it rarely gets better (from memory)."""
_HAIR_MM = 1e-4
"""Pushed so much farther than needed, so that rounding leaves no touch."""
_CORNERS = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) / 2
"""The corners of a unit square about the origin."""


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
        self._core = core
        self._least = least_lip_mm
        shapely.prepare(self._room)
        hull = shapely.convex_hull(core)
        self._most_mm2 = float(shapely.area(room))
        nodes = shapely.get_coordinates(hull)
        promising = _promising_turns(nodes)
        there = turned_by_radians(nodes, -promising)
        low, high = there.min(axis=1) - least_lip_mm, there.max(axis=1) + least_lip_mm
        self._wide_mm = float((high - low).max())
        least_ones = _corners(((low + high) / 2)[:, None], (high - low)[:, None], promising)
        free = np.asarray(shapely.covers(room, shapely.polygons(least_ones)))
        self.turns: list[float] = promising[free].tolist()
        self._low, self._high = low[free], high[free]

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
            if one.shape.area_mm2 > self._most_mm2:
                continue
            is_circle = one.shape.form is Form.CIRCLE
            outline = self._circle(one.shape) if is_circle else self._rectangle(one)
            if outline is not None:
                return one.shape, outline
        return None

    def _holds_circle(self, shape: SimpleShape) -> bool:
        if shape.width_mm < self._wide_mm or shape.area_mm2 > self._most_mm2:
            return False
        return shape.width_mm >= 2 * (self._round[1] + self._least)

    @cached_property
    def _round(self) -> tuple[NDArray[np.float64], float]:
        """The centre and the radius of the least circle around the core."""
        circle = shapely.minimum_bounding_circle(self._core)
        centre = to_grid(shapely.get_coordinates(shapely.centroid(circle))[0])
        return centre, float(norms(shapely.get_coordinates(self._core) - centre).max())

    @cached_property
    def _edge(self) -> NDArray[np.float64]:
        """Points along the room's edge near the core."""
        centre, radius = self._round
        edge = shapely.get_coordinates(shapely.segmentize(self._room, _EDGE_STEP_MM))
        near: NDArray[np.bool_] = norms(edge - centre) < _NEAR * (radius + self._least) + 10
        return edge[near]

    def _circle(self, shape: SimpleShape) -> Polygon | None:
        centre, least_radius = self._round
        radius = shape.width_mm / 2
        spare = radius - least_radius - self._least
        pushed = centre
        for _ in range(_PUSHES if len(self._edge) else 0):
            apart = pushed - self._edge
            distance = norms(apart)
            nearest = int(distance.argmin())
            short = max(radius + _HAIR_MM - distance[nearest], 0)
            moved = pushed + apart[nearest] / max(distance[nearest], 1e-9) * short - centre
            pushed = centre + moved * min(1, spare / max(float(norms(moved)), 1e-9))
        centres = np.asarray(shapely.points(np.vstack([centre + _SHIFTS * spare * np.sqrt(0.5), pushed])))
        far = shapely.distance(centres, shapely.boundary(self._room)) >= radius
        inside = centres[far & np.asarray(shapely.covers(self._room, centres))]
        return grown(inside[:1], radius, 24)[0] if len(inside) else None

    def _rectangle(self, one: Try) -> Polygon | None:
        size = np.array([one.shape.width_mm, one.shape.height_mm])
        middle = (self._low[one.turn] + self._high[one.turn]) / 2
        spare = (size - self.needed(one.turn)) / 2
        edge = turned_by_radians(self._edge, -self.turns[one.turn])
        pushed = middle
        for _ in range(_PUSHES):
            pushed = np.clip(pushed + _push(edge - pushed, size / 2), middle - spare, middle + spare)
        centres = np.vstack([middle + _SHIFTS * spare, pushed])
        outlines = np.asarray(shapely.polygons(_corners(centres[:, None], size, self.turns[one.turn])))
        inside = outlines[np.asarray(shapely.covers(self._room, outlines))]
        return inside[0] if len(inside) else None


def _corners(
    centre: NDArray[np.float64], size: NDArray[np.float64], turn: float | NDArray[np.float64]
) -> NDArray[np.float64]:
    """Return the corners of rectangles; `centre` and `size` are told in axes turned by so many radians."""
    corners: NDArray[np.float64] = turned_by_radians(centre + _CORNERS * size, turn)
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


def _promising_turns(hull: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return turns worth a try in radians: upright, and flat on the longest sides of the hull."""
    sides = np.diff(hull, axis=0)
    longest = np.argsort(-norms(sides), kind="stable")
    turns = [0.0]
    for turn in (directions(sides[longest, 0], sides[longest, 1]) % (np.pi / 2)).tolist():
        if all(_SAME_TURN < abs(turn - known) < np.pi / 2 - _SAME_TURN for known in turns):
            turns.append(turn)
        if len(turns) == _MOST_TURNS:
            break
    return np.array([*turns, *(turn + np.pi / 2 for turn in turns)])
