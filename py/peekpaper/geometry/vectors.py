"""Vectors in the plane, any number of them at once: their last axis holds x and y."""

import numpy as np
from numpy.typing import NDArray

from peekpaper.geometry.elementary import hypot

Floats = NDArray[np.float64]

_LEAST = 1e-300
"""What a vector is divided by at least, so that one of no length stays as it is."""


def norms(vectors: Floats) -> Floats:
    """Return the lengths (...) of vectors (..., 2)."""
    return hypot(vectors[..., 0], vectors[..., 1])


def unit(vectors: Floats) -> Floats:
    """Return vectors (..., 2) of length 1 in the same directions; those of no length stay so."""
    units: Floats = vectors / np.maximum(norms(vectors), _LEAST)[..., None]
    return units


def dot(one: Floats, other: Floats) -> Floats:
    """Return the scalar products (...) of vectors (..., 2)."""
    products: Floats = one[..., 0] * other[..., 0] + one[..., 1] * other[..., 1]
    return products


def cross(one: Floats, other: Floats) -> Floats:
    """Return the third coordinates (...) of the vector products of vectors (..., 2)."""
    products: Floats = one[..., 0] * other[..., 1] - one[..., 1] * other[..., 0]
    return products


def triangle_areas(corners: Floats) -> Floats:
    """Return the areas (n) of triangles by their corners (n, 3, 2)."""
    areas: Floats = np.abs(cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])) / 2
    return areas
