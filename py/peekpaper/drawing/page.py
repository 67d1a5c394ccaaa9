"""The outermost `svg`: how large the page is, and how user units lie on it."""

import math
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from peekpaper.drawing.lengths import PHYSICAL_UNITS, Axis, Length, Measures, parse_length, to_px
from peekpaper.drawing.matrix import IDENTITY
from peekpaper.drawing.style import INITIAL, Style
from peekpaper.drawing.view_box import ViewBox, parse_view_box, view_box_matrix
from peekpaper.drawing.walk import Place
from peekpaper.refusal import Refusal

MAX_SIDE = 1e6
"""The largest side of a page, in px."""


@dataclass(frozen=True, slots=True, eq=False)
class Page:
    """The page's size in px, whether a physical unit gives it, and the place of what is on it."""

    width: float
    height: float
    is_physical: bool
    view_box_units: float
    place: Place


def read_page(root: Element, style: Style, content: ViewBox | None) -> Page:
    """Return the page that the root element describes.

    `style` is the root's own; `content` is the box around what the file draws, which serves where the file
    gives neither a size nor a viewBox. Raises Refusal for a size that is zero or beyond all measure.
    """
    box = parse_view_box(root.get("viewBox"))
    width, height = _read_side(root, "width"), _read_side(root, "height")
    natural_width, natural_height = _natural_size(box, content)
    measures = Measures(
        natural_width, natural_height, natural_width, natural_height, style.font_size, style.font_size
    )
    wide = to_px(width, Axis.X, measures) if width else None
    high = to_px(height, Axis.Y, measures) if height else None
    if box is not None and box.width > 0 and box.height > 0:
        # With one side only, the other follows the viewBox (CSS Images 3, 5.2, natural aspect ratio).
        wide, high = (
            wide if wide is not None else high * box.width / box.height if high is not None else box.width,
            high if high is not None else wide * box.height / box.width if wide is not None else box.height,
        )
    wide, high = natural_width if wide is None else wide, natural_height if high is None else high
    _check_size(wide, high, box)
    matrix, units = IDENTITY, 1.0
    if box is not None:
        matrix = view_box_matrix(box, wide, high, root.get("preserveAspectRatio"))
        units = 1 / matrix.scale
    inner = Measures(
        box.width if box else wide, box.height if box else high, wide, high, style.font_size, style.font_size
    )
    is_physical = any(length is not None and length.unit in PHYSICAL_UNITS for length in (width, height))
    return Page(wide, high, is_physical, units, Place(matrix, INITIAL, inner))


def _read_side(root: Element, name: str) -> Length | None:
    length = parse_length(root.get(name, ""))
    return None if length is None or length.unit == "%" else length


def _natural_size(box: ViewBox | None, content: ViewBox | None) -> tuple[float, float]:
    if box is not None and box.width > 0 and box.height > 0:
        return box.width, box.height
    if content is not None:
        return max(1.0, content.x + content.width), max(1.0, content.y + content.height)
    return 100.0, 100.0


def _check_size(width: float, height: float, box: ViewBox | None) -> None:
    if width <= 0 or height <= 0 or (box is not None and (box.width == 0 or box.height == 0)):
        raise Refusal("The page in the file has no size: set its width and height in your drawing program.")
    if not (math.isfinite(width) and math.isfinite(height)) or max(width, height) > MAX_SIDE:
        raise Refusal(
            "The page in the file is far too large: set its width and height in your drawing program."
        )
