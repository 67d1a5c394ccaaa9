"""A drawing without what lies behind its design or around it: sheets of colour, borders of the page."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.design.sheet.colours import lightness, same_colour
from peekpaper.design.sheet.content import WHITE, Content
from peekpaper.design.sheet.mended import Fault, Mended
from peekpaper.design.sheet.nesting import MOST_AROUND
from peekpaper.design.sheet.translucent import as_seen
from peekpaper.drawing.drawing import Drawing, Paint, PaintedShape
from peekpaper.geometry.areas import geometries, holes_of
from peekpaper.geometry.overlay import union_all

_SLACK = 1e-6
"""As a share of an outline's length: so far rounding may move it out of the sheet around it."""


def contents_of(drawing: Drawing) -> Iterator[Content]:
    """Yield the drawing's content without the light sheet behind it, then what lies further inside.

    Shapes without paint count only where there are no others.
    """
    shapes = tuple(shape for shape in drawing.shapes if shape.fill or shape.stroke) or drawing.shapes
    content = Content(as_seen(shapes, WHITE))
    if _starts_with_light_sheet(content):
        content = _before_sheet(content)
    yield content
    for _ in range(MOST_AROUND):
        inner = _inside_outermost(content)
        if inner is None:
            return
        yield inner
        content = inner


def _starts_with_light_sheet(content: Content) -> bool:
    """Tell whether the first paint is a light sheet behind everything else, not the card itself.

    A line around the sheet itself may reach beyond it.
    """
    first = content.shapes[0].fill if content.shapes else None
    others = content.painted[1:]
    if first is None or first.area.is_empty or not others:
        return False
    sheet = shapely.box(*first.area.bounds)
    if first.area.area < 0.98 * sheet.area or all(
        same_colour(first.colour, paint.colour) for paint in others
    ):
        return False
    areas = np.array([paint.area for paint in others], dtype=object)
    has_line = content.shapes[0].stroke is not None
    held = shapely.box(*shapely.total_bounds(areas[has_line:])) if len(areas) > has_line else sheet
    sizes = shapely.area(areas)
    if sizes.sum() == 0 or not held.buffer(-_SLACK * sheet.length).within(sheet):
        return False
    tones = np.array([lightness(paint.colour) for paint in others])
    return bool(lightness(first.colour) > max(0.5, float((sizes * tones).sum() / sizes.sum())))


def _before_sheet(content: Content) -> Content:
    """Return the content without the fill of its first shape, which becomes the background."""
    first, *others = content.shapes
    assert first.fill is not None
    line = [replace(first, fill=None)] if first.stroke is not None else []
    return Content((*line, *others), first.fill.colour, first.fill.area)


def _inside_outermost(content: Content) -> Content | None:
    """Return the content without the shape around all others, None where there is no such shape.

    It lies below the others, or is a line. Its fill becomes the background.
    """
    shapes = content.shapes
    if len(shapes) < 2:
        return None
    bounds = _bounds(shapes)
    index = int(np.argmax((bounds[:, 2] - bounds[:, 0]) * (bounds[:, 3] - bounds[:, 1])))
    outermost, others = shapes[index], (*shapes[:index], *shapes[index + 1 :])
    sheet = shapely.box(*bounds[index])
    held = shapely.box(*_total(np.delete(bounds, index, axis=0))).buffer(-_SLACK * sheet.length)
    if not held.within(sheet) or not _goes_around(outermost, others):
        return None
    if outermost.fill is not None:
        is_sheet = index == 0 and not holes_of(outermost.fill.area)
        return Content(others, outermost.fill.colour, outermost.fill.area) if is_sheet else None
    lines = tuple(Mended(Fault.BORDER, contour.line) for contour in outermost.contours)
    return replace(content, shapes=others, around=(*content.around, *lines))


def _goes_around(outermost: PaintedShape, others: Sequence[PaintedShape]) -> bool:
    """Tell whether others lie within what a shape is filled with, or what its lines go around."""
    lines = [contour.line for contour in outermost.contours]
    rings = geometries([Polygon(line) for line in lines if len(line.coords) > 3])
    around = [outermost.fill.area] if outermost.fill else list(shapely.make_valid(rings))
    first = geometries([_geometries(shape)[0] for shape in others])
    return bool(shapely.intersects(union_all(around), shapely.point_on_surface(first)).all())


def _bounds(shapes: Sequence[PaintedShape]) -> NDArray[np.float64]:
    """Return the bounds of shapes (n, 4): left, top, right, bottom."""
    return np.array([_total(shapely.bounds(_geometries(shape))) for shape in shapes])


def _geometries(shape: PaintedShape) -> NDArray[np.object_]:
    paints = [paint.area for paint in (shape.fill, shape.stroke) if isinstance(paint, Paint)]
    return np.array([*paints, *(contour.line for contour in shape.contours)], dtype=object)


def _total(bounds: NDArray[np.float64]) -> NDArray[np.float64]:
    if not len(bounds):
        return np.zeros(4)
    return np.concatenate([np.nanmin(bounds[:, :2], axis=0), np.nanmax(bounds[:, 2:], axis=0)])
