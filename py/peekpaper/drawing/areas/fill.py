"""The area that outlines enclose under a fill rule (SVG 1.1, 11.3)."""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import LinearRing, STRtree

from peekpaper.drawing.areas.arrangement import arranged_area
from peekpaper.drawing.areas.nesting import nested_area
from peekpaper.drawing.areas.valid_areas import NOTHING, make_polygons, make_rings
from peekpaper.drawing.drawing import Area
from peekpaper.drawing.outlines.matrix import Points


def fill_area(outlines: Sequence[Points], *, even_odd: bool) -> Area:
    """Return the area inside `outlines`, each closed as if by a straight line.

    The nonzero rule counts in which sense outlines run around a point, the even-odd rule only how many.
    Raises TangledError for outlines that cross one another beyond measure.
    """
    closed = [ring for ring in map(_closed, outlines) if ring is not None]
    if not closed:
        return NOTHING
    polygons = make_polygons(closed)
    simple = bool(shapely.is_valid(polygons).all())
    if simple and len(polygons) == 1:
        return polygons[0]
    rings = make_rings(closed)
    if simple and not _meet(rings):
        return nested_area(polygons, even_odd=even_odd)
    return arranged_area(rings, even_odd=even_odd)


def _closed(points: Points) -> Points | None:
    """Return an outline without repeated points, closed, or None where it encloses nothing."""
    kept = points[np.concatenate(([True], points[1:] != points[:-1]))]
    if kept[0] != kept[-1]:
        kept = np.append(kept, kept[0])
    return kept if len(kept) > 3 else None


def _meet(rings: Sequence[LinearRing]) -> bool:
    first, second = STRtree(rings).query(rings, predicate="intersects")
    return bool((first != second).any())
