"""Which outlines match one another under turn and mirror."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.design.areas import geometries

_SAMPLES = 128
_HARMONICS = 24
_PEAKS = 4
_STEP = 2j * np.pi / _SAMPLES
_LOW = np.flatnonzero(np.abs(np.fft.fftfreq(_SAMPLES, 1 / _SAMPLES)) <= _HARMONICS)
_FREQUENCIES = np.fft.fftfreq(_SAMPLES, 1 / _SAMPLES)[_LOW]
_NEWTON_STEPS = 3
_DETAIL = 0.05
"""Outlines are compared without details finer than this share of the tolerance."""


@dataclass(frozen=True, slots=True, eq=False)
class CentredOutlines:
    """Outlines about their centroids, all going round the same way.

    `nodes` (k) are their corners as complex numbers, `owner` (k) tells whose, `lines` (n) are the same as
    rings. `samples` (n, 128) are points at equal steps around each. `areas`, `lengths` and `reach` (n), the
    greatest distance from the centroid, stay the same under turn and mirror, as do `swings` (n, 12), the
    sizes of the samples' low harmonics.
    """

    nodes: NDArray[np.complex128]
    owner: NDArray[np.int64]
    lines: NDArray[np.object_]
    samples: NDArray[np.complex128]
    areas: NDArray[np.float64]
    lengths: NDArray[np.float64]
    reach: NDArray[np.float64]
    swings: NDArray[np.float64]

    def matching(self, head: int, others: NDArray[np.int64], tolerance: float) -> NDArray[np.bool_]:
        """Tell which of the outlines `others` match `head`, turned or mirrored.

        They match where no corner of the one lies farther than `tolerance` from the other's line.
        """
        near = np.abs(self.areas[others] - self.areas[head]) <= 1.1 * tolerance * self.lengths[head]
        near &= np.abs(self.reach[others] - self.reach[head]) <= 1.2 * tolerance
        near &= np.abs(self.swings[others] - self.swings[head]).max(axis=1, initial=0.0) <= 1.5 * tolerance
        matches = np.zeros(len(others), bool)
        candidates = np.flatnonzero(near)
        for mirrored in (False, True):
            spectrum = self._correlated(head, others[candidates], mirrored)
            starts = _best_starts(spectrum)
            for start in starts.T:
                pending = np.flatnonzero(~matches[candidates])
                if len(pending) == 0:
                    return matches
                turns = _best_turns(spectrum[pending], start[pending])
                tried = candidates[pending]
                matches[tried] = self._fits(head, others[tried], turns, mirrored, tolerance)
        return matches

    def _correlated(self, head: int, others: NDArray[np.int64], mirrored: bool) -> NDArray[np.complex128]:
        """Return the Fourier series of the correlation of the head's samples with the others'."""
        points = self.samples[others]
        if mirrored:
            points = np.conj(points)[:, ::-1]
        return np.conj(np.fft.fft(points, axis=1)) * np.fft.fft(self.samples[head])[None, :]

    def _fits(
        self,
        head: int,
        others: NDArray[np.int64],
        turns: NDArray[np.complex128],
        mirrored: bool,
        tolerance: float,
    ) -> NDArray[np.bool_]:
        starts = np.searchsorted(self.owner, others)
        counts = np.searchsorted(self.owner, others, side="right") - starts
        which = np.repeat(np.arange(len(others)), counts)
        index = np.arange(len(which)) - np.repeat(np.cumsum(counts) - counts - starts, counts)
        theirs = np.conj(self.nodes[index]) if mirrored else self.nodes[index]
        strays = ~shapely.dwithin(self.lines[head], _points(theirs * turns[which]), tolerance)
        fits: NDArray[np.bool_] = np.bincount(which, weights=strays, minlength=len(others)) == 0
        own = self.nodes[self.owner == head]
        back = own[None, :] * np.conj(turns[fits])[:, None]
        points = _points(np.conj(back) if mirrored else back)
        fits[fits] = shapely.dwithin(self.lines[others[fits]][:, None], points, tolerance).all(axis=1)
        return fits


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
    harmonics = np.abs(np.fft.fft(samples, axis=1)) / _SAMPLES
    return CentredOutlines(
        nodes=nodes,
        owner=owner,
        lines=lines,
        samples=samples,
        areas=shapely.area(polygons) * factors**2,
        lengths=shapely.length(lines),
        reach=reach,
        swings=np.concatenate([harmonics[:, 1:7], harmonics[:, -6:]], axis=1),
    )


def _best_starts(spectrum: NDArray[np.complex128]) -> NDArray[np.int64]:
    """Return the starts (n, 4) at which outlines fit best, the best first, of a correlation's series."""
    strength = np.abs(np.fft.ifft(spectrum, axis=1))
    is_peak = (strength >= np.roll(strength, 1, axis=1)) & (strength >= np.roll(strength, -1, axis=1))
    return np.argsort(np.where(is_peak, -strength, 1.0), axis=1, kind="stable")[:, :_PEAKS]


def _best_turns(spectrum: NDArray[np.complex128], start: NDArray[np.int64]) -> NDArray[np.complex128]:
    """Return unit numbers that turn outlines onto the head's, given near what start they fit (least squares).

    Newton's method finds the best start between samples, by the lower harmonics of the correlation's series.
    """
    series, shift = spectrum[:, _LOW], start.astype(float)
    for _ in range(_NEWTON_STEPS):
        terms = series * np.exp(_STEP * np.outer(shift, _FREQUENCIES))
        value, slope, bend = (
            terms.sum(axis=1),
            terms @ (_STEP * _FREQUENCIES),
            terms @ (_STEP * _FREQUENCIES) ** 2,
        )
        first = (np.conj(value) * slope).real
        second = np.abs(slope) ** 2 + (np.conj(value) * bend).real
        falls = second < -1e-12 * np.abs(value) ** 2
        shift -= np.clip(np.where(falls, first / np.where(falls, second, 1.0), 0.0), -0.5, 0.5)
    best = (series * np.exp(_STEP * np.outer(shift, _FREQUENCIES))).sum(axis=1)
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
