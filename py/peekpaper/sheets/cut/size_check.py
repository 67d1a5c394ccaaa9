"""A square of known size on a cut sheet, to be measured before paper is spent."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.geometry.outline import Outline, rectangle
from peekpaper.lengths import MM_PER_INCH
from peekpaper.sheets.cut.cut_sheet import Cut, CutGroup, CutSheet
from peekpaper.words.words import Language

_SIDES_MM = {"in": MM_PER_INCH, "mm": 20.0}
"""The side of the square that tells whether the size is true, a round measure of each unit."""
_CLEARANCE_MM = 2.0
"""Between the square and what is cut, so that neither tears into the other (from memory)."""


def with_size_check(sheet: CutSheet, taken: Sequence[Polygon], unit: str, words: Language) -> CutSheet:
    """Return the sheet with a square of 1 in or 20 mm where none of the `taken` areas lies, in mm.

    Where the sheet has no room left it stays as it is, and its title says so:
    a mat keeps its size.
    """
    side = _SIDES_MM[unit]
    corner = _free_corner(sheet, taken, side)
    if corner is None:
        return replace(sheet, title=words.text("print.no-room-for-check", title=sheet.title))
    return _with_square(sheet, corner, unit, words)


def with_size_check_beside(
    sheet: CutSheet, taken: Sequence[Polygon], mat: tuple[float, float], unit: str, words: Language
) -> CutSheet:
    """Return the sheet grown by the square below or beside all else, as far as a `mat` (width, height) goes.

    On a mat that is too small for that the square lies where none of the `taken` areas does, in an opening
    for example; where there is no such place, the sheet stays as it is and its title says so.
    """
    room = _SIDES_MM[unit] + 2 * _CLEARANCE_MM
    below = replace(sheet, width_mm=max(sheet.width_mm, room), height_mm=sheet.height_mm + room)
    beside = replace(sheet, width_mm=sheet.width_mm + room, height_mm=max(sheet.height_mm, room))
    for grown, corner in ((below, (0.0, sheet.height_mm)), (beside, (sheet.width_mm, 0.0))):
        if grown.width_mm <= mat[0] and grown.height_mm <= mat[1]:
            return _with_square(grown, (corner[0] + _CLEARANCE_MM, corner[1] + _CLEARANCE_MM), unit, words)
    return with_size_check(sheet, taken, unit, words)


def _with_square(sheet: CutSheet, corner: tuple[float, float], unit: str, words: Language) -> CutSheet:
    side = _SIDES_MM[unit]
    ring = rectangle(*corner, side, side)
    step = np.diff(ring, axis=0) / 3
    cubics = np.stack([ring[:-1], ring[:-1] + step, ring[1:] - step, ring[1:]], axis=1)
    label = words.text("print.size-check", side=words.length(side, unit))
    square = Cut("size-check-square", Outline(cubics, np.ones(4, dtype=np.bool_)))
    return replace(sheet, size_check=CutGroup("size-check", label, (square,)))


def _free_corner(sheet: CutSheet, taken: Sequence[Polygon], side: float) -> tuple[float, float] | None:
    """Return the top left corner of a free place, the furthest right and down, or None."""
    need = side + _CLEARANCE_MM
    across = np.arange(sheet.width_mm - need, 0, -side / 2)
    down = np.arange(sheet.height_mm - need, 0, -side / 2)
    if not len(across) or not len(down):
        return None
    y, x = (grid.ravel() for grid in np.meshgrid(down, across, indexing="ij"))
    squares = shapely.box(x - _CLEARANCE_MM, y - _CLEARANCE_MM, x + need, y + need)
    are_free = np.ones(len(squares), dtype=np.bool_)
    are_free[shapely.STRtree(taken).query(squares, "intersects")[0]] = False
    free = np.flatnonzero(are_free)
    return (float(x[free[0]]), float(y[free[0]])) if len(free) else None
