"""The edges that a file draws, and which of them a card has too."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from peekpaper.design.raster import Cells, Raster, grown, places_along
from peekpaper.design.sheet.hairlines import hairline_width
from peekpaper.geometry.areas import geometries

NEAR_CELLS = 2
"""Edges no further from each other than this are one."""
_MOST_PLACES = 20_000
"""Edges are looked at in no more places than this, so that large files take no longer."""


@dataclass(frozen=True, slots=True, eq=False)
class Edges:
    """Cells (row, column) along edges at equal steps.

    `lines` tells which line each is on, `reach` how many cells away is the same.
    """

    cells: tuple[NDArray[np.int64], NDArray[np.int64]]
    lines: NDArray[np.int64]
    reach: NDArray[np.int64]

    def along(self, lines: Cells) -> NDArray[np.bool_]:
        """Tell which places lie along lines that go through cells."""
        found = np.zeros(len(self.lines), bool)
        for reach in np.unique(self.reach).tolist():
            found |= (self.reach == reach) & grown(lines, reach)[self.cells]
        return found

    def share(self, which: NDArray[np.bool_]) -> float:
        """Return the chosen places' share of all, from 0 to 1.

        The lesser of two shares counts, that by length and that by lines of which the half is chosen, since
        a picture may be drawn with a few long lines or with many short ones.
        """
        if not len(which):
            return 1.0
        chosen = np.bincount(self.lines, weights=which)
        every = np.bincount(self.lines)
        return float(min(which.mean(), (2 * chosen >= every)[every > 0].mean()))


def outlines(areas: Sequence[MultiPolygon]) -> tuple[NDArray[np.object_], NDArray[np.float64]]:
    """Return the rings of areas, and the mean width of the part that each belongs to.

    What is thin throughout is a line, and either of its sides may stand for it.
    """
    parts = geometries(shapely.get_parts(np.asarray(areas, dtype=object)))
    rings, part = shapely.get_rings(parts, return_index=True)
    return geometries(rings), (2 * shapely.area(parts) / shapely.length(parts))[part]


def edges_of(lines: NDArray[np.object_], widths: NDArray[np.float64], raster: Raster, size: float) -> Edges:
    """Return lines as edges; `widths` are those that they are painted with, `size` the drawing's diagonal.

    Only what is as thin as a line is one; of what is wider each edge counts by itself.
    """
    places = places_along(lines, max(raster.side, float(shapely.length(lines).sum()) / _MOST_PLACES))
    widths = np.where(widths <= hairline_width(0.0, 0.0, size, 0.0), widths, 0.0)
    reach = np.maximum(NEAR_CELLS, np.ceil(widths / raster.side)).astype(np.int64)
    return Edges(raster.cells_of(places.at), places.line, reach[places.line])
