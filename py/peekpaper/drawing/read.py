"""The door of this step: the bytes of a design file to what they paint."""

from collections import Counter
from collections.abc import Callable, Sequence

import shapely

from peekpaper.drawing.budget import Budget
from peekpaper.drawing.cascade import Cascade
from peekpaper.drawing.clip import Clipper
from peekpaper.drawing.decode import decode_svg
from peekpaper.drawing.document import Document, read_document
from peekpaper.drawing.drawing import Drawing, Paint, PaintedShape
from peekpaper.drawing.left_out import name_left_out
from peekpaper.drawing.page import Page, check_side, read_page
from peekpaper.drawing.paint import Painter, UnreadableShapeError
from peekpaper.drawing.style import INITIAL, Style
from peekpaper.drawing.walk import Leaf, Walker

DEFAULT_TOLERANCE = 0.05
"""Distance of the polylines from the curves in px, where nobody asks for another."""


def read_drawing(
    data: bytes, tolerance: float = DEFAULT_TOLERANCE, progress: Callable[[float], None] | None = None
) -> Drawing:
    """Return what the SVG file in `data` paints.

    `tolerance` is in CSS px. `progress` is called now and then with the share done, from 0 to 1. Raises
    Refusal for what is no SVG file, can't be read, or asks for more than a design can need.
    """
    document = read_document(decode_svg(data))
    cascade, budget = Cascade(document.root), Budget()
    walker = Walker(document, cascade, budget)
    style = walker.element_style(document.root, INITIAL, INITIAL.font_size)
    page = read_page(document.root, style)
    painter = Painter(document, cascade, walker, Clipper(walker, tolerance), budget, tolerance)
    shapes: list[PaintedShape] = []
    left_out: Counter[str] = Counter()
    cut_short = 0
    for found in walker.walk_page(document.root, page.place):
        if not isinstance(found, Leaf):
            left_out[found.kind] += 1
            continue
        try:
            shape, kinds = painter.paint(found)
        except UnreadableShapeError:
            left_out["unreadable"] += 1
            continue
        left_out.update(kinds)
        cut_short += not found.complete
        shapes.append(shape)
        if progress is not None and len(shapes) % 100 == 0:
            progress(len(shapes) / (len(shapes) + 1000))
    width, height = _size(page, shapes)
    return Drawing(
        width,
        height,
        page.is_physical,
        page.view_box_units,
        tolerance,
        (*_background(width, height, style), *shapes),
        name_left_out(left_out),
        tuple(_notices(document, cut_short)),
    )


def _size(page: Page, shapes: Sequence[PaintedShape]) -> tuple[float, float]:
    """Return the page's size; sides that the file does not give reach as far as what it paints."""
    if page.width is not None and page.height is not None:
        return page.width, page.height
    areas = [paint.area for shape in shapes for paint in (shape.fill, shape.stroke) if paint is not None]
    _, _, right, bottom = shapely.total_bounds(areas) if areas else (0.0, 0.0, 0.0, 0.0)
    width = float(right) if page.width is None else page.width
    height = float(bottom) if page.height is None else page.height
    check_side(width)
    check_side(height)
    return width, height


def _background(width: float, height: float, style: Style) -> list[PaintedShape]:
    if style.background_color is None or style.background_color.alpha == 0 or style.display == "none":
        return []
    paint = Paint(shapely.box(0, 0, width, height), *style.background_color)
    return [PaintedShape(paint, None, 0.0, (), None, None)]


def _notices(document: Document, cut_short: int) -> list[str]:
    notices = []
    if document.broken_off:
        notices.append("The file breaks off or is damaged: what comes after that place is missing.")
    if cut_short == 1:
        notices.append("1 path holds an error and is drawn only up to there.")
    elif cut_short > 1:
        notices.append(f"{cut_short} paths hold errors and are drawn only up to there.")
    return notices
