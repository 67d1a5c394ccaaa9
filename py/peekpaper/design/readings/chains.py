"""Open lines joined end to end across small gaps.

By the greedy heuristic of matching: the nearest pair first (Reingold and Tarjan 1981, from memory).
"""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.geometry.areas import geometries
from peekpaper.geometry.vectors import norms


def chained(lines: Sequence[NDArray[np.float64]], gap: float) -> list[NDArray[np.float64]]:
    """Return the lines (arrays of nodes (n, 2)) joined where two ends lie within `gap`, the nearest first.

    Each end is joined to one other at most; the two ends of one line may be joined as well.
    """
    if not lines:
        return []
    partner = _partners(np.array([point for line in lines for point in (line[0], line[-1])]), gap)
    chains: list[NDArray[np.float64]] = []
    seen = np.zeros(len(lines), bool)
    for start in (*np.flatnonzero(partner < 0).tolist(), *range(len(partner))):
        pieces: list[NDArray[np.float64]] = []
        end = start
        while end >= 0 and not seen[end // 2]:
            seen[end // 2] = True
            pieces.append(lines[end // 2] if end % 2 == 0 else lines[end // 2][::-1])
            end = int(partner[end ^ 1])
        if pieces:
            chains.append(np.concatenate(pieces))
    return chains


def _partners(ends: NDArray[np.float64], gap: float) -> NDArray[np.int64]:
    """Return for each end the index of the one it is joined to, or -1; line k has the ends 2k and 2k + 1."""
    points = geometries(shapely.points(ends))
    one, other = shapely.STRtree(points).query(points, predicate="dwithin", distance=gap)
    pairs = np.stack([one, other], axis=1)[one < other]
    distances = norms(ends[pairs[:, 0]] - ends[pairs[:, 1]])
    partner = np.full(len(ends), -1, np.int64)
    for a, b in pairs[np.argsort(distances, kind="stable")]:
        if partner[a] < 0 and partner[b] < 0:
            partner[a], partner[b] = b, a
    return partner
