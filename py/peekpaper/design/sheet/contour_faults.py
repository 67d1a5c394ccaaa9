"""Faults of filled contours: harmless on screen, but a machine that follows them cuts astray."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely import LineString, Polygon

from peekpaper.design.readings.cut_lines import doubles
from peekpaper.design.sheet.clean_lines import ROUNDING, clean_nodes, diagonal
from peekpaper.design.sheet.mended import Fault, Mended
from peekpaper.drawing.drawing import Contour


def contour_faults(filled: Sequence[Contour]) -> Iterator[Mended]:
    """Yield which contours of filled shapes cross themselves or are drawn twice on the very same spot."""
    raw = np.array([contour.line for contour in filled if contour.line.length > 0], dtype=object)
    if len(raw) == 0:
        return
    rounding = ROUNDING * diagonal(raw)
    lines = np.array([LineString(clean_nodes(line, True, rounding)) for line in raw], dtype=object)
    crossing = ~shapely.is_simple(lines)
    for line in lines[crossing]:
        yield Mended(Fault.CROSSING, line)
    rings = [line for line in lines[~crossing] if len(line.coords) > 3]
    for index in sorted(doubles([Polygon(line) for line in rings], 10 * rounding)):
        yield Mended(Fault.DOUBLED, rings[index])
