"""Joints: runs of outline that two clusters of pieces have in common, and how much they tell.

Two pieces that were neighbours have a run of outline in common. How telling a run is depends on how many
lengths, angles and curves agree in it and how closely, and on how many other runs there are that could agree
by chance. Where three pieces meet, a joint of two may tell too little by itself and yet leave a notch that a
third one fits into on both sides: that tells enough.
"""

import math
from collections.abc import Iterator, Mapping, Sequence, Set
from dataclasses import dataclass

import numpy as np

from peekpaper.papers.paper import Direction
from peekpaper.plan.bodies import Floats, Indices
from peekpaper.plan.cluster import Cluster, Course, Match, Place, Spot, best_place, match_of
from peekpaper.plan.sides import CURVED_MM, SAMPLES, Exactness, Side
from peekpaper.steady import hypot

STRAIGHT_ON, CURVED_ON = 0.12, 0.6
"""How far (radians) two sides may turn where they go on as one: straight sides and curved ones."""
LEAST_NOTCH = 0.2
STRETCHED = 0.006
"""By what part the length of a curved side may be off where outlines are not exact."""
USUAL = 3.3
"""How many usual errors the largest error is."""
NEAR_MM, NEAR_PART, NEAR_ANGLE = 1.0, 0.08, 0.1
"""How far away lengths (and as a part of the length) and angles lie that tell how many are alike."""
LEAST_LIKELY = 1e-3
PAIRS_AT_ONCE = 400
MOST_WEAK = 600
"""How many joints that tell too little by themselves are looked at with a third cluster."""
FRAME_BITS = 6.0
"""How much less a joint tells that may lay the whole's own sides together."""
DOUBT_BITS = 8.0
"""How much less sides tell that were joined before when nothing else bore it out."""
MOST_ON = 12
"""How many sides may go on as one."""

Courses = Mapping[Spot, Side | Course]
Pair = tuple[int, int]


@dataclass(frozen=True, slots=True)
class SideTable:
    """The sides of all clusters, and sides that go on as one, in arrays.

    Side k begins at vertex `begin[k]` and ends at `end[k]`. `angle` and `angle_off` belong to vertices.
    """

    spots: tuple[Spot, ...]
    length: Floats
    forward: Floats
    backward: Floats
    bulge: Floats
    begin: Indices
    end: Indices
    owner: Indices
    angle: Floats
    angle_off: Floats

    def __len__(self) -> int:
        return len(self.length)


@dataclass(frozen=True, slots=True)
class Joint:
    """A run that two clusters have in common: its pairs of spots, and what it tells in bits above chance."""

    bits: float
    length: float
    run: tuple[tuple[Spot, Spot], ...]

    @property
    def clusters(self) -> tuple[int, int]:
        """The numbers of the two clusters."""
        return self.run[0][0].cluster, self.run[0][1].cluster

    @property
    def sides(self) -> set[tuple[int, int, int]]:
        """The sides that it takes, as cluster, ring and place in the ring; those past a ring's end too."""
        return {
            (spot.cluster, spot.ring, spot.first + step)
            for pair in self.run
            for spot in pair
            for step in range(spot.count)
        }

    @property
    def rank(self) -> tuple[float, float, int, int]:
        """What to sort joints by, the most telling first."""
        return -round(self.bits, 2), -round(self.length, 2), *self.clusters


def courses_of(number: int, cluster: Cluster, exactness: Exactness) -> Courses:
    """Return the free sides of cluster `number`, and those that go on as one, by where they are."""
    courses: dict[Spot, Side | Course] = {}
    for place, ring in enumerate(cluster.rings):
        for first, side in enumerate(ring):
            courses[Spot(number, place, first, 1)] = side
            for count in range(2, _going_on(ring, first, exactness) + 1):
                spot = Spot(number, place, first, count)
                courses[spot] = cluster.course(spot)
    return courses


def _make_table(clusters: Mapping[int, Cluster], courses: Mapping[int, Courses]) -> SideTable:
    """Return the table of all sides of clusters."""
    spots = [spot for number in clusters for spot in courses[number]]
    sides = [side for number in clusters for side in courses[number].values()]
    base: dict[tuple[int, int], int] = {}
    ring_of: list[Side] = []
    for number, cluster in clusters.items():
        for place, ring in enumerate(cluster.rings):
            base[number, place] = len(ring_of)
            ring_of += ring
    starts = [base[spot.cluster, spot.ring] for spot in spots]
    sizes = [len(clusters[spot.cluster].rings[spot.ring]) for spot in spots]
    begin = np.array([start + spot.first for start, spot in zip(starts, spots, strict=True)], np.intp)
    end = [
        start + (spot.first + spot.count) % size
        for start, spot, size in zip(starts, spots, sizes, strict=True)
    ]
    forward = np.array([side.forward for side in sides]).reshape(-1, SAMPLES, 2)
    return SideTable(
        tuple(spots),
        np.array([side.length for side in sides]),
        forward,
        np.array([side.backward for side in sides]).reshape(-1, SAMPLES, 2),
        np.abs(forward[:, :, 1]).max(axis=1),
        begin,
        np.array(end, np.intp),
        np.array([spot.cluster for spot in spots], np.intp),
        np.array([side.angle for side in ring_of]),
        np.array([side.angle_off for side in ring_of]),
    )


def _going_on(ring: Sequence[Side], first: int, exactness: Exactness) -> int:
    """Return how many sides of a ring go on as one from the first of them."""
    for count in range(1, min(MOST_ON, len(ring) - 1)):
        before, side = ring[(first + count - 1) % len(ring)], ring[(first + count) % len(ring)]
        is_curved = max(before.bulge, side.bulge) > CURVED_MM
        most = CURVED_ON if is_curved else max(side.angle_off + exactness.angle, STRAIGHT_ON)
        if abs(side.angle - np.pi) > most:
            return count
    return max(1, min(MOST_ON, len(ring) - 1))


class JointFinder:
    """Finds the joints of clusters that tell more than `margin_bits` above chance.

    Matches in `doubts` tell less than they seem to. `joints` are those found, the most telling first.
    """

    def __init__(
        self,
        clusters: Mapping[int, Cluster],
        courses: Mapping[int, Courses],
        direction: Direction,
        exactness: Exactness,
        margin_bits: float,
        *,
        doubts: Set[Match] = frozenset(),
    ) -> None:
        self.joints: list[Joint] = []
        self._clusters = clusters
        self._exactness = exactness
        self._direction = direction
        self._margin = margin_bits
        self._doubts = doubts
        table = self._table = _make_table(clusters, courses)
        count = max(len(table), 2)
        turns = 1.0 if direction is Direction.ANY else np.pi / exactness.angle
        self._pair_bits = math.log2(max(count**2 / 2 / turns, 1.0))
        self._notch_bits = math.log2(max(count**3 / 6 / turns**2, 1.0))
        self._least_room = float(table.angle.min()) - exactness.angle if len(table.angle) else 0.0
        self._typical = max(float(np.median(table.length)), 1.0) if len(table) else 1.0
        ordered = np.sort(table.length)
        self._alike = _count_near(ordered, table.length, np.full(len(table), exactness.length_mm))
        window = np.maximum(NEAR_MM, NEAR_PART * table.length)
        self._density = _count_near(ordered, table.length, window) / (count * 2 * window)
        self._starting: dict[int, list[int]] = {}
        self._ending: dict[int, list[int]] = {}
        for side, (begin, end) in enumerate(zip(table.begin.tolist(), table.end.tolist(), strict=True)):
            self._starting.setdefault(begin, []).append(side)
            self._ending.setdefault(end, []).append(side)

    def search(self, ones: set[int]) -> Iterator[None]:
        """Find the joints of some clusters with all others; yields to let the caller breathe."""
        table = self._table
        if not len(table):
            return
        mine = np.flatnonzero(np.isin(table.owner, list(ones)))
        matched = self._matched(mine, np.arange(len(table)), len(ones) > 1)
        yield
        joints = []
        weak: list[tuple[Pair, float]] = []
        for looked_at, first in enumerate(matched, start=1):
            if looked_at % PAIRS_AT_ONCE == 0:
                yield
            if self._goes_on_before(first, matched):
                continue
            run, bits = self._run(first, matched)
            if run is None:
                continue
            bits -= FRAME_BITS if self._may_be_frames(run) else 0.0
            if bits >= self._pair_bits + self._margin:
                joints.append(self._joint(run, bits - self._pair_bits))
            elif len(run) == 1:
                weak.append((first, bits))
        yield
        weak = sorted(weak, key=lambda pair: (-round(pair[1], 2), pair[0]))[:MOST_WEAK]
        joints += self._with_notches(weak)
        self.joints = sorted(joints, key=lambda joint: joint.rank)

    def _matched(self, mine: Indices, others: Indices, each_once: bool) -> dict[Pair, float]:
        """Return the pairs of sides that run alike, and how far (mm) they are off each other."""
        table, exactness = self._table, self._exactness
        counts = np.array([spot.count for spot in table.spots], float)
        off = exactness.length_mm * np.sqrt(np.maximum(counts[mine][:, None], counts[others][None, :]))
        if exactness.plain_mm is not None:
            off += STRETCHED * (table.length * (table.bulge > CURVED_MM))[mine][:, None]
        near = np.abs(table.length[mine][:, None] - table.length[others][None, :]) < off
        near &= table.owner[mine][:, None] != table.owner[others][None, :]
        if each_once:
            near &= table.owner[mine][:, None] < table.owner[others][None, :]
        a, b = np.nonzero(near)
        a, b = mine[a], others[b]
        off = self._off(a, b)
        alike = off < exactness.curve_mm
        pairs = zip(a[alike].tolist(), b[alike].tolist(), strict=True)
        return dict(zip(pairs, off[alike].tolist(), strict=True))

    def _off(self, a: Indices, b: Indices) -> Floats:
        table = self._table
        off: Floats = hypot(*np.moveaxis(table.forward[a] - table.backward[b], -1, 0)).max(axis=1)
        return off

    def _angle_off(self, one: int, other: int) -> float:
        table = self._table
        return float(table.angle_off[one] + table.angle_off[other]) + self._exactness.angle

    def _closes(self, one: int, other: int) -> bool:
        """Tell whether the corners at two vertices leave no room between them."""
        together = float(self._table.angle[one] + self._table.angle[other])
        return abs(together - 2 * np.pi) < self._angle_off(one, other)

    def _goes_on_before(self, pair: Pair, matched: Mapping[Pair, float]) -> bool:
        table = self._table
        begin, end = int(table.begin[pair[0]]), int(table.end[pair[1]])
        return self._closes(begin, end) and any(
            (one, other) in matched for one in self._ending[begin] for other in self._starting[end]
        )

    def _run(self, first: Pair, matched: Mapping[Pair, float]) -> tuple[list[Pair] | None, float]:
        """Return the run that begins with a pair of sides and how telling it is; None where corners clash."""
        table = self._table
        one, other = first
        begin, end = int(table.begin[one]), int(table.end[other])
        if self._clash(begin, end):
            return None, 0.0
        bits = self._end_bits(begin, end)
        run = [first]
        passed = {begin}
        while True:
            bits += self._side_bits(one, other, matched[one, other])
            begin, end = int(table.end[one]), int(table.begin[other])
            if self._clash(begin, end):
                return None, 0.0
            if begin in passed:
                return run, bits
            passed.add(begin)
            bits += self._end_bits(begin, end)
            if not self._closes(begin, end):
                return run, bits
            following = [
                (one, other)
                for one in self._starting[begin]
                for other in self._ending[end]
                if (one, other) in matched
            ]
            if not following:
                return run, bits
            one, other = max(following, key=lambda pair: float(table.length[pair[0]]))
            run.append((one, other))

    def _may_be_frames(self, run: Sequence[Pair]) -> bool:
        """Tell whether a run has right angles at both ends on both sides, as the whole's own sides have."""
        table, most = self._table, self._exactness.angle
        (first, met), (last, back) = run[0], run[-1]
        corners = (table.begin[first], table.end[met], table.end[last], table.begin[back])
        return all(
            abs(float(table.angle[corner]) - np.pi / 2) < most + float(table.angle_off[corner])
            for corner in corners
        )

    def _clash(self, one: int, other: int) -> bool:
        """Tell whether the corners at two vertices overlap, or leave a notch that no corner fits into."""
        room = 2 * np.pi - float(self._table.angle[one] + self._table.angle[other])
        off = self._angle_off(one, other)
        return room < -off or off < room < self._least_room - off

    def _is_doubtful(self, one: int, other: int) -> bool:
        if not self._doubts:
            return False
        spots = (self._table.spots[one], self._table.spots[other])
        marks = (self._clusters[spot.cluster].mark(spot) for spot in spots)
        return match_of(*marks) in self._doubts

    def _side_bits(self, one: int, other: int, off: float) -> float:
        bits = self._plain_side_bits(one, other, off)
        return bits - DOUBT_BITS if self._is_doubtful(one, other) else bits

    def _plain_side_bits(self, one: int, other: int, off: float) -> float:
        table, exactness = self._table, self._exactness
        gap = abs(float(table.length[one] - table.length[other]))
        bulge = float(table.bulge[one])
        curve = math.log2(bulge / max(off, exactness.least_mm)) if bulge > CURVED_MM else 0.0
        if exactness.plain_mm is None:
            bits = math.log2(self._typical / max(gap, exactness.least_mm))
            return bits - math.log2(max(1, int(self._alike[one]) - 2)) + curve
        count = max(table.spots[one].count, table.spots[other].count)
        usual = exactness.length_mm * math.sqrt(count) / USUAL
        return _bits(gap, usual, float(self._density[one])) + curve

    def _end_bits(self, one: int, other: int) -> float:
        """Return how telling the corners at a run's end are, which open to `together`.

        They tell something where they leave no room, or where the outlines go straight on past them.
        """
        table = self._table
        together = float(table.angle[one] + table.angle[other])
        off = min(abs(together - 2 * np.pi), abs(together - np.pi))
        most = self._angle_off(one, other)
        return 0.0 if off > most else self._angle_bits(float(table.angle[one]), together, off, most)

    def _angle_bits(self, angle: float, together: float, off: float, most: float) -> float:
        table, exactness = self._table, self._exactness
        apart = np.abs(table.angle - (together - angle))
        if exactness.plain_mm is None:
            rarity = len(table.angle) / max(1, int((apart < most).sum()))
            return min(math.log2(np.pi / max(off, exactness.least_angle)), 2.0 * math.log2(rarity))
        window = max(most, NEAR_ANGLE)
        near = max(1, int((apart < window).sum()))
        return _bits(off, most / USUAL, near / (len(table.angle) * 2 * window))

    def _with_notches(self, weak: Sequence[tuple[Pair, float]]) -> Iterator[Joint]:
        """Yield joints that tell little by themselves, but with a third cluster in the notch at an end."""
        if not weak:
            return
        table, exactness = self._table, self._exactness
        notches: list[tuple[int, int, int, float, float]] = []
        for number, ((a, b), _) in enumerate(weak):
            ends = (
                (int(table.begin[a]), int(table.end[b]), True),
                (int(table.end[a]), int(table.begin[b]), False),
            )
            for one, other, at_start in ends:
                room = float(2 * np.pi - table.angle[one] - table.angle[other])
                if room < LEAST_NOTCH:
                    continue
                coming = self._ending[one] if at_start else self._ending[other]
                going = self._starting[other] if at_start else self._starting[one]
                off = self._angle_off(one, other)
                notches += [(number, u, w, room, off) for u in coming for w in going]
        if not notches:
            return
        of_pair, u, w = (np.array([notch[k] for notch in notches], np.intp) for k in range(3))
        rooms, offs = (np.array([notch[k] for notch in notches]) for k in (3, 4))
        singles = np.flatnonzero([spot.count == 1 for spot in table.spots])
        ending_at = {int(table.end[side]): int(side) for side in singles}
        corner = singles
        before = np.array([ending_at[int(table.begin[side])] for side in corner], np.intp)
        angle, angle_off = table.angle[table.begin[corner]], table.angle_off[table.begin[corner]]
        fits = np.abs(angle[None, :] - rooms[:, None]) < offs[:, None] + angle_off[None, :]
        fits &= np.abs(table.length[u][:, None] - table.length[corner][None, :]) < exactness.length_mm
        fits &= np.abs(table.length[w][:, None] - table.length[before][None, :]) < exactness.length_mm
        a_owner = np.array([table.owner[weak[k][0][0]] for k in of_pair.tolist()])
        b_owner = np.array([table.owner[weak[k][0][1]] for k in of_pair.tolist()])
        fits &= table.owner[corner][None, :] != a_owner[:, None]
        fits &= table.owner[corner][None, :] != b_owner[:, None]
        notch, c = np.nonzero(fits)
        if not len(notch):
            return
        off_u, off_w = self._off(u[notch], corner[c]), self._off(w[notch], before[c])
        alike = (off_u < exactness.curve_mm) & (off_w < exactness.curve_mm)
        best: dict[int, float] = {}
        for k in np.flatnonzero(alike).tolist():
            n, third = int(notch[k]), int(c[k])
            most = float(offs[n] + angle_off[third])
            gap = abs(float(angle[third] - rooms[n]))
            bits = self._side_bits(int(u[n]), int(corner[third]), float(off_u[k]))
            bits += self._side_bits(int(w[n]), int(before[third]), float(off_w[k]))
            bits += self._angle_bits(0.0, float(rooms[n]), gap, most)
            pair = int(of_pair[n])
            best[pair] = max(best.get(pair, 0.0), bits)
        for pair, more in best.items():
            sides, bits = weak[pair]
            above = bits + more - self._notch_bits
            if above >= self._margin:
                yield self._joint([sides], above)

    def _joint(self, run: Sequence[Pair], bits: float) -> Joint:
        table = self._table
        length = float(sum(table.length[one] for one, _ in run))
        return Joint(bits, length, tuple((table.spots[one], table.spots[other]) for one, other in run))


def place_of(
    joint: Joint, clusters: Mapping[int, Cluster], direction: Direction, exactness: Exactness
) -> Place | None:
    """Return where a joint's second cluster goes so that the run's points meet best.

    None where the paper's direction does not allow that turn.
    """
    goal = np.concatenate([_points(clusters, one) for one, _ in joint.run])
    points = np.concatenate([_points(clusters, other)[::-1] for _, other in joint.run])
    place = best_place(points, goal, None)
    period = {Direction.ANY: 0.0, Direction.TWO_WAY: np.pi, Direction.ONE_WAY: 2 * np.pi}[direction]
    if not period:
        return place
    whole = round(place[0] / period) * period
    if abs(place[0] - whole) > exactness.angle + exactness.noise_mm / max(joint.length, 0.1):
        return None
    return best_place(points, goal, whole)


def _points(clusters: Mapping[int, Cluster], spot: Spot) -> Floats:
    """Return points along the sides at a spot, where they lie in their cluster."""
    course = clusters[spot.cluster].course(spot)
    return clusters[spot.cluster].at(course.pieces, course.points)


def _count_near(ordered: Floats, values: Floats, window: Floats) -> Indices:
    """Return how many of all values (in order) lie within a window round each value."""
    after = np.searchsorted(ordered, values + window)
    near: Indices = np.maximum(after - np.searchsorted(ordered, values - window), 1)
    return near


def _bits(off: float, usual: float, density: float) -> float:
    """Return how telling it is, in bits, that two measures differ by `off`.

    Measures of one and the same differ by a normal error with deviation `usual`; others lie there with this
    density.
    """
    likely = math.exp(-((off / usual) ** 2) / 2) / (math.sqrt(2 * math.pi) * usual)
    return math.log2(max(likely / density, LEAST_LIKELY))
