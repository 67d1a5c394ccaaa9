"""How much of each pixel an area covers, for pictures without a renderer at hand.

Areas and not samples weigh, as in the pixel integrator of Catmull (1978, "A hidden-surface algorithm with
anti-aliasing", from memory); changes along a row are noted and summed.
"""

import numpy as np
from numpy.typing import NDArray

from peekpaper.geometry.outline import Floats
from peekpaper.geometry.polyline import rows_of

Shares = NDArray[np.float32]

_LINES_PER_PIXEL = 4
"""Lines of samples in a row of pixels; along each the coverage is exact."""


def coverage(edges: Floats, width: int, height: int) -> Shares:
    """Return the share of each pixel, shape (height, width), that closed rings of edges wind around.

    Edges are in pixels, shape (n, 2, 2): from a point to the next. Holes run the other way round than what
    they are in; where rings overlap the pixel is covered once (nonzero rule). Across a pixel the share is
    exact along each of four scan lines; down it is their mean.
    """
    slope = np.zeros((height, width + 2), dtype=np.float32)
    x, line, sign = _crossings(edges[:, 0], edges[:, 1], height * _LINES_PER_PIXEL)
    x = np.clip(x, 0, width)
    pixel = np.floor(x).astype(np.intp)
    step = (sign / _LINES_PER_PIXEL).astype(np.float32)
    inside = (x - pixel).astype(np.float32) * step
    flat = line // _LINES_PER_PIXEL * (width + 2) + pixel
    np.add.at(slope.ravel(), flat, step - inside)
    np.add.at(slope.ravel(), flat + 1, inside)
    shares: Shares = np.cumsum(slope, axis=1, out=slope)[:, :width]
    return np.minimum(np.abs(shares, out=shares), 1, out=shares)


def _crossings(starts: Floats, ends: Floats, lines: int) -> tuple[Floats, NDArray[np.intp], Floats]:
    """Return x, number and direction (1 or -1) wherever an edge crosses a scan line.

    Scan line n lies at n + 1/2 of the pitch.
    """
    rises = starts[:, 1] <= ends[:, 1]
    upper = np.where(rises[:, None], starts, ends)
    lower = np.where(rises[:, None], ends, starts)
    top, bottom = upper[:, 1] * _LINES_PER_PIXEL - 0.5, lower[:, 1] * _LINES_PER_PIXEL - 0.5
    first = np.clip(np.ceil(top), 0, lines).astype(np.intp)
    counts = np.maximum(np.clip(np.ceil(bottom), 0, lines).astype(np.intp) - first, 0)
    edge, nth = rows_of(counts)
    line = first[edge] + nth
    share = (line - top[edge]) / (bottom - top)[edge]
    x = upper[edge, 0] + share * (lower[edge, 0] - upper[edge, 0])
    return x, line, np.where(rises, 1.0, -1.0)[edge]
