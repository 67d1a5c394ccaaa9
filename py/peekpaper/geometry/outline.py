"""A closed outline of lines and cubic Béziers, as cutters like it."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.geometry.polyline import rows_of
from peekpaper.geometry.vectors import norms

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]
Flags = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, eq=False)
class Outline:
    """A closed path in mm: `cubics` has shape (n, 4, 2), each starting where the one before ends.

    `straight` (n) tells which of them are straight lines; their inner control points lie on the line.
    """

    cubics: Floats
    straight: Flags

    def moved(self, matrix: Floats) -> "Outline":
        """Return the outline under an affine `matrix` of shape (2, 3)."""
        return Outline(self.cubics @ matrix[:, :2].T + matrix[:, 2], self.straight)

    def sampled(self, tolerance: float) -> Floats:
        """Return the outline as a ring of points, shape (k, 2), the first repeated at the end.

        No chord is further than `tolerance` mm from the curve. The count of chords per cubic follows Wang's
        bound on its second differences (Wang 1984, cited in Farin, Curves and Surfaces for CAGD).
        """
        second = np.abs(np.diff(self.cubics, 2, axis=1))
        bend = norms(second).max(axis=1)
        counts = np.maximum(1, np.ceil(np.sqrt(0.75 * bend / tolerance))).astype(int)
        counts[self.straight] = 1
        owner, step = rows_of(counts)
        points = bezier_points(self.cubics[owner], step / counts[owner])
        return np.vstack([points, self.cubics[:1, 0]])


def rectangle(x: float, y: float, width: float, height: float) -> Floats:
    """Return a rectangle as a ring of points, shape (5, 2), from its top left corner round to it again."""
    ring: Floats = np.array([[0, 0], [1, 0], [1, 1], [0, 1], [0, 0]]) * (width, height) + np.array([x, y])
    return ring


def outer_ring(polygon: Polygon) -> Floats:
    """Return the points of a polygon's outer ring, shape (n, 2), the first repeated at the end."""
    return shapely.get_coordinates(polygon.exterior)


def bezier_points(cubics: Floats, at: Floats) -> Floats:
    """Return the points, shape (n, 2), of `cubics` (n, 4, 2) at the parameters `at` (n), one each."""
    rest = 1 - at
    weights = np.stack([rest**3, 3 * rest**2 * at, 3 * rest * at**2, at**3], axis=1)
    points: Floats = np.einsum("nk,nkd->nd", weights, cubics)
    return points
