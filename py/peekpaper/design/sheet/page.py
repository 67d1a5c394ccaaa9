"""What a file draws beyond its page, which every viewer cuts off."""

from collections.abc import Iterator
from dataclasses import replace

import shapely
from shapely import LineString, Polygon

from peekpaper.drawing.drawing import Contour, Drawing, Paint, PaintedShape
from peekpaper.geometry.areas import as_area, geometries
from peekpaper.geometry.overlay import intersection

_BEYOND = 0.02
"""Paint of this share of all and more beyond the page is no sloppy edge (from memory)."""


def reaches_beyond(drawing: Drawing, page: Polygon) -> bool:
    """Tell whether some of the paint, but not all, lies beyond the page."""
    areas = geometries(
        [paint.area for shape in drawing.shapes for paint in (shape.fill, shape.stroke) if paint is not None]
    )
    if not len(areas) or page.area == 0 or page.covers(shapely.box(*shapely.total_bounds(areas))):
        return False
    painted = shapely.area(areas).sum()
    within = shapely.area(intersection(areas, page)).sum()
    return bool(_BEYOND * painted < within < (1 - _BEYOND) * painted)


def bleeds(drawing: Drawing, page: Polygon) -> bool:
    """Tell whether filled shapes run beyond all four sides of the page, as where prints are trimmed.

    Lines do not tell: one along the page's edge, or around it, is a border.
    """
    fills = geometries([shape.fill.area for shape in drawing.shapes if shape.fill is not None])
    if not len(fills):
        return False
    left, top, right, bottom = shapely.total_bounds(fills)
    page_left, page_top, page_right, page_bottom = page.bounds
    return bool(left < page_left and top < page_top and right > page_right and bottom > page_bottom)


def cut_to_page(drawing: Drawing, page: Polygon) -> Drawing:
    """Return a drawing without what lies beyond its page."""
    shapes = (
        replace(
            shape,
            fill=_cut_paint(shape.fill, page),
            stroke=_cut_paint(shape.stroke, page),
            contours=tuple(part for contour in shape.contours for part in _cut_contour(contour, page)),
        )
        for shape in drawing.shapes
    )
    return replace(drawing, shapes=tuple(shape for shape in shapes if _is_drawn(shape)))


def _is_drawn(shape: PaintedShape) -> bool:
    return bool(shape.fill or shape.stroke or shape.contours)


def _cut_paint(paint: Paint | None, page: Polygon) -> Paint | None:
    if paint is None:
        return None
    area = as_area(intersection(paint.area, page))
    return None if area.is_empty else replace(paint, area=area)


def _cut_contour(contour: Contour, page: Polygon) -> Iterator[Contour]:
    """Yield what of a contour lies on the page; one that is closed is closed again along the page's edge."""
    line = contour.line
    if page.covers(line):
        yield contour
        return
    if contour.closed and len(line.coords) > 3:
        inside = as_area(intersection(shapely.make_valid(Polygon(line)), page))
        for ring in shapely.get_rings(geometries(inside.geoms)):
            yield Contour(LineString(ring), closed=True)
        return
    for part in shapely.get_parts(geometries([intersection(line, page)])):
        if isinstance(part, LineString) and not part.is_empty:
            yield Contour(part, closed=False)
