"""Whether papers are large enough for openings."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.design.design import Opening
from peekpaper.papers.paper import Direction, Paper


def fitting_sheets(openings: Sequence[Opening], papers: Sequence[Paper]) -> NDArray[np.bool_]:
    """Tell, openings by papers, whether an opening's bounding box fits the sheet as it may be turned.

    Without the lip: a paper that just fits may still turn out too small for the piece.
    """
    boxes = shapely.bounds(np.array([opening.area for opening in openings], dtype=object)).reshape(-1, 4)
    widths, heights = (boxes[:, 2:] - boxes[:, :2]).T[:, :, None]
    across = np.array([paper.sheet_width_mm for paper in papers])
    down = np.array([paper.sheet_height_mm for paper in papers])
    may_lie = np.array([paper.direction is Direction.ANY for paper in papers])
    upright = (widths <= across) & (heights <= down)
    lying = (widths <= down) & (heights <= across) & may_lie
    fitting: NDArray[np.bool_] = upright | lying
    return fitting
