"""Elementary functions that give the same bits on every machine.

Sums, products, quotients and square roots are rounded alike everywhere (IEEE 754-2019, clause 5). Sines, arc
tangents and hypotenuses are not: libraries differ in the last bit, and so do matrix products, which add up in
an order of their own, and products of complex numbers, which some processors fuse. Where such a bit breaks a
tie, one machine lays a piece where another does not. So what decisions follow from is computed here, out of
operations that are rounded alike. (What GEOS makes with sines of its own goes on a grid: see `grid`.)
"""

import math
from typing import Any

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Complexes = NDArray[np.complexfloating[Any, Any]]

_QUARTER_TURN = (float.fromhex("0x1.921fb544p+0"), float.fromhex("0x1.0b4611a6p-34"))
"""A quarter turn in two parts of 33 bits, so that their whole multiples are exact (Cody and Waite 1980)."""

_POWERS = range(8, -1, -1)
"""Nine terms, the highest first, as Horner takes them."""
_SINE_AND_COSINE = [
    np.array([[(-1.0) ** k / math.factorial(2 * k + 1)], [(-1.0) ** k / math.factorial(2 * k)]])
    for k in _POWERS
]
"""The Taylor series in the angle's square of sine over angle and of cosine: to 1e-17 up to pi / 4."""

_QUARTERS = np.array([1, 1j, -1, -1j])
"""No to three quarter turns as complex numbers."""

_ARC_TANGENT = [(-1.0) ** k / (2 * k + 1) for k in range(11, -1, -1)]
"""The Taylor series in the slope's square of arc tangent over slope: to 1e-18 up to tan(pi / 16)."""


def hypot(x: Floats, y: Floats) -> Floats:
    """Return the lengths of vectors (x, y)."""
    lengths: Floats = np.sqrt(x * x + y * y)
    return lengths


def inner_product(one: Floats, other: Floats) -> float:
    """Return the scalar product of two vectors (n)."""
    return float((one * other).sum())


def products(one: Complexes, other: Complexes) -> Complexes:
    """Return the products of complex numbers."""
    multiplied = np.empty(np.broadcast_shapes(one.shape, other.shape), np.result_type(one, other))
    multiplied.real = one.real * other.real - one.imag * other.imag
    multiplied.imag = one.real * other.imag + one.imag * other.real
    return multiplied


def cosines_and_sines(turns: Floats) -> tuple[Floats, Floats]:
    """Return cosines and sines of turns (n) in radians, within a thousand full turns of none."""
    quarters = np.rint(turns * (2 / math.pi))
    rest = turns - quarters * _QUARTER_TURN[0]
    rest -= quarters * _QUARTER_TURN[1]
    square = rest * rest
    both = _SINE_AND_COSINE[0] * square
    for coefficients in _SINE_AND_COSINE[1:-1]:
        both += coefficients
        both *= square
    both += 1.0
    # A product with 1 or 1j is exact, fused or not.
    whole = (both[1] + 1j * (rest * both[0])) * _QUARTERS[quarters.astype(np.int64) & 3]
    return whole.real, whole.imag


def cosine_and_sine(turn: float) -> tuple[float, float]:
    """Return cosine and sine of one turn in radians."""
    (cosine,), (sine,) = cosines_and_sines(np.array([turn]))
    return float(cosine), float(sine)


def directions(x: Floats, y: Floats) -> Floats:
    """Return the angles (n) of vectors in radians from the x axis, -pi to pi, as the arc tangent of y / x."""
    across, up = np.abs(x), np.abs(y)
    slope = np.minimum(across, up) / np.maximum(np.maximum(across, up), np.finfo(float).tiny)
    for _ in range(2):
        # The slope of half the angle.
        slope = slope / (1.0 + np.sqrt(1.0 + slope * slope))
    square = slope * slope
    angle = _ARC_TANGENT[0] * square
    for coefficient in _ARC_TANGENT[1:-1]:
        angle = (angle + coefficient) * square
    angle = 4.0 * slope * (1.0 + angle)
    angle = np.where(up > across, math.pi / 2 - angle, angle)
    return np.copysign(np.where(x < 0, math.pi - angle, angle), y)


def turned_by_radians(points: Floats, turn: float | Floats) -> Floats:
    """Return points (n, 2) turned about the origin by so many radians, from the x axis towards the y axis.

    For several turns (k) the points, the same (n, 2) or others (k, n, 2) for each, come as (k, n, 2).
    """
    cosine, sine = (part[:, None] for part in cosines_and_sines(np.atleast_1d(turn)))
    if np.ndim(turn) == 0:
        cosine, sine = cosine[0], sine[0]
    x, y = points[..., 0], points[..., 1]
    return np.stack([cosine * x - sine * y, sine * x + cosine * y], axis=-1)
