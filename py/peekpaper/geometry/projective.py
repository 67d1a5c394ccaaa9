"""Projective maps: a rectangle as a camera sees it, and the way back.

The map is the projective transformation through four pairs of points (Heckbert, "Fundamentals of Texture
Mapping and Image Warping", 1989, section 2.2).
"""

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from peekpaper.refusal import Refusal

Corner = tuple[float, float]

_LEAST_CORNER_SINE = 0.02
"""A corner that turns by less than about a degree, or nearly all the way round, is none."""


def projection(source: Sequence[Corner], target: Sequence[Corner]) -> NDArray[np.float64]:
    """Return the 3 x 3 matrix of the projective map that takes four points to four others.

    Raises ValueError where three of either four lie on a line.
    """
    rows = []
    for (x, y), (u, v) in zip(source, target, strict=True):
        rows.append([x, y, 1, 0, 0, 0, -u * x, -u * y])
        rows.append([0, 0, 0, x, y, 1, -v * x, -v * y])
    sought = [coordinate for corner in target for coordinate in corner]
    try:
        solved = np.linalg.solve(np.array(rows, dtype=np.float64), np.array(sought, dtype=np.float64))
    except np.linalg.LinAlgError:
        raise ValueError("three of the four points lie on a line") from None
    return np.append(solved, 1.0).reshape(3, 3)


def projected(points: NDArray[np.float64], matrix: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return points, shape (n, 2), under a projective map."""
    u, v, w = matrix[:, :2] @ points.T + matrix[:, 2:]
    return np.stack([u / w, v / w], axis=-1)


def finest_scale(corners: Sequence[Corner], width: float, height: float) -> float:
    """Return how many px the longest edges between four corners have for each unit of the rectangle's sides.

    Raises Refusal for corners that are not four.
    """
    _refuse_other_than_four(corners)
    top, right, bottom, left = (math.dist(corners[i], corners[(i + 1) % 4]) for i in range(4))
    return max(max(top, bottom) / width, max(left, right) / height)


def refuse_bad_corners(corners: Sequence[Corner], width: int, height: int) -> None:
    """Raise Refusal unless the corners (px) go top left, top right, bottom right, bottom left about an area.

    They may lie up to a picture's size outside the picture of `width` by `height` px.
    """
    _refuse_other_than_four(corners)
    if not all(-width <= x <= 2 * width and -height <= y <= 2 * height for x, y in corners):
        raise Refusal("corner-outside")
    sines = [_corner_sine(corners[i - 1], corners[i], corners[(i + 1) % 4]) for i in range(4)]
    if all(sine >= _LEAST_CORNER_SINE for sine in sines):
        return
    if any(abs(sine) < _LEAST_CORNER_SINE for sine in sines):
        raise Refusal("corners-on-a-line")
    raise Refusal("corners-crossed")


def _refuse_other_than_four(corners: Sequence[Corner]) -> None:
    if len(corners) != 4 or not all(math.isfinite(value) for corner in corners for value in corner):
        raise Refusal("four-corners")


def _corner_sine(before: Corner, at: Corner, after: Corner) -> float:
    """Return the sine of the turn at a corner, above 0 for clockwise on screen; 0 where points coincide."""
    first = at[0] - before[0], at[1] - before[1]
    second = after[0] - at[0], after[1] - at[1]
    lengths = math.hypot(*first) * math.hypot(*second)
    return (first[0] * second[1] - first[1] * second[0]) / lengths if lengths > 0 else 0.0
