"""Points along the edges of all openings and the triangulation between them."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

HELPER = -2
"""The place in `Sites.opening` of points that belong to no opening and keep the triangles small."""
FRAME = -1
"""The place in `Sites.opening` of the four points far outside, which bound all zones."""


@dataclass(frozen=True, slots=True, eq=False)
class Sites:
    """Points along the openings' edges and the Delaunay triangulation of the plane between them.

    `points` (n, 2) in mm; `opening` (n) is the position of the opening whose edge a point lies on, HELPER or
    FRAME. `triangles` (m, 3) index `points`, all turning the same way (positive area in x, y).
    `nearest` (n) is for each helper the nearest site of any opening, and the site itself for all others.
    `rings` lists the sites of one edge after the other in their order; for each site, `begin` and `length`
    tell which stretch of `rings` its edge is, and `place` where on that stretch the site stands.
    """

    points: NDArray[np.float64]
    opening: NDArray[np.int64]
    triangles: NDArray[np.int64]
    nearest: NDArray[np.int64]
    rings: NDArray[np.int64]
    begin: NDArray[np.int64]
    length: NDArray[np.int64]
    place: NDArray[np.int64]

    def along(self, sites: NDArray[np.int64], steps: NDArray[np.int64]) -> NDArray[np.int64]:
        """Return the sites (s, k) that many steps (s, 1) or (s, k) along the edge from `sites` (k)."""
        place = (self.place[sites] + steps) % self.length[sites]
        return self.rings[self.begin[sites] + place]
