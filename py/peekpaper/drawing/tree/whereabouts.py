"""Where on the page lies what can't become geometry, so that a person can be shown the place."""

import math
from xml.etree.ElementTree import Element

from peekpaper.drawing.css.css_lengths import Axis, parse_length, to_px
from peekpaper.drawing.file.document import SVG
from peekpaper.drawing.outlines.matrix import Matrix
from peekpaper.drawing.outlines.path import MAX_COORDINATE
from peekpaper.drawing.tree.graphics_state import Box, GraphicsState
from peekpaper.drawing.tree.view_box import ViewBox

_LETTER = 0.5
"""A letter is about so wide, in font sizes (from memory): no font is at hand to tell."""
_ASCENT, _DESCENT = 0.8, 0.2


def box_of_text(text: Element, state: GraphicsState) -> Box | None:
    """Return about where a piece of text stands; `state` is the state inside the element."""
    first = next((part for part in (text, *text.iter(SVG + "tspan")) if part.get("x") or part.get("y")), text)
    words = " ".join("".join(text.itertext()).split())
    size = state.measures.font_size
    width = _LETTER * size * max(1, len(words))
    left = _number(first, "x", Axis.X, state) - width * {"middle": 0.5, "end": 1.0}.get(
        text.get("text-anchor", ""), 0.0
    )
    base = _number(first, "y", Axis.Y, state)
    return box_on_page(ViewBox(left, base - _ASCENT * size, width, (_ASCENT + _DESCENT) * size), state.matrix)


def box_of_frame(element: Element, state: GraphicsState) -> Box | None:
    """Return where an element with a place and a size of its own, such as an `image`, lies."""
    x, y = _number(element, "x", Axis.X, state), _number(element, "y", Axis.Y, state)
    width, height = _number(element, "width", Axis.X, state), _number(element, "height", Axis.Y, state)
    return box_on_page(ViewBox(x, y, width, height), state.matrix)


def box_on_page(box: ViewBox | None, matrix: Matrix) -> Box | None:
    """Return the part of the page that a box comes to lie in, None where that is out of all bounds."""
    if box is None:
        return None
    ends = [(x, y) for x in (box.x, box.x + box.width) for y in (box.y, box.y + box.height)]
    corners = [matrix.apply_to(complex(x, y)) for x, y in ends]
    across, down = [corner.real for corner in corners], [corner.imag for corner in corners]
    sides = (min(across), min(down), max(across), max(down))
    return sides if all(math.isfinite(side) and abs(side) <= MAX_COORDINATE for side in sides) else None


def _number(element: Element, name: str, axis: Axis, state: GraphicsState) -> float:
    """Return a length; of a list of them, as text may have, the first."""
    words = element.get(name, "").replace(",", " ").split()
    length = parse_length(words[0]) if words else None
    return to_px(length, axis, state.measures) if length is not None else 0.0
