"""What lies in what among parts of an area: one tree, by which frames, borders and loose bits are told."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.geometry.areas import geometries

MOST_AROUND = 3
"""So many sheets, borders or frame lines, one in another, are looked through at most (from memory)."""
AT_ONCE = 500
"""So many areas are compared at once, so that pairs of a whole sheet need not lie in memory together."""


@dataclass(frozen=True, slots=True, eq=False)
class Nesting:
    """Which of some parts lie within the outlines of which others: part `inner[k]` in part `outer[k]`."""

    parts: NDArray[np.object_]
    inner: NDArray[np.int64]
    outer: NDArray[np.int64]

    @property
    def depth(self) -> NDArray[np.int64]:
        """How many others each part lies in."""
        return np.bincount(self.inner, minlength=len(self.parts))

    @property
    def held(self) -> NDArray[np.int64]:
        """How many others lie in each part's outline."""
        return np.bincount(self.outer, minlength=len(self.parts))

    def within(self, which: NDArray[np.bool_]) -> NDArray[np.bool_]:
        """Tell which parts lie in any of the chosen ones."""
        found = np.zeros(len(self.parts), bool)
        found[self.inner[which[self.outer]]] = True
        return found


def nesting_of(parts: NDArray[np.object_]) -> Nesting:
    """Return how parts (n) that do not overlap nest in one another."""
    if len(parts) < 2:
        return Nesting(parts, np.empty(0, np.int64), np.empty(0, np.int64))
    outlines = shapely.STRtree(geometries(shapely.polygons(shapely.get_exterior_ring(parts))))
    inner, outer = outlines.query(shapely.point_on_surface(parts), predicate="within")
    differ = inner != outer
    return Nesting(parts, inner[differ], outer[differ])
