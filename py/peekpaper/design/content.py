"""What a file holds, sorted for the question which of it is the card."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.drawing.drawing import Area, Contour, Drawing

_WHITE = "#ffffff"
_SAME_COLOUR = 14.0
"""Two colours nearer than this in each channel (of 255) count as one; from memory."""


@dataclass(frozen=True, slots=True)
class Painted:
    """A painted area in CSS px and its colour `#rrggbb`."""

    area: Area
    colour: str


@dataclass(frozen=True, slots=True)
class Content:
    """A drawing's paint and contours, without the sheet of colour that lies behind everything.

    `painted` is in paint order, `background` the colour behind it. `fill_share` tells how much of the paint
    is fills of other colours than the background (0 to 1), `line_width` the median stroke width in CSS px.
    """

    painted: tuple[Painted, ...]
    background: str
    contours: tuple[Contour, ...]
    has_fills: bool
    line_width: float


def content_of(drawing: Drawing) -> Content:
    """Return the drawing's content."""
    painted: list[Painted] = []
    for shape in drawing.shapes:
        for paint in (shape.fill, shape.stroke):
            if paint is not None and not paint.area.is_empty:
                painted.append(Painted(paint.area, paint.colour.lower()))
    has_background = _starts_with_background(painted)
    background = painted[0].colour if has_background else _WHITE
    kept = tuple(painted[1:] if has_background else painted)
    fills = [
        shape.fill for shape in drawing.shapes if shape.fill is not None and not shape.fill.area.is_empty
    ]
    widths = [shape.stroke_width for shape in drawing.shapes if shape.stroke is not None]
    return Content(
        painted=kept,
        background=background,
        contours=tuple(contour for shape in drawing.shapes for contour in shape.contours),
        has_fills=any(
            not same_colour(fill.colour, background) for fill in fills[1 if has_background else 0 :]
        ),
        line_width=float(np.median(widths)) if widths else 0.0,
    )


def same_colour(one: str, other: str) -> bool:
    """Tell whether two colours `#rrggbb` look the same in a flat drawing."""
    return max(abs(a - b) for a, b in zip(_channels(one), _channels(other), strict=True)) <= _SAME_COLOUR


def _channels(colour: str) -> tuple[int, int, int]:
    return int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16)


def lightness(colour: str) -> float:
    """Return a rough lightness from 0 to 1, by the luma weights of ITU-R BT.601."""
    red, green, blue = _channels(colour)
    return (0.299 * red + 0.587 * green + 0.114 * blue) / 255


def _starts_with_background(painted: Sequence[Painted]) -> bool:
    """Tell whether the first paint is a light sheet behind everything else, not the card itself."""
    if len(painted) < 2:
        return False
    first, others = painted[0], painted[1:]
    box = shapely.box(*first.area.bounds)
    if first.area.area < 0.98 * box.area or all(same_colour(first.colour, other.colour) for other in others):
        return False
    bounds = shapely.total_bounds(np.array([other.area for other in others]))
    if not shapely.box(*bounds).buffer(-1e-6 * box.length).within(box):
        return False
    areas = np.array([other.area.area for other in others])
    tones = np.array([lightness(other.colour) for other in others])
    return bool(
        areas.sum() > 0
        and lightness(first.colour) > 0.5 > 0
        and lightness(first.colour) > (areas * tones).sum() / areas.sum()
    )


def visible(painted: Sequence[Painted], classes: NDArray[np.int64]) -> list[Area]:
    """Return what can be seen of each class of paint: classes count from 0; later paint hides earlier."""
    areas = np.array([paint.area for paint in painted], dtype=object)
    tree = shapely.STRtree(areas)
    lower, upper = tree.query(areas, predicate="intersects")
    hiding = (upper > lower) & (classes[upper] != classes[lower])
    seen = areas.copy()
    for index in np.unique(lower[hiding]):
        seen[index] = shapely.difference(
            areas[index], shapely.union_all(areas[upper[hiding & (lower == index)]])
        )
    return [as_area(shapely.union_all(seen[classes == number])) for number in range(int(classes.max()) + 1)]


def as_area(geometry: shapely.Geometry) -> MultiPolygon:
    """Return the polygons of a geometry; points and lines that an overlay left are dropped."""
    parts = shapely.get_parts(shapely.get_parts(np.atleast_1d(np.array(geometry, dtype=object))))
    return MultiPolygon([part for part in parts if isinstance(part, Polygon) and not part.is_empty])
