"""Whether a paper is large enough for an opening."""

from peekpaper.design.design import Opening
from peekpaper.papers.paper import Direction, Paper


def fits_sheet(opening: Opening, paper: Paper) -> bool:
    """Tell whether the opening's bounding box fits the sheet as its direction allows it to be turned.

    Without the lip: a paper that just fits may still turn out too small for the piece.
    """
    left, top, right, bottom = opening.area.bounds
    width, height = right - left, bottom - top
    upright = width <= paper.sheet_width_mm and height <= paper.sheet_height_mm
    lying = width <= paper.sheet_height_mm and height <= paper.sheet_width_mm
    return upright or (lying and paper.direction is Direction.ANY)
