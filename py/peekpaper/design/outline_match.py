"""Which outlines match one another under turn and mirror."""

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.design.areas import geometries

_SAMPLES = 128
_HARMONICS = 24
_PEAKS = 4
_FINE = np.linspace(-1, 1, 33)
_DETAIL = 0.05
"""Outlines are compared without details finer than this share of the tolerance."""


@dataclass(frozen=True, slots=True, eq=False)
class CentredOutlines:
    """Outlines about their centroids, all going round the same way.

    `nodes` (k) are their corners as complex numbers, `owner` (k) tells whose, `lines` (n) are the same as
    rings. `samples` (n, 128) are points at equal steps around each. `areas`, `lengths` and `reach` (n), the
    greatest distance from the centroid, stay the same under turn and mirror.
    """

    nodes: NDArray[np.complex128]
    owner: NDArray[np.int64]
    lines: NDArray[np.object_]
    samples: NDArray[np.complex128]
    areas: NDArray[np.float64]
    lengths: NDArray[np.float64]
    reach: NDArray[np.float64]

    def matching(self, head: int, others: NDArray[np.int64], tolerance: float) -> NDArray[np.bool_]:
        """Tell which of the outlines `others` match `head`, turned or mirrored.

        They match where no corner of the one lies farther than `tolerance` from the other's line.
        """
        near = np.abs(self.areas[others] - self.areas[head]) <= 1.1 * tolerance * self.lengths[head]
        near &= np.abs(self.reach[others] - self.reach[head]) <= 2 * tolerance
        matches = np.zeros(len(others), bool)
        candidates = np.flatnonzero(near)
        if len(candidates) == 0:
            return matches
        for mirrored in (False, True):
            for turns in self._best_turns(head, others[candidates], mirrored):
                pending = ~matches[candidates]
                if not pending.any():
                    return matches
                tried = candidates[pending]
                matches[tried] = self._fits(head, others[tried], turns[pending], mirrored, tolerance)
        return matches

    def _best_turns(
        self, head: int, others: NDArray[np.int64], mirrored: bool
    ) -> Iterator[NDArray[np.complex128]]:
        """Yield unit numbers that turn each outline onto the head's: the best fit first, then the next best.

        All starting points are tried at once by correlating the outlines' Fourier series; the peaks are then
        refined between samples (least squares fit of samples, as in Kendall's Procrustes distance).
        """
        target, points = self.samples[head], self.samples[others]
        if mirrored:
            points = np.conj(points)[:, ::-1]
        spectrum = np.conj(np.fft.fft(points, axis=1)) * np.fft.fft(target)[None, :]
        strength = np.abs(np.fft.ifft(spectrum, axis=1))
        is_peak = (strength >= np.roll(strength, 1, axis=1)) & (strength >= np.roll(strength, -1, axis=1))
        peaks = np.argsort(np.where(is_peak, -strength, 1.0), axis=1, kind="stable")[:, :_PEAKS]
        frequencies = np.fft.fftfreq(_SAMPLES, 1 / _SAMPLES)
        kept = np.flatnonzero(np.abs(frequencies) <= _HARMONICS)
        waves = np.exp(2j * np.pi / _SAMPLES * np.outer(frequencies[kept], _FINE))
        for peak in peaks.T:
            shifted = spectrum[:, kept] * np.exp(2j * np.pi / _SAMPLES * np.outer(peak, frequencies[kept]))
            fine = shifted @ waves
            best = fine[np.arange(len(fine)), np.argmax(np.abs(fine), axis=1)]
            yield best / np.maximum(np.abs(best), np.finfo(float).tiny)

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
    return CentredOutlines(
        nodes=nodes,
        owner=owner,
        lines=lines,
        samples=_sampled(nodes, owner, len(polygons)),
        areas=shapely.area(polygons) * factors**2,
        lengths=shapely.length(lines),
        reach=reach,
    )


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
