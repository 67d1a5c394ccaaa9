"""Outlines cut at their corners into sides, which are compared with the sides of other outlines."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LinearRing, Polygon

from peekpaper.plan.bodies import Floats, Indices
from peekpaper.plan.corners import without_straight_nodes
from peekpaper.steady import directions, hypot

SAMPLES = 16
FEW_NODES = 14
LONG_PART, STRAIGHT_PART = 1 / 13, 0.75
"""Sides of at least this part of an outline are long; straight-sided ones consist of them by that part."""
SLIGHT_TURN, SHALLOW_TURN = 0.01, 0.12
"""Least turn (radians) of a corner of outlines with few nodes, and between nodes that turn much less."""
LOOK_MM, ANGLE_LOOK_MM = 2.0, 4.0
"""How far along a curved outline to look for whether it turns at a node, and by how much."""
CURVED_MM = 0.4
BENT_MM = 0.02
"""How far from a straight line sides are curved, and stretches of exact outlines."""
ROUND_MM, ROUND_RADIUS_MM = 2.6, 6.0
"""The longest edges of a rounded corner, and its largest radius."""
LEAST_ROUND_TURN, MOST_ROUND_TURN = 0.35, 2.8


@dataclass(frozen=True, slots=True)
class Exactness:
    """How exactly outlines fit each other: how far lengths (mm), angles (radians) and curves (mm) may be off.

    Agreement closer than `least_mm` and `least_angle` tells no more. An angle may be off by `noise_mm` over
    the length of either side besides. Outlines with curves have corners where they turn by `corner_turn`
    (radians) at least. `plain_mm` smooths outlines; None where they are as they were cut, and
    no corner is rounded.
    """

    length_mm: float
    angle: float
    curve_mm: float
    noise_mm: float
    corner_turn: float
    least_mm: float
    least_angle: float
    plain_mm: float | None


@dataclass(frozen=True, slots=True)
class Side:
    """A side of piece `piece` that runs with its inside on the left (y taken as pointing up).

    It begins at a corner with the inner angle `angle` (radians), which may be off by `angle_off`. `nodes`
    (k, 2) are where it runs, about the piece's origin, and `points` (SAMPLES, 2) are evenly spread along it;
    `forward` are these with the first at the origin and the last on the x axis, `backward` the same the other
    way about.
    """

    piece: int
    nodes: Floats
    length: float
    angle: float
    angle_off: float
    points: Floats
    forward: Floats
    backward: Floats

    @property
    def bulge(self) -> float:
        """How far (mm) the side is from a straight line."""
        return float(np.abs(self.forward[:, 1]).max())


def make_side(piece: int, nodes: Floats, angle: float, angle_off: float) -> Side:
    """Return the side of a piece that runs along these nodes."""
    points, length = spread(nodes)
    return Side(
        piece, nodes, length, angle, angle_off, points, laid_along_axis(points), laid_along_axis(points[::-1])
    )


def make_rings(outline: Polygon, piece: int, exactness: Exactness) -> list[list[Side]]:
    """Return the sides of an outline and of its holes; rings with fewer than two corners are left out."""
    return [ring for nodes in _rings(outline, exactness) if (ring := _sides(nodes, piece, exactness))]


def spread(nodes: Floats) -> tuple[Floats, float]:
    """Return SAMPLES points evenly spread along nodes (k, 2), and the length."""
    along = lengths_along(nodes)
    return points_at(nodes, along, np.linspace(0.0, along[-1], SAMPLES)), float(along[-1])


def _rings(outline: Polygon, exactness: Exactness) -> Iterator[Floats]:
    for number, ring in enumerate((outline.exterior, *outline.interiors)):
        nodes = shapely.get_coordinates(ring)[:-1]
        if exactness.plain_mm is not None:
            sharp = _sharpened(_plain(nodes, exactness.plain_mm / 4))
            plain = _sharpened(_plain(sharp, exactness.plain_mm))
            nodes = plain if _is_straight_sided(plain) else sharp
        nodes = without_straight_nodes(nodes)
        if len(nodes) >= 3:
            yield nodes if LinearRing(nodes).is_ccw == (number == 0) else nodes[::-1]


def _is_straight_sided(nodes: Floats) -> bool:
    length = hypot(*(np.roll(nodes, -1, axis=0) - nodes).T)
    whole = float(length.sum())
    return float(length[length > LONG_PART * whole].sum()) > STRAIGHT_PART * whole


def _plain(nodes: Floats, tolerance_mm: float) -> Floats:
    """Return a ring with fewer nodes, none farther off than the tolerance; it begins at a hull's node."""
    first = int(hypot(*(nodes - nodes.mean(axis=0)).T).argmax())
    nodes = np.roll(nodes, -first, axis=0)
    ring = shapely.simplify(LinearRing(nodes), tolerance_mm, preserve_topology=False)
    plain = shapely.get_coordinates(ring)[:-1]
    return plain if len(plain) >= 3 else nodes


def _sharpened(nodes: Floats) -> Floats:
    """Return a ring with its rounded corners drawn out to where the edges beside them meet."""
    step = np.roll(nodes, -1, axis=0) - nodes
    length, direction = hypot(*step.T), directions(step[:, 0], step[:, 1])
    turn = (direction - np.roll(direction, 1) + np.pi) % (2 * np.pi) - np.pi
    is_short = length < ROUND_MM
    if is_short.all() or not is_short.any():
        return nodes
    # Begin beside a long edge, so that no run of short ones is cut in two.
    first = int(np.flatnonzero(~is_short)[0])
    nodes, step, length, turn = (np.roll(part, -first, axis=0) for part in (nodes, step, length, turn))
    goes_on = (length < ROUND_MM) & (turn * np.roll(turn, -1) > 0)
    kept: list[Floats] = []
    place = 0
    while place < len(nodes):
        run = 0
        while place + run < len(nodes) - 1 and goes_on[place + run]:
            run += 1
        corner = None
        if run >= 2 and _is_round(length, turn, place, run):
            corner = _meeting(nodes[place], step[place - 1], nodes[place + run], step[place + run])
        kept.append(nodes[place] if corner is None else corner)
        place += 1 if corner is None else run + 1
    return np.array(kept)


def _is_round(length: Floats, turn: Floats, first: int, run: int) -> bool:
    """Tell whether a run of edges rounds a corner between longer ones."""
    whole = abs(float(turn[first : first + run + 1].sum()))
    edges = length[first : first + run]
    return (
        LEAST_ROUND_TURN < whole < MOST_ROUND_TURN
        and float(edges.sum()) < ROUND_RADIUS_MM * whole
        and min(length[first - 1], length[first + run]) > 2 * float(edges.max())
    )


def _meeting(start: Floats, into: Floats, stop: Floats, out: Floats) -> Floats | None:
    """Return where an edge drawn on from `start` and one drawn back from `stop` meet, None if nowhere."""
    across = into[0] * out[1] - into[1] * out[0]
    if abs(across) < 1e-9:
        return None
    gap = stop - start
    on = float((gap[0] * out[1] - gap[1] * out[0]) / across)
    back = float((gap[0] * into[1] - gap[1] * into[0]) / across)
    met: Floats = start + on * into
    return None if on < 0 or back > 0 else met


def _sides(nodes: Floats, piece: int, exactness: Exactness) -> list[Side]:
    closed = np.concatenate([nodes, nodes[:1]])
    along = lengths_along(closed)
    corners = _corners(nodes, along, exactness)
    if len(corners) < 2:
        return []
    runs = [
        nodes[(first + np.arange((last - first - 1) % len(nodes) + 2)) % len(nodes)]
        for first, last in zip(corners.tolist(), np.roll(corners, -1).tolist(), strict=True)
    ]
    stretches = _stretches(runs) if exactness.plain_mm is None else [(run, run) for run in runs]
    most_bulge = BENT_MM if exactness.plain_mm is None else CURVED_MM
    ahead = [_looked_at(stretch, most_bulge) for stretch, _ in stretches]
    behind = [_looked_at(stretch[::-1], most_bulge) for _, stretch in stretches]
    sides = []
    for number, run in enumerate(runs):
        (point, look), (before, look_before) = ahead[number], behind[number - 1]
        into, out = run[0] - before, point - run[0]
        way = directions(np.array([into[0], out[0]]), np.array([into[1], out[1]]))
        turn = float((way[1] - way[0] + np.pi) % (2 * np.pi) - np.pi)
        off = exactness.noise_mm * (1 / max(look, 0.1) + 1 / max(look_before, 0.1))
        sides.append(make_side(piece, run, float(np.pi) - turn, off))
    return sides


def _stretches(runs: Sequence[Floats]) -> list[tuple[Floats, Floats]]:
    """Return for each side the outline from its start on, and up to its end, as far as no sharp corner is.

    How a curve is cut into sides depends on what else is on its outline, how it runs does not.
    """
    turns = np.abs([_turn_between(run, runs[number - 1]) for number, run in enumerate(runs)])
    is_sharp = turns > SHALLOW_TURN
    if is_sharp.all() or not is_sharp.any():
        return [(run, run) for run in runs]
    stretches = []
    for number in range(len(runs)):
        last = first = number
        while not is_sharp[(last + 1) % len(runs)]:
            last += 1
        while not is_sharp[first % len(runs)]:
            first -= 1
        stretches.append((_strung(runs, number, last), _strung(runs, first, number)))
    return stretches


def _strung(runs: Sequence[Floats], first: int, last: int) -> Floats:
    """Return runs as one, from the first to the last of them round the ring."""
    parts = [runs[number % len(runs)] for number in range(first, last + 1)]
    return np.concatenate([*(part[:-1] for part in parts[:-1]), parts[-1]])


def _turn_between(run: Floats, before: Floats) -> float:
    """Return how far an outline turns between two runs."""
    (into,), (out,) = np.diff(before[-2:], axis=0), np.diff(run[:2], axis=0)
    way = directions(np.array([into[0], out[0]]), np.array([into[1], out[1]]))
    return float((way[1] - way[0] + np.pi) % (2 * np.pi) - np.pi)


def _looked_at(stretch: Floats, most_bulge: float) -> tuple[Floats, float]:
    """Return the point that tells in which direction a stretch begins, and how far along it that is."""
    along = lengths_along(stretch)
    length = float(along[-1])
    bulge = float(np.abs(laid_along_axis(stretch)[:, 1]).max())
    look = length if bulge < most_bulge else min(ANGLE_LOOK_MM, length / 2)
    return points_at(stretch, along, np.array([look]))[0], look


def _corners(nodes: Floats, along: Floats, exactness: Exactness) -> Indices:
    """Return which nodes are corners."""
    step = np.roll(nodes, -1, axis=0) - nodes
    direction = directions(step[:, 0], step[:, 1])
    turn = np.abs((direction - np.roll(direction, 1) + np.pi) % (2 * np.pi) - np.pi)
    slight = np.flatnonzero(turn > SLIGHT_TURN)
    if len(slight) <= FEW_NODES and (exactness.plain_mm is None or _is_straight_sided(nodes)):
        return slight
    if exactness.plain_mm is None:
        around = np.maximum.reduce([np.roll(turn, shift) for shift in (-2, -1, 1, 2)])
        return np.flatnonzero((turn > exactness.corner_turn) | ((turn > SHALLOW_TURN) & (turn > 4 * around)))
    return _corners_of_curves(nodes, along, exactness.corner_turn)


def _corners_of_curves(nodes: Floats, along: Floats, least_turn: float) -> Indices:
    """Return the nodes at which a ring turns by more than before and after them, or long edges meet."""
    around = along[-1]
    look = min(LOOK_MM, around / 12)
    closed = np.concatenate([nodes, nodes[:1]])
    at = along[:-1]
    before, here, after = (
        _turn_at(closed, along, (at + shift) % around, look) for shift in (-2 * look, 0.0, 2 * look)
    )
    beside = np.maximum(before * np.sign(here), after * np.sign(here))
    sharpness = np.abs(here) - np.maximum(beside, 0.0)
    is_long = np.diff(along) > LONG_PART * around
    is_met = is_long & np.roll(is_long, 1) & (np.abs(here) > SHALLOW_TURN)
    sharpness[is_met] = np.pi
    strong = np.flatnonzero(sharpness > least_turn)
    apart = np.abs(at[strong][:, None] - at[strong][None, :])
    apart = np.minimum(apart, around - apart)
    if not len(strong):
        return strong
    sharpest = np.where(apart < 2 * look, sharpness[strong][None, :], 0.0).argmax(axis=1)
    corners: Indices = strong[sharpest == np.arange(len(strong))]
    return corners


def _turn_at(closed: Floats, along: Floats, at: Floats, look: float) -> Floats:
    """Return how far a ring turns between the chords before and after places along it."""
    here, ahead, behind = (points_at(closed, along, (at + reach) % along[-1]) for reach in (0.0, look, -look))
    out, into = ahead - here, here - behind
    turn: Floats = directions(out[:, 0], out[:, 1]) - directions(into[:, 0], into[:, 1])
    return (turn + np.pi) % (2 * np.pi) - np.pi


def lengths_along(nodes: Floats) -> Floats:
    """Return how far along a run of nodes (k, 2) each of them is."""
    return np.concatenate([[0.0], np.cumsum(hypot(*np.diff(nodes, axis=0).T))])


def points_at(nodes: Floats, along: Floats, at: Floats) -> Floats:
    """Return the points (n, 2) of a run of nodes at lengths `at` along it."""
    return np.column_stack([np.interp(at, along, nodes[:, axis]) for axis in (0, 1)])


def laid_along_axis(points: Floats) -> Floats:
    """Return points with the first at the origin and the last on the x axis."""
    shifted = points - points[0]
    size = max(float(hypot(shifted[-1:, 0], shifted[-1:, 1])[0]), 1e-9)
    cosine, sine = shifted[-1] / size
    x, y = shifted.T
    return np.stack([cosine * x + sine * y, cosine * y - sine * x], axis=-1)
