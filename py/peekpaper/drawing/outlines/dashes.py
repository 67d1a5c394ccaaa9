"""Cutting a line into dashes (SVG 2, 13.5.6)."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from peekpaper.drawing.outlines.path import Polyline


def cut_dashes(polyline: Polyline, pattern: Sequence[float], offset: float) -> list[Polyline]:
    """Return the dashes of a line as open lines.

    `pattern` holds the lengths of dashes and spaces in turn, an even number of them with a positive
    sum; `offset` is where in the pattern the line begins. A dash of no length is kept for its caps. The last
    dash of a closed line runs on into the first where both reach its start.
    """
    points = polyline.points
    along = np.concatenate(([0.0], np.cumsum(np.abs(np.diff(points)))))
    total = float(along[-1])
    if total == 0:
        return [polyline]
    period = sum(pattern)
    edges = np.concatenate(([0.0], np.cumsum(pattern)))
    first = -(offset % period)
    repeats = int(np.ceil((total - first) / period))
    bounds = (first + period * np.arange(repeats)[:, None] + edges[None, :-1]).reshape(-1, 2)
    starts, ends = np.maximum(bounds[:, 0], 0.0), np.minimum(bounds[:, 1], total)
    keeps = (bounds[:, 1] >= 0) & (bounds[:, 0] <= total) & ((ends > starts) | (bounds[:, 0] == bounds[:, 1]))
    stretches = zip(starts[keeps], ends[keeps], strict=True)
    dashes = [_stretch(polyline, along, low, high) for low, high in stretches]
    if polyline.closed and len(dashes) > 1 and starts[keeps][0] == 0 and ends[keeps][-1] == total:
        last, opening = dashes.pop(), dashes[0]
        dashes[0] = Polyline(
            np.concatenate((last.points, opening.points[1:])),
            np.concatenate((last.joints, opening.joints[1:])),
            closed=False,
        )
    return dashes


def _stretch(polyline: Polyline, along: NDArray[np.float64], low: float, high: float) -> Polyline:
    inside = np.flatnonzero((along > low) & (along < high))
    ends = np.interp([low, high], along, polyline.points)
    points = np.concatenate((ends[:1], polyline.points[inside], ends[1:]))
    joints = np.concatenate(([True], polyline.joints[inside], [True]))
    return Polyline(points, joints, closed=False)
