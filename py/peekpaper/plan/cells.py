"""Pieces that are made of equal squares: which squares each covers, at each of its quarter turns."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.papers.paper import Direction
from peekpaper.plan.bodies import Floats, Indices
from peekpaper.plan.corners import without_straight_nodes
from peekpaper.plan.kit import SAME_ANGLE, SAME_MM
from peekpaper.plan.shape import Pose
from peekpaper.plan.turns import turned
from peekpaper.steady import directions, hypot

LEAST_CELL_MM = 2.0
MOST_CELLS = 500


@dataclass(frozen=True, slots=True)
class Way:
    """A piece at one turn (degrees): the squares (n, 2) it covers as columns and rows from 0, and where its
    origin lies from the corner of the first square, in mm.
    """

    turn_deg: float
    squares: Indices
    x_mm: float
    y_mm: float

    def pose(self, column: int, row: int, cell_mm: float) -> Pose:
        """Return the pose at which the first square's corner lies at that column and row."""
        return Pose(column * cell_mm + self.x_mm, row * cell_mm + self.y_mm, self.turn_deg)


@dataclass(frozen=True, slots=True)
class Cells:
    """Pieces as squares of `cell_mm`: the ways of each, no two of which cover the same squares."""

    cell_mm: float
    ways: tuple[tuple[Way, ...], ...]

    @property
    def count(self) -> int:
        """How many squares all pieces have together."""
        return sum(len(ways[0].squares) for ways in self.ways)


def make_cells(rings: Sequence[Floats], direction: Direction) -> Cells | None:
    """Return the pieces as squares, None where they are not made of equal squares.

    Rings (n, 2) are closed, each about its piece's origin.
    """
    corners = [without_straight_nodes(ring[:-1]) for ring in rings]
    steps = [np.roll(nodes, -1, axis=0) - nodes for nodes in corners]
    turns = [-float(directions(step[:1, 0], step[:1, 1])[0]) for step in steps]
    for step, turn in zip(steps, turns, strict=True):
        angles = directions(step[:, 0], step[:, 1]) + turn
        if np.abs((angles + np.pi / 4) % (np.pi / 2) - np.pi / 4).max() > SAME_ANGLE:
            return None
    lengths = np.concatenate([hypot(step[:, 0], step[:, 1]) for step in steps])
    cell = _common_measure(lengths)
    if cell is None or sum(Polygon(ring).area for ring in rings) > MOST_CELLS * cell**2:
        return None
    if not all(_may_turn_to(turn, direction) for turn in turns):
        return None
    ways = (_ways(ring, math.degrees(turn), cell, direction) for ring, turn in zip(rings, turns, strict=True))
    return Cells(cell, tuple(ways))


def _may_turn_to(turn: float, direction: Direction) -> bool:
    """Tell whether a piece of a paper with direction lies along the axes as it is."""
    off = abs((turn + np.pi / 4) % (np.pi / 2) - np.pi / 4)
    return direction is Direction.ANY or off < SAME_ANGLE


def _common_measure(lengths: Floats) -> float | None:
    """Return the largest length of which all are multiples, None where that is too short."""
    measure = 0.0
    for length in np.unique(np.round(lengths, 3)).tolist():
        one, other = length, measure
        while other > 2 * SAME_MM:
            one, other = other, abs(one - round(one / other) * other)
        measure = one
        if measure < LEAST_CELL_MM:
            return None
    parts = np.round(lengths / measure)
    return float((lengths * parts).sum() / (parts * parts).sum())


def _ways(ring: Floats, first_deg: float, cell: float, direction: Direction) -> tuple[Way, ...]:
    match direction:
        case Direction.ANY:
            turns = [(first_deg + 90.0 * quarter) % 360.0 for quarter in range(4)]
        case Direction.TWO_WAY:
            turns = [0.0, 180.0]
        case Direction.ONE_WAY:
            turns = [0.0]
    ways: dict[bytes, Way] = {}
    for turn in turns:
        points = turned(ring, turn)
        left, top = points.min(axis=0)
        columns, rows = np.round((points.max(axis=0) - (left, top)) / cell).astype(int)
        row, column = (grid.ravel() for grid in np.mgrid[0:rows, 0:columns])
        polygon = Polygon(points)
        inside = shapely.contains_xy(polygon, left + (column + 0.5) * cell, top + (row + 0.5) * cell)
        squares = np.column_stack([column[inside], row[inside]])
        ways.setdefault(squares.tobytes(), Way(turn, squares, float(-left), float(-top)))
    return tuple(ways.values())
