"""Lays rectangles side by side: always into the lowest gap, and there the one that fits it best.

The best-fit rule of Burke, Kendall and Whitwell 2004 ("A new placement heuristic for the orthogonal
stock-cutting problem"), here for several widths, each with its orders shuffled a little again and again.
"""

import math
import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from peekpaper.papers.paper import Direction
from peekpaper.plan.bodies import Floats
from peekpaper.plan.kit import SAME_ANGLE, SAME_MM, Kit
from peekpaper.plan.shape import Pose
from peekpaper.plan.turns import is_allowed, turned

CORNERS = 4
TRIES_AT_ONCE = 8
SECOND_BEST = 0.12
"""How often a piece other than the best is laid, once the rule itself has had its try."""
HAIR_MM = 1e-6


@dataclass(frozen=True, slots=True)
class Upright:
    """A rectangle at a turn (degrees) at which its sides are upright; its box about its origin, in mm."""

    turn_deg: float
    left: float
    top: float
    width: float
    height: float


@dataclass(slots=True)
class _Gap:
    """A stretch of the ground on which the next rectangles are laid."""

    left: float
    width: float
    level: float


@dataclass(frozen=True, slots=True)
class _Laid:
    """Rectangles laid: poses by index, and how far down they reach."""

    poses: Mapping[int, Pose]
    reach: float


def upright_ways(kit: Kit, direction: Direction) -> list[tuple[Upright, ...]] | None:
    """Return the ways in which each piece may lie upright; None where one is no rectangle or has no way."""
    ways = []
    for index, ring in enumerate(kit.rings):
        own = kit.corners.owner == index
        angles = kit.corners.angle[own]
        if len(angles) != CORNERS or np.abs(angles - np.pi / 2).max() > SAME_ANGLE:
            return None
        lean = math.degrees(float(kit.corners.direction_out[own][0])) % 90.0
        turns = [round(quarter - lean, 9) % 360.0 for quarter in (0.0, 90.0)]
        if direction is not Direction.ANY:
            turns = [0.0] if min(lean, 90.0 - lean) < math.degrees(SAME_ANGLE) else []
        allowed = tuple(_upright(ring, turn) for turn in turns if is_allowed(turn, direction))
        if not allowed:
            return None
        ways.append(allowed)
    return ways


def _upright(ring: Floats, turn: float) -> Upright:
    nodes = turned(ring, turn)
    (left, top), (right, bottom) = nodes.min(axis=0), nodes.max(axis=0)
    return Upright(turn, float(left), float(top), float(right - left), float(bottom - top))


class RectangleFit:
    """Lays rectangles into a width, over and over; in the end `solution` has the poses that reach least down.

    There is none where all reach further than `height`.
    """

    def __init__(
        self, ways: Sequence[tuple[Upright, ...]], width: float, height: float, tries: int, seed: int
    ) -> None:
        self.solution: Mapping[int, Pose] | None = None
        self.is_done = False
        self._ways = ways
        self._width = width
        self._best: _Laid | None = None
        self._most = height
        self._tries = tries
        self._tried = 0
        self._random = random.Random(seed)

    def round(self) -> Iterator[None]:
        """Lay all rectangles some times; yields to let the caller breathe."""
        for _ in range(TRIES_AT_ONCE):
            laid = self._lay(SECOND_BEST if self._tried else 0.0)
            self._tried += 1
            if laid is not None:
                self._best, self._most = laid, laid.reach - SAME_MM
            yield
        self.is_done = self._tried >= self._tries
        if self.is_done and self._best is not None:
            self.solution = self._best.poses

    def _lay(self, second_best: float) -> _Laid | None:
        """Return the rectangles laid, None where they reach too far down."""
        left = set(range(len(self._ways)))
        ground = [_Gap(0.0, self._width, 0.0)]
        poses: dict[int, Pose] = {}
        reach = 0.0
        while left:
            number = min(range(len(ground)), key=lambda place: (ground[place].level, ground[place].left))
            gap = ground[number]
            found = self._fitting(left, gap.width, second_best)
            if found is None:
                if len(ground) == 1:
                    return None
                _raise(ground, number)
                continue
            index, way = found
            at = _nearer_wall(ground, number, way.width)
            poses[index] = Pose(at - way.left, gap.level - way.top, way.turn_deg)
            reach = max(reach, gap.level + way.height)
            if reach > self._most:
                return None
            _lay_on(ground, number, at, way)
            left.remove(index)
        return _Laid(poses, reach)

    def _fitting(self, left: set[int], width: float, second_best: float) -> tuple[int, Upright] | None:
        """Return the piece that leaves least of the gap, the higher of two, now and then the next best."""
        fitting = sorted(
            (
                (-round(way.width, 2), -round(way.height, 2), index, way.turn_deg, way)
                for index in left
                for way in self._ways[index]
                if way.width <= width + HAIR_MM
            ),
            key=lambda found: found[:4],
        )
        if not fitting:
            return None
        place = 0
        while second_best and place < len(fitting) - 1 and self._random.random() < second_best:
            place += 1
        return fitting[place][2], fitting[place][4]


def _nearer_wall(ground: Sequence[_Gap], number: int, width: float) -> float:
    """Return where a rectangle begins in a gap: beside the higher of the two walls."""
    gap = ground[number]
    before = ground[number - 1].level if number else math.inf
    after = ground[number + 1].level if number + 1 < len(ground) else math.inf
    return gap.left if before >= after else gap.left + max(gap.width - width, 0.0)


def _lay_on(ground: list[_Gap], number: int, at: float, way: Upright) -> None:
    gap = ground[number]
    parts = [_Gap(at, min(way.width, gap.width), gap.level + way.height)]
    if at > gap.left + HAIR_MM:
        parts.insert(0, _Gap(gap.left, at - gap.left, gap.level))
    if at + way.width < gap.left + gap.width - HAIR_MM:
        parts.append(_Gap(at + way.width, gap.left + gap.width - at - way.width, gap.level))
    ground[number : number + 1] = parts
    _level(ground)


def _raise(ground: list[_Gap], number: int) -> None:
    """Raise a gap that nothing fits to the lower of its walls."""
    walls = [ground[place].level for place in (number - 1, number + 1) if 0 <= place < len(ground)]
    ground[number].level = min(walls)
    _level(ground)


def _level(ground: list[_Gap]) -> None:
    """Join neighbouring stretches of one level."""
    place = 0
    while place + 1 < len(ground):
        one, other = ground[place], ground[place + 1]
        if abs(one.level - other.level) <= SAME_MM / 2:
            one.width = other.left + other.width - one.left
            one.level = max(one.level, other.level)
            del ground[place + 1]
        else:
            place += 1
