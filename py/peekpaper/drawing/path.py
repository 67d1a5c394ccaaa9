"""A path as cubic Bézier curves, and as polylines within a tolerance."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from peekpaper.drawing.matrix import Matrix, Points


@dataclass(frozen=True, slots=True, eq=False)
class Path:
    """Subpaths made of cubic curves, in user units.

    `curves` holds the four control points of each curve, shape (n, 4); straight segments are cubics
    with their control points at the thirds. Curves of subpath i are `curves[starts[i]:starts[i + 1]]`,
    `closed[i]` tells whether it was closed explicitly, and then it ends where it began.
    """

    curves: Points
    starts: NDArray[np.intp]
    closed: NDArray[np.bool_]

    def transformed(self, matrix: Matrix) -> "Path":
        """Return the path as `matrix` maps it."""
        return Path(matrix.apply(self.curves), self.starts, self.closed)


@dataclass(frozen=True, slots=True, eq=False)
class Polyline:
    """One flattened subpath; `joints` marks the points where two curves of the path meet.

    A closed one repeats its first point at the end.
    """

    points: Points
    joints: NDArray[np.bool_]
    closed: bool


def make_path(subpaths: Iterable[tuple[Sequence[tuple[complex, complex, complex, complex]], bool]]) -> Path:
    """Return a path of subpaths that are each given as their curves and whether they are closed."""
    curves: list[tuple[complex, complex, complex, complex]] = []
    starts, closed = [0], []
    for subpath, is_closed in subpaths:
        if subpath:
            curves.extend(subpath)
            starts.append(len(curves))
            closed.append(is_closed)
    array = np.array(curves, dtype=complex).reshape(-1, 4)
    return Path(array, np.array(starts, dtype=np.intp), np.array(closed, dtype=bool))


def line(start: complex, end: complex) -> tuple[complex, complex, complex, complex]:
    """Return a straight segment as a cubic curve."""
    third = (end - start) / 3
    return start, start + third, end - third, end


def count_pieces(curves: Points, tolerance: float) -> NDArray[np.intp]:
    """Return into how many chords each cubic is to be cut so that none strays further than `tolerance`.

    The bound by second differences: n = sqrt(3/4 max |second difference| / tolerance)
    (Filip, Magedson and Markot 1986, "Surface algorithms using bounds on derivatives").
    """
    bend = np.maximum(
        np.abs(curves[:, 0] - 2 * curves[:, 1] + curves[:, 2]),
        np.abs(curves[:, 1] - 2 * curves[:, 2] + curves[:, 3]),
    )
    return np.maximum(1, np.ceil(np.sqrt(0.75 * bend / tolerance) - 1e-6)).astype(np.intp)


def flatten(path: Path, tolerance: float) -> list[Polyline]:
    """Return each subpath of `path` as a polyline whose distance from it is at most `tolerance`."""
    if len(path.curves) == 0:
        return []
    pieces = count_pieces(path.curves, tolerance)
    ends = np.cumsum(pieces)
    which = np.repeat(np.arange(len(pieces)), pieces)
    step = np.arange(ends[-1]) - np.repeat(ends - pieces, pieces) + 1
    t = step / pieces[which]
    s = 1 - t
    p0, p1, p2, p3 = path.curves[which].T
    points = s * s * s * p0 + 3 * s * s * t * p1 + 3 * s * t * t * p2 + t * t * t * p3
    joints = np.zeros(len(points), dtype=bool)
    joints[ends - 1] = True
    points[ends - 1] = path.curves[:, 3]
    polylines = []
    bounds = np.concatenate(([0], ends))[path.starts]
    for i, closed in enumerate(path.closed):
        low, high = bounds[i], bounds[i + 1]
        first = path.curves[path.starts[i], 0]
        polylines.append(
            Polyline(
                np.concatenate(([first], points[low:high])),
                np.concatenate(([True], joints[low:high])),
                bool(closed),
            )
        )
    return polylines


def curve_extremes(path: Path) -> Points:
    """Return points among which are the outermost ones of `path` along both axes."""
    curves = path.curves
    found = [curves[:, 0], curves[:, 3]]
    # The derivative of a cubic is 3 (a t^2 + b t + c); its roots are where it turns back.
    a = curves[:, 3] - 3 * curves[:, 2] + 3 * curves[:, 1] - curves[:, 0]
    b = 2 * (curves[:, 2] - 2 * curves[:, 1] + curves[:, 0])
    c = curves[:, 1] - curves[:, 0]
    for part in (np.real, np.imag):
        for root in _roots(part(a), part(b), part(c)):
            t = np.clip(np.nan_to_num(root, nan=0.0), 0.0, 1.0)
            s = 1 - t
            found.append(
                s * s * s * curves[:, 0] + 3 * s * s * t * curves[:, 1]
                + 3 * s * t * t * curves[:, 2] + t * t * t * curves[:, 3]
            )  # fmt: skip
    return np.concatenate(found)


def _roots(
    a: NDArray[np.float64], b: NDArray[np.float64], c: NDArray[np.float64]
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return the real roots of a t^2 + b t + c, NaN where there is none, without loss by cancellation."""
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        q = -0.5 * (b + np.copysign(np.sqrt(b * b - 4 * a * c), b))
        return q / a, c / q
