"""What lies beside a card, to take from many shapes what is card already.

Each shape is looked at among the holes near it alone: taking a card of thousands of holes away from one
shape after another would look at all its edges each time.
"""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.geometry.areas import as_area, geometries, holes_of
from peekpaper.geometry.overlay import difference, intersection, union_all

_NEAR_MM = 1.0
"""So far around a shape the outside of the card is looked at."""


class Surroundings:
    """The holes of a card in mm without the card that lies in them, and what its outlines go around."""

    def __init__(self, card: MultiPolygon) -> None:
        self._holes = _free_holes(card)
        self._tree = shapely.STRtree(self._holes)
        self._filled = union_all([Polygon(part.exterior) for part in card.geoms])
        shapely.prepare(self._filled)

    def beside(self, shapes: Sequence[Polygon | MultiPolygon]) -> list[MultiPolygon]:
        """Return what of areas in mm is not card, for each of them."""
        areas = geometries(list(shapes))
        found: list[list[Polygon]] = [[] for _ in areas]
        shape, hole = self._tree.query(areas, predicate="intersects")
        inside = intersection(areas[shape], self._holes[hole])
        for place, part in zip(shape.tolist(), inside, strict=True):
            found[place] += as_area(part).geoms
        for place in np.flatnonzero(~shapely.covers(self._filled, areas)).tolist():
            left, top, right, bottom = shapely.buffer(areas[place], _NEAR_MM).bounds
            near = shapely.make_valid(shapely.clip_by_rect(self._filled, left, top, right, bottom))
            found[place] += as_area(difference(areas[place], near)).geoms
        return [MultiPolygon(parts) for parts in found]


def _free_holes(card: MultiPolygon) -> NDArray[np.object_]:
    holes, parts = geometries(holes_of(card)), geometries(card.geoms)
    inner = geometries([part.representative_point() for part in parts])
    hole, part = shapely.STRtree(inner).query(holes, predicate="contains")
    for number in np.unique(hole).tolist():
        holes[number] = difference(holes[number], union_all(parts[part[hole == number]]))
    return holes
