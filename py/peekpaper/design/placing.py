"""Where the drawing's CSS px come to lie in the design."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Point
from shapely.geometry.base import BaseGeometry

from peekpaper.design.design import Reading
from peekpaper.design.size import mm_per_px
from peekpaper.drawing.drawing import Drawing
from peekpaper.geometry.areas import as_area
from peekpaper.geometry.overlay import valid

Shape = TypeVar("Shape", bound=BaseGeometry)

_FINEST_MM = 1e-4
"""How finely places are written down: far below what a blade can follow."""
_TURN_DECIMALS = 10
"""Of the sines of turns: so fine that nothing moves by a ten thousandth of a millimetre."""


@dataclass(frozen=True, slots=True)
class Placing:
    """A scale and an origin: the point (`left_px`, `top_px`) of the drawing becomes the design's origin."""

    mm_per_px: float
    left_px: float
    top_px: float

    def geometry(self, geometry: Shape) -> Shape:
        """Return a geometry in CSS px as one in mm."""

        def place(points: NDArray[np.float64]) -> NDArray[np.float64]:
            moved: NDArray[np.float64] = (points - (self.left_px, self.top_px)) * self.mm_per_px
            return moved

        placed: Shape = shapely.transform(geometry, place)
        return placed

    def area(self, area: MultiPolygon) -> MultiPolygon:
        """Return an area in CSS px as a valid one in mm; rounding may make edges cross that only touched."""
        placed = self.geometry(area)
        return as_area(placed if placed.is_valid else valid(placed))

    def places(self, points_px: Sequence[tuple[float, float]]) -> NDArray[np.float64]:
        """Return points in CSS px (n) as points (n, 2) in mm."""
        placed: NDArray[np.float64] = (np.array(points_px) - (self.left_px, self.top_px)) * self.mm_per_px
        return placed

    def place(self, at_px: tuple[float, float]) -> Point:
        """Return a place in CSS px as one in mm."""
        return Point(self.places([at_px])[0])

    def px_places(self, points: NDArray[np.float64]) -> tuple[tuple[float, float], ...]:
        """Return points (n, 2) in mm as places in CSS px, to a ten thousandth of a millimetre."""
        places = np.round(points / self.mm_per_px + (self.left_px, self.top_px), self._decimals)
        return tuple((float(x), float(y)) for x, y in places.tolist())

    def px_turn(self, matrix: NDArray[np.float64]) -> tuple[float, float, float, float, float, float]:
        """Return an affine map (2, 3) of places in mm as one of places in CSS px, its numbers row by row."""
        origin = np.array([self.left_px, self.top_px])
        shift = matrix[:, 2] / self.mm_per_px + origin - matrix[:, :2] @ origin
        a, b, d, e = np.round(matrix[:, :2], _TURN_DECIMALS).ravel().tolist()
        c, f = np.round(shift, self._decimals).tolist()
        return (a, b, c, d, e, f)

    def px_length(self, length_mm: float) -> float:
        """Return a length in mm in CSS px, to a ten thousandth of a millimetre."""
        return round(length_mm / self.mm_per_px, self._decimals)

    @property
    def _decimals(self) -> int:
        """How many decimals of a px are a ten thousandth of a millimetre."""
        return max(0, math.ceil(math.log10(self.mm_per_px / _FINEST_MM)))

    def px_bounds(self, bounds: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
        """Return bounds in mm as bounds in CSS px."""
        left, top, right, bottom = (value / self.mm_per_px for value in bounds)
        return (left + self.left_px, top + self.top_px, right + self.left_px, bottom + self.top_px)


def place(bounds_px: tuple[float, float, float, float], drawing: Drawing, reading: Reading) -> Placing:
    """Return the placing of a card with a bounding box in CSS px. Raises Refusal for sizes that can't be."""
    left, top, right, bottom = bounds_px
    return Placing(mm_per_px(drawing, reading, right - left, bottom - top), left, top)
