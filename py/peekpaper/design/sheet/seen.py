"""What can be seen of paint that lies over other paint."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from peekpaper.design.sheet.nesting import AT_ONCE
from peekpaper.drawing.drawing import Area
from peekpaper.geometry.areas import as_area
from peekpaper.geometry.overlay import difference, union_all
from peekpaper.refusal import Refusal

_MOST_HIDDEN = 60_000
"""How many pairs of shapes of unlike colours may lie one over the other."""


@dataclass(frozen=True, slots=True)
class Painted:
    """A painted area in CSS px and its colour `#rrggbb`."""

    area: Area
    colour: str


def visible(painted: Sequence[Painted], classes: Sequence[int]) -> list[MultiPolygon]:
    """Return what can be seen of each class of paint; classes count from 0, later paint hides earlier.

    Raises Refusal where shapes of unlike classes overlap too often.
    """
    if not painted:
        return []
    areas = np.array([paint.area for paint in painted], dtype=object)
    kinds = np.asarray(classes)
    lower, upper = _hidden(areas, kinds)
    seen = areas.copy()
    shapely.prepare(areas)
    is_whole = shapely.covers(areas[upper], areas[lower])
    seen[lower[is_whole]] = MultiPolygon()
    part = np.isin(lower, lower[is_whole], invert=True)
    lower, upper = lower[part], upper[part]
    for over in np.split(np.arange(len(lower)), np.flatnonzero(np.diff(lower)) + 1):
        if len(over):
            index = lower[over[0]]
            seen[index] = difference(areas[index], union_all(areas[upper[over]]))
    return [as_area(union_all(seen[kinds == kind])) for kind in range(int(kinds.max()) + 1)]


def _hidden(
    areas: NDArray[np.object_], kinds: NDArray[np.int64]
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return which areas lie below which later ones of other kinds, by the lower one."""
    tree = shapely.STRtree(areas)
    pairs = [np.empty((2, 0), np.int64)]
    for low in range(0, len(areas), AT_ONCE):
        lower, upper = tree.query(areas[low : low + AT_ONCE], predicate="intersects")
        lower = lower + low
        hides = (upper > lower) & (kinds[upper] != kinds[lower])
        pairs.append(np.stack([lower[hides], upper[hides]]))
        if sum(part.shape[1] for part in pairs) > _MOST_HIDDEN:
            raise Refusal("shapes-overlap-too-often")
    lower, upper = np.concatenate(pairs, axis=1)
    order = np.argsort(lower, kind="stable")
    return lower[order], upper[order]
