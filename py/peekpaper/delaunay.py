"""The Delaunay triangulation of points, as indices."""

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.fans import fanned


def as_complex(points: NDArray[np.float64]) -> NDArray[np.complex128]:
    """Return points (n, 2) as complex numbers (n), which sort by x and then by y."""
    flat: NDArray[np.complex128] = np.ascontiguousarray(points + 0.0).view(np.complex128).ravel()
    return flat


def delaunay(points: NDArray[np.float64]) -> NDArray[np.int64]:
    """Return the triangles (m, 3) of sorted, unique points (n, 2) as their indices, all turning one way.

    Where points lie on a circle, so that several triangulations are right, the same one is taken everywhere.
    """
    collection = shapely.delaunay_triangles(shapely.multipoints(points))
    return fanned(points, looked_up(points, shapely.get_coordinates(collection).reshape(-1, 4, 2)[:, :3]))


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
