"""Where the triangles of a card span from one edge to another.

They are the sleeves of its chordal axis (Prasad 1997, "Morphological analysis of shapes", from memory).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.design.bars.patches import patch_areas
from peekpaper.design.bars.triangulation import CardTriangulation
from peekpaper.geometry.vectors import norms


@dataclass(frozen=True, slots=True, eq=False)
class Spans:
    """The triangles with a side on one ring and a corner on another.

    `triangle` (k) indexes the triangulation, `pair` (k) the pairs of rings `rings` (p, 2), the lower number
    first. `crossing` (k, 2, 2) is the shortest way from the corner to the side in mm, `width` (k) its length,
    `base` (k) the side's length and `base_ring` (k) the ring that the side is on.
    """

    triangle: NDArray[np.int64]
    pair: NDArray[np.int64]
    rings: NDArray[np.int64]
    crossing: NDArray[np.float64]
    width: NDArray[np.float64]
    base: NDArray[np.float64]
    base_ring: NDArray[np.int64]

    def narrowest(self) -> NDArray[np.int64]:
        """Return for each pair the index of its narrowest span."""
        order = np.lexsort((self.width, self.pair))
        firsts = np.searchsorted(self.pair[order], np.arange(len(self.rings)))
        return order[firsts]

    def facing(self) -> NDArray[np.float64]:
        """Return for each pair how long its rings face each other, the longer of the two sides (mm)."""
        count = len(self.rings)
        on_first = self.base_ring == self.rings[self.pair, 0]
        return np.maximum(
            np.bincount(self.pair, weights=self.base * on_first, minlength=count),
            np.bincount(self.pair, weights=self.base * ~on_first, minlength=count),
        )


def find_spans(triangulation: CardTriangulation) -> Spans:
    """Return the spans between the rings of a triangulated card."""
    labels = triangulation.corner_rings
    low, high = labels.min(axis=1, initial=np.iinfo(np.int64).max), labels.max(axis=1, initial=0)
    middle = labels.sum(axis=1) - low - high
    triangle = np.flatnonzero((low != high) & ((middle == low) | (middle == high)))
    labels, low, high, middle = labels[triangle], low[triangle], high[triangle], middle[triangle]
    apex_ring = np.where(middle == low, high, low)
    apex = np.argmax(labels == apex_ring[:, None], axis=1)
    corners = triangulation.corners[triangle]
    rows = np.arange(len(triangle))
    tip, start, end = (corners[rows, (apex + turn) % 3] for turn in range(3))
    side = end - start
    base_squared = (side**2).sum(axis=1)
    along = np.clip(((tip - start) * side).sum(axis=1) / base_squared, 0, 1)
    foot = start + along[:, None] * side
    rings, pair = np.unique(np.stack([low, high], axis=1), axis=0, return_inverse=True)
    return Spans(
        triangle=triangle,
        pair=pair.ravel(),
        rings=rings,
        crossing=np.stack([tip, foot], axis=1),
        width=norms(tip - foot),
        base=np.sqrt(base_squared),
        base_ring=middle,
    )


def strips(
    triangulation: CardTriangulation, spans: Spans, pairs: NDArray[np.bool_]
) -> list[Polygon | MultiPolygon]:
    """Return the area (mm) of all spans of a pair, for each of the chosen `pairs` (p)."""
    chosen = np.flatnonzero(pairs[spans.pair])
    number = np.cumsum(pairs) - 1
    return patch_areas(
        triangulation.points,
        triangulation.triangles[spans.triangle[chosen]],
        number[spans.pair[chosen]],
        int(pairs.sum()),
    )
