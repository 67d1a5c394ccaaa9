"""The card's parts: what a bar holds, what falls out, and what is too fine to be either."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.design.sheet.nesting import nesting_of
from peekpaper.geometry.areas import geometries, holes_of

_CRUMB_MM = 0.02
"""Card or openings whose area over half their outline, a measure of width, is less are errors of drawing."""
_SPECK_MM = 0.001
"""What is finer still, or under half a millimetre long, comes of rounding: nobody drew it (from memory)."""
_LEAST_LENGTH_MM = 0.5
"""A ring with less than twice this around it is a speck of the drawing, too small to cut."""


@dataclass(frozen=True, slots=True)
class Parts:
    """The card that stays, its openings in no order, the card that falls out, and slivers left out."""

    card: MultiPolygon
    openings: tuple[Polygon, ...]
    loose_bits: MultiPolygon
    slivers: tuple[Polygon, ...]


def split_parts(area: MultiPolygon) -> Parts:
    """Return the parts of an area in mm.

    A part inside an opening of another is a loose bit, and so is what lies inside that. Cracks and crumbs
    under a fiftieth of a millimetre wide are closed, with all that lies in them, and dropped; those that can
    be seen are the slivers.
    """
    drawn = geometries(shapely.get_parts(area))
    are_crumbs = _are_finer(drawn, _CRUMB_MM)
    cleaned = [_without_cracks(part) for part in drawn[~are_crumbs]]
    cracks = geometries([crack for _, cracks in cleaned for crack in cracks])
    within = _which_within(drawn[~are_crumbs], cracks)
    parts = [part for (part, _), is_within in zip(cleaned, within, strict=True) if not is_within]
    slivers = _seen([*drawn[are_crumbs], *cracks])
    if not parts:
        return Parts(MultiPolygon(), (), MultiPolygon(), slivers)
    loose = inside_others(geometries(parts))
    card = MultiPolygon([part for part, falls in zip(parts, loose, strict=True) if not falls])
    return Parts(
        card,
        # Overlays begin rings anywhere: an opening that a mend did not touch is the same value.
        tuple(shapely.normalize(holes_of(card))),
        MultiPolygon([part for part, falls in zip(parts, loose, strict=True) if falls]),
        slivers,
    )


def _which_within(parts: NDArray[np.object_], cracks: NDArray[np.object_]) -> NDArray[np.bool_]:
    """Tell which parts lie in cracks."""
    inside = geometries([part.representative_point() for part in parts])
    _, within = shapely.STRtree(inside).query(cracks, predicate="contains")
    return np.isin(np.arange(len(parts)), within)


def inside_others(parts: NDArray[np.object_]) -> NDArray[np.bool_]:
    """Tell which parts of an area lie in an opening of another."""
    return nesting_of(parts).depth > 0


def _without_cracks(part: Polygon) -> tuple[Polygon, NDArray[np.object_]]:
    """Return the part with its cracks closed, and the cracks."""
    holes = np.array(holes_of(part), dtype=object)
    cracks = _are_finer(holes, _CRUMB_MM)
    closed = Polygon(part.exterior, [hole.exterior for hole in holes[~cracks]]) if cracks.any() else part
    return closed, holes[cracks]


def _are_finer(polygons: NDArray[np.object_], width_mm: float) -> NDArray[np.bool_]:
    are_finer: NDArray[np.bool_] = 2 * shapely.area(polygons) <= width_mm * shapely.length(polygons)
    return are_finer


def _seen(crumbs: Sequence[Polygon]) -> tuple[Polygon, ...]:
    """Return the crumbs that somebody drew."""
    polygons = np.array(crumbs, dtype=object)
    drawn = (shapely.length(polygons) >= 2 * _LEAST_LENGTH_MM) & ~_are_finer(polygons, _SPECK_MM)
    return tuple(polygons[drawn])
