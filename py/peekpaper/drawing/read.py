"""The door of this step: the bytes of a design file to what they paint."""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence

import numpy as np
import shapely

from peekpaper.drawing.areas.arrangement import TangledError
from peekpaper.drawing.css.cascade import Cascade
from peekpaper.drawing.css.style import INITIAL, Style
from peekpaper.drawing.drawing import Drawing, Paint, PaintedShape
from peekpaper.drawing.file.budget import Budget
from peekpaper.drawing.file.decode import decode_svg
from peekpaper.drawing.file.document import Document, local_name, read_document
from peekpaper.drawing.file.header import header_px_per_inch
from peekpaper.drawing.left_out import name_left_out
from peekpaper.drawing.paint.clip import Clipper
from peekpaper.drawing.paint.paint import Painter, UnreadableShapeError
from peekpaper.drawing.paint.paint_server import PaintServers
from peekpaper.drawing.tree.graphics_state import Box, Content, Leaf, LeftOut
from peekpaper.drawing.tree.lettering import DRAWN_IN, INSTEAD_OF
from peekpaper.drawing.tree.page import Page, check_side, read_page
from peekpaper.drawing.tree.shapes import SHAPES
from peekpaper.drawing.tree.walk import Walker, path_box
from peekpaper.drawing.tree.whereabouts import box_on_page
from peekpaper.message import Message, message

DEFAULT_TOLERANCE = 0.05
"""Distance of the polylines from the curves in px, where nobody asks for another."""
_SHAPES_PER_REPORT = 50
_NOWHERE = np.empty(0, complex)


Tolerance = float | Callable[[float], float]
"""A distance in px, or what tells it from the longer side of all that is drawn, in px."""


def read_drawing(
    data: bytes, tolerance: Tolerance = DEFAULT_TOLERANCE, progress: Callable[[float], None] | None = None
) -> Drawing:
    """Return what the SVG file in `data` paints.

    `tolerance` is in CSS px. `progress` is called now and then with the share done, from 0 to 1. Raises
    Refusal for what is no SVG file, can't be read, or asks for more than a design can need.
    """
    # Numbers out of all bounds are sorted out shape by shape; on the way there they may overflow.
    with np.errstate(over="ignore", invalid="ignore"):
        return _read(read_document(decode_svg(data)), tolerance, progress or _tell_nobody)


def _tell_nobody(_share: float) -> None:
    """Take a report of progress that nobody asked for."""


def _read(document: Document, tolerance: Tolerance, progress: Callable[[float], None]) -> Drawing:
    budget = Budget()
    drawn = [element for element in document.root.iter() if local_name(element) in SHAPES]
    budget.expect_shapes(len(drawn))
    budget.expect_path_data(element.get("d", element.get("points", "")) for element in drawn)
    walker = Walker(document, Cascade(document), budget)
    style = walker.element_style(document.root, INITIAL)
    page = read_page(document.root, style)
    everything = list(_counted(walker.walk_page(page.state), budget))
    fineness = tolerance(_longer_side(everything)) if callable(tolerance) else tolerance
    painter = Painter(PaintServers(walker), Clipper(walker, budget, fineness), budget, fineness)
    shapes: list[PaintedShape] = []
    left_out = [LeftOut("external")] * document.external
    read = cut_short = 0
    for found in everything:
        if isinstance(found, LeftOut):
            left_out.append(found)
            continue
        try:
            shapes += painter.paint(found)
        except UnreadableShapeError:
            if painter.is_seen(found):
                left_out.append(LeftOut("unreadable"))
            continue
        except TangledError:
            budget.tangle()
            left_out.append(LeftOut("tangled", _box_of(found)))
            continue
        if painter.has_pattern(found):
            left_out.append(LeftOut("pattern", _box_of(found)))
        cut_short += not found.complete
        read += 1
        if read % _SHAPES_PER_REPORT == 0:
            progress(min(0.99, read / document.count))
    width, height = _size(page, shapes)
    return Drawing(
        width,
        height,
        page.is_physical,
        page.view_box_units,
        fineness,
        (*_background(width, height, style), *shapes),
        name_left_out(left_out),
        tuple(_notices(document, cut_short)),
        header_px_per_inch(document.root),
    )


def _counted(found: Iterator[Content], budget: Budget) -> Iterator[Content]:
    for one in found:
        if isinstance(one, Leaf):
            budget.shape()
        yield one


def _longer_side(found: Sequence[Content]) -> float:
    """Return the longer side of the box around the ends of all curves, in px; 0 where nothing is drawn."""
    ends = [
        leaf.path.transformed(leaf.state.matrix)
        for leaf in found
        if isinstance(leaf, Leaf) and leaf.state.is_visible
    ]
    points = np.concatenate(
        [path.curves[:, ::3].ravel() for path in ends if path.is_measurable] or [_NOWHERE]
    )
    return float(max(np.ptp(points.real), np.ptp(points.imag))) if len(points) else 0.0


def _box_of(leaf: Leaf) -> Box | None:
    return box_on_page(path_box(leaf.path), leaf.state.matrix)


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


def _notices(document: Document, cut_short: int) -> Iterator[Message]:
    if document.broken_off:
        yield message("notice.broken-off")
    stand_ins = Counter(
        path.get(DRAWN_IN, "") for path in document.root.iter() if path.get(INSTEAD_OF) is not None
    )
    for typeface, count in stand_ins.items():
        yield message("notice.stand-in", count=count, typeface=typeface)
    if cut_short:
        yield message("notice.cut-short", count=cut_short)
