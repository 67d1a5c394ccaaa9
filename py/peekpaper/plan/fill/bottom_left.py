"""Fills a rectangle with pieces, largest first, each at the topmost, then leftmost place that is free.

The bottom-left rule (Baker, Coffman and Rivest 1980) on pixels: a pixel belongs to a piece if the piece,
grown by half the spacing, may touch it, so that pieces without a common pixel keep their spacing.
"""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.breathing import Breathing
from peekpaper.geometry.polyline import divided
from peekpaper.plan.plan import PlanChoices
from peekpaper.plan.shapes.bitmap import Bitmap, Mask, make_mask
from peekpaper.plan.shapes.distance_field import DistanceFields
from peekpaper.plan.shapes.sample_points import Floats
from peekpaper.plan.shapes.shape import Pose, Shape
from peekpaper.plan.shapes.turns import cosine_and_sine, turned_by_degrees

HALF_DIAGONAL = 0.5**0.5
"""How far a pixel's corners are from its middle, in pixels."""
EPSILON_MM = 1e-6
"""What rounding may take from a margin."""
LAID_AT_ONCE = 6
"""How many pieces are laid between two breaths: some hundredths of a second on a tablet."""


@dataclass(frozen=True, slots=True)
class Filling:
    """Where pieces came to lie: poses by index of the shape; `extent_mm` to the right and bottom edge."""

    poses: Mapping[int, Pose]
    extent_mm: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Room:
    """What pieces are laid in, in mm from its corner: a rectangle, or what an outline in it encloses."""

    width_mm: float
    height_mm: float
    outline: Polygon | None = None

    def keeps_margin(self, outlines: Iterable[Polygon], margin_mm: float) -> bool:
        """Tell whether pieces lie in the outline, where there is one, and so far from it."""
        if self.outline is None:
            return True
        inner = self.outline.buffer(EPSILON_MM - margin_mm)
        return all(inner.covers(outline) for outline in outlines)


@dataclass(frozen=True, slots=True)
class TurnedMask:
    """A shape's pixels at one turn; the box is the outline's bounds about the shape's origin, in mm."""

    turn_deg: float
    mask: Mask
    left: float
    top: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class _Region:
    """The region that is filled; its sides in mm."""

    bitmap: Bitmap
    across: float
    down: float


class BottomLeftFill:
    """Fills rectangles with some shapes at the turns given for each; their masks are made once and kept."""

    def __init__(
        self,
        shapes: Sequence[Shape],
        fields: DistanceFields,
        turns: Sequence[Sequence[float]],
        choices: PlanChoices,
        pixel_mm: float,
    ) -> None:
        self._shapes = shapes
        self._fields = fields
        self._turns = turns
        self._spacing = choices.spacing_mm
        self._margin = choices.margin_mm
        self._pixel = pixel_mm
        self._masks: dict[int, tuple[TurnedMask, ...]] = {}

    def fill(self, order: Sequence[int], room: Room, fixed: Mapping[int, Pose]) -> Breathing[Filling]:
        """Lay the shapes `order` into a room round the `fixed` ones, as far as they fit."""
        region = self._region(room, fixed)
        poses = dict(fixed)
        reaches = [self._reach(index, pose) for index, pose in fixed.items()]
        for number, index in enumerate(order, start=1):
            if number % LAID_AT_ONCE == 0:
                yield
            pose = self._lay(region, index)
            if pose is not None:
                poses[index] = pose
                reaches.append(self._reach(index, pose))
        right, bottom = (max((reach[axis] for reach in reaches), default=0.0) for axis in (0, 1))
        return Filling(poses, (right, bottom))

    def places(self, index: int, room: Room, fixed: Mapping[int, Pose]) -> list[Pose]:
        """Return all poses on the raster at which a shape lies free in a room."""
        region = self._region(room, fixed)
        return [
            self._pose(candidate, column, row)
            for candidate in self._masks_of(index)
            for column, row in region.bitmap.all_free(
                candidate.mask, *self._last_place(candidate, region)
            ).tolist()
        ]

    def _region(self, room: Room, fixed: Mapping[int, Pose]) -> _Region:
        """Return the region of a room that pieces, grown by half the spacing, may cover."""
        across = room.width_mm - 2 * self._margin + self._spacing
        down = room.height_mm - 2 * self._margin + self._spacing
        columns, rows = (max(1, int(side / self._pixel) + 2) for side in (across, down))
        bitmap = Bitmap(columns, rows)
        for index, pose in fixed.items():
            bitmap.take_pixels(self._pixels_of(index, pose, bitmap))
        if room.outline is not None:
            bitmap.take_pixels(self._pixels_beyond(room.outline, bitmap))
        return _Region(bitmap, across, down)

    def _lay(self, region: _Region, index: int) -> Pose | None:
        """Lay a shape at the turn and place at which it reaches least far down, then right."""
        best: tuple[tuple[float, float], TurnedMask, int, int] | None = None
        for candidate in self._masks_of(index):
            last_column, last_row = self._last_place(candidate, region)
            if best is not None:
                last_row = min(last_row, math.floor((best[0][0] - candidate.height) / self._pixel))
            place = region.bitmap.first_free(candidate.mask, last_column, last_row)
            if place is None:
                continue
            column, row = place
            reach = (row * self._pixel + candidate.height, column * self._pixel + candidate.width)
            if best is None or reach < best[0]:
                best = (reach, candidate, column, row)
        if best is None:
            return None
        _, chosen, column, row = best
        region.bitmap.take(chosen.mask, column, row)
        return self._pose(chosen, column, row)

    def _last_place(self, candidate: TurnedMask, region: _Region) -> tuple[int, int]:
        """Return the last column and row for the corner of a mask; negative where it doesn't fit."""
        return (
            math.floor((region.across - candidate.width - self._spacing) / self._pixel + 1e-6),
            math.floor((region.down - candidate.height - self._spacing) / self._pixel + 1e-6),
        )

    def _pose(self, candidate: TurnedMask, column: int, row: int) -> Pose:
        left, top = self._margin + column * self._pixel, self._margin + row * self._pixel
        return Pose(left - candidate.left, top - candidate.top, candidate.turn_deg)

    def _reach(self, index: int, pose: Pose) -> tuple[float, float]:
        """Return the least width and height of a trim that holds a shape there."""
        right, bottom = turned_by_degrees(self._shapes[index].outline, pose.turn_deg).max(axis=0)
        return float(right) + pose.x_mm + self._margin, float(bottom) + pose.y_mm + self._margin

    def _masks_of(self, index: int) -> tuple[TurnedMask, ...]:
        if index not in self._masks:
            self._masks[index] = tuple(self._mask(index, turn) for turn in self._turns[index])
        return self._masks[index]

    def _mask(self, index: int, turn: float) -> TurnedMask:
        ring = turned_by_degrees(self._shapes[index].outline, turn)
        low, high = ring.min(axis=0), ring.max(axis=0)
        half = self._spacing / 2
        columns, rows = (int(np.ceil((side + self._spacing) / self._pixel - 1e-9)) for side in high - low)
        x = low[0] - half + (np.arange(max(columns, 1)) + 0.5) * self._pixel
        y = low[1] - half + (np.arange(max(rows, 1)) + 0.5) * self._pixel
        covered = self._covered(index, turn, ring, x, y)
        return TurnedMask(turn, make_mask(covered), low[0], low[1], high[0] - low[0], high[1] - low[1])

    def _pixels_of(self, index: int, pose: Pose, bitmap: Bitmap) -> NDArray[np.bool_]:
        first = float(self._margin - self._spacing / 2)
        x = np.arange(0.5, bitmap.columns) * self._pixel + (first - pose.x_mm)
        y = np.arange(0.5, bitmap.rows) * self._pixel + (first - pose.y_mm)
        ring = turned_by_degrees(self._shapes[index].outline, pose.turn_deg)
        return self._covered(index, pose.turn_deg, ring, x, y)

    def _pixels_beyond(self, outline: Polygon, bitmap: Bitmap) -> NDArray[np.bool_]:
        """Return the pixels where a piece, grown by half the spacing, is nearer than the margin."""
        first = float(self._margin - self._spacing / 2)
        x, y = np.meshgrid(
            np.arange(0.5, bitmap.columns) * self._pixel + first,
            np.arange(0.5, bitmap.rows) * self._pixel + first,
        )
        inner = outline.buffer(-(max(first, 0.0) + self._pixel * HALF_DIAGONAL))
        shapely.prepare(inner)
        beyond: NDArray[np.bool_] = ~shapely.contains_xy(inner, x, y)
        return beyond

    def _covered(self, index: int, turn: float, ring: Floats, x: Floats, y: Floats) -> NDArray[np.bool_]:
        cosine, sine = cosine_and_sine(turn)
        u = (x * cosine)[None, :] + (y * sine)[:, None]
        v = (y * cosine)[:, None] - (x * sine)[None, :]
        distance = self._fields.distances(index, u, v)
        reach = self._spacing / 2 + self._pixel * HALF_DIAGONAL
        return (distance <= reach) | _near_outline(ring, x, y, self._pixel, reach)


def _near_outline(ring: Floats, x: Floats, y: Floats, pixel: float, reach: float) -> NDArray[np.bool_]:
    """Tell which pixels, their middles at x and y, are within reach of an outline.

    Tips finer than the grid of a distance field, which it misses, are found so.
    """
    points = divided(ring, pixel / 2)
    window = np.arange(-math.ceil(reach / pixel), math.ceil(reach / pixel) + 1)
    first_column = np.rint((points[:, 0] - x[0]) / pixel).astype(np.intp)
    first_row = np.rint((points[:, 1] - y[0]) / pixel).astype(np.intp)
    across = x[0] + (first_column[:, None] + window) * pixel - points[:, :1]
    down = y[0] + (first_row[:, None] + window) * pixel - points[:, 1:]
    is_near = (down * down)[:, :, None] + (across * across)[:, None, :] <= reach * reach
    point, below, beside = np.nonzero(is_near)
    column, row = first_column[point] + window[beside], first_row[point] + window[below]
    hit = (column >= 0) & (column < len(x)) & (row >= 0) & (row < len(y))
    near = np.zeros((len(y), len(x)), bool)
    near[row[hit], column[hit]] = True
    return near
