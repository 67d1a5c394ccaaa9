"""Pieces joined along their sides: where each lies, and the rings of sides that are still free."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.plan.bodies import Floats, Indices
from peekpaper.plan.sides import (
    SAMPLES,
    Exactness,
    Side,
    laid_along_axis,
    lengths_along,
    make_side,
    points_at,
)
from peekpaper.steady import cosines_and_sines, directions, turned

Place = tuple[float, float, float]
"""A turn in radians and then a move along x and y, in mm."""
UNMOVED: Place = (0.0, 0.0, 0.0)
MARK_MM = 1e-3


@dataclass(frozen=True, slots=True)
class Spot:
    """Where sides that go on as one are: in which ring of which cluster, the first there and how many."""

    cluster: int
    ring: int
    first: int
    count: int


@dataclass(frozen=True, slots=True)
class Course:
    """Points evenly spread along sides that go on as one, and of which piece each is.

    `points` (SAMPLES, 2) are about the pieces' own origins; `forward` and `backward` see Side.
    """

    length: float
    pieces: Indices
    points: Floats
    forward: Floats
    backward: Floats


Mark = tuple[int, int, int, int, int, int]
"""A side, or sides that go on as one, by the pieces and nodes where they begin and end."""
Match = tuple[Mark, Mark]


@dataclass(frozen=True, slots=True)
class Bond:
    """Points of two pieces that ought to meet, about their own origins; piece by piece for each point.

    `match` tells which sides were laid together to join; None where they came together by themselves.
    """

    one: Indices
    one_points: Floats
    other: Indices
    other_points: Floats
    match: Match | None = None


@dataclass(frozen=True, slots=True)
class Cluster:
    """Pieces with their places, by index; `rings` of free sides that run with the cluster on the left."""

    places: Mapping[int, Place]
    rings: tuple[tuple[Side, ...], ...]
    bonds: tuple[Bond, ...] = ()

    def sides(self, spot: Spot) -> list[Side]:
        """Return the sides at a spot."""
        ring = self.rings[spot.ring]
        return [ring[(spot.first + step) % len(ring)] for step in range(spot.count)]

    def mark(self, spot: Spot) -> Mark:
        """Return what the sides at a spot are known by, whatever cluster they belong to."""
        sides = self.sides(spot)
        ends = ((sides[0].piece, sides[0].nodes[0]), (sides[-1].piece, sides[-1].nodes[-1]))
        (first, (x, y)), (last, (u, v)) = ((piece, np.rint(node / MARK_MM).tolist()) for piece, node in ends)
        return first, int(x), int(y), last, int(u), int(v)

    def course(self, spot: Spot) -> Course:
        """Return what the sides at a spot are like as one."""
        sides = self.sides(spot)
        if len(sides) == 1:
            side = sides[0]
            pieces = np.full(SAMPLES, side.piece)
            return Course(side.length, pieces, side.points, side.forward, side.backward)
        lengths = np.array([side.length for side in sides])
        ends = np.cumsum(lengths)
        at = np.linspace(0.0, float(ends[-1]), SAMPLES)
        which = np.minimum(np.searchsorted(ends, at), len(sides) - 1)
        points = np.empty((SAMPLES, 2))
        for number, side in enumerate(sides):
            own = which == number
            start = float(ends[number] - lengths[number])
            points[own] = points_at(side.nodes, lengths_along(side.nodes), at[own] - start)
        pieces = np.array([side.piece for side in sides], np.intp)[which]
        there = self.at(pieces, points)
        return Course(float(ends[-1]), pieces, points, laid_along_axis(there), laid_along_axis(there[::-1]))

    def at(self, pieces: Indices, points: Floats) -> Floats:
        """Return where points (n, 2) of pieces lie in the cluster."""
        which, owner = np.unique(pieces, return_inverse=True)
        places = np.array([self.places[piece] for piece in which.tolist()])[owner]
        cosine, sine = cosines_and_sines(places[:, 0])
        x, y = points.T
        return np.column_stack([cosine * x - sine * y + places[:, 1], sine * x + cosine * y + places[:, 2]])


def single(piece: int, rings: Sequence[Sequence[Side]]) -> Cluster:
    """Return the cluster of one piece."""
    return Cluster({piece: UNMOVED}, tuple(tuple(ring) for ring in rings))


def joined(
    one: Cluster, other: Cluster, run: Sequence[tuple[Spot, Spot]], place: Place, exactness: Exactness
) -> Cluster:
    """Return two clusters joined along a run, the other one moved to `place`."""
    places = {**one.places, **{piece: place_after(old, place) for piece, old in other.places.items()}}
    bonds = list(one.bonds) + list(other.bonds)
    for spot, met in run:
        course, back = one.course(spot), other.course(met)
        match = match_of(one.mark(spot), other.mark(met))
        bonds.append(Bond(course.pieces, course.points, back.pieces[::-1], back.points[::-1], match))
    kept = [ring for number, ring in enumerate(one.rings) if number != run[0][0].ring]
    kept += [ring for number, ring in enumerate(other.rings) if number != run[0][1].ring]
    ring = _spliced(one.rings[run[0][0].ring], other.rings[run[0][1].ring], run)
    loose = Cluster(places, (), tuple(bonds))
    tidy, more = _zipped(loose, ring, exactness)
    rings = (*((tuple(tidy),) if tidy else ()), *kept)
    return replace(loose, rings=rings, bonds=(*loose.bonds, *more))


def match_of(one: Mark, other: Mark) -> Match:
    """Return the match of two sides, whichever comes first."""
    return min((one, other), (other, one))


def settled(cluster: Cluster, sweeps: int, turns_freely: bool) -> Cluster:
    """Return a cluster with its pieces moved so that their bonds are met better.

    In each sweep all pieces at once go to where their points meet the middles of the bonds best.
    """
    pieces = np.array(sorted(cluster.places), np.intp)
    places = np.array([cluster.places[piece] for piece in pieces.tolist()])
    one = np.searchsorted(pieces, np.concatenate([bond.one for bond in cluster.bonds]))
    other = np.searchsorted(pieces, np.concatenate([bond.other for bond in cluster.bonds]))
    owner = np.concatenate([one, other])
    own = np.concatenate(
        [bond.one_points for bond in cluster.bonds] + [bond.other_points for bond in cluster.bonds]
    )
    count = np.bincount(owner, minlength=len(pieces)).astype(float)

    def mean(values: Floats) -> Floats:
        means: Floats = np.bincount(owner, values, len(pieces)) / count
        return means

    x, y = own.T
    middle_x, middle_y = mean(x), mean(y)
    u, v = x - middle_x[owner], y - middle_y[owner]
    for _ in range(sweeps):
        cosine, sine = cosines_and_sines(places[:, 0])
        there_x = cosine[owner] * x - sine[owner] * y + places[owner, 1]
        there_y = sine[owner] * x + cosine[owner] * y + places[owner, 2]
        goal_x = (there_x + np.roll(there_x, len(one))) / 2
        goal_y = (there_y + np.roll(there_y, len(one))) / 2
        if turns_freely:
            to_x, to_y = goal_x - mean(goal_x)[owner], goal_y - mean(goal_y)[owner]
            places[:, 0] = directions(mean(u * to_x + v * to_y), mean(u * to_y - v * to_x))
            cosine, sine = cosines_and_sines(places[:, 0])
        places[:, 1] = mean(goal_x) - (cosine * middle_x - sine * middle_y)
        places[:, 2] = mean(goal_y) - (sine * middle_x + cosine * middle_y)
    moved = {
        piece: (turn, x, y) for piece, (turn, x, y) in zip(pieces.tolist(), places.tolist(), strict=True)
    }
    return replace(cluster, places=moved)


def best_place(points: Floats, goal: Floats, turn: float | None) -> Place:
    """Return the place at which points (n, 2) meet their goals best (Kabsch 1976), `turn` given or not."""
    middle, goal_middle = points.mean(axis=0), goal.mean(axis=0)
    if turn is None:
        u, v = points - middle, goal - goal_middle
        across = (u[:, 0] * v[:, 1] - u[:, 1] * v[:, 0]).sum(keepdims=True)
        turn = float(directions((u * v).sum().reshape(1), across)[0])
    x, y = goal_middle - turned(middle[None, :], turn)[0]
    return turn, float(x), float(y)


def placed(points: Floats, place: Place) -> Floats:
    """Return points (n, 2) as they lie at a place."""
    turn, x, y = place
    there: Floats = turned(points, turn) + np.array([x, y])
    return there


def place_after(first: Place, then: Place) -> Place:
    """Return the place that two places make, one after the other."""
    x, y = turned(np.array([[first[1], first[2]]]), then[0])[0]
    return first[0] + then[0], float(x) + then[1], float(y) + then[2]


def laid(outline: Polygon, place: Place) -> Polygon:
    """Return an outline as it lies at a place."""
    there: Polygon = shapely.transform(outline, lambda nodes: placed(nodes, place))
    return there


def _spliced(one: Sequence[Side], other: Sequence[Side], run: Sequence[tuple[Spot, Spot]]) -> list[Side]:
    """Return the ring of what two rings leave free round a run that they have in common."""
    taken = sum(spot.count for spot, _ in run)
    met = sum(spot.count for _, spot in run)
    first = run[0][0].first
    last = run[-1][1].first
    start = run[0][1].first + run[0][1].count
    rest = [one[(first + taken + step) % len(one)] for step in range(len(one) - taken)]
    back = [other[(start + step) % len(other)] for step in range(len(other) - met)]
    begin, begun = one[first], other[start % len(other)]
    ended, end = one[(first + taken) % len(one)], other[last]
    if rest and back:
        rest[0] = _opened(ended, end)
        back[0] = _opened(begun, begin)
    elif back:
        back[0] = _opened(_opened(begun, begin), end)
    elif rest:
        rest[0] = _opened(_opened(ended, end), begin)
    return rest + back


def _opened(side: Side, by: Side) -> Side:
    """Return a side whose first corner has another corner added."""
    return replace(side, angle=side.angle + by.angle, angle_off=side.angle_off + by.angle_off)


def _zipped(cluster: Cluster, ring: list[Side], exactness: Exactness) -> tuple[list[Side], list[Bond]]:
    """Return a ring without sides that lie on each other beside a corner that leaves no room, and bonds of
    those that did.
    """
    bonds: list[Bond] = []
    place = 0
    while place < len(ring) and len(ring) > 1:
        side = ring[place]
        is_closed = side.angle > 2 * np.pi - side.angle_off - exactness.angle
        tidy = _closed(cluster, ring, place, exactness) if is_closed else None
        if tidy is None:
            place += 1
        else:
            bonds.append(_bond_of(ring[place - 1], side))
            ring, place = tidy, 0
    return ([] if len(ring) < 2 else ring), bonds


def _bond_of(before: Side, side: Side) -> Bond:
    """Return the bond of two sides that lie on each other from the corner between them on."""
    shorter = min(before.length, side.length)
    at = np.linspace(0.0, shorter, SAMPLES)
    one = points_at(before.nodes, lengths_along(before.nodes), before.length - at)
    other = points_at(side.nodes, lengths_along(side.nodes), at)
    return Bond(np.full(SAMPLES, before.piece), one, np.full(SAMPLES, side.piece), other)


def _closed(cluster: Cluster, ring: list[Side], place: int, exactness: Exactness) -> list[Side] | None:
    """Return the ring with a closed corner zipped up, None where the sides beside it part."""
    before, side = ring[place - 1], ring[place]
    after = ring[(place + 1) % len(ring)]
    gap = before.length - side.length
    shorter = min(before.length, side.length)
    near = exactness.curve_mm + exactness.length_mm
    ends = []
    for part, at in ((before, before.length - shorter), (side, shorter)):
        own = points_at(part.nodes, lengths_along(part.nodes), np.array([at]))
        ends.append(placed(own, cluster.places[part.piece])[0])
    if float(np.abs(ends[0] - ends[1]).max()) > near:
        return None
    if len(ring) == 2:
        return []
    if abs(gap) < near:
        changed = {(place + 1) % len(ring): _opened(after, before)}
        gone = {place, (place - 1) % len(ring)}
    elif gap > 0:
        straight = replace(before, angle=float(np.pi), angle_off=0.0)
        changed = {
            (place - 1) % len(ring): _part(before, 0.0, gap),
            (place + 1) % len(ring): _opened(after, straight),
        }
        gone = {place}
    else:
        left = _part(side, before.length, side.length)
        changed = {place: replace(left, angle=before.angle + float(np.pi), angle_off=before.angle_off)}
        gone = {(place - 1) % len(ring)}
    return [changed.get(number, old) for number, old in enumerate(ring) if number not in gone]


def _part(side: Side, start: float, stop: float) -> Side:
    """Return the part of a side between two lengths along it."""
    along = lengths_along(side.nodes)
    ends = points_at(side.nodes, along, np.array([start, stop]))
    between = side.nodes[(along > start + 1e-6) & (along < stop - 1e-6)]
    return make_side(side.piece, np.concatenate([ends[:1], between, ends[1:]]), side.angle, side.angle_off)
