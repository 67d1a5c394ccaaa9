"""Whether papers are large enough for openings."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.design.design import Opening
from peekpaper.papers.paper import Paper


def openings_that_fit(openings: Sequence[Opening], papers: Sequence[Paper]) -> NDArray[np.bool_]:
    """Tell, openings by papers, whether an opening's bounding box fits the sheet as it may be turned.

    Without the lip: a paper that just fits may still turn out too small for the piece.
    """
    boxes = shapely.bounds(np.array([opening.area for opening in openings], dtype=object)).reshape(-1, 4)
    widths, heights = (boxes[:, 2:] - boxes[:, :2]).T[:, :, None]
    across, down = np.array([paper.room_mm for paper in papers]).reshape(-1, 2).T
    may_lie = np.array([paper.turns_on_sheet for paper in papers], dtype=bool)
    upright = (widths <= across) & (heights <= down)
    lying = (widths <= down) & (heights <= across) & may_lie
    fitting: NDArray[np.bool_] = upright | lying
    return fitting
