"""How much of each pixel an area covers, for pictures without a renderer at hand."""

import numpy as np
from numpy.typing import NDArray

from peekpaper.sheets.outline import Floats

Shares = NDArray[np.float32]

_LINES_PER_PIXEL = 4


def coverage(rings: list[Floats], width: int, height: int) -> Shares:
    """Return the share of each pixel, shape (height, width), that the rings enclose by the even-odd rule.

    Rings are closed polylines in pixels, shape (k, 2), the first point repeated last. Across a pixel the
    share is exact along each of four scan lines; down it is their mean.
    """
    mask = np.zeros((height, width), dtype=np.float32)
    starts = np.concatenate([ring[:-1] for ring in rings])
    ends = np.concatenate([ring[1:] for ring in rings])
    x, row = _crossings(starts, ends, height * _LINES_PER_PIXEL)
    if not len(x):
        return mask
    order = np.lexsort((x, row))
    x, row = np.clip(x[order], 0, width), row[order]
    _add_spans(mask, x[::2], x[1::2], row[::2] // _LINES_PER_PIXEL)
    mask /= _LINES_PER_PIXEL
    return mask


def _crossings(starts: Floats, ends: Floats, lines: int) -> tuple[Floats, NDArray[np.intp]]:
    """Return x and number of each scan line that an edge crosses; line n lies at n + 1/2 of its pitch."""
    rising = np.where((starts[:, 1] <= ends[:, 1])[:, None], starts, ends)
    falling = np.where((starts[:, 1] <= ends[:, 1])[:, None], ends, starts)
    top, bottom = rising[:, 1] * _LINES_PER_PIXEL - 0.5, falling[:, 1] * _LINES_PER_PIXEL - 0.5
    first = np.clip(np.ceil(top), 0, lines).astype(np.intp)
    counts = np.maximum(np.clip(np.ceil(bottom), 0, lines).astype(np.intp) - first, 0)
    edge = np.repeat(np.arange(len(counts)), counts)
    row = np.arange(len(edge)) - np.repeat(np.cumsum(counts) - counts, counts) + first[edge]
    share = (row - top[edge]) / (bottom - top)[edge]
    x = rising[edge, 0] + share * (falling[edge, 0] - rising[edge, 0])
    return x, row


def _add_spans(mask: Shares, left: Floats, right: Floats, row: NDArray[np.intp]) -> None:
    """Add 1 to the mask from `left` to `right` on each `row`, the pixels at both ends by their share."""
    height, width = mask.shape
    slope = np.zeros((height, width + 2), dtype=np.float32)
    for edge, sign in ((left, 1.0), (right, -1.0)):
        pixel = np.floor(edge).astype(np.intp)
        inside = (edge - pixel).astype(np.float32)
        np.add.at(slope, (row, pixel), sign * (1 - inside))
        np.add.at(slope, (row, pixel + 1), sign * inside)
    mask += np.cumsum(slope, axis=1)[:, :width]
