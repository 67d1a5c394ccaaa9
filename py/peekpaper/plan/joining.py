"""Joins pieces whose outlines match so well that it can't be chance, as parts of one cut-up rectangle do.

The most telling joint of all is made first, then the next, as torn pages are put together (compare Kong and
Kimia 2001, "On solving 2D and 3D puzzles using curve matching").
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.grid import grown
from peekpaper.papers.paper import Direction
from peekpaper.plan.cluster import Cluster, Match, Place, joined, laid, settled, single
from peekpaper.plan.joints import Courses, Joint, JointFinder, courses_of, place_of
from peekpaper.plan.sides import Exactness, make_rings
from peekpaper.steady import cosines_and_sines, directions

RECTANGULAR = 0.9
"""What part of the smallest box round any of them all pieces must fill."""
JOINTS_AT_ONCE = 2
SWEEPS = 12
BLUR_BITS = 5.0
MOST_AHEAD = 6.0
"""By how many bits at most it counts that no other joint tells as much of the same sides."""
MOST_REFUSED = 40
"""After so many refused joints in a row bolder ones are made."""


@dataclass(frozen=True, slots=True)
class Way:
    """A way to join pieces: how exact they are and how telling joints must be.

    A joint is made where it tells the first of `margins` (bits) more than the best that there is by chance;
    where none is left, the next of them is enough. With a `seed` joints are made in another order: what a
    joint tells is blurred at random. `doubts` are matches that tell less than they seem to.
    """

    exactness: Exactness
    margins: tuple[float, ...]
    seed: int | None = None
    doubts: frozenset[Match] = frozenset()


class Joining:
    """Joins pieces step by step; `clusters` are what there is so far, `is_done` when no joint is left."""

    def __init__(self, outlines: Sequence[Polygon], direction: Direction, way: Way) -> None:
        exactness = way.exactness
        self.clusters: dict[int, Cluster] = {
            index: single(index, make_rings(outline, index, exactness))
            for index, outline in enumerate(outlines)
        }
        self.is_done = False
        self._courses: dict[int, Courses] = {
            number: courses_of(number, cluster, exactness) for number, cluster in self.clusters.items()
        }
        self._outlines = np.array(outlines, dtype=object)
        self._area = float(shapely.area(self._outlines).sum())
        self._cores = grown(self._outlines, -(exactness.length_mm + exactness.curve_mm), 4)
        self._direction = direction
        self._exactness = exactness
        self._margins = list(way.margins)
        self._doubts = way.doubts
        self._random = None if way.seed is None else np.random.default_rng(way.seed)
        self._next = len(outlines)
        self._refused = 0
        self._joints: list[Joint] | None = None

    def round(self) -> Iterator[None]:
        """Make some joints; yields to let the caller breathe."""
        if self._joints is None:
            yield
            self._refused = 0
            yield from self._look((), set(self.clusters))
        for _ in range(JOINTS_AT_ONCE):
            if not self._joints:
                self._margins.pop(0)
                self._joints = None
                self.is_done = not self._margins or len(self.clusters) == 1
                return
            joint = self._joints.pop(0)
            number = self._make(joint)
            yield
            if number is not None:
                self._refused = 0
                kept = [left for left in self._joints if not set(joint.clusters) & set(left.clusters)]
                yield from self._look(kept, {number})
            else:
                self._refused += 1
            if self._refused > MOST_REFUSED:
                self._joints = []
            yield

    def _look(self, kept: Sequence[Joint], ones: set[int]) -> Iterator[None]:
        """Look for joints of some clusters with all others, and put them with those that are kept."""
        finder = JointFinder(
            self.clusters,
            self._courses,
            self._direction,
            self._exactness,
            self._margins[0],
            doubts=self._doubts,
        )
        yield
        yield from finder.search(ones)
        joints = finder.joints
        if self._direction is not Direction.ANY:
            joints = [joint for joint in joints if self._place(joint) is not None]
        if self._random is not None:
            blur = self._random.uniform(-BLUR_BITS, BLUR_BITS, len(joints)).tolist()
            joints = [
                replace(joint, bits=joint.bits + more) for joint, more in zip(joints, blur, strict=True)
            ]
        self._joints = _by_distinctness([*kept, *joints])

    def _place(self, joint: Joint) -> Place | None:
        return place_of(joint, self.clusters, self._direction, self._exactness)

    def _make(self, joint: Joint) -> int | None:
        """Make a joint and return the new cluster's number; None where pieces would overlap or stick out."""
        first, second = joint.clusters
        one, other = self.clusters[first], self.clusters[second]
        place = self._place(joint)
        if place is None:
            return None
        both = joined(one, other, joint.run, place, self._exactness)
        both = settled(both, SWEEPS, self._direction is Direction.ANY)
        if self._overlap(both, one, other) or not self._has_room(both):
            return None
        del self.clusters[first], self.clusters[second]
        number, self._next = self._next, self._next + 1
        self.clusters[number] = both
        self._courses[number] = courses_of(number, both, self._exactness)
        return number

    def _overlap(self, both: Cluster, one: Cluster, other: Cluster) -> bool:
        """Tell whether pieces of two clusters overlap by more than they may be off."""
        there = self._there(self._outlines, both, one)
        cores = self._there(self._cores, both, other)
        tree = shapely.STRtree(there)
        return bool(tree.query(cores, predicate="intersects").size)

    def _there(self, outlines: np.ndarray, both: Cluster, part: Cluster) -> list[shapely.Geometry]:
        return [laid(outlines[piece], both.places[piece]) for piece in sorted(part.places)]

    def _has_room(self, both: Cluster) -> bool:
        """Tell whether pieces lie close enough together to be parts of a rectangle that all pieces fill."""
        box = smallest_box(self._there(self._outlines, both, both))[0]
        return self._area >= RECTANGULAR * box


def _by_distinctness(joints: Sequence[Joint]) -> list[Joint]:
    """Return joints, those first that tell most and more than others that take the same sides."""
    best: dict[tuple[int, int, int], list[float]] = {}
    for joint in joints:
        for side in joint.sides:
            best[side] = sorted([*best.get(side, ()), joint.bits])[-2:]

    def rank(joint: Joint) -> tuple[float, ...]:
        rivals = [
            tops[-1] if tops[-1] > joint.bits else tops[0]
            for tops in (best[side] for side in joint.sides)
            if len(tops) > 1
        ]
        ahead = joint.bits - max(rivals, default=-math.inf)
        return (-round(joint.bits + min(max(ahead, -MOST_AHEAD), MOST_AHEAD), 2), *joint.rank)

    return sorted(joints, key=rank)


def smallest_box(outlines: Sequence[shapely.Geometry]) -> tuple[float, float]:
    """Return the area of the smallest box round outlines and the turn (radians) that lays it upright.

    It lies along an edge of the convex hull (Freeman and Shapira 1975).
    """
    hull = shapely.get_coordinates(shapely.convex_hull(shapely.geometrycollections(outlines)))
    step = np.diff(hull, axis=0)
    turns = -directions(step[:, 0], step[:, 1])
    cosine, sine = (part[:, None] for part in cosines_and_sines(turns))
    x, y = hull.T
    areas = np.ptp(cosine * x - sine * y, axis=1) * np.ptp(sine * x + cosine * y, axis=1)
    best = int(np.round(areas, 3).argmin())
    return float(areas[best]), float(turns[best])
