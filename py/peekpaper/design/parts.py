"""The card's parts: what a bar holds, what falls out, and what is too fine to be either."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.design.areas import geometries, holes_of

_CRUMB_MM = 0.02
"""Card or openings whose area over half their outline, a measure of width, is less are errors of drawing."""


@dataclass(frozen=True, slots=True)
class Parts:
    """The card that stays, its openings in no order, and the card that falls out."""

    card: MultiPolygon
    openings: tuple[Polygon, ...]
    loose_bits: MultiPolygon


def split_parts(area: MultiPolygon) -> Parts:
    """Return the parts of an area in mm.

    A part inside an opening of another is a loose bit, and so is what lies inside that. Cracks and crumbs
    under a fiftieth of a millimetre wide are closed and dropped.
    """
    drawn = geometries(shapely.get_parts(area))
    parts = [_without_cracks(part) for part in drawn[~_are_crumbs(drawn)]]
    if not parts:
        return Parts(MultiPolygon(), (), MultiPolygon())
    filled = np.array([Polygon(part.exterior) for part in parts], dtype=object)
    inside = shapely.point_on_surface(np.array(parts, dtype=object))
    point, holder = shapely.STRtree(filled).query(inside, predicate="within")
    loose = np.zeros(len(parts), bool)
    loose[point[point != holder]] = True
    card = MultiPolygon([part for part, falls in zip(parts, loose, strict=True) if not falls])
    return Parts(
        card,
        tuple(holes_of(card)),
        MultiPolygon([part for part, falls in zip(parts, loose, strict=True) if falls]),
    )


def _without_cracks(part: Polygon) -> Polygon:
    holes = np.array(holes_of(part), dtype=object)
    cracks = _are_crumbs(holes)
    return Polygon(part.exterior, [hole.exterior for hole in holes[~cracks]]) if cracks.any() else part


def _are_crumbs(polygons: NDArray[np.object_]) -> NDArray[np.bool_]:
    are_crumbs: NDArray[np.bool_] = 2 * shapely.area(polygons) <= _CRUMB_MM * shapely.length(polygons)
    return are_crumbs
