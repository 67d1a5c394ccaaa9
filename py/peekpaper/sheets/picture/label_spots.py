"""Where a number sits best in an area, and how large it may be there."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.geometry.outline import Floats

DIGIT_WIDTH = 0.8
"""Width of a digit as a part of its height, common sans serifs (from memory)."""

AIR_MM = 0.35
"""Between a number and the next line."""

_TRIES = 28
"""Places across, and as many down, where a number is tried in its area."""
_SIZES = (1.5, 1.2, 1.0)
"""Sizes tried, as multiples of the least."""


class NumberSpot(NamedTuple):
    """The middle of a number in its area and the height of its digits in mm, 0 where it has no room."""

    x: float
    y: float
    cap_height: float


def label_spots(areas: Sequence[Polygon]) -> Floats:
    """Return the roomiest place of each area as rows of x, y and radius, shape (n, 3), in mm.

    It is the centroid where that is about as roomy as any place, else the centre of the largest inscribed
    circle (pole of inaccessibility, GEOS), found to a twentieth of the area's size.
    """
    if not areas:
        return np.empty((0, 3))
    polygons = np.asarray(areas, dtype=object)
    tolerances = np.maximum(0.05, np.sqrt(shapely.area(polygons)) / 20)
    spokes = shapely.maximum_inscribed_circle(polygons, tolerances)
    centres = shapely.get_coordinates(shapely.get_point(spokes, 0))
    radii = shapely.length(spokes)
    middles = shapely.centroid(polygons)
    room = np.where(
        shapely.contains(polygons, middles), shapely.distance(middles, shapely.boundary(polygons)), 0
    )
    central = room >= 0.85 * radii
    centres = np.where(central[:, None], shapely.get_coordinates(middles), centres)
    return np.column_stack([centres, np.where(central, room, radii)])


def number_size(text: str, radius: float, largest: float) -> float:
    """Return the cap height in mm at which `text` just fits a circle of `radius`, with a little air.

    Digits are taken as 0.9 of their height wide, which holds for the lettering and for common sans serifs.
    """
    return min(largest, 0.88 * 2 * radius / float(np.hypot(0.9 * len(text), 1.0)))


def number_spots(
    areas: Sequence[Polygon], texts: Sequence[str], least: float, largest: float
) -> list[NumberSpot]:
    """Return where each area's number goes, its digits between `least` and `largest` mm high.

    That is the roomiest place where a circle around the number fits; in a bent or narrow area it is wherever
    the number itself does.
    """
    spots = []
    for area, text, (x, y, radius) in zip(areas, texts, label_spots(areas).tolist(), strict=True):
        size = number_size(text, radius, largest)
        spots.append(NumberSpot(x, y, size) if size >= least else _box_spot(area, text, least))
    return spots


def box_size(text: str, cap_height: float) -> tuple[float, float]:
    """Return the width and height that a number takes up, with air around it."""
    return len(text) * DIGIT_WIDTH * cap_height + 2 * AIR_MM, cap_height + 2 * AIR_MM


def _box_spot(area: Polygon, text: str, least: float) -> NumberSpot:
    """Return the spot where the box of a number fits with most room to spare, at the largest size tried."""
    left, top, right, bottom = area.bounds
    shapely.prepare(area)
    for size in (least * times for times in _SIZES):
        width, height = box_size(text, size)
        if width > right - left or height > bottom - top:
            continue
        across = np.linspace(left + width / 2, right - width / 2, _TRIES)
        down = np.linspace(top + height / 2, bottom - height / 2, _TRIES)
        x, y = (grid.ravel() for grid in np.meshgrid(across, down))
        within = shapely.contains_xy(area, x, y)
        x, y = x[within], y[within]
        boxes = shapely.box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
        fits = np.flatnonzero(shapely.contains(area, boxes))
        if len(fits):
            best = fits[np.argmax(shapely.distance(boxes[fits], area.exterior))]
            return NumberSpot(float(x[best]), float(y[best]), size)
    middle = shapely.point_on_surface(area)
    return NumberSpot(middle.x, middle.y, 0.0)
