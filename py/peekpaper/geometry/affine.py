"""Affine maps of the plane as matrices of shape (2, 3): the linear part, then where the origin goes."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

IDENTITY: Floats = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
"""The matrix that moves nothing."""


def mirrored(width_mm: float) -> Floats:
    """Return the matrix that turns a sheet of the given width over, left to right."""
    return np.array([[-1.0, 0.0, width_mm], [0.0, 1.0, 0.0]])


def after(second: Floats, first: Floats) -> Floats:
    """Return the matrix that moves by `first` and then by `second`."""
    linear = second[:, :2] @ first
    linear[:, 2] += second[:, 2]
    return linear


def back(matrix: Floats) -> Floats:
    """Return the matrix that undoes one."""
    linear = np.linalg.inv(matrix[:, :2])
    return np.concatenate([linear, -(linear @ matrix[:, 2:])], axis=1)


def moved(points: Floats, matrix: Floats) -> Floats:
    """Return points of shape (..., 2) under a matrix."""
    return points @ matrix[:, :2].T + matrix[:, 2]
