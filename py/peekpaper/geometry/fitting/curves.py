"""Curves fitted to the outlines of pieces and card, so that machines run smoothly.

A polyline that came of a flattened curve is turned back into cubic Béziers by least squares: Philip J.
Schneider, "An algorithm for automatically fitting digitized curves", Graphics Gems (1990). All outlines
are fitted at once, stretch by stretch, because that is what arrays are fast at.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from peekpaper.geometry.fitting.run_points import RunPoints, run_points
from peekpaper.geometry.fitting.stretches import Stretch, cleaned, stretches
from peekpaper.geometry.outline import Flags, Floats, Indices, Outline
from peekpaper.geometry.polyline import rows_of

TOLERANCE_MM = 0.0135
"""How far a fitted curve may leave the polyline: under the 0.02 mm that is promised, arcs included."""

_SPARE_MM = 0.001
"""Points that move an outline less than this are passed over: dense outlines cost time, not truth."""

_HOPEFUL = 12
"""A first fit that is off by more than this many tolerances is split at once; refining won't save it."""

_REFINEMENTS = 4
"""Rounds of Newton's method on where points lie along their cubic, after which it is fitted anew (four in
Schneider, from memory)."""

_DERIVATIVE, _SECOND_DERIVATIVE = (np.array(factors)[:, None, None] for factors in ((1, 2, 3), (2, 6)))
"""The factors of a cubic's coefficients, of its first power on, in its derivatives."""


def fit_outlines(rings: Sequence[Floats], tolerance: float = TOLERANCE_MM) -> list[Outline]:
    """Return a smooth outline for each ring of points in mm, shape (k, 2), its first point repeated last.

    Straight edges stay straight and corners stay sharp; elsewhere cubics take the place of chords, nowhere
    further than `tolerance` mm from the ring, and a tenth more for points passed over and between samples.
    """
    parts = [part for owner, ring in enumerate(rings) for part in stretches(cleaned(ring, _SPARE_MM), owner)]
    return fit_stretches(parts, len(rings), tolerance)


def fit_stretches(parts: Sequence[Stretch], rings: int, tolerance: float, joinings: int = 0) -> list[Outline]:
    """Return the outline of each of so many rings, given in order as stretches that no cubic reaches beyond.

    A stretch of two points is a straight line. `joinings` tells how often neighbouring cubics of a stretch
    are tried as one, which costs time and saves nodes.
    """
    if not parts:
        return []
    cubics, owners, straight = _fit(parts, tolerance, joinings)
    bounds = np.searchsorted(owners, np.arange(rings + 1))
    return [Outline(cubics[start:end], straight[start:end]) for start, end in pairwise(bounds)]


@dataclass(frozen=True, slots=True, eq=False)
class _Runs:
    """Runs of points still to be fitted: first and last point of each, and the inward unit tangents there."""

    starts: Indices
    ends: Indices
    start_tangents: Floats
    end_tangents: Floats

    def chosen(self, rows: Flags | Indices) -> "_Runs":
        return _Runs(self.starts[rows], self.ends[rows], self.start_tangents[rows], self.end_tangents[rows])


@dataclass(frozen=True, slots=True, eq=False)
class _Fitted:
    """Runs with the cubic of each, shape (n, 4, 2), and whether it is a straight line."""

    runs: _Runs
    cubics: Floats
    straight: Flags


@dataclass(frozen=True, slots=True, eq=False)
class _Samples:
    """The points of all runs, run after run: `heads` tells where runs begin, `counts` how long they are.

    `points` has shape (2, n), one row for x and one for y, which sums run fastest on.
    """

    index: Indices
    points: Floats
    heads: Indices
    counts: Indices

    def spread(self, values: Floats) -> Floats:
        """Return values of runs, shape (..., runs), for each of their points, shape (..., n)."""
        return np.repeat(values, self.counts, axis=-1)

    def sums(self, values: Floats) -> Floats:
        """Return the sums over the points of each run, shape (..., runs)."""
        sums: Floats = np.add.reduceat(values, self.heads, axis=-1)
        return sums


def _fit(parts: Sequence[Stretch], tolerance: float, joinings: int) -> tuple[Floats, Indices, Flags]:
    """Fit all stretches; return cubics (n, 4, 2), the owner of each (n) and whether it is straight (n)."""
    line = run_points(parts)
    runs = _Runs(
        line.starts,
        line.ends,
        np.array([part.start_tangent for part in parts]),
        np.array([part.end_tangent for part in parts]),
    )
    runs = _with_all_tangents(line, runs)
    fitted: list[_Fitted] = []
    while len(runs.starts):
        cubics, worst, where = _refined(line.points, runs, tolerance)
        straight = np.searchsorted(line.nodes, runs.ends) - np.searchsorted(line.nodes, runs.starts) <= 1
        cubics[straight] = _lines(line.points[runs.starts[straight]], line.points[runs.ends[straight]])
        good = straight | (worst <= tolerance)
        fitted.append(_Fitted(runs.chosen(good), cubics[good], straight[good]))
        runs = _split(line, runs.chosen(~good), where[~good])
    found = _together(fitted)
    for number in range(2 * joinings):
        found = _joined(line, found, number % 2, tolerance)
    owner_of_part = np.array([part.owner for part in parts])
    owners = owner_of_part[np.searchsorted(line.starts, found.runs.starts, side="right") - 1]
    return found.cubics, owners, found.straight


def _together(fitted: Sequence[_Fitted]) -> _Fitted:
    """Return fitted runs in the order of their points."""
    starts, ends, start_tangents, end_tangents = (
        np.concatenate([getattr(one.runs, name) for one in fitted])
        for name in ("starts", "ends", "start_tangents", "end_tangents")
    )
    order = np.argsort(starts, kind="stable")
    runs = _Runs(starts, ends, start_tangents, end_tangents).chosen(order)
    cubics, straight = (
        np.concatenate([getattr(one, name) for one in fitted]) for name in ("cubics", "straight")
    )
    return _Fitted(runs, cubics[order], straight[order])


def _joined(line: RunPoints, found: _Fitted, first: int, tolerance: float) -> _Fitted:
    """Return the runs, each second one from `first` on made one with the next where a cubic fits both."""
    runs = found.runs
    lower = np.arange(first, len(runs.starts) - 1, 2)
    lower = lower[
        (runs.ends[lower] == runs.starts[lower + 1]) & ~found.straight[lower] & ~found.straight[lower + 1]
    ]
    if not len(lower):
        return found
    both = _Runs(
        runs.starts[lower], runs.ends[lower + 1], runs.start_tangents[lower], runs.end_tangents[lower + 1]
    )
    cubics, worst, _ = _refined(line.points, both, tolerance)
    good = worst <= tolerance
    kept = np.ones(len(runs.starts), dtype=bool)
    kept[lower[good]] = kept[lower[good] + 1] = False
    joined = _Fitted(both.chosen(good), cubics[good], np.zeros(np.count_nonzero(good), dtype=bool))
    return _together([_Fitted(runs.chosen(kept), found.cubics[kept], found.straight[kept]), joined])


def _with_all_tangents(line: RunPoints, runs: _Runs) -> _Runs:
    """Return the runs with a tangent of their own at the ends that are free to have any."""
    at_start = np.where(
        runs.start_tangents.any(axis=1, keepdims=True),
        runs.start_tangents,
        line.end_tangents(runs.starts, runs.ends),
    )
    at_end = np.where(
        runs.end_tangents.any(axis=1, keepdims=True),
        runs.end_tangents,
        line.end_tangents(runs.ends, runs.starts),
    )
    return _Runs(runs.starts, runs.ends, at_start, at_end)


def _lines(starts: Floats, ends: Floats) -> Floats:
    """Return straight cubics, shape (n, 4, 2)."""
    step = (ends - starts) / 3
    return np.stack([starts, starts + step, ends - step, ends], axis=1)


def _refined(points: Floats, runs: _Runs, tolerance: float) -> tuple[Floats, Floats, Indices]:
    """Fit one cubic to each run, with some pains where that may bring it within tolerance."""
    cubics, worst, where = _least_squares(points, runs, 0)
    hopeful = (worst > tolerance) & (worst < _HOPEFUL * tolerance)
    if hopeful.any():
        refined = _least_squares(points, runs.chosen(hopeful), _REFINEMENTS)
        cubics[hopeful], worst[hopeful], where[hopeful] = refined
    return cubics, worst, where


def _least_squares(points: Floats, runs: _Runs, refinements: int) -> tuple[Floats, Floats, Indices]:
    """Fit one cubic to each run; return them, the worst error of each, and the point where it is."""
    samples = _samples(points, runs)
    at = _chord_parameters(samples)
    cubics = _solve(samples, at, runs)
    for _ in range(refinements):
        at = _nearer(samples, at, cubics)
        cubics = _solve(samples, at, runs)
    at = _nearer(samples, at, cubics)
    errors = _errors(samples, at, cubics)
    worst = np.maximum.reduceat(errors, samples.heads)
    is_worst = errors >= samples.spread(worst)
    where = np.maximum.reduceat(np.where(is_worst, samples.index, -1), samples.heads)
    return np.moveaxis(cubics, -1, 0), worst, where


def _errors(samples: _Samples, at: Floats, cubics: Floats) -> Floats:
    """Return how far each sample lies from its cubic, or the cubic from the straight half-way to the next."""
    place = samples.spread(_coefficients(cubics))
    errors: Floats = np.hypot(*(_horner(place, at) - samples.points))
    half = _horner(place[:, :, :-1], (at[:-1] + at[1:]) / 2) - samples.points[:, :-1]
    steps = np.diff(samples.points, axis=1)
    lengths = np.maximum((steps**2).sum(axis=0), 1e-18)
    share = np.clip((half * steps).sum(axis=0) / lengths, 0, 1)
    between = np.hypot(*(half - share * steps))
    # From a run's last sample there is no way on.
    between[samples.heads[1:] - 1] = 0
    errors[:-1] = np.maximum(errors[:-1], between)
    return errors


def _samples(points: Floats, runs: _Runs) -> _Samples:
    counts = runs.ends - runs.starts + 1
    run, nth = rows_of(counts)
    index = runs.starts[run] + nth
    heads = np.cumsum(counts) - counts
    return _Samples(index, np.ascontiguousarray(points[index].T), heads, counts)


def _chord_parameters(samples: _Samples) -> Floats:
    """Return how far along its run each sample lies, from 0 to 1, by chord length."""
    steps = np.zeros(samples.points.shape[1])
    steps[1:] = np.hypot(*np.diff(samples.points, axis=1))
    steps[samples.heads] = 0
    along = np.cumsum(steps)
    along -= samples.spread(along[samples.heads])
    totals = along[samples.heads + samples.counts - 1]
    parameters: Floats = along / samples.spread(np.maximum(totals, 1e-12))
    return parameters


def _solve(samples: _Samples, at: Floats, runs: _Runs) -> Floats:
    """Solve for the lengths of the two handles of each cubic (Schneider's equations).

    Return the cubics, shape (4, 2, runs).
    """
    heads = samples.heads
    first, last = samples.points[:, heads], samples.points[:, heads + samples.counts - 1]
    leaving, arriving = runs.start_tangents.T, runs.end_tangents.T
    across = last - first
    rest = 1 - at
    near, far = 3 * rest**2 * at, 3 * rest * at**2
    miss = samples.points - samples.spread(first) - samples.spread(across) * (far + at**3)
    c11, c12, c22 = samples.sums(np.stack([near**2, near * far, far**2]))
    c12 = c12 * (leaving * arriving).sum(axis=0)
    x1 = (leaving * samples.sums(near * miss)).sum(axis=0)
    x2 = (arriving * samples.sums(far * miss)).sum(axis=0)
    span = np.hypot(*across)
    # A run that comes back to its start has no span to go by; its reach takes the place.
    reach = np.maximum.reduceat(np.hypot(*(samples.points - samples.spread(first))), heads)
    usual = np.where(span > 1e-9, span, reach) / 3
    determinant = c11 * c22 - c12**2
    sound = determinant > 1e-12 * np.maximum(c11 * c22, 1e-300)
    safe = np.where(sound, determinant, 1.0)
    start_length, end_length = (x1 * c22 - x2 * c12) / safe, (c11 * x2 - c12 * x1) / safe
    sound &= (start_length > 1e-3 * usual) & (end_length > 1e-3 * usual)
    start_handle = leaving * np.where(sound, start_length, usual)
    end_handle = arriving * np.where(sound, end_length, usual)
    return np.stack([first, first + start_handle, last + end_handle, last])


def _coefficients(cubics: Floats) -> Floats:
    """Return the coefficients of cubics, shape (4, 2, runs), as polynomials, the constant first."""
    a, b, c, d = cubics
    return np.stack([a, 3 * (b - a), 3 * (a - 2 * b + c), d - a + 3 * (b - c)])


def _horner(coefficients: Floats, at: Floats) -> Floats:
    """Return the values of polynomials at parameters, by Horner's rule."""
    value: Floats = coefficients[-1]
    for coefficient in coefficients[-2::-1]:
        value = value * at + coefficient
    return value


def _nearer(samples: _Samples, at: Floats, cubics: Floats) -> Floats:
    """Move each parameter one Newton step towards the foot of its point on its cubic."""
    place = samples.spread(_coefficients(cubics))
    speed, bend = place[1:] * _DERIVATIVE, place[2:] * _SECOND_DERIVATIVE
    miss = _horner(place, at) - samples.points
    velocity = _horner(speed, at)
    slope = (velocity**2 + miss * _horner(bend, at)).sum(axis=0)
    step = (velocity * miss).sum(axis=0) / np.where(np.abs(slope) > 1e-12, slope, np.inf)
    nearer: Floats = np.clip(at - np.clip(step, -0.1, 0.1), 0, 1)
    return nearer


def _split(line: RunPoints, runs: _Runs, where: Indices) -> _Runs:
    """Split runs at the node nearest the worst error, with a tangent common to both parts."""
    first = np.searchsorted(line.nodes, runs.starts) + 1
    last = np.searchsorted(line.nodes, runs.ends) - 1
    after = np.clip(np.searchsorted(line.nodes, where), first, last)
    before = np.clip(after - 1, first, last)
    nearer = np.abs(line.nodes[before] - where) < np.abs(line.nodes[after] - where)
    middle = line.nodes[np.where(nearer, before, after)]
    ahead = line.tangents(middle, runs.starts, runs.ends)
    return _Runs(
        np.concatenate([runs.starts, middle]),
        np.concatenate([middle, runs.ends]),
        np.concatenate([runs.start_tangents, ahead]),
        np.concatenate([-ahead, runs.end_tangents]),
    )
