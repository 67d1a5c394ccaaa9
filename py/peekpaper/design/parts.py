"""The card's parts: what a bar holds, what falls out, and what is too fine to be either."""

from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

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
    parts = [_without_cracks(part) for part in area.geoms if not _is_crumb(part)]
    if not parts:
        return Parts(MultiPolygon(), (), MultiPolygon())
    filled = np.array([Polygon(part.exterior) for part in parts], dtype=object)
    inside = shapely.point_on_surface(np.array(parts, dtype=object))
    point, holder = shapely.STRtree(filled).query(inside, predicate="within")
    loose = np.zeros(len(parts), bool)
    loose[point[point != holder]] = True
    card = MultiPolygon([part for part, falls in zip(parts, loose, strict=True) if not falls])
    openings = tuple(Polygon(ring) for part in card.geoms for ring in part.interiors)
    return Parts(
        card, openings, MultiPolygon([part for part, falls in zip(parts, loose, strict=True) if falls])
    )


def _without_cracks(part: Polygon) -> Polygon:
    holes = [ring for ring in part.interiors if not _is_crumb(Polygon(ring))]
    return part if len(holes) == len(part.interiors) else Polygon(part.exterior, holes)


def _is_crumb(polygon: Polygon) -> bool:
    return bool(2 * polygon.area <= _CRUMB_MM * polygon.length)
