"""Squaring up a photo of a paper: four corners in the picture become the corners of an upright rectangle."""

import math
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from peekpaper.geometry.projective import Corner, finest_scale, projection, refuse_bad_corners
from peekpaper.refusal import Refusal

LARGEST_SIDE = 2048
"""The most px that a squared picture has along a side."""

_ROWS_AT_ONCE = 64


def squared_size(corners: Sequence[Corner], width_mm: float, height_mm: float) -> tuple[int, int]:
    """Return the size in px that keeps the picture's detail for a paper of that real size.

    The longest edge between the corners keeps its length in px, and the paper its proportions, up to
    LARGEST_SIDE. Raises Refusal for a paper of no size or corners that are not four.
    """
    if not (width_mm > 0 and height_mm > 0):
        raise Refusal("pictured-paper-without-size")
    px_per_mm = min(finest_scale(corners, width_mm, height_mm), LARGEST_SIDE / max(width_mm, height_mm))
    return max(1, round(width_mm * px_per_mm)), max(1, round(height_mm * px_per_mm))


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
