"""How thin a line has to be to be no card."""

import math

import shapely
from shapely import MultiPolygon, Polygon

_HAIRLINE = 0.012
"""A line thinner than this share of the drawing's diagonal may be a line to cut, not card (from memory)."""
_BAR = 0.0025
"""A line wider than this share of it may be a bar of card as well (from memory)."""


def hairline_width(left: float, top: float, right: float, bottom: float) -> float:
    """Return the width up to which lines within these bounds are lines to cut."""
    return _HAIRLINE * math.sqrt((right - left) ** 2 + (bottom - top) ** 2)


def is_line(area: Polygon | MultiPolygon, widest: float) -> bool:
    """Tell whether an area is as thin as a line of the width `widest` throughout, as a whole."""
    return bool(2 * area.area <= widest * shapely.length(area))


def may_be_bar(width: float, widest: float) -> bool:
    """Tell whether a line up to `hairline_width`, here `widest`, is wide enough for a bar of card."""
    return width * _HAIRLINE > widest * _BAR
