"""The Delaunay triangulation of points, as indices."""

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.geometry.fans import fanned

_NEARNESSES = (0.0, 1e-12, 1e-9, 1e-6)
"""How near points may come to one another, as shares of their extent: at first as near as they do."""


def as_complex(points: NDArray[np.float64]) -> NDArray[np.complex128]:
    """Return points (n, 2) as complex numbers (n), which sort by x and then by y."""
    flat: NDArray[np.complex128] = np.ascontiguousarray(points + 0.0).view(np.complex128).ravel()
    return flat


def delaunay(points: NDArray[np.float64]) -> NDArray[np.int64]:
    """Return the triangles (m, 3) of sorted, unique points (n, 2) as their indices, all turning one way.

    Points that all but coincide with others may be left without a triangle. Where points lie on a circle, so
    that several triangulations are right, the same one is taken everywhere.
    """
    return fanned(points, looked_up(points, _corners(points)))


def _corners(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the corners (m, 3, 2) of the triangles of points (n, 2).

    Points that all but coincide can lead the search for the next one's place astray. Then they are left out.
    """
    cloud = shapely.multipoints(points)
    extent = float(np.ptp(points, axis=0).max())
    for nearness in _NEARNESSES:
        try:
            triangles = shapely.delaunay_triangles(cloud, nearness * extent)
        except shapely.GEOSException:
            continue
        return shapely.get_coordinates(triangles).reshape(-1, 4, 2)[:, :3]
    return np.empty((0, 3, 2))


def looked_up(points: NDArray[np.float64], corners: NDArray[np.float64]) -> NDArray[np.int64]:
    """Return the indices (m, 3) of triangle corners (m, 3, 2) among sorted points; strangers are dropped.

    They have 64 bits also where the machine's own integers have 32, as in a browser, so that a pair of them
    can be packed into one number.
    """
    known, wanted = as_complex(points), as_complex(corners.reshape(-1, 2))
    found = np.minimum(np.searchsorted(known, wanted), len(known) - 1)
    triangles = found.reshape(-1, 3).astype(np.int64)
    are_known: NDArray[np.bool_] = (known[found] == wanted).reshape(-1, 3).all(axis=1)
    return triangles[are_known]
