"""Joins pieces whose outlines match so well that it can't be chance, as parts of one cut-up rectangle do.

Two pieces that were neighbours have a run of outline in common. How telling a run is depends on how many
lengths, angles and curves agree in it and how closely; the most telling joint of all is made first, then the
next, as torn pages are put together (compare Kong and Kimia 2001, "On solving 2D and 3D puzzles using curve
matching").
"""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.grid import grown, one_grown
from peekpaper.papers.paper import Direction
from peekpaper.plan.kit import SAME_ANGLE, SAME_MM
from peekpaper.plan.sections import Sections, make_sections
from peekpaper.steady import cosines_and_sines, directions, hypot, turned

SAME_CURVE_MM = 0.1
CURVED_MM = 0.4
LEAST_MM, LEAST_ANGLE = 0.0002, 0.00005
"""Agreement closer than this tells no more."""
CRACK_MM = 0.03
RECTANGULAR = 0.9
"""What part of its smallest box the whole must fill: halves that are alike join in many ways."""
MITRE = 10.0
JOINTS_AT_ONCE = 4

Place = tuple[float, float, float]
"""A turn in radians and then a move along x and y, in mm."""


@dataclass(frozen=True, slots=True)
class Cluster:
    """Pieces joined to one outline; `places` tells where each piece lies in it, by index."""

    outline: Polygon
    places: Mapping[int, Place]


@dataclass(frozen=True, slots=True)
class Joint:
    """A run that two clusters have in common, how telling it is in bits, and where it puts the second."""

    bits: float
    length: float
    one: int
    other: int
    place: Place


class Joining:
    """Joins pieces step by step; `clusters` are what there is so far, `is_done` when no joint is left.

    A joint is made where it tells `margin_bits` more than the best of all pairs of runs does by chance.
    `slack` is how many times the usual tolerance lengths and angles may be off.
    """

    def __init__(
        self, outlines: Sequence[Polygon], direction: Direction, margin_bits: float, slack: float
    ) -> None:
        self._same_mm = SAME_MM * slack
        self._same_angle = SAME_ANGLE * slack
        self._same_curve = SAME_CURVE_MM * slack
        self.clusters: dict[int, Cluster] = {
            index: Cluster(outline, {index: (0.0, 0.0, 0.0)}) for index, outline in enumerate(outlines)
        }
        self.is_done = False
        self._direction = direction
        self._next = len(outlines)
        self._sections = make_sections(outlines)
        self._owner = self._sections.owner.copy()
        self._joints: list[Joint] | None = None
        pairs = max(len(self._sections), 2) ** 2 / 2
        turns = 1 if direction is Direction.ANY else round(np.pi / self._same_angle)
        self._least_bits = math.log2(max(pairs / turns, 1.0)) + margin_bits

    def round(self) -> Iterator[None]:
        """Make some joints; yields to let the caller breathe."""
        if self._joints is None:
            yield
            self._joints = self._find(self._sections, self._owner, set(self.clusters))
        for _ in range(JOINTS_AT_ONCE):
            if not self._joints:
                self.is_done = True
                return
            self._make(self._joints.pop(0))
            yield

    def _make(self, joint: Joint) -> None:
        one, other = self.clusters[joint.one], self.clusters[joint.other]
        assert self._joints is not None
        moved = _moved(other.outline, joint.place)
        overlap = shapely.intersection(one.outline, moved).area
        if overlap > self._same_mm * joint.length:
            return
        both = np.array([one.outline, moved], dtype=object)
        wide = shapely.union_all(grown(both, CRACK_MM, 8, join_style="mitre", mitre_limit=MITRE))
        joined = one_grown(wide, -CRACK_MM, join_style="mitre", mitre_limit=MITRE)
        if not isinstance(joined, Polygon):
            return
        if len(self.clusters) == 2 and joined.area < RECTANGULAR * smallest_box(joined)[0]:
            return
        places = dict(one.places)
        places |= {piece: place_after(place, joint.place) for piece, place in other.places.items()}
        del self.clusters[joint.one], self.clusters[joint.other]
        number, self._next = self._next, self._next + 1
        self.clusters[number] = Cluster(joined, places)
        gone = {joint.one, joint.other}
        kept = [left for left in self._joints if left.one not in gone and left.other not in gone]
        alive = ~np.isin(self._owner, list(gone))
        self._sections = _together(_chosen(self._sections, alive), make_sections([joined]))
        self._owner = np.concatenate(
            [self._owner[alive], np.full(len(self._sections) - int(alive.sum()), number)]
        )
        found = self._find(self._sections, self._owner, {number})
        self._joints = sorted([*kept, *found], key=_rank)

    def _find(self, sections: Sections, owner: np.ndarray, ones: set[int]) -> list[Joint]:
        """Return the telling joints of some clusters with all others, the most telling first."""
        if not len(sections):
            return []
        mine = np.nonzero(np.isin(owner, list(ones)))[0]
        near = np.abs(sections.length[mine][:, None] - sections.length[None, :]) < self._same_mm
        near &= owner[mine][:, None] != owner[None, :]
        if len(ones) > 1:
            near &= owner[mine][:, None] < owner[None, :]
        a, b = np.nonzero(near)
        a = mine[a]
        off = hypot(*np.moveaxis(sections.forward[a] - sections.backward[b], -1, 0)).max(axis=1)
        alike = off < self._same_curve
        pairs = zip(a[alike].tolist(), b[alike].tolist(), strict=True)
        matched = dict(zip(pairs, off[alike].tolist(), strict=True))
        same_length = np.searchsorted(
            np.sort(sections.length), sections.length + self._same_mm
        ) - np.searchsorted(np.sort(sections.length), sections.length - self._same_mm)
        joints = [
            joint
            for first in self._beginnings(sections, matched)
            if (joint := self._joint(sections, owner, matched, first, same_length)) is not None
        ]
        return sorted(joints, key=_rank)

    def _joint(
        self,
        sections: Sections,
        owner: np.ndarray,
        matched: Mapping[tuple[int, int], float],
        first: tuple[int, int],
        same_length: np.ndarray,
    ) -> Joint | None:
        """Return the joint of the run that begins with a pair of sections, None where it tells too little."""
        one, other = first
        start = float(sections.angle[one] + sections.angle[sections.after[other]])
        if start > 2 * np.pi + self._same_angle:
            return None
        bits = self._end_bits(sections, start, float(sections.angle[one]))
        run = [first]
        while True:
            bits += self._section_bits(sections, one, other, matched[one, other], int(same_length[one]))
            following = (int(sections.after[one]), int(sections.before[other]))
            angle = float(sections.angle[following[0]] + sections.angle[other])
            if angle > 2 * np.pi + self._same_angle:
                return None
            if following == first:
                break
            bits += self._end_bits(sections, angle, float(sections.angle[following[0]]))
            if following not in matched or not self._closes(sections, following[0], other):
                break
            run.append(following)
            one, other = following
        if bits < self._least_bits:
            return None
        place = self._place(sections, run)
        if place is None:
            return None
        length = float(sum(sections.length[pair[0]] for pair in run))
        return Joint(bits, length, int(owner[first[0]]), int(owner[first[1]]), place)

    def _section_bits(self, sections: Sections, one: int, other: int, off: float, alike: int) -> float:
        typical = float(np.median(sections.length))
        gap = abs(float(sections.length[one] - sections.length[other]))
        bits = math.log2(max(typical, 1.0) / max(gap, LEAST_MM)) - math.log2(max(1, alike - 2))
        bulge = float(np.abs(sections.forward[one, :, 1]).max())
        return bits + (math.log2(bulge / max(off, LEAST_MM)) if bulge > CURVED_MM else 0.0)

    def _place(self, sections: Sections, run: Sequence[tuple[int, int]]) -> Place | None:
        """Return where the second cluster goes so that the run's points meet best (Kabsch 1976)."""
        goal = np.concatenate([sections.points[one] for one, _ in run])
        points = np.concatenate([sections.points[other][::-1] for _, other in run])
        middle, goal_middle = points.mean(axis=0), goal.mean(axis=0)
        u, v = points - middle, goal - goal_middle
        across = (u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]).sum(keepdims=True)
        turn = float(directions((u * v).sum().reshape(1), across)[0])
        period = {Direction.ANY: 0.0, Direction.TWO_WAY: np.pi, Direction.ONE_WAY: 2 * np.pi}[self._direction]
        if period:
            whole = round(turn / period) * period
            if abs(turn - whole) > self._same_angle:
                return None
            turn = whole
        x, y = goal_middle - turned(middle[None, :], turn)[0]
        return turn, float(x), float(y)

    def _beginnings(
        self, sections: Sections, matched: Mapping[tuple[int, int], float]
    ) -> list[tuple[int, int]]:
        """Return the pairs of sections with which runs begin, any one where a run goes all the way round."""
        beginnings, seen = [], set()
        for pair in matched:
            if pair in seen:
                continue
            first = pair
            while True:
                before = (int(sections.before[first[0]]), int(sections.after[first[1]]))
                if before not in matched or before == pair or not self._closes(sections, first[0], before[1]):
                    break
                first = before
            beginnings.append(first)
            there = first
            while there in matched and there not in seen:
                seen.add(there)
                following = (int(sections.after[there[0]]), int(sections.before[there[1]]))
                if not self._closes(sections, following[0], there[1]):
                    break
                there = following
        return beginnings

    def _closes(self, sections: Sections, one: int, other: int) -> bool:
        """Tell whether the corners at which two sections begin leave no room between them."""
        return abs(float(sections.angle[one] + sections.angle[other]) - 2 * np.pi) < self._same_angle

    def _end_bits(self, sections: Sections, together: float, angle: float) -> float:
        """Return how telling the corners at a section's end are, which open to `together`.

        They tell something where they leave no room, or where the outlines go straight on past them.
        """
        closing, straight = abs(together - 2 * np.pi), abs(together - np.pi)
        if min(closing, straight) > self._same_angle:
            return 0.0
        fitting = np.abs(sections.angle - (together - angle)) < self._same_angle
        rarity = len(sections) / max(1, int(fitting.sum()))
        return min(math.log2(np.pi / max(min(closing, straight), LEAST_ANGLE)), 2.0 * math.log2(rarity))


def smallest_box(outline: Polygon) -> tuple[float, float]:
    """Return the area of the smallest box round an outline and the turn (radians) that lays it upright.

    It lies along an edge of the convex hull (Freeman and Shapira 1975).
    """
    hull = shapely.get_coordinates(shapely.convex_hull(outline))
    step = np.diff(hull, axis=0)
    turns = -directions(step[:, 0], step[:, 1])
    cosine, sine = (part[:, None] for part in cosines_and_sines(turns))
    x, y = hull.T
    areas = np.ptp(cosine * x - sine * y, axis=1) * np.ptp(sine * x + cosine * y, axis=1)
    best = int(np.round(areas, 3).argmin())
    return float(areas[best]), float(turns[best])


def _rank(joint: Joint) -> tuple[float, float, int, int]:
    return -round(joint.bits, 2), -round(joint.length, 2), joint.one, joint.other


def _moved(outline: Polygon, place: Place) -> Polygon:
    turn, x, y = place
    moved: Polygon = shapely.transform(outline, lambda nodes: turned(nodes, turn) + np.array([x, y]))
    return moved


def place_after(first: Place, then: Place) -> Place:
    """Return the place that two places make, one after the other."""
    x, y = turned(np.array([[first[1], first[2]]]), then[0])[0]
    return first[0] + then[0], float(x) + then[1], float(y) + then[2]


def _chosen(sections: Sections, chosen: np.ndarray) -> Sections:
    """Return some of the sections; all sections of a ring must be chosen or none."""
    number = np.cumsum(chosen) - 1
    return Sections(
        sections.angle[chosen],
        sections.length[chosen],
        sections.points[chosen],
        sections.forward[chosen],
        sections.backward[chosen],
        number[sections.before[chosen]],
        number[sections.after[chosen]],
        sections.owner[chosen],
    )


def _together(one: Sections, other: Sections) -> Sections:
    shift = len(one)
    return Sections(
        np.concatenate([one.angle, other.angle]),
        np.concatenate([one.length, other.length]),
        np.concatenate([one.points, other.points]),
        np.concatenate([one.forward, other.forward]),
        np.concatenate([one.backward, other.backward]),
        np.concatenate([one.before, other.before + shift]),
        np.concatenate([one.after, other.after + shift]),
        np.concatenate([one.owner, other.owner]),
    )
