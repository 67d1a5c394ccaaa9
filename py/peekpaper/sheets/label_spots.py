"""Where a number sits best in an area, and how large it may be there."""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.sheets.outline import Floats


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
