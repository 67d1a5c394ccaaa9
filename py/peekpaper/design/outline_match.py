"""How far one outline strays from another at their best turn and mirror."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

_SAMPLES = 128
_FINE = np.linspace(-1, 1, 33)


@dataclass(frozen=True, slots=True, eq=False)
class Sampled:
    """Outlines about their centroids, as complex numbers.

    `points` (n, 128) go once around each at equal steps. `areas` (n) and `reach` (n), the greatest distance
    from the centroid, stay the same under turn and mirror; `lengths` (n) are the outlines' lengths.
    """

    points: NDArray[np.complex128]
    areas: NDArray[np.float64]
    reach: NDArray[np.float64]
    lengths: NDArray[np.float64]

    def scaled(self, factors: NDArray[np.float64]) -> "Sampled":
        """Return the outlines scaled by `factors` (n)."""
        return Sampled(
            self.points * factors[:, None],
            self.areas * factors**2,
            self.reach * factors,
            self.lengths * factors,
        )

    def taken(self, indices: NDArray[np.int64]) -> "Sampled":
        """Return some of the outlines."""
        return Sampled(self.points[indices], self.areas[indices], self.reach[indices], self.lengths[indices])

    def may_match(self, head: int, others: NDArray[np.int64], tolerance: float) -> NDArray[np.bool_]:
        """Tell which outlines are of a size that lets them match one within `tolerance`."""
        near_area = np.abs(self.areas[others] - self.areas[head]) <= tolerance * self.lengths[head] * 1.1
        near_reach = np.abs(self.reach[others] - self.reach[head]) <= 2 * tolerance
        return near_area & near_reach


def sample_outlines(polygons: NDArray[np.object_]) -> Sampled:
    """Return the outlines of polygons, all going round the same way."""
    rings = shapely.get_exterior_ring(shapely.orient_polygons(polygons))
    lengths = shapely.length(rings)
    steps = np.arange(_SAMPLES) / _SAMPLES
    along = shapely.line_interpolate_point(rings[:, None], steps[None, :], normalized=True)
    centres = _complex(shapely.get_coordinates(shapely.centroid(polygons)))
    points = _complex(shapely.get_coordinates(along)).reshape(-1, _SAMPLES) - centres[:, None]
    nodes, ring = shapely.get_coordinates(rings, return_index=True)
    reach = np.zeros(len(polygons))
    np.maximum.at(reach, ring, np.abs(_complex(nodes) - centres[ring]))
    return Sampled(points, shapely.area(polygons), reach, lengths)


def stray(sampled: Sampled, head: int, others: NDArray[np.int64]) -> NDArray[np.float64]:
    """Return how far the outlines `others` stray from that of `head` at their best turn, mirrored or not."""
    target = sampled.points[head]
    line = _ring(target)
    shapely.prepare(line)
    best = np.full(len(others), np.inf)
    for points in (sampled.points[others], np.conj(sampled.points[others])[:, ::-1]):
        turned = points * _best_turn(target, points)[:, None]
        there = shapely.distance(shapely.points(_pairs(turned)), line).max(axis=1)
        back = shapely.distance(shapely.points(_pairs(target))[None, :], _ring(turned)[:, None]).max(axis=1)
        best = np.minimum(best, np.maximum(there, back))
    return best


def _best_turn(target: NDArray[np.complex128], points: NDArray[np.complex128]) -> NDArray[np.complex128]:
    """Return for each outline the unit complex number that turns it best onto the target (least squares).

    All starts are tried at once by correlation of the outlines' Fourier series, the best one then refined
    between samples.
    """
    spectrum = np.conj(np.fft.fft(points, axis=1)) * np.fft.fft(target)[None, :]
    correlation = np.fft.ifft(spectrum, axis=1)
    start = np.argmax(np.abs(correlation), axis=1)
    frequencies = np.fft.fftfreq(_SAMPLES, 1 / _SAMPLES)
    shifts = start[:, None] + _FINE[None, :]
    waves = np.exp(2j * np.pi * frequencies[None, None, :] * shifts[:, :, None] / _SAMPLES)
    fine = np.einsum("nk,nsk->ns", spectrum, waves) / _SAMPLES
    chosen = fine[np.arange(len(points)), np.argmax(np.abs(fine), axis=1)]
    turn: NDArray[np.complex128] = chosen / np.maximum(np.abs(chosen), 1e-300)
    return turn


def _complex(points: NDArray[np.float64]) -> NDArray[np.complex128]:
    joined: NDArray[np.complex128] = points[:, 0] + 1j * points[:, 1]
    return joined


def _pairs(points: NDArray[np.complex128]) -> NDArray[np.float64]:
    return np.stack([points.real, points.imag], axis=-1)


def _ring(points: NDArray[np.complex128]) -> NDArray[np.object_]:
    rings: NDArray[np.object_] = shapely.linearrings(_pairs(points))
    return rings
