"""A drawing in square cells, to ask at once what lies in areas or along lines: for shares, not for shapes."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from peekpaper.geometry.areas import as_area, geometries
from peekpaper.geometry.overlay import union_all
from peekpaper.geometry.polyline import rows_of
from peekpaper.geometry.vectors import norms

Cells = NDArray[np.bool_]
"""One truth for each cell, by row and column."""


@dataclass(frozen=True, slots=True)
class Places:
    """Places (n, 2) at equal steps along lines in CSS px, and which line each is on."""

    at: NDArray[np.float64]
    line: NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Raster:
    """Cells of a side in CSS px; (`left`, `top`) is the corner of the first.

    A place beyond counts as in the cells at the rim.
    """

    left: float
    top: float
    side: float
    columns: int
    rows: int

    def inside(self, areas: NDArray[np.object_]) -> Cells:
        """Return the cells whose middle lies in any of the areas, which may overlap."""
        parts = shapely.get_parts(areas)
        rings, part = shapely.get_rings(parts, return_index=True)
        winding = np.zeros((self.rows, self.columns + 1), np.int32)
        if not len(rings):
            return winding[:, :-1] > 0
        is_hole = np.diff(part, prepend=-1) == 0
        forward = np.where(shapely.is_ccw(rings) == is_hole, 1, -1)
        nodes, ring = shapely.get_coordinates(rings, return_index=True)
        x, y = ((nodes - (self.left, self.top)) / self.side - 0.5).T
        same = ring[1:] == ring[:-1]
        x0, x1, y0, y1 = x[:-1][same], x[1:][same], y[:-1][same], y[1:][same]
        sign = np.where(y0 < y1, 1, -1) * forward[ring[1:][same]]
        first = np.clip(np.ceil(np.minimum(y0, y1)), 0, self.rows).astype(np.intp)
        counts = np.clip(np.ceil(np.maximum(y0, y1)), 0, self.rows).astype(np.intp) - first
        edge, nth = rows_of(counts)
        row = first[edge] + nth
        crossing = x0[edge] + (row - y0[edge]) / (y1 - y0)[edge] * (x1 - x0)[edge]
        column = np.clip(np.ceil(crossing), 0, self.columns).astype(np.int64)
        np.add.at(winding, (row, column), sign[edge])
        is_inside: Cells = np.cumsum(winding, axis=1)[:, :-1] != 0
        return is_inside

    def along(self, lines: NDArray[np.object_]) -> Cells:
        """Return the cells that lines go through, but for corners of cells and for what lies beyond them."""
        cells = np.zeros((self.rows, self.columns), bool)
        cells[self.cells_of(places_along(self._within(lines), self.side / 2).at)] = True
        return cells

    def _within(self, lines: NDArray[np.object_]) -> NDArray[np.object_]:
        """Return lines without what of them lies beyond the cells: it may be longer than memory holds."""
        right, bottom = self.left + self.columns * self.side, self.top + self.rows * self.side
        bounds = shapely.bounds(lines).reshape(-1, 4)
        beyond = (bounds[:, :2] < (self.left, self.top)) | (bounds[:, 2:] > (right, bottom))
        is_beyond = beyond.any(axis=1)
        if not is_beyond.any():
            return lines
        clipped = shapely.clip_by_rect(lines[is_beyond], self.left, self.top, right, bottom)
        return geometries([*lines[~is_beyond], *shapely.get_parts(clipped)])

    def blocks(self, cells: Cells) -> MultiPolygon:
        """Return squares of eight by eight cells that hold any of some cells, joined."""
        row, column = np.nonzero(cells)
        block, side = np.unique(np.stack([column, row]) // 8, axis=1), 8 * self.side
        left, top = self.left + block[0] * side, self.top + block[1] * side
        return as_area(union_all(shapely.box(left, top, left + side, top + side)))

    def cells_of(self, places: NDArray[np.float64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Return the rows and the columns of the cells that places (n, 2) lie in."""
        column, row = np.floor((places - (self.left, self.top)) / self.side).astype(np.int64).T
        return np.clip(row, 0, self.rows - 1), np.clip(column, 0, self.columns - 1)


def raster_over(bounds: NDArray[np.float64], side: float, rim: int) -> Raster:
    """Return a raster over bounds (left, top, right, bottom) and at least `rim` cells beyond them."""
    left, top, right, bottom = bounds.tolist()
    columns, rows = (int(length // side) + 1 + 2 * rim for length in (right - left, bottom - top))
    return Raster(left - rim * side, top - rim * side, side, columns, rows)


def grown(cells: Cells, reach: int) -> Cells:
    """Return the cells that have one of `cells` no more than `reach` cells away, across and down."""
    return _spread(_spread(cells, reach).T, reach).T


def _spread(cells: Cells, reach: int) -> Cells:
    """Return the cells that have one of `cells` no more than `reach` cells up or down."""
    spread, rows, wanted = np.pad(cells, ((reach, reach), (0, 0))), 1, 2 * reach + 1
    while rows < wanted:
        # What is any of some rows becomes any of twice as many.
        step = min(rows, wanted - rows)
        spread = spread[:-step] | spread[step:]
        rows += step
    return spread


def places_along(lines: NDArray[np.object_], step: float) -> Places:
    """Return places a step apart along lines, one after the other; what is shorter may have none."""
    nodes, line = shapely.get_coordinates(lines, return_index=True)
    if len(nodes) < 2 or not step > 0:
        return Places(np.empty((0, 2)), np.empty(0, np.int64))
    lengths = np.where(line[1:] == line[:-1], norms(np.diff(nodes, axis=0)), 0.0)
    ends = np.cumsum(lengths)
    along = np.arange(step / 2, ends[-1], step)
    edge = np.minimum(np.searchsorted(ends, along, side="right"), len(ends) - 1)
    share = 1 - (ends[edge] - along) / np.where(lengths[edge] > 0, lengths[edge], 1.0)
    at = nodes[edge] + share[:, None] * (nodes[edge + 1] - nodes[edge])
    return Places(at, line[edge])
