"""Which outlines match one another under turn and mirror.

By Fourier descriptors: sizes of harmonics, which stay the same under a turn, rule pairs out, and the best
turn and start come from the series themselves (Zahn and Roskies 1972, Persoon and Fu 1977, both from memory).
"""

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.geometry.areas import geometries
from peekpaper.geometry.elementary import hypot
from peekpaper.geometry.polyline import rows_of

_SAMPLES = 128
"""Points at equal steps along an outline, a power of two for the transform."""
_HARMONICS = 12
"""Low harmonics, which tell outlines apart before they are turned: they hold nearly all of a shape."""
_PEAKS = 4
"""The best starts that are looked at: a shape with more turns onto itself fits at any of them."""
_RATE = 2j * np.pi / _SAMPLES
_BACKWARDS = np.exp(-_RATE * np.arange(_SAMPLES))
_FREQUENCIES = np.fft.fftfreq(_SAMPLES, 1 / _SAMPLES)
"""The harmonics of a series, in its order."""
_LOW = np.flatnonzero(np.abs(_FREQUENCIES) <= _HARMONICS)
_LOW_RATES = _RATE * _FREQUENCIES[_LOW]
_NEWTON_STEPS = 3
"""Steps of Newton's method towards the best start between two samples."""
_DECIMALS = 9
"""Where equally good starts must not be told apart: transforms differ in the last bits by machine."""
_LOOKS = 2, 8, 1 << 30
"""How many corners are tried in a first look, in a second and in a third."""

_LOOSELY = 1.5
"""Equal steps stray along outlines that match; so many tolerances rule a pair out before a close look."""

_REACH = 1.2
"""Nor do outlines match whose reach, or least distance from the centroid, differs by more tolerances."""
_AT_ONCE = 250
"""How many pairs are compared at once: each takes some 30 kB meanwhile, and more at once are slower."""

_DETAIL = 0.05
"""Outlines are compared without details finer than this share of the tolerance."""


@dataclass(frozen=True, slots=True, eq=False)
class CentredOutlines:
    """Outlines about their centroids, all going round the same way.

    `nodes` (k) are their corners as complex numbers, `owner` (k) tells whose, `lines` (n) are the same as
    rings. `series` (n, 128) are the Fourier series of points at equal steps around each. The rest stays the
    same under turn and mirror: `energies`, the sums of the squares of the series, `areas`, `lengths`, `reach`
    and `inner`, the greatest and the least distance from the centroid, (n) and `swings` (n, 25), the sizes of
    the low harmonics of the series. `tree` finds outlines by their reach and by the harmonic `telling`, the
    one that differs most.
    """

    nodes: NDArray[np.complex128]
    owner: NDArray[np.int64]
    lines: NDArray[np.object_]
    series: NDArray[np.complex128]
    energies: NDArray[np.float64]
    areas: NDArray[np.float64]
    lengths: NDArray[np.float64]
    reach: NDArray[np.float64]
    inner: NDArray[np.float64]
    swings: NDArray[np.float64]
    tree: shapely.STRtree
    telling: int

    def near(
        self, heads: NDArray[np.int64], tolerance: NDArray[np.float64]
    ) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Return pairs, in order: the place (k) of one of `heads` (n), and an outline (k) that may match it.

        Nothing else matches a head within its `tolerance` (n).
        """
        reach, swing = self.reach[heads], self.swings[heads, self.telling]
        aside, along = _REACH * tolerance, _LOOSELY * tolerance
        boxes = shapely.box(reach - aside, swing - along, reach + aside, swing + along)
        place, found = self.tree.query(np.asarray(boxes, dtype=object))
        order = np.lexsort((found, place))
        return place[order], found[order]

    def matching(
        self, heads: NDArray[np.int64], others: NDArray[np.int64], tolerance: NDArray[np.float64]
    ) -> NDArray[np.bool_]:
        """Tell for each pair (k) whether the other outline matches the head, turned or mirrored.

        They match where no corner of the one lies farther than `tolerance` (k) from the other's line.
        """
        near = np.flatnonzero(self._worth_trying(heads, others, tolerance))
        matches = np.zeros(len(others), bool)
        for low in range(0, len(near), _AT_ONCE):
            pairs = near[low : low + _AT_ONCE]
            row, tries = self._tries(heads[pairs], others[pairs], tolerance[pairs])
            # Most outlines that match do so at the first try; the others' tries are looked at then.
            first = np.append(True, row[1:] != row[:-1]) if len(row) else np.zeros(0, bool)
            matched = np.zeros(len(pairs), bool)
            matched[row[first]] = self._fit(tries.taken(first))
            rest = ~first & ~matched[row]
            if rest.any():
                matched[row[rest][self._fit(tries.taken(rest))]] = True
            matches[pairs[matched]] = True
        return matches

    def turns(self, head: int, others: NDArray[np.int64], tolerance: float) -> NDArray[np.float64]:
        """Return the matrices (n, 2, 2) that lay outlines about their centroids on `head`.

        They are not finite for outlines that do not match it.
        """
        row, tries = self._tries(np.full_like(others, head), others, np.full(len(others), tolerance))
        fits = self._fit(tries)
        found = np.full((len(others), 2, 2), np.nan)
        # The best try of each comes first, so it is written last.
        for place in np.flatnonzero(fits)[::-1].tolist():
            turn, flip = tries.turn[place], -1.0 if tries.mirrored[place] else 1.0
            found[row[place]] = [[turn.real, -flip * turn.imag], [turn.imag, flip * turn.real]]
        return found

    def _worth_trying(
        self, heads: NDArray[np.int64], others: NDArray[np.int64], tolerance: NDArray[np.float64]
    ) -> NDArray[np.bool_]:
        """Tell for each pair (k) whether the outlines may match by what no turn changes."""
        near: NDArray[np.bool_] = (
            np.abs(self.areas[others] - self.areas[heads]) <= 1.1 * tolerance * self.lengths[heads]
        )
        near &= np.abs(self.reach[others] - self.reach[heads]) <= _REACH * tolerance
        near &= np.abs(self.inner[others] - self.inner[heads]) <= _REACH * tolerance
        left = np.flatnonzero(near)
        apart = ((self.swings[others[left]] - self.swings[heads[left]]) ** 2).sum(axis=1)
        near[left] = apart <= (_LOOSELY * tolerance[left]) ** 2
        return near

    def _tries(
        self, heads: NDArray[np.int64], others: NDArray[np.int64], tolerance: NDArray[np.float64]
    ) -> tuple[NDArray[np.int64], "_Tries"]:
        """Return the turns worth a close look, and the pair that each is for.

        All starts are tried at once by correlating the outlines' Fourier series; at the best of them the mean
        square distance of the points, least squares as in Procrustes analysis, must be small.
        """
        theirs, ours = self.series[others], self.series[heads]
        series = np.empty((len(others), 2, _SAMPLES), complex)
        series[:, 0] = np.conj(theirs) * ours
        # The conjugate series of mirrored points, taken backwards so that they go round the same way.
        series[:, 1] = theirs * _BACKWARDS * ours
        strength = np.abs(np.fft.ifft(series)) * _SAMPLES
        energies = self.energies[others] + self.energies[heads]
        half_step = self.lengths[heads] / (2 * _SAMPLES)
        most = (_LOOSELY * tolerance + half_step) ** 2
        # Most pairs are too far apart at any start.
        apart = energies[:, None] - 2 * np.round(strength.max(axis=-1), _DECIMALS)
        row, mirror = np.nonzero(apart <= most[:, None])
        starts, strengths = _best_starts(np.round(strength[row, mirror], _DECIMALS))
        place, peak = np.nonzero(energies[row, None] - 2 * strengths <= most[row, None])
        row, mirror = row[place], mirror[place]
        best = _refined(series[row, mirror], starts[place, peak])
        energies = (self.swings[others] ** 2).sum(axis=1) + (self.swings[heads] ** 2).sum(axis=1)
        apart = energies[row] - 2 * np.abs(best)
        worth = np.flatnonzero(apart <= (_LOOSELY * tolerance[row]) ** 2)
        row, best = row[worth], best[worth]
        turns = best / np.maximum(np.abs(best), np.finfo(float).tiny)
        return row, _Tries(heads[row], others[row], tolerance[row], turns, mirror[worth] == 1)

    def _fit(self, tries: "_Tries") -> NDArray[np.bool_]:
        """Tell which tries lay an outline on its head's within the tolerance, and the head's on it."""
        fits = np.ones(len(tries.outline), bool)
        for corners in _LOOKS:
            fits[fits] = self._keep_near(tries.taken(fits), corners)
        fits[fits] = self._hold(tries.taken(fits))
        return fits

    def _keep_near(self, tries: "_Tries", most: int) -> NDArray[np.bool_]:
        """Tell which outlines, turned, keep near their heads' lines; at `most` so many corners are tried."""
        which, corners = self._corners(tries.outline, most)
        placed = np.where(tries.mirrored[which], np.conj(corners), corners) * tries.turn[which]
        return self._are_near(tries.head, which, placed, tries.tolerance)

    def _hold(self, tries: "_Tries") -> NDArray[np.bool_]:
        """Tell which outlines, turned, have all of their heads' corners near their lines."""
        which, corners = self._corners(tries.head, _LOOKS[-1])
        turned = corners * np.conj(tries.turn[which])
        placed = np.where(tries.mirrored[which], np.conj(turned), turned)
        return self._are_near(tries.outline, which, placed, tries.tolerance)

    def _corners(
        self, outlines: NDArray[np.int64], most: int
    ) -> tuple[NDArray[np.int64], NDArray[np.complex128]]:
        """Return corners (k), at `most` so many for each of `outlines` (n), and whose place each is for."""
        starts = np.searchsorted(self.owner, outlines)
        counts = np.searchsorted(self.owner, outlines, side="right") - starts
        tried = np.minimum(counts, most)
        which, rank = rows_of(tried)
        return which, self.nodes[starts[which] + rank * counts[which] // tried[which]]

    def _are_near(
        self,
        outlines: NDArray[np.int64],
        which: NDArray[np.int64],
        points: NDArray[np.complex128],
        tolerance: NDArray[np.float64],
    ) -> NDArray[np.bool_]:
        """Tell which of `outlines` (n) have all of their points near; `which` tells whose each is."""
        limits: Any = tolerance[which]  # shapely takes one for each, though it only tells of one
        strays = ~shapely.dwithin(self.lines[outlines[which]], _points(points), limits)
        near: NDArray[np.bool_] = np.bincount(which, weights=strays, minlength=len(outlines)) == 0
        return near


@dataclass(frozen=True, slots=True, eq=False)
class _Tries:
    """Ways to lay outlines on others: which on which, how near, whether mirrored, what to turn it by."""

    head: NDArray[np.int64]
    outline: NDArray[np.int64]
    tolerance: NDArray[np.float64]
    turn: NDArray[np.complex128]
    mirrored: NDArray[np.bool_]

    def taken(self, which: NDArray[np.bool_]) -> "_Tries":
        """Return some of the tries."""
        return _Tries(
            self.head[which],
            self.outline[which],
            self.tolerance[which],
            self.turn[which],
            self.mirrored[which],
        )


def centred_outlines(
    polygons: NDArray[np.object_], factors: NDArray[np.float64], tolerance: NDArray[np.float64]
) -> CentredOutlines:
    """Return the outlines of polygons (n), scaled by `factors` (n), to be matched within `tolerance` (n)."""
    simpler = shapely.orient_polygons(shapely.simplify(polygons, _DETAIL * tolerance / factors))
    coordinates, owner = shapely.get_coordinates(shapely.get_exterior_ring(simpler), return_index=True)
    centres = _complex(shapely.get_coordinates(shapely.centroid(polygons)))
    nodes = (_complex(coordinates) - centres[owner]) * factors[owner]
    reach = np.zeros(len(polygons))
    np.maximum.at(reach, owner, np.abs(nodes))
    lines = geometries(shapely.linearrings(_pairs(nodes), indices=owner))
    shapely.prepare(lines)
    series = np.fft.fft(_sampled(nodes, owner, len(polygons)), axis=1) / _SAMPLES
    swings = np.abs(series[:, _LOW])
    telling = int(np.argmax(swings.var(axis=0)))
    return CentredOutlines(
        nodes=nodes,
        owner=owner,
        lines=lines,
        series=series,
        energies=(np.abs(series) ** 2).sum(axis=1),
        areas=shapely.area(polygons) * factors**2,
        lengths=shapely.length(lines),
        reach=reach,
        inner=shapely.distance(lines, shapely.Point(0, 0)),
        swings=swings,
        tree=shapely.STRtree(geometries(shapely.points(reach, swings[:, telling]))),
        telling=telling,
    )


def _best_starts(strength: NDArray[np.float64]) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    """Return the starts (..., 4) at which outlines agree most strongly, and how strongly."""
    is_peak = (strength >= np.roll(strength, 1, axis=-1)) & (strength >= np.roll(strength, -1, axis=-1))
    starts = np.argsort(np.where(is_peak, -strength, 1.0), axis=-1, kind="stable")[..., :_PEAKS]
    return starts, np.take_along_axis(strength, starts, axis=-1)


def _refined(series: NDArray[np.complex128], start: NDArray[np.int64]) -> NDArray[np.complex128]:
    """Return the correlations of outlines (n) at the best start between samples near the one given.

    Newton's method finds it by the lower harmonics. The correlation's angle is the best turn.
    """
    low, shift = series[:, _LOW], start.astype(float)
    for _ in range(_NEWTON_STEPS):
        terms = low * np.exp(np.outer(shift, _LOW_RATES))
        value, slope, bend = (np.einsum("nk,k->n", terms, _LOW_RATES**power) for power in range(3))
        first = (np.conj(value) * slope).real
        second = np.abs(slope) ** 2 + (np.conj(value) * bend).real
        falls = second < -1e-12 * np.abs(value) ** 2
        shift -= np.clip(np.where(falls, first / np.where(falls, second, 1.0), 0.0), -0.5, 0.5)
    refined: NDArray[np.complex128] = (low * np.exp(np.outer(shift, _LOW_RATES))).sum(axis=1)
    return refined


def _sampled(nodes: NDArray[np.complex128], owner: NDArray[np.int64], count: int) -> NDArray[np.complex128]:
    """Return points at equal steps around each of `count` rings (n, 128)."""
    ways = np.diff(nodes, prepend=nodes[:1])
    steps = hypot(ways.real, ways.imag)
    starts = np.searchsorted(owner, np.arange(count))
    steps[starts] = 1.0
    along = np.cumsum(steps)
    ends = np.append(starts[1:], len(nodes)) - 1
    wanted = along[starts][:, None] + (along[ends] - along[starts])[:, None] * (
        np.arange(_SAMPLES) / _SAMPLES
    )
    sampled: NDArray[np.complex128] = np.interp(wanted, along, nodes)
    return sampled


def _complex(points: NDArray[np.float64]) -> NDArray[np.complex128]:
    joined: NDArray[np.complex128] = points[:, 0] + 1j * points[:, 1]
    return joined


def _pairs(points: NDArray[np.complex128]) -> NDArray[np.float64]:
    return np.stack([points.real, points.imag], axis=-1)


def _points(points: NDArray[np.complex128]) -> NDArray[np.object_]:
    return geometries(shapely.points(_pairs(points)))
