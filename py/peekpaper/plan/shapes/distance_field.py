"""Signed distances to the outlines of shapes, sampled on grids, looked up for many points at once.

As for collisions of bodies (Fuhrmann, Sobottka and Gross 2003, "Distance fields for rapid collision
detection in physically based modeling", from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.plan.shapes.shape import Shape

CELLS_ACROSS = 36
"""How many cells of the grid cover a shape's longer side: a field is then 4 to 6 kB (by trial)."""
LEAST_PITCH_MM = 0.3
"""No finer than this: the search is content with some hundredths of a millimetre."""
FAR_MM = 1e3
"""What is told of points off the grid: further than any spacing."""

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]


@dataclass(frozen=True, slots=True)
class DistanceFields:
    """One grid of signed distances (mm, negative inside) for each shape, about the shape's origin.

    The grids lie one after the other in `values`, row by row; grid k starts at `start[k]`, has `columns[k]`
    x `rows[k]` nodes, `pitch[k]` mm apart, the first at (`left[k]`, `top[k]`). Every grid reaches `reach_mm`
    past its outline; further out the distance is unknown and reported as FAR_MM.
    """

    values: NDArray[np.float32]
    start: Indices
    columns: Indices
    rows: Indices
    pitch: Floats
    left: Floats
    top: Floats
    reach_mm: float

    def only(self, shapes: Sequence[int]) -> "DistanceFields":
        """Return the fields of some shapes, in this order."""
        chosen = np.array(shapes, dtype=np.intp)
        return DistanceFields(
            self.values,
            self.start[chosen],
            self.columns[chosen],
            self.rows[chosen],
            self.pitch[chosen],
            self.left[chosen],
            self.top[chosen],
            self.reach_mm,
        )

    def distances(self, shape: Indices | int, x: Floats, y: Floats) -> Floats:
        """Return signed distances at points (x, y), each in the frame of its shape; bilinear."""
        across, down, node, far = self._cells(shape, x, y)
        width = self.columns[shape]
        values = self.values
        upper = values[node] * (1 - across) + values[node + 1] * across
        lower = values[node + width] * (1 - across) + values[node + width + 1] * across
        result: Floats = upper * (1 - down) + lower * down
        result[far] = FAR_MM
        return result

    def distances_and_slopes(self, shape: Indices, x: Floats, y: Floats) -> tuple[Floats, Floats, Floats]:
        """Return signed distances at points and how they change along x and y."""
        across, down, node, far = self._cells(shape, x, y)
        width = self.columns[shape]
        values = self.values
        a, b = values[node], values[node + 1]
        c, d = values[node + width], values[node + width + 1]
        upper, lower = a + (b - a) * across, c + (d - c) * across
        distance: Floats = upper + (lower - upper) * down
        slope_x: Floats = ((b - a) * (1 - down) + (d - c) * down) / self.pitch[shape]
        slope_y: Floats = (lower - upper) / self.pitch[shape]
        distance[far] = FAR_MM
        return distance, slope_x, slope_y

    def _cells(
        self, shape: Indices | int, x: Floats, y: Floats
    ) -> tuple[Floats, Floats, Indices, NDArray[np.bool_]]:
        """Return where points are in their cells, the cells' first nodes, and what is off the grid."""
        pitch = self.pitch[shape]
        u = (x - self.left[shape]) / pitch
        v = (y - self.top[shape]) / pitch
        last_column, last_row = self.columns[shape] - 2, self.rows[shape] - 2
        far = (u < 0) | (v < 0) | (u > last_column + 1) | (v > last_row + 1)
        column = np.minimum(np.maximum(u.astype(np.intp), 0), last_column)
        row = np.minimum(np.maximum(v.astype(np.intp), 0), last_row)
        node = self.start[shape] + row * self.columns[shape] + column
        return u - column, v - row, node, far


def make_distance_fields(shapes: Sequence[Shape], reach_mm: float) -> DistanceFields:
    """Sample the signed distance to each shape's outline, up to `reach_mm` outside of it."""
    grids, columns, rows, pitches, lefts, tops = [], [], [], [], [], []
    for shape in shapes:
        low, high = shape.outline.min(axis=0) - reach_mm, shape.outline.max(axis=0) + reach_mm
        pitch = max(LEAST_PITCH_MM, float((high - low).max()) / CELLS_ACROSS)
        across = np.arange(low[0], high[0] + pitch, pitch)
        down = np.arange(low[1], high[1] + pitch, pitch)
        grids.append(_signed_distances(shape.outline, across, down))
        columns.append(len(across))
        rows.append(len(down))
        pitches.append(pitch)
        lefts.append(low[0])
        tops.append(low[1])
    sizes = [grid.size for grid in grids]
    return DistanceFields(
        np.concatenate(grids),
        np.concatenate([[0], np.cumsum(sizes)[:-1]]).astype(np.intp),
        np.array(columns),
        np.array(rows),
        np.array(pitches),
        np.array(lefts),
        np.array(tops),
        reach_mm,
    )


def joined_fields(parts: Sequence[DistanceFields]) -> DistanceFields:
    """Return the fields of several rows of shapes, all of one reach, as those of one row."""
    before = np.cumsum([0, *(len(part.values) for part in parts)])[:-1].astype(np.intp)
    return DistanceFields(
        np.concatenate([part.values for part in parts]),
        np.concatenate([part.start + first for part, first in zip(parts, before, strict=True)]),
        np.concatenate([part.columns for part in parts]),
        np.concatenate([part.rows for part in parts]),
        np.concatenate([part.pitch for part in parts]),
        np.concatenate([part.left for part in parts]),
        np.concatenate([part.top for part in parts]),
        parts[0].reach_mm,
    )


def _signed_distances(ring: Floats, across: Floats, down: Floats) -> NDArray[np.float32]:
    x, y = (grid.ravel().astype(np.float32) for grid in np.meshgrid(across, down))
    nearest = np.full(x.shape, np.inf, np.float32)
    for first in range(0, len(ring) - 1, 64):
        start = ring[first : first + 64]
        start, step = start[: len(ring) - 1 - first], np.diff(ring[first : first + 65], axis=0)
        length = np.maximum((step**2).sum(axis=1), 1e-12)
        dx = x - start[:, :1].astype(np.float32)
        dy = y - start[:, 1:].astype(np.float32)
        along = (dx * step[:, :1] + dy * step[:, 1:]).astype(np.float32) / length[:, None].astype(np.float32)
        np.clip(along, 0, 1, out=along)
        dx -= along * step[:, :1].astype(np.float32)
        dy -= along * step[:, 1:].astype(np.float32)
        np.minimum(nearest, (dx * dx + dy * dy).min(axis=0), out=nearest)
    polygon = Polygon(ring)
    shapely.prepare(polygon)
    inside = shapely.contains_xy(polygon, x, y)
    distance = np.sqrt(nearest)
    distance[inside] *= -1
    return distance
