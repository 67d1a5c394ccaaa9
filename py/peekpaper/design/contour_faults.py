"""Faults of filled contours: harmless on screen, but a machine that follows them cuts astray."""

from collections.abc import Iterator

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.design.content import Content
from peekpaper.design.mended import Fault, Mended
from peekpaper.design.readings.cut_lines import doubles


def contour_faults(content: Content) -> Iterator[Mended]:
    """Yield the filled contours that cross themselves, and those drawn twice on the very same spot."""
    lines = np.array([contour.line for contour in content.filled if contour.line.length > 0], dtype=object)
    if len(lines) == 0:
        return
    crossing = ~shapely.is_simple(lines)
    for line in lines[crossing]:
        yield Mended(Fault.CROSSING, line)
    left, top, right, bottom = shapely.total_bounds(lines)
    rings = [line for line in lines[~crossing] if len(line.coords) > 2]
    polygons = [Polygon(line) for line in rings]
    for index in sorted(doubles(polygons, 1e-5 * float(np.hypot(right - left, bottom - top)))):
        yield Mended(Fault.DOUBLED, rings[index])
