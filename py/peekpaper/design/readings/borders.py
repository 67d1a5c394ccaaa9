"""Lines around the outlines of cards: as a card such a line would hold little and drop far more."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from peekpaper.design.sheet.mended import Fault, Mended
from peekpaper.design.sheet.nesting import nesting_of
from peekpaper.design.worth import SEVERAL
from peekpaper.geometry.areas import as_area, geometries, holes_of
from peekpaper.geometry.overlay import symmetric_difference, union_all


@dataclass(frozen=True, slots=True, eq=False)
class Borders:
    """Of each part of an area: whether it is a border, or lies in another part, and how many holes it has."""

    is_border: NDArray[np.bool_]
    is_held: NDArray[np.bool_]
    holes: NDArray[np.int64]


def borders_of(area: MultiPolygon) -> Borders:
    """Return which outermost parts hold several others for each of their holes."""
    nesting = nesting_of(geometries(area.geoms))
    holes = np.asarray(shapely.get_num_interior_rings(nesting.parts), np.int64)
    is_held = nesting.depth > 0
    return Borders((holes > 0) & (nesting.held >= SEVERAL * holes) & ~is_held, is_held, holes)


def without_borders(area: MultiPolygon, borders: Borders, mended: list[Mended]) -> MultiPolygon:
    """Return an area without its borders: what was openings within them is card, and card openings."""
    if not borders.is_border.any():
        return area
    parts = geometries(area.geoms)
    around = parts[borders.is_border]
    mended.extend(Mended(Fault.BORDER, outline) for outline in shapely.get_exterior_ring(around))
    inside = union_all(holes_of(MultiPolygon(around.tolist())))
    return as_area(symmetric_difference(inside, union_all(parts[~borders.is_border])))
