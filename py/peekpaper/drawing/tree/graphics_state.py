"""Where an element stands: all that it gets from the elements around it."""

from dataclasses import dataclass
from typing import NamedTuple
from xml.etree.ElementTree import Element

from peekpaper.drawing.css.css_lengths import Length, Measures
from peekpaper.drawing.css.style import Style
from peekpaper.drawing.outlines.matrix import Matrix
from peekpaper.drawing.outlines.path import Path
from peekpaper.drawing.tree.view_box import ViewBox


@dataclass(frozen=True, slots=True, eq=False)
class BoxClip:
    """A viewport that hides what reaches out of it; `matrix` maps its space to the page."""

    box: ViewBox
    matrix: Matrix


@dataclass(frozen=True, slots=True, eq=False)
class PathClip:
    """A `clip-path` on `element`; `state` is the state inside that element.

    `matrix` maps the user space that the clip is in to the page: what moves the content of a `use` or of a
    nested `svg` moves their clip too.
    """

    address: str
    element: Element
    state: "GraphicsState"
    matrix: Matrix


Clip = BoxClip | PathClip


class GraphicsState(NamedTuple):
    """What bears on an element besides itself, under the name that ISO 32000 has for it.

    `matrix` maps its user space to the page.
    `active` are the elements that hold it, through `use` too. `size` is what a `use` gives to the `svg` or
    `symbol` that it draws. `context` is the state of the element that `context-fill` and `context-stroke`
    mean. `is_marker` tells that a marker holds it, `is_measured` that only a box around it is wanted.
    """

    matrix: Matrix
    style: Style
    measures: Measures
    clips: tuple[Clip, ...] = ()
    opacity: float = 1.0
    layer: str | None = None
    depth: int = 0
    active: frozenset[Element] = frozenset()
    size: tuple[Length | None, Length | None] = (None, None)
    context: "GraphicsState | None" = None
    is_marker: bool = False
    is_measured: bool = False

    @property
    def is_visible(self) -> bool:
        """Whether what is drawn here is neither hidden nor wholly see-through."""
        return self.style.visibility == "visible" and self.opacity > 0


@dataclass(frozen=True, slots=True, eq=False)
class Leaf:
    """A shape to be painted, and the state inside it; `complete` tells whether all of it could be read."""

    element: Element
    path: Path
    state: GraphicsState
    complete: bool


Box = tuple[float, float, float, float]
"""A part of the page: left, top, right and bottom in CSS px."""


@dataclass(frozen=True, slots=True)
class LeftOut:
    """Content that can't become geometry, of a kind that LeftOutKind names, and where it lies, if known."""

    kind: str
    box: Box | None = None


Content = Leaf | LeftOut
