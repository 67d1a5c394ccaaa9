"""The turns that lay one outline on another.

Sought by the correlation of points at equal steps (Persoon and Fu 1977, "Shape discrimination using Fourier
descriptors", from memory).
"""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.polygon import orient

from peekpaper.geometry.outline import Floats

Complexes = NDArray[np.complex128]

TOLERANCE_MM = 0.3
"""How far outlines may differ and still count as the same, as for alike openings."""

_SAMPLES = 128
"""Points at equal steps along an outline: their correlation tells turns apart that differ by 3 degrees."""
_MOST_TURNS = 6
"""No more turns than these are tried: any of a round shape does."""


@dataclass(frozen=True, slots=True, eq=False)
class Shape:
    """An outline about its centroid as complex numbers: its corners, and points at equal steps along it.

    All run the same way round, so that steps correspond.
    """

    area: float
    middle: Floats
    corners: Complexes
    steps: Complexes


def shape_of(outline: Polygon) -> Shape:
    """Return an outline ready to be compared."""
    points = shapely.get_coordinates(orient(outline).exterior)
    middle = shapely.get_coordinates(outline.centroid)[0]
    corners = (points - middle) @ np.array([1, 1j])
    lengths = np.append(0.0, np.cumsum(np.abs(np.diff(corners))))
    at = np.linspace(0, lengths[-1], _SAMPLES, endpoint=False)
    return Shape(outline.area, middle, corners, np.interp(at, lengths, corners))


def turns(one: Shape, other: Shape) -> list[float]:
    """Return the angles (radians, x towards y) by which `other` turned about its middle lies on `one`.

    They are sought where the steps along both correlate best; at most six, the best first, never mirrored.
    """
    if abs(one.area - other.area) > TOLERANCE_MM * np.abs(np.diff(one.corners)).sum():
        return []
    correlation = np.fft.ifft(np.fft.fft(one.steps) * np.conj(np.fft.fft(other.steps)))
    strength = np.abs(correlation)
    peaks = (strength >= np.roll(strength, 1)) & (strength >= np.roll(strength, -1))
    candidates = np.flatnonzero(peaks & (strength > 0.98 * strength.max()))
    best = candidates[np.argsort(-strength[candidates], kind="stable")][:_MOST_TURNS]
    angles = [float(angle) for angle in np.angle(correlation[best])]
    return [angle for angle in angles if fits(one, other, angle)]


def fits(one: Shape, other: Shape, angle: float) -> bool:
    """Tell whether `other`, turned by `angle` about its middle, lies on `one`."""
    turn = np.exp(1j * angle)
    apart = max(_reach(other.steps * turn, one.corners), _reach(one.steps, other.corners * turn))
    return apart <= TOLERANCE_MM


def _reach(points: Complexes, ring: Complexes) -> float:
    """Return the greatest distance of points from a ring of corners."""
    starts, edges = ring[:-1], np.diff(ring)
    offsets = points[:, None] - starts
    along = (offsets * np.conj(edges)).real / np.maximum(np.abs(edges) ** 2, 1e-18)
    return float(np.abs(offsets - np.clip(along, 0, 1) * edges).min(axis=1).max())
