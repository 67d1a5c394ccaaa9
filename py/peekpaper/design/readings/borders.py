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

_FILLED = 0.98
"""A rectangle fills this share of its bounding box and more: its corners may be rounded (from memory)."""


@dataclass(frozen=True, slots=True, eq=False)
class Borders:
    """Of each part of an area: whether it is a border, and whether it lies in another part.

    `is_plain` tells which are a rectangle, or have one hole alone: as borders they need no further proof.
    """

    is_border: NDArray[np.bool_]
    is_held: NDArray[np.bool_]
    is_plain: NDArray[np.bool_]


def borders_of(area: MultiPolygon) -> Borders:
    """Return which outermost parts hold several others for each of their holes.

    The edge of a board around several cards need hold but two for each: cards have so many openings, eyelets
    one bit each. A board is a rectangle.
    """
    nesting = nesting_of(geometries(area.geoms))
    holes = np.asarray(shapely.get_num_interior_rings(nesting.parts), np.int64)
    outlines = shapely.polygons(shapely.get_exterior_ring(nesting.parts))
    is_board = (holes > 1) & _are_rectangles(geometries(outlines))
    least = np.where(is_board, 2, SEVERAL) * np.maximum(holes, 1)
    is_held = nesting.depth > 0
    is_border = (holes > 0) & (nesting.held >= least) & ~is_held
    return Borders(is_border, is_held, is_board | (holes == 1))


def _are_rectangles(outlines: NDArray[np.object_]) -> NDArray[np.bool_]:
    """Tell which outlines fill their bounding box."""
    boxes = shapely.box(*shapely.bounds(outlines).T)
    filled: NDArray[np.bool_] = shapely.area(outlines) >= _FILLED * shapely.area(boxes)
    return filled


def without_borders(area: MultiPolygon, borders: Borders, mended: list[Mended]) -> MultiPolygon:
    """Return an area without its borders: what was openings within them is card, and card openings."""
    if not borders.is_border.any():
        return area
    parts = geometries(area.geoms)
    around = parts[borders.is_border]
    mended.extend(Mended(Fault.BORDER, outline) for outline in shapely.get_exterior_ring(around))
    inside = union_all(holes_of(MultiPolygon(around.tolist())))
    return as_area(symmetric_difference(inside, union_all(parts[~borders.is_border])))
