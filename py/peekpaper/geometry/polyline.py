"""Points along polylines, and rows of different lengths laid end to end."""

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiLineString
from shapely.geometry.base import BaseGeometry

from peekpaper.geometry.vectors import norms, unit

Floats = NDArray[np.float64]
Indices = NDArray[np.int64]


def points_at(lengths: Floats, along: Floats, nodes: Floats) -> Floats:
    """Return the points (..., 2) that lie so far along a polyline of nodes (n, 2), which lie `along` (n)."""
    points: Floats = np.stack([np.interp(lengths, along, nodes[:, axis]) for axis in (0, 1)], axis=-1)
    return points


def run_on(line: LineString, reach: float) -> LineString:
    """Return a line that goes on straight by so much at both ends."""
    nodes = shapely.get_coordinates(line)
    start, end = (outer + reach * unit(outer - inner) for outer, inner in (nodes[:2], nodes[:-3:-1]))
    return LineString([start, *nodes[1:-1], end])


def rows_of(counts: NDArray[np.integer]) -> tuple[Indices, Indices]:
    """Return the row of each entry of rows (k) that hold so many, laid end to end, and its place there."""
    # Repeats are counted by the machine's own integers, of 32 bits in the page.
    sizes = counts.astype(np.intp)
    row = np.repeat(np.arange(len(sizes)), sizes)
    return row, np.arange(len(row)) - np.repeat(np.cumsum(sizes) - sizes, sizes)


def divided(nodes: Floats, step: float) -> Floats:
    """Return points (k, 2) along a polyline of nodes (n, 2), each side in equal parts of at most a step.

    The last node is not among them.
    """
    sides = np.diff(nodes, axis=0)
    parts = np.maximum(1, np.ceil(norms(sides) / step)).astype(np.intp)
    side, nth = rows_of(parts)
    points: Floats = nodes[side] + sides[side] * (nth / parts[side])[:, None]
    return points


def as_lines(geometry: BaseGeometry) -> MultiLineString:
    """Return the lines of a geometry, in one where they run on; points that an overlay left are dropped."""
    parts = shapely.get_parts(shapely.get_parts(geometry))
    lines = [part for part in parts if isinstance(part, LineString) and part.length > 0]
    return MultiLineString(list(shapely.get_parts(shapely.line_merge(MultiLineString(lines)))))
