"""The outermost `svg`: how large the page is, and how user units lie on it."""

import math
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from peekpaper.drawing.css.css_lengths import PHYSICAL_UNITS, Axis, Length, Measures, parse_length, to_px
from peekpaper.drawing.css.style import INITIAL, Style
from peekpaper.drawing.outlines.matrix import IDENTITY
from peekpaper.drawing.tree.graphics_state import GraphicsState
from peekpaper.drawing.tree.view_box import ViewBox, parse_view_box, view_box_matrix
from peekpaper.refusal import Refusal

MAX_SIDE = 1e6
"""The largest side of a page, in px."""


@dataclass(frozen=True, slots=True, eq=False)
class Page:
    """The page's size in px (None where only its content can tell), and the state of what is on it."""

    width: float | None
    height: float | None
    is_physical: bool
    view_box_units: float
    state: GraphicsState


def read_page(root: Element, style: Style) -> Page:
    """Return the page that the root element describes; `style` is the root's own.

    Raises Refusal for a size that is zero or beyond all measure.
    """
    box = parse_view_box(root.get("viewBox"))
    if box is not None and 0 in (box.width, box.height):
        raise Refusal("page-without-size")
    lengths = _read_side(style.width, root.get("width", "")), _read_side(style.height, root.get("height", ""))
    width, height = _natural_size(lengths, box, style)
    for side in (width, height):
        check_side(side)
    matrix, units = IDENTITY, 1.0
    if box is not None and width is not None and height is not None:
        matrix = view_box_matrix(box, width, height, root.get("preserveAspectRatio"))
        if not _LEAST_SCALE < matrix.scale < math.inf:
            raise Refusal("page-too-large")
        units = 1 / matrix.scale
    page_width, page_height = width or _UNKNOWN_SIDE, height or _UNKNOWN_SIDE
    inner = (box.width, box.height) if box is not None else (page_width, page_height)
    measures = Measures(*inner, page_width, page_height, style.font_size, style.font_size)
    is_physical = any(_units(length) & PHYSICAL_UNITS for length in lengths if length is not None)
    return Page(width, height, is_physical, units, GraphicsState(matrix, INITIAL, measures))


def check_side(side: float | None) -> None:
    """Raise Refusal where a side of the page is zero or beyond all measure."""
    if side is not None and side <= 0:
        raise Refusal("page-without-size")
    if side is not None and not side <= MAX_SIDE:
        raise Refusal("page-too-large")


_UNKNOWN_SIDE = 100.0
_LEAST_SCALE = 1e-9
_SHARES = {"%", "vw", "vh", "vi", "vb", "vmin", "vmax"}


def _read_side(styled: Length | None, attribute: str) -> Length | None:
    """Return a side as the style has it, else as the attribute has it; a share of the window is no size."""
    for length in (styled, parse_length(attribute)):
        if length is not None and not _units(length) & _SHARES:
            return length
    return None


def _units(length: Length) -> set[str]:
    return {part.unit for part in (length, *length.more)}


def _natural_size(
    lengths: tuple[Length | None, Length | None], box: ViewBox | None, style: Style
) -> tuple[float | None, float | None]:
    """Return the sides in px; one that is not given follows the viewBox (CSS Images 3, 5.2)."""
    measures = Measures(
        _UNKNOWN_SIDE, _UNKNOWN_SIDE, _UNKNOWN_SIDE, _UNKNOWN_SIDE, style.font_size, style.font_size
    )
    width, height = (to_px(length, Axis.X, measures) if length is not None else None for length in lengths)
    if box is None:
        return width, height
    if width is None and height is None:
        return box.width, box.height
    if width is None and height is not None:
        return height * box.width / box.height, height
    if height is None and width is not None:
        return width, width * box.height / box.width
    return width, height
