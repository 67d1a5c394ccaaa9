"""The door of this step: the bytes of a design file to what they paint."""

from collections import Counter
from collections.abc import Callable

import shapely

from peekpaper.drawing.budget import Budget
from peekpaper.drawing.cascade import Cascade
from peekpaper.drawing.clip import Clipper
from peekpaper.drawing.decode import decode_svg
from peekpaper.drawing.document import Document, read_document
from peekpaper.drawing.drawing import Drawing, Paint, PaintedShape
from peekpaper.drawing.left_out import name_left_out
from peekpaper.drawing.lengths import Measures
from peekpaper.drawing.matrix import IDENTITY
from peekpaper.drawing.page import Page, read_page
from peekpaper.drawing.paint import Painter, UnreadableShapeError
from peekpaper.drawing.style import INITIAL, Style
from peekpaper.drawing.view_box import parse_view_box
from peekpaper.drawing.walk import Leaf, Place, Walker

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
    cascade = Cascade(document.root)
    walker = Walker(document, cascade, Budget())
    style = walker.element_style(document.root, INITIAL, INITIAL.font_size)
    page = _page(document, walker, style)
    budget = Budget()
    walker = Walker(document, cascade, budget)
    painter = Painter(document, cascade, walker, Clipper(walker, tolerance), budget, tolerance)
    shapes = list(_background(page, style))
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
    return Drawing(
        page.width,
        page.height,
        page.is_physical,
        page.view_box_units,
        tolerance,
        tuple(shapes),
        name_left_out(left_out),
        tuple(_notices(document, cut_short)),
    )


def _page(document: Document, walker: Walker, style: Style) -> Page:
    content = None
    if parse_view_box(document.root.get("viewBox")) is None:
        measures = Measures(100, 100, 100, 100, style.font_size, style.font_size)
        content = walker.bounding_box(document.root, Place(IDENTITY, style, measures))
    return read_page(document.root, style, content)


def _background(page: Page, style: Style) -> list[PaintedShape]:
    if style.background_color is None or style.background_color.alpha == 0 or style.display == "none":
        return []
    paint = Paint(shapely.box(0, 0, page.width, page.height), *style.background_color)
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
