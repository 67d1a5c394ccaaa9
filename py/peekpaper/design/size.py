"""The design's finished size: how large a CSS px of the drawing becomes."""

import math

import numpy as np
import shapely

from peekpaper.design.design import Reading
from peekpaper.drawing.drawing import Drawing
from peekpaper.lengths import LARGEST_MM, MM_PER_INCH, PX_PER_INCH
from peekpaper.refusal import Refusal

FLATNESS_MM = 0.02
"""How far outlines may stray from the true curves at the finished size."""

LEAST_USUAL_MM = 20.0
"""Nobody backs a card whose longer side is less (common practice, no published source)."""
_LEAST_GUESS_MM = 50.0
"""Px that make a card whose longer side is less were hardly meant as a size, unless the file's header tells
how many make an inch (common practice, no published source)."""
_LARGEST_GUESS_MM = 304.8
"""Nor were those that make one larger than a mat of 12 in."""
_PX_PER_INCH = (96.0, 90.0, 72.0)
"""Px to the inch by CSS (W3C CSS Values and Units), and in older programs (from memory)."""
_START_MM = 200.0
"""The longer side that such a card gets until the person sets another: it fits every mat."""


def first_tolerance(side_px: float) -> float:
    """Return the tolerance in CSS px to read a file with, given the longer side of what it draws.

    It serves all finished sizes up to a mat's and a file's own size in px, so that most need no other.
    """
    natural = FLATNESS_MM * PX_PER_INCH / MM_PER_INCH
    return min(natural, FLATNESS_MM * side_px / _LARGEST_GUESS_MM) if side_px > 0 else natural


def mm_per_px(drawing: Drawing, reading: Reading, width_px: float, height_px: float) -> float:
    """Return how many mm a CSS px becomes, given the card's bounding box in CSS px.

    A set width or height wins over the file's physical size, and that over px; where both width and
    height are set the width wins. Px that would give no usual size make a card of 200 mm to start from.
    Raises Refusal for lengths that are no sizes, and for a card larger than `LARGEST_MM`.
    """
    scale = _scale(drawing, reading, width_px, height_px)
    if max(width_px, height_px) * scale > LARGEST_MM:
        raise Refusal(
            "card-too-large", size_m=round(max(width_px, height_px) * scale / 1000), most_m=LARGEST_MM / 1000
        )
    return scale


def _scale(drawing: Drawing, reading: Reading, width_px: float, height_px: float) -> float:
    for wanted, extent in ((reading.width_mm, width_px), (reading.height_mm, height_px)):
        if wanted is not None:
            if not (math.isfinite(wanted) and wanted > 0):
                raise Refusal("finished-size-zero")
            if extent > 0:
                return wanted / extent
    if drawing.has_physical_size:
        return MM_PER_INCH / PX_PER_INCH
    if reading.px_per_inch is None:
        return _guess(drawing, max(width_px, height_px))
    if not (math.isfinite(reading.px_per_inch) and reading.px_per_inch > 0):
        raise Refusal("px-per-inch-zero")
    return MM_PER_INCH / reading.px_per_inch


def _guess(drawing: Drawing, extent_px: float) -> float:
    """Return how many mm a px is by the file's header, else as in CSS, where that gives a usual size."""
    scale = MM_PER_INCH / (drawing.px_per_inch or PX_PER_INCH)
    if extent_px <= 0 or _is_usual(drawing, extent_px * scale):
        return scale
    return _START_MM / extent_px


def usual_px_per_inch(drawing: Drawing, extent_px: float) -> tuple[float, ...]:
    """Return which counts of px to the inch programs have used that give a card a usual size.

    `extent_px` is the card's longer side in CSS px. 96 px make an inch by CSS, 90 and 72 in older programs;
    what the file's header shows comes first. None does where the file's px were not meant as a size.
    """
    counts = dict.fromkeys([drawing.px_per_inch or PX_PER_INCH, *_PX_PER_INCH])
    return tuple(count for count in counts if _is_usual(drawing, extent_px * MM_PER_INCH / count))


def _is_usual(drawing: Drawing, side_mm: float) -> bool:
    least = _LEAST_GUESS_MM if drawing.px_per_inch is None else LEAST_USUAL_MM
    return least <= side_mm <= _LARGEST_GUESS_MM


def tolerance_for(drawing: Drawing, reading: Reading) -> float:
    """Return the flattening tolerance in CSS px that keeps curves within 0.02 mm at the finished size.

    The caller reads the file again at this tolerance where `drawing.tolerance` is larger. Raises Refusal for
    lengths that are no sizes.
    """
    width, height = _extent(drawing)
    return FLATNESS_MM / mm_per_px(drawing, reading, width, height)


def _extent(drawing: Drawing) -> tuple[float, float]:
    areas = [
        paint.area for shape in drawing.shapes for paint in (shape.fill, shape.stroke) if paint is not None
    ]
    lines = [contour.line for shape in drawing.shapes for contour in shape.contours]
    drawn = np.array([*areas, *lines], dtype=object)
    drawn = drawn[~shapely.is_empty(drawn)]
    if len(drawn) == 0:
        return drawing.width, drawing.height
    left, top, right, bottom = shapely.total_bounds(drawn)
    return float(right - left), float(bottom - top)
