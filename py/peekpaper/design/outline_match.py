"""Which outlines match one another under turn and mirror."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.design.areas import geometries

_SAMPLES = 128
_HARMONICS = 12
_PEAKS = 4
_STEP = 2j * np.pi / _SAMPLES
_LOW = np.flatnonzero(np.abs(np.fft.fftfreq(_SAMPLES, 1 / _SAMPLES)) <= _HARMONICS)
_FREQUENCIES = np.fft.fftfreq(_SAMPLES, 1 / _SAMPLES)[_LOW]
_RATES = _STEP * _FREQUENCIES
_NEWTON_STEPS = 3
_FEW, _ALL = 8, 1 << 30
_PROFILES_LOOSELY = np.array([1.2, 2.0, 2.0, 2.0])
"""So many tolerances apart, the profiles of two outlines rule out that they match."""

_LOOSELY = 1.5
"""Equal steps stray along outlines that match; so many tolerances rule a pair out before a close look."""
_DETAIL = 0.05
"""Outlines are compared without details finer than this share of the tolerance."""


@dataclass(frozen=True, slots=True, eq=False)
class CentredOutlines:
    """Outlines about their centroids, all going round the same way.

    `nodes` (k) are their corners as complex numbers, `owner` (k) tells whose, `lines` (n) are the same as
    rings. `series` (n, 128) are the Fourier series of points at equal steps around each. The rest stays the
    same under turn and mirror: `areas`, `lengths`, `reach`, the greatest distance from the centroid,
    `energies`, the mean square of that distance, (n) and `profiles` (n, 4, 16), how far points lie from the
    centroid and from those an eighth, a quarter and half of the way around, in rising order.
    """

    nodes: NDArray[np.complex128]
    owner: NDArray[np.int64]
    lines: NDArray[np.object_]
    series: NDArray[np.complex128]
    areas: NDArray[np.float64]
    lengths: NDArray[np.float64]
    reach: NDArray[np.float64]
    energies: NDArray[np.float64]
    profiles: NDArray[np.float64]

    def matching(self, head: int, others: NDArray[np.int64], tolerance: float) -> NDArray[np.bool_]:
        """Tell which of the outlines `others` match `head`, turned or mirrored.

        They match where no corner of the one lies farther than `tolerance` from the other's line.
        """
        near = np.abs(self.areas[others] - self.areas[head]) <= 1.1 * tolerance * self.lengths[head]
        near &= np.abs(self.reach[others] - self.reach[head]) <= 1.2 * tolerance
        apart = np.abs(self.profiles[others] - self.profiles[head]).mean(axis=2)
        near &= (apart <= _PROFILES_LOOSELY * tolerance).all(axis=1)
        matches = np.zeros(len(others), bool)
        candidates = np.flatnonzero(near)
        allowed = _LOOSELY * tolerance + self.lengths[head] / (2 * _SAMPLES)
        for mirrored in (False, True):
            series = self._correlated(head, others[candidates], mirrored)
            starts, strengths = _best_starts(series)
            apart = self.energies[head] + self.energies[others[candidates]][:, None] - 2 * strengths
            for start, is_close in zip(starts.T, (apart <= allowed**2).T, strict=True):
                pending = np.flatnonzero(is_close & ~matches[candidates])
                if len(pending):
                    turns = _best_turns(series[pending], start[pending])
                    tried = candidates[pending]
                    matches[tried] = self._fits(head, others[tried], turns, mirrored, tolerance)
        return matches

    def _correlated(self, head: int, others: NDArray[np.int64], mirrored: bool) -> NDArray[np.complex128]:
        """Return the Fourier series of the correlation of the head's samples with the others'."""
        theirs = np.conj(self.series[others])
        if mirrored:  # the series of the mirrored samples, taken backwards so as to go round the same way
            theirs = self.series[others] * np.exp(-_STEP * np.arange(_SAMPLES))
        correlated: NDArray[np.complex128] = theirs * self.series[head]
        return correlated

    def _fits(
        self,
        head: int,
        others: NDArray[np.int64],
        turns: NDArray[np.complex128],
        mirrored: bool,
        tolerance: float,
    ) -> NDArray[np.bool_]:
        fits = self._lie_near(head, others, turns, mirrored=mirrored, tolerance=tolerance, most=_FEW)
        fits[fits] = self._lie_near(
            head, others[fits], turns[fits], mirrored=mirrored, tolerance=tolerance, most=_ALL
        )
        own = self.nodes[self.owner == head]
        back = own[None, :] * np.conj(turns[fits])[:, None]
        points = _points(np.conj(back) if mirrored else back)
        fits[fits] = shapely.dwithin(self.lines[others[fits]][:, None], points, tolerance).all(axis=1)
        return fits

    def _lie_near(
        self,
        head: int,
        others: NDArray[np.int64],
        turns: NDArray[np.complex128],
        *,
        mirrored: bool,
        tolerance: float,
        most: int,
    ) -> NDArray[np.bool_]:
        """Tell which outlines, turned, keep near the head's line; at `most` so many corners are tried."""
        starts = np.searchsorted(self.owner, others)
        counts = np.searchsorted(self.owner, others, side="right") - starts
        tried = np.minimum(counts, most)
        which = np.repeat(np.arange(len(others)), tried)
        rank = np.arange(len(which)) - np.repeat(np.cumsum(tried) - tried, tried)
        corners = self.nodes[starts[which] + rank * counts[which] // tried[which]]
        placed = (np.conj(corners) if mirrored else corners) * turns[which]
        strays = ~shapely.dwithin(self.lines[head], _points(placed), tolerance)
        near: NDArray[np.bool_] = np.bincount(which, weights=strays, minlength=len(others)) == 0
        return near


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
    samples = _sampled(nodes, owner, len(polygons))
    series = np.fft.fft(samples, axis=1) / _SAMPLES
    return CentredOutlines(
        nodes=nodes,
        owner=owner,
        lines=lines,
        series=series,
        areas=shapely.area(polygons) * factors**2,
        lengths=shapely.length(lines),
        reach=reach,
        energies=(np.abs(samples) ** 2).mean(axis=1),
        profiles=_profiles(samples),
    )


def _profiles(samples: NDArray[np.complex128]) -> NDArray[np.float64]:
    """Return distances between points (n, 4, 16) that do not depend on turn, mirror or start."""
    distances = [samples, *(samples - np.roll(samples, _SAMPLES // part, axis=1) for part in (8, 4, 2))]
    rising = np.sort(np.abs(np.stack(distances, axis=1)), axis=2)
    profiles: NDArray[np.float64] = rising.reshape(len(samples), len(distances), 16, -1).mean(axis=3)
    return profiles


def _best_starts(series: NDArray[np.complex128]) -> tuple[NDArray[np.int64], NDArray[np.float64]]:
    """Return the starts (n, 4) at which outlines fit best, and how strongly they agree there."""
    strength = np.abs(np.fft.ifft(series, axis=1)) * _SAMPLES
    is_peak = (strength >= np.roll(strength, 1, axis=1)) & (strength >= np.roll(strength, -1, axis=1))
    starts = np.argpartition(np.where(is_peak, -strength, 1.0), _PEAKS, axis=1)[:, :_PEAKS]
    return starts, np.take_along_axis(strength, starts, axis=1)


def _best_turns(series: NDArray[np.complex128], start: NDArray[np.int64]) -> NDArray[np.complex128]:
    """Return unit numbers that turn outlines onto the head's, given near what start they fit (least squares).

    Newton's method finds the best start between samples, by the lower harmonics of the correlation's series.
    """
    low, shift = series[:, _LOW], start.astype(float)
    for _ in range(_NEWTON_STEPS):
        terms = low * np.exp(np.outer(shift, _RATES))
        value, slope, bend = (np.einsum("nk,k->n", terms, rate) for rate in (_RATES**0, _RATES, _RATES**2))
        first = (np.conj(value) * slope).real
        second = np.abs(slope) ** 2 + (np.conj(value) * bend).real
        falls = second < -1e-12 * np.abs(value) ** 2
        shift -= np.clip(np.where(falls, first / np.where(falls, second, 1.0), 0.0), -0.5, 0.5)
    best = (low * np.exp(np.outer(shift, _RATES))).sum(axis=1)
    turns: NDArray[np.complex128] = best / np.maximum(np.abs(best), np.finfo(float).tiny)
    return turns


def _sampled(nodes: NDArray[np.complex128], owner: NDArray[np.int64], count: int) -> NDArray[np.complex128]:
    """Return points at equal steps around each of `count` rings (n, 128)."""
    steps = np.abs(np.diff(nodes, prepend=nodes[:1]))
    starts = np.searchsorted(owner, np.arange(count))
    steps[starts] = 1.0
    along = np.cumsum(steps)
    ends = np.append(starts[1:], len(nodes)) - 1
    wanted = along[starts][:, None] + (along[ends] - along[starts])[:, None] * (
        np.arange(_SAMPLES) / _SAMPLES
    )
    sampled: NDArray[np.complex128] = np.interp(wanted, along, nodes.real) + 1j * np.interp(
        wanted, along, nodes.imag
    )
    return sampled


def _complex(points: NDArray[np.float64]) -> NDArray[np.complex128]:
    joined: NDArray[np.complex128] = points[:, 0] + 1j * points[:, 1]
    return joined


def _pairs(points: NDArray[np.complex128]) -> NDArray[np.float64]:
    return np.stack([points.real, points.imag], axis=-1)


def _points(points: NDArray[np.complex128]) -> NDArray[np.object_]:
    return geometries(shapely.points(_pairs(points)))
