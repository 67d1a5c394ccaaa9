"""Squaring up a photo of a paper: four corners in the picture become the corners of an upright rectangle.

The map is the projective transformation through four pairs of points (Heckbert, "Fundamentals of Texture
Mapping and Image Warping", 1989, section 2.2).
"""

import math
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from peekpaper.refusal import Refusal

Corner = tuple[float, float]

LARGEST_SIDE = 2048
"""The most px that a squared picture has along a side."""

_ROWS_AT_ONCE = 64
_LEAST_CORNER_SINE = 0.02


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


def squared_size(corners: Sequence[Corner], width_mm: float, height_mm: float) -> tuple[int, int]:
    """Return the size in px that keeps the picture's detail for a paper of that real size.

    The longest edge between the corners keeps its length in px, and the paper its proportions, up to
    LARGEST_SIDE. Raises Refusal for a paper of no size or corners that are not four.
    """
    if not (width_mm > 0 and height_mm > 0):
        raise Refusal("pictured-paper-without-size")
    _refuse_other_than_four(corners)
    top, right, bottom, left = (math.dist(corners[i], corners[(i + 1) % 4]) for i in range(4))
    px_per_mm = max(max(top, bottom) / width_mm, max(left, right) / height_mm)
    px_per_mm = min(px_per_mm, LARGEST_SIDE / max(width_mm, height_mm))
    return max(1, round(width_mm * px_per_mm)), max(1, round(height_mm * px_per_mm))


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


def square_up(
    picture: NDArray[np.uint8], corners: Sequence[Corner], width: int, height: int
) -> NDArray[np.uint8]:
    """Return the part of an RGBA picture between four corners as an upright RGBA picture of that size.

    The corners are in px (px 0 reaches from 0 to 1), clockwise from the paper's top left. Where the picture
    holds more detail than the result, its px are averaged; beyond its edge its outermost px go on.
    Raises Refusal for corners that enclose no paper or a size that can't be.
    """
    refuse_bad_corners(corners, picture.shape[1], picture.shape[0])
    if not (1 <= width <= LARGEST_SIDE and 1 <= height <= LARGEST_SIDE):
        raise Refusal("squared-sides", most=LARGEST_SIDE)
    coarse = max(1, round(_detail(corners, width, height)))
    picture = shrunk(picture, coarse)
    corners = [(x / coarse, y / coarse) for x, y in corners]
    matrix = projection([(0, 0), (width, 0), (width, height), (0, height)], corners)
    squared = np.empty((height, width, 4), dtype=np.uint8)
    for rows in _bands(height):
        squared[rows] = _sampled_rows(picture, matrix, rows, width)
    return squared


def shrunk(picture: NDArray[np.uint8], factor: int) -> NDArray[np.uint8]:
    """Return an RGBA picture with blocks of `factor` x `factor` px averaged; what fills none is left out."""
    if factor == 1:
        return picture
    height, width = picture.shape[0] // factor, picture.shape[1] // factor
    total = np.zeros((height, width, 4), dtype=np.uint32)
    for down in range(factor):
        for across in range(factor):
            total += picture[down : height * factor : factor, across : width * factor : factor]
    return ((total + factor**2 // 2) // factor**2).astype(np.uint8)


def _detail(corners: Sequence[Corner], width: int, height: int) -> float:
    """Return how many px of the picture one px of the result stands for, along the finer edges."""
    top, right, bottom, left = (math.dist(corners[i], corners[(i + 1) % 4]) for i in range(4))
    return max(min(top, bottom) / width, min(left, right) / height)


def _bands(height: int) -> Iterator[slice]:
    for top in range(0, height, _ROWS_AT_ONCE):
        yield slice(top, min(top + _ROWS_AT_ONCE, height))


def _sampled_rows(
    picture: NDArray[np.uint8], matrix: NDArray[np.float64], rows: slice, width: int
) -> NDArray[np.float32]:
    """Return rows of the squared picture: what the picture has at the px' centres, weighted among four px."""
    height, stride = picture.shape[:2]
    x, y = np.arange(width) + 0.5, np.arange(rows.start, rows.stop)[:, None] + 0.5
    u, v, w = (row[0] * x + row[1] * y + row[2] for row in matrix)
    u, v = np.clip(u / w - 0.5, 0, stride - 1), np.clip(v / w - 0.5, 0, height - 1)
    left, top = u.astype(np.intp), v.astype(np.intp)
    right, bottom = np.minimum(left + 1, stride - 1), np.minimum(top + 1, height - 1)
    across = (u - left).astype(np.float32)[..., None]
    down = (v - top).astype(np.float32)[..., None]
    px = picture.reshape(-1, 4)
    upper = px[top * stride + left] * (1 - across) + px[top * stride + right] * across
    lower = px[bottom * stride + left] * (1 - across) + px[bottom * stride + right] * across
    blended: NDArray[np.float32] = upper * (1 - down) + lower * down
    return np.rint(blended, out=blended)
