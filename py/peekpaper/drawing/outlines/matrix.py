"""Affine maps of the plane, as SVG writes them."""

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.complex128]
"""Points of the plane as complex numbers x + iy."""


class Matrix(NamedTuple):
    """The map (x, y) -> (a x + c y + e, b x + d y + f) (SVG 1.1, 7.4)."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def __matmul__(self, inner: "Matrix") -> "Matrix":
        """Return the map that applies `inner` first, then this one."""
        return Matrix(
            self.a * inner.a + self.c * inner.b,
            self.b * inner.a + self.d * inner.b,
            self.a * inner.c + self.c * inner.d,
            self.b * inner.c + self.d * inner.d,
            self.a * inner.e + self.c * inner.f + self.e,
            self.b * inner.e + self.d * inner.f + self.f,
        )

    @property
    def determinant(self) -> float:
        """The factor by which areas grow, negative where the map mirrors."""
        return self.a * self.d - self.b * self.c

    @property
    def scale(self) -> float:
        """The factor by which lengths grow on average: the root of the area's growth."""
        return math.sqrt(abs(self.determinant))

    @property
    def stretch(self) -> float:
        """The greatest factor by which a length grows: the larger singular value."""
        square = self.a**2 + self.b**2 + self.c**2 + self.d**2
        return math.sqrt((square + math.sqrt(max(0.0, square**2 - 4 * self.determinant**2))) / 2)

    @property
    def is_similarity(self) -> bool:
        """Whether all lengths grow by the same factor, so that a circle stays a circle."""
        size = abs(self.a) + abs(self.b) + abs(self.c) + abs(self.d)
        turned = abs(self.a - self.d) + abs(self.b + self.c)
        mirrored = abs(self.a + self.d) + abs(self.b - self.c)
        return min(turned, mirrored) <= 1e-9 * size

    def apply(self, points: Points) -> Points:
        """Return the images of `points`."""
        x, y = points.real, points.imag
        return (self.a * x + self.c * y + self.e) + 1j * (self.b * x + self.d * y + self.f)

    def apply_to(self, point: complex) -> complex:
        """Return the image of one point."""
        x, y = point.real, point.imag
        return complex(self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f)

    def inverse(self) -> "Matrix":
        """Return the map that undoes this one; raises ZeroDivisionError where none does."""
        area = self.determinant
        a, b, c, d = self.d / area, -self.b / area, -self.c / area, self.a / area
        return Matrix(a, b, c, d, -(a * self.e + c * self.f), -(b * self.e + d * self.f))


IDENTITY = Matrix()


def translation(x: float, y: float) -> Matrix:
    """Return the map that moves everything by (x, y)."""
    return Matrix(e=x, f=y)


def rotation(degrees: float) -> Matrix:
    """Return the turn about the origin, clockwise on screen."""
    cosine, sine = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return Matrix(cosine, sine, -sine, cosine)
