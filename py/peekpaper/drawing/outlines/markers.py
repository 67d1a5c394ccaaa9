"""Where markers stand on a path, and how they are turned (SVG 2, 13.7)."""

import cmath
import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from peekpaper.drawing.outlines.matrix import Points
from peekpaper.drawing.outlines.path import Path


class Vertex(NamedTuple):
    """A vertex of a path: `end` is "start", "mid" or "end"; `angle` is the path's direction, in degrees."""

    end: str
    point: complex
    angle: float


def path_vertices(path: Path) -> Iterator[Vertex]:
    """Yield the vertices of a path in order, the first and last ones marked as its ends."""
    vertices = [vertex for i in range(len(path.closed)) for vertex in _subpath_vertices(path, i)]
    for i, (point, angle) in enumerate(vertices):
        if i == 0:
            yield Vertex("start", point, angle)
        if 0 < i < len(vertices) - 1:
            yield Vertex("mid", point, angle)
        if i == len(vertices) - 1:
            yield Vertex("end", point, angle)


def _subpath_vertices(path: Path, index: int) -> Iterator[tuple[complex, float]]:
    low, high = path.starts[index], path.starts[index + 1]
    curves, nodes = path.curves[low:high], path.nodes[low:high]
    leaving = [_direction(curve) for curve in curves]
    arriving = [-_direction(curve[::-1]) for curve in curves]
    closed = bool(path.closed[index])
    yield complex(curves[0, 0]), _bisect(arriving[-1] if closed else leaving[0], leaving[0])
    for i in np.flatnonzero(nodes):
        last = i == len(curves) - 1
        after = (leaving[0] if closed else arriving[i]) if last else leaving[i + 1]
        yield complex(curves[i, 3]), _bisect(arriving[i], after)
    if not nodes[-1]:
        yield complex(curves[-1, 3]), _bisect(arriving[-1], leaving[0] if closed else arriving[-1])


def _direction(curve: Points) -> complex:
    """Return the unit direction in which a curve leaves its first point, 0 where it has none."""
    for point in curve[1:]:
        if point != curve[0]:
            step = complex(point - curve[0])
            return step / abs(step)
    return 0j


def _bisect(before: complex, after: complex) -> float:
    """Return the angle half way between two directions, in degrees."""
    if before == 0 or after == 0:
        return math.degrees(cmath.phase(before + after))
    return math.degrees(cmath.phase(before) + cmath.phase(after / before) / 2)
