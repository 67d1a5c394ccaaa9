"""The turns and mirrors that lay a drawing nearly on itself.

How much outline lies in each direction from a centre, ring by ring, is a row of periodic functions. A turn or
a mirror of the drawing shifts or reverses them, so their correlation at all shifts, by the discrete Fourier
transform, peaks at the drawing's symmetries (cyclic and dihedral symmetries in the frequency domain: Lucchese
2004, Pattern Recognition 37, from memory). Rings about the centre say nothing and drop out.
"""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.geometry.elementary import cosine_and_sine, directions, hypot

Floats = NDArray[np.float64]

_RINGS = 24
"""Rings from the centre outwards: a bend is told from another that lies a twentieth of the radius away."""
_DIRECTIONS = 720
"""Half a degree each: finer than an unsteady hand draws."""
_POINTS = 20_000
"""Points at equal steps along all outlines together, a few for each direction of each ring."""
_SPREAD = 60.0
"""Harmonics beyond some of these hardly count, so that outlines may stray by a degree or two."""
_LEAST = 0.5
"""How strongly a drawing must correlate with itself, where 1 is as it does unmoved. Set on 34 drawings, of
which 14 have a symmetry."""
_MOST = 24
"""The strongest turns, and as many mirrors; of a figure with more, these lead to all others."""


@dataclass(frozen=True, slots=True, eq=False)
class Symmetry:
    """A turn or mirror: points go to `(points - centre) @ linear.T + target`, `centre` and `target` (2)."""

    centre: Floats
    linear: Floats
    target: Floats

    def moved(self, points: Floats) -> Floats:
        """Return points (n, 2) laid where the symmetry takes them."""
        return (points - self.centre) @ self.linear.T + self.target

    def fitted(self, points: Floats, targets: Floats) -> "Symmetry":
        """Return the symmetry of the same kind that lays points (n, 2) nearest to their targets (n, 2).

        Least squares by a singular value decomposition (Kabsch 1976, from memory).
        """
        centre, target = points.mean(axis=0), targets.mean(axis=0)
        left, _, right = np.linalg.svd((targets - target).T @ (points - centre))
        is_mirror = np.linalg.det(self.linear) < 0
        keeps = (np.linalg.det(left) * np.linalg.det(right) < 0) == is_mirror
        linear = left @ np.diag([1.0, 1.0 if keeps else -1.0]) @ right
        return Symmetry(centre, linear, target)


def symmetries(shapes: NDArray[np.object_]) -> tuple[Symmetry, ...]:
    """Return the turns and mirrors under which the outlines of shapes (n) nearly lie on themselves.

    They are sought about the centroid of all shapes and about the middle of their bounds; the strongest come
    first.
    """
    outlines = shapely.boundary(shapes)
    length = float(shapely.length(outlines).sum())
    if not length > 0:
        return ()
    points = shapely.get_coordinates(shapely.segmentize(outlines, length / _POINTS))
    left, top, right, bottom = shapely.total_bounds(shapes)
    middle = np.array([left + right, top + bottom]) / 2
    areas = shapely.area(shapes)
    centroid = (shapely.get_coordinates(shapely.centroid(shapes)) * areas[:, None]).sum(axis=0) / areas.sum()
    centres = (centroid, middle) if np.abs(centroid - middle).max() > length / _POINTS else (middle,)
    found = [each for centre in centres for each in _about(points, centre)]
    return tuple(symmetry for _, symmetry in sorted(found, key=lambda each: -each[0]))


def _about(points: Floats, centre: Floats) -> list[tuple[float, Symmetry]]:
    """Return the symmetries about a centre, each with how strong it is."""
    x, y = (points - centre).T
    reach = hypot(x, y)
    ring = np.minimum((reach / reach.max() * _RINGS).astype(int), _RINGS - 1)
    direction = np.floor(directions(x, y) * (_DIRECTIONS / (2 * np.pi))).astype(int) % _DIRECTIONS
    amounts = np.bincount(ring * _DIRECTIONS + direction, minlength=_RINGS * _DIRECTIONS)
    waves = np.fft.fft(amounts.reshape(_RINGS, _DIRECTIONS).astype(float), axis=1)
    harmonics = np.fft.fftfreq(_DIRECTIONS, 1 / _DIRECTIONS)
    waves *= np.exp(-((harmonics / _SPREAD) ** 2) / 2)
    waves[:, 0] = 0
    whole = float((np.abs(waves) ** 2).sum())
    if not whole > 0:
        return []
    turned = np.fft.ifft((waves * np.conj(waves)).sum(axis=0)).real * _DIRECTIONS / whole
    mirrored = np.fft.ifft((waves * waves).sum(axis=0)).real * _DIRECTIONS / whole
    # Directions are cells: a mirror image of the first is the last.
    turns = [(turned[shift], _turn(shift)) for shift in _peaks(turned) if shift]
    mirrors = [(mirrored[shift], _mirror(shift + 1)) for shift in _peaks(mirrored)]
    return [(float(strength), Symmetry(centre, linear, centre)) for strength, linear in turns + mirrors]


def _peaks(strength: Floats) -> list[int]:
    """Return where a periodic function peaks, the strongest first."""
    is_peak = (strength >= np.roll(strength, 1)) & (strength > np.roll(strength, -1)) & (strength >= _LEAST)
    places = np.flatnonzero(is_peak)
    order = np.argsort(-strength[places], kind="stable")[:_MOST]
    return [int(place) for place in places[order]]


def _turn(shift: int) -> Floats:
    cosine, sine = cosine_and_sine(shift * 2 * np.pi / _DIRECTIONS)
    return np.array([[cosine, -sine], [sine, cosine]])


def _mirror(shift: int) -> Floats:
    cosine, sine = cosine_and_sine(shift * 2 * np.pi / _DIRECTIONS)
    return np.array([[cosine, sine], [sine, -cosine]])
