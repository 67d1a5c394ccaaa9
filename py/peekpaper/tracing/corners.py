"""True corners of rings that came from px, and the smooth stretches between them.

At a corner the directions from either side differ however closely one looks; on an arc they agree. So at each
point a parabola is fitted to what lies before it, and another to what lies behind, leaving out the px that
the picture's own softness rounds, and their directions are compared where both reach the point.
"""

from dataclasses import dataclass

import numpy as np

from peekpaper.geometry.outline import Flags, Floats, Indices
from peekpaper.geometry.polyline import rows_of

STEP = 0.75
"""Px from point to point of rings that corners are looked for on."""

_SKIPPED = 2
"""Steps beside a corner that the picture's softness rounds."""
_NEAR, _FAR = 5, 12
"""Steps to each side that a straight line and a parabola are fitted to."""
_APART = 4
"""Of corners that are fewer steps apart the sharper one is taken."""
_CANDIDATE, _TURN = np.radians(18.0), np.radians(24.0)
"""Turns of short chords that are looked at closely, and true turns that are corners."""
_SHARP = np.radians(50.0)
"""A turn as sharp as this is a corner also where the next one is too near for parabolas."""
_ROUNDED = 1.1
"""How far, in px, softness draws a right-angled corner in; others by the sine of half their angle."""
_AGREES = 0.15
"""Px by which points lie beside a curve that holds for them."""


@dataclass(frozen=True, slots=True, eq=False)
class Ring:
    """Points at equal steps, shape (n, 2), and the corners among them: their indices and true places."""

    points: Floats
    corners: Indices
    places: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Side:
    """What lies to one side of points: where it leads to at each, which way, and whether it agrees."""

    places: Floats
    directions: Floats
    agrees: Flags

    def instead(self, other: "_Side", where: Flags) -> "_Side":
        pick = where[:, None]
        return _Side(
            np.where(pick, other.places, self.places),
            np.where(pick, other.directions, self.directions),
            np.where(where, other.agrees, self.agrees),
        )


def with_corners(points: Floats, heads: Indices) -> list[Ring]:
    """Return rings of points laid end to end, at equal steps of about STEP px, with their corners."""
    counts = np.diff(np.append(heads, len(points)))
    around = _Around(points, np.repeat(heads, counts), np.repeat(counts, counts))
    index = np.flatnonzero(around.turns(np.arange(len(points)), 1, _NEAR) > _CANDIDATE)
    sharpness, places = np.zeros(len(points)), np.zeros_like(points)
    if len(index):
        sharpness[index], places[index] = _corners(around, index)
    is_corner = sharpness > 0
    everywhere = np.arange(len(points))
    for step in range(1, _APART + 1):
        for sign in (1, -1):
            other = sharpness[around.at(everywhere, sign * step)]
            is_corner &= (sharpness > other) | ((sharpness == other) & (sign > 0))
    found = np.flatnonzero(is_corner)
    bounds = np.searchsorted(found, np.append(heads, len(points)))
    return [
        Ring(points[head : head + count], found[first:last] - head, places[found[first:last]])
        for head, count, first, last in zip(heads, counts, bounds[:-1], bounds[1:], strict=True)
    ]


@dataclass(frozen=True, slots=True, eq=False)
class _Around:
    """Points of rings, with the first of each one's ring and how many that has."""

    points: Floats
    heads: Indices
    counts: Indices

    def at(self, index: Indices, steps: int) -> Indices:
        """Return the points so many steps on."""
        heads, counts = self.heads[index], self.counts[index]
        return heads + (index - heads + steps) % counts

    def turns(self, index: Indices, first: int, last: int) -> Floats:
        """Return the turn at points from the chord behind them to the chord ahead."""
        ahead, behind = (
            self.points[self.at(index, sign * last)] - self.points[self.at(index, sign * first)]
            for sign in (1, -1)
        )
        return _turn(-behind, ahead)

    def side(self, index: Indices, sign: int, last: int, power: int) -> _Side:
        """Fit a polynomial of `power` to the points to one side, and follow it to the point itself."""
        steps = np.arange(_SKIPPED, last + 1)
        near = np.stack([self.points[self.at(index, sign * int(step))] for step in steps], axis=1)
        terms = np.vander(steps.astype(float), power + 1, increasing=True)
        factors = np.einsum("pk,nkd->npd", np.linalg.pinv(terms), near)
        miss = near - np.einsum("kp,npd->nkd", terms, factors)
        agrees = np.sqrt((miss**2).sum(axis=2).mean(axis=1)) < _AGREES
        return _Side(factors[:, 0], factors[:, 1], agrees)


def _corners(around: _Around, index: Indices) -> tuple[Floats, Floats]:
    """Return how sharply rings turn at points, 0 where that is no corner, and where the corner lies."""
    lines = [around.side(index, sign, _NEAR, 1) for sign in (-1, 1)]
    curves = [around.side(index, sign, _FAR, 2) for sign in (-1, 1)]
    has_room = around.counts[index] > 3 * _FAR
    told = curves[0].agrees & curves[1].agrees & has_room
    before, after = (
        line.instead(curve, curve.agrees & has_room) for line, curve in zip(lines, curves, strict=True)
    )
    turn = _turn(-before.directions, after.directions)
    near_turn = _turn(-lines[0].directions, lines[1].directions)
    places, reach = _meeting(before, after, around.points[index])
    inner = np.pi - turn
    allowed = _ROUNDED * np.sin(np.pi / 4) / np.maximum(np.sin(inner / 2), 0.15)
    is_corner = np.where(told, turn > _TURN, (turn > _TURN) & (near_turn > _SHARP)) & (reach <= allowed)
    return np.where(is_corner, turn, 0.0), places


def _meeting(before: _Side, after: _Side, points: Floats) -> tuple[Floats, Floats]:
    """Return where the directions of two sides meet, and how far from the points that is."""
    across = after.places - before.places
    bottom = _cross(before.directions, after.directions)
    share = _cross(across, after.directions) / np.where(np.abs(bottom) > 1e-9, bottom, np.inf)
    places = before.places + share[:, None] * before.directions
    reach: Floats = np.hypot(*(places - points).T)
    return places, reach


def _turn(first: Floats, second: Floats) -> Floats:
    turn: Floats = np.abs(np.arctan2(_cross(first, second), (first * second).sum(axis=-1)))
    return turn


def _cross(first: Floats, second: Floats) -> Floats:
    crosses: Floats = first[..., 0] * second[..., 1] - first[..., 1] * second[..., 0]
    return crosses


def at_equal_steps(points: Floats, heads: Indices, step: float = STEP) -> tuple[Floats, Indices]:
    """Return rings laid end to end as points at equal steps, and where each ring begins."""
    counts = np.diff(np.append(heads, len(points)))
    ring, nth = rows_of(counts + 1)
    closed = points[heads[ring] + nth % counts[ring]]
    lengths = np.hypot(*np.diff(closed, axis=0, append=closed[-1:]).T)
    ends = np.cumsum(counts + 1) - 1
    # From ring to ring `along` leaves a gap, whatever lies between them.
    lengths[ends] = 1.0
    along = np.cumsum(lengths) - lengths
    start, total = along[ends - counts], along[ends] - along[ends - counts]
    sizes = np.maximum(8, np.round(total / step)).astype(np.intp)
    owner, place = rows_of(sizes)
    wanted = start[owner] + total[owner] * (place / sizes[owner])
    even: Floats = np.stack([np.interp(wanted, along, closed[:, axis]) for axis in (0, 1)], axis=-1)
    return even, np.cumsum(sizes) - sizes
