"""A path as cubic Bézier curves, and as polylines within a tolerance."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from peekpaper.drawing.outlines.matrix import Matrix, Points

Cubic = tuple[complex, complex, complex, complex]

MAX_COORDINATE = 1e7
"""What reaches further, in px, is no cutting design but a mistake of a program."""


class Subpath(NamedTuple):
    """The curves of a subpath, whether each ends a segment of the file, and whether it is closed.

    A segment of the file, an arc say, may take several curves. A closed subpath ends where it began.
    """

    curves: list[Cubic]
    nodes: list[bool]
    closed: bool


@dataclass(frozen=True, slots=True, eq=False)
class Path:
    """Subpaths made of cubic curves, in user units.

    `curves` holds the four control points of each curve, shape (n, 4); straight segments are cubics
    with their control points at the thirds. `nodes`, shape (n,), tells whether a curve ends a segment of the
    file. Curves of subpath i are `curves[starts[i]:starts[i + 1]]`; `closed[i]` tells whether it was closed
    explicitly, and then it ends where it began.
    """

    curves: Points
    nodes: NDArray[np.bool_]
    starts: NDArray[np.intp]
    closed: NDArray[np.bool_]

    @property
    def is_measurable(self) -> bool:
        """Whether all its numbers are finite and within MAX_COORDINATE."""
        return bool(np.abs(self.curves).max(initial=0.0) <= MAX_COORDINATE)

    def transformed(self, matrix: Matrix) -> "Path":
        """Return the path as `matrix` maps it."""
        return Path(matrix.apply(self.curves), self.nodes, self.starts, self.closed)


@dataclass(frozen=True, slots=True, eq=False)
class Polyline:
    """One flattened subpath; `joints` marks the points where two segments of the path meet.

    A closed one repeats its first point at the end.
    """

    points: Points
    joints: NDArray[np.bool_]
    closed: bool


def make_path(subpaths: Iterable[Subpath]) -> Path:
    """Return a path of subpaths; those without curves are dropped."""
    kept = [subpath for subpath in subpaths if subpath.curves]
    return Path(
        np.array([curve for subpath in kept for curve in subpath.curves], dtype=complex).reshape(-1, 4),
        np.array([node for subpath in kept for node in subpath.nodes], dtype=bool),
        np.cumsum([0, *(len(subpath.curves) for subpath in kept)], dtype=np.intp),
        np.array([subpath.closed for subpath in kept], dtype=bool),
    )


def line(start: complex, end: complex) -> Cubic:
    """Return a straight segment as a cubic curve."""
    third = (end - start) / 3
    return start, start + third, end - third, end


def count_chords(curves: Points, tolerance: float) -> NDArray[np.intp]:
    """Return into how many chords each cubic is to be cut so that none strays further than `tolerance`.

    The bound by second differences: n = sqrt(3/4 max |second difference| / tolerance)
    (Filip, Magedson and Markot 1986, "Surface algorithms using bounds on derivatives").
    """
    bend = np.maximum(
        np.abs(curves[:, 0] - 2 * curves[:, 1] + curves[:, 2]),
        np.abs(curves[:, 1] - 2 * curves[:, 2] + curves[:, 3]),
    )
    return np.maximum(1, np.ceil(np.sqrt(0.75 * bend / tolerance) - 1e-6)).astype(np.intp)


def flatten(path: Path, chords: NDArray[np.intp]) -> list[Polyline]:
    """Return each subpath of `path` as a polyline with so many chords for each curve, at equal parameters."""
    if len(path.curves) == 0:
        return []
    ends = np.cumsum(chords)
    which = np.repeat(np.arange(len(chords)), chords)
    step = np.arange(ends[-1]) - np.repeat(ends - chords, chords) + 1
    points = _at(path.curves[which], step / chords[which])
    points[ends - 1] = path.curves[:, 3]
    joints = np.zeros(len(points), dtype=bool)
    joints[ends - 1] = path.nodes
    bounds = np.concatenate(([0], ends))[path.starts]
    firsts = path.curves[path.starts[:-1], :1]
    return [
        Polyline(
            np.concatenate((first, points[low:high])),
            np.concatenate(([True], joints[low:high])),
            bool(closed),
        )
        for first, low, high, closed in zip(firsts, bounds[:-1], bounds[1:], path.closed, strict=True)
    ]


def _at(curves: Points, t: NDArray[np.float64]) -> Points:
    """Return the point of each cubic at its own parameter."""
    s = 1 - t
    p0, p1, p2, p3 = curves.T
    points: Points = s * s * s * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t * t * t * p3
    return points


def curve_extremes(path: Path) -> Points:
    """Return points among which are the outermost ones of `path` along both axes."""
    p0, p1, p2, p3 = path.curves.T
    # A third of the derivative is a t^2 + b t + c; its roots are where the curve turns back.
    a, b, c = p3 - 3 * p2 + 3 * p1 - p0, 2 * (p2 - 2 * p1 + p0), p1 - p0
    found = [p0, p3]
    for root in (*_roots(a.real, b.real, c.real), *_roots(a.imag, b.imag, c.imag)):
        found.append(_at(path.curves, np.clip(np.nan_to_num(root, nan=0.0), 0.0, 1.0)))
    return np.concatenate(found)


def _roots(
    a: NDArray[np.float64], b: NDArray[np.float64], c: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the real roots of a t^2 + b t + c, NaN where there is none, without loss by cancellation."""
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        q = -0.5 * (b + np.copysign(np.sqrt(b * b - 4 * a * c), b))
        return q / a, c / q
