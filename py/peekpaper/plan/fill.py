"""Fills a rectangle with pieces, largest first, each at the topmost, then leftmost place that is free.

The bottom-left rule (Baker, Coffman and Rivest 1980) on pixels: a pixel belongs to a piece if the piece, grown
by half the spacing, may touch it, so that pieces without a common pixel keep their spacing.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from peekpaper.plan.bitmap import Bitmap, Mask, make_mask
from peekpaper.plan.distance_field import DistanceFields
from peekpaper.plan.shape import Pose, Shape
from peekpaper.plan.turns import cosine_and_sine, turned

HALF_DIAGONAL = 0.5**0.5


@dataclass(frozen=True, slots=True)
class Filling:
    """Where pieces came to lie: poses by index of the shape; `extent_mm` to the right and bottom edge."""

    poses: Mapping[int, Pose]
    extent_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class TurnedMask:
    """A shape's pixels at one turn; the box is the outline's bounds about the shape's origin, in mm."""

    turn_deg: float
    mask: Mask
    left: float
    top: float
    width: float
    height: float


class Filler:
    """Fills rectangles with some shapes; the masks of shapes are made once and kept."""

    def __init__(
        self,
        shapes: Sequence[Shape],
        fields: DistanceFields,
        turns: Sequence[float],
        spacing_mm: float,
        margin_mm: float,
        pixel_mm: float,
    ) -> None:
        self._shapes = shapes
        self._fields = fields
        self._turns = tuple(turns)
        self._spacing = spacing_mm
        self._margin = margin_mm
        self._pixel = pixel_mm
        self._masks: dict[int, tuple[TurnedMask, ...]] = {}

    def fill(
        self, order: Sequence[int], width_mm: float, height_mm: float, fixed: Mapping[int, Pose]
    ) -> Filling:
        """Lay the shapes `order` into a trim of that size, round the `fixed` ones, and leave out what won't fit."""
        across = width_mm - 2 * self._margin + self._spacing
        down = height_mm - 2 * self._margin + self._spacing
        bitmap = Bitmap(max(1, int(across / self._pixel) + 2), max(1, int(down / self._pixel) + 2))
        for index, pose in fixed.items():
            bitmap.take_pixels(self._pixels_of(index, pose, bitmap))
        poses = dict(fixed)
        right = bottom = 0.0
        for index in order:
            laid = self._lay(bitmap, index, across, down)
            if laid is None:
                continue
            poses[index], reach = laid
            right, bottom = max(right, reach[0]), max(bottom, reach[1])
        for index, pose in fixed.items():
            ring = turned(self._shapes[index].outline, pose.turn_deg) + (pose.x_mm, pose.y_mm)
            reach = tuple(ring.max(axis=0) + self._margin)
            right, bottom = max(right, reach[0]), max(bottom, reach[1])
        return Filling(poses, (right, bottom))

    def _lay(
        self, bitmap: Bitmap, index: int, across: float, down: float
    ) -> tuple[Pose, tuple[float, float]] | None:
        best: tuple[float, float, TurnedMask, int, int] | None = None
        for candidate in self._masks_of(index):
            last_column = int((across - candidate.width - self._spacing) / self._pixel + 1e-6)
            last_row = int((down - candidate.height - self._spacing) / self._pixel + 1e-6)
            if (
                across < candidate.width + self._spacing - 1e-9
                or down < candidate.height + self._spacing - 1e-9
            ):
                continue
            if best is not None:
                last_row = min(last_row, int((best[0] - candidate.height) / self._pixel))
            place = bitmap.first_free(candidate.mask, last_column, last_row)
            if place is None:
                continue
            column, row = place
            key = (row * self._pixel + candidate.height, column * self._pixel + candidate.width)
            if best is None or key < best[:2]:
                best = (*key, candidate, column, row)
        if best is None:
            return None
        _, _, chosen, column, row = best
        bitmap.take(chosen.mask, column, row)
        left, top = self._margin + column * self._pixel, self._margin + row * self._pixel
        pose = Pose(left - chosen.left, top - chosen.top, chosen.turn_deg)
        return pose, (left + chosen.width + self._margin, top + chosen.height + self._margin)

    def _masks_of(self, index: int) -> tuple[TurnedMask, ...]:
        if index not in self._masks:
            self._masks[index] = tuple(self._mask(index, turn) for turn in self._turns)
        return self._masks[index]

    def _mask(self, index: int, turn: float) -> TurnedMask:
        ring = turned(self._shapes[index].outline, turn)
        low, high = ring.min(axis=0), ring.max(axis=0)
        half = self._spacing / 2
        columns, rows = (int(np.ceil((side + self._spacing) / self._pixel - 1e-9)) for side in high - low)
        x = low[0] - half + (np.arange(max(columns, 1)) + 0.5) * self._pixel
        y = low[1] - half + (np.arange(max(rows, 1)) + 0.5) * self._pixel
        covered = self._covered(index, turn, x, y)
        return TurnedMask(turn, make_mask(covered), low[0], low[1], high[0] - low[0], high[1] - low[1])

    def _pixels_of(self, index: int, pose: Pose, bitmap: Bitmap) -> NDArray[np.bool_]:
        first = self._margin - self._spacing / 2
        x = first + (np.arange(bitmap.columns) + 0.5) * self._pixel - pose.x_mm
        y = first + (np.arange(bitmap.rows) + 0.5) * self._pixel - pose.y_mm
        return self._covered(index, pose.turn_deg, x, y)

    def _covered(
        self, index: int, turn: float, x: NDArray[np.float64], y: NDArray[np.float64]
    ) -> NDArray[np.bool_]:
        cosine, sine = cosine_and_sine(turn)
        u = (x * cosine)[None, :] + (y * sine)[:, None]
        v = (y * cosine)[:, None] - (x * sine)[None, :]
        distance = self._fields.distances(index, u, v)
        return distance <= self._spacing / 2 + self._pixel * HALF_DIAGONAL
