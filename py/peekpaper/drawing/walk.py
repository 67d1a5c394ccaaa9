"""The walk over a file's tree, in paint order, down to the shapes that it draws."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from xml.etree.ElementTree import Element

from peekpaper.drawing.budget import Budget
from peekpaper.drawing.cascade import Cascade
from peekpaper.drawing.conditions import passes_conditions
from peekpaper.drawing.document import Document, link, local_name
from peekpaper.drawing.lengths import Axis, Length, Measures, parse_length, to_px
from peekpaper.drawing.matrix import IDENTITY, Matrix, translation
from peekpaper.drawing.path import Path, curve_extremes
from peekpaper.drawing.shapes import SHAPES, shape_path
from peekpaper.drawing.style import INITIAL, Style, compute_style, parse_reference
from peekpaper.drawing.view_box import ViewBox, parse_view_box, view_box_matrix

_LEFT_OUT = {"text": "text", "image": "image", "foreignObject": "unreadable", "script": "script"}
_LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"


@dataclass(frozen=True, slots=True, eq=False)
class BoxClip:
    """A viewport that hides what reaches out of it."""

    box: ViewBox
    matrix: Matrix


@dataclass(frozen=True, slots=True, eq=False)
class PathClip:
    """A `clip-path` on `element`, whose content is to be measured where `place` stood before it."""

    address: str
    element: Element
    place: "Place"


Clip = BoxClip | PathClip


@dataclass(frozen=True, slots=True, eq=False)
class Place:
    """All that an element gets from those around it; `matrix` maps its user space to the page."""

    matrix: Matrix
    style: Style
    measures: Measures
    clips: tuple[Clip, ...] = ()
    opacity: float = 1.0
    layer: str | None = None
    depth: int = 0
    active: frozenset[Element] = frozenset()
    size: tuple[str | None, str | None] = (None, None)


@dataclass(frozen=True, slots=True, eq=False)
class Leaf:
    """A shape to be painted, where it stands and what it looks like."""

    element: Element
    path: Path
    place: Place
    complete: bool


@dataclass(frozen=True, slots=True)
class Skipped:
    """Content that can't become geometry, of a kind that LeftOut names."""

    kind: str


Found = Leaf | Skipped


class Walker:
    """Walks over the tree of one file."""

    def __init__(self, document: Document, cascade: Cascade, budget: Budget) -> None:
        self._document = document
        self._cascade = cascade
        self._budget = budget
        self._parent_of: dict[Element, Element] | None = None

    def element_style(self, element: Element, parent: Style, root_font_size: float) -> Style:
        """Return the computed style of an element under `parent`."""
        return compute_style(parent, self._cascade.declarations(element), root_font_size)

    def target(self, address: str | None) -> Element | None:
        """Return the element of this file that an address names."""
        return self._document.by_id.get(address[1:]) if address and address.startswith("#") else None

    def walk(self, element: Element, around: Place) -> Iterator[Found]:
        """Yield what `element` draws, in paint order."""
        name = local_name(element)
        if name in _LEFT_OUT:
            if name == "script" or self._is_shown(element, around):
                yield Skipped(_LEFT_OUT[name])
            return
        if name not in _DRAWN or element in around.active:
            return
        self._budget.visit(around.depth)
        place = self.enter(element, around)
        if place is None:
            return
        yield from self._effects(place.style)
        if name in SHAPES:
            yield from self._leaf(name, element, place)
        elif name == "use":
            yield from self._use(element, place)
        elif name in ("svg", "symbol"):
            yield from self._viewport(element, place)
        elif name == "switch":
            yield from self._switch(element, place)
        else:
            yield from self.children(element, place)

    def _effects(self, style: Style) -> Iterator[Skipped]:
        mask = self.target(style.mask)
        if mask is not None and local_name(mask) == "mask":
            yield Skipped("mask")
        if style.filter and (
            not style.filter.startswith("url") or self.target(parse_reference(style.filter)) is not None
        ):
            yield Skipped("filter")

    def walk_page(self, root: Element, around: Place) -> Iterator[Found]:
        """Yield what the outermost `svg` draws; `around` lies inside its viewBox."""
        place = self.enter(root, around)
        if place is not None:
            self._budget.visit(0)
            yield from self.children(root, place)

    def children(self, element: Element, place: Place) -> Iterator[Found]:
        """Yield what the children of `element` draw in `place`."""
        inner = replace(place, depth=place.depth + 1, active=place.active | {element})
        for child in element:
            if local_name(child) != "symbol" and passes_conditions(child):
                yield from self.walk(child, inner)

    def _is_shown(self, element: Element, around: Place) -> bool:
        style = self.element_style(element, around.style, around.measures.root_font_size)
        return style.display != "none" and style.visibility == "visible"

    def enter(self, element: Element, around: Place) -> Place | None:
        """Return the place inside `element`, or None where it is not rendered at all."""
        style = self.element_style(element, around.style, around.measures.root_font_size)
        if style.display == "none":
            return None
        place = self.place_inside(element, style, around)
        if place.matrix.determinant == 0:
            return None
        if style.clip_path:
            place = replace(place, clips=(*place.clips, PathClip(style.clip_path, element, place)))
        if place.layer is None and local_name(element) == "g":
            place = replace(place, layer=element.get(_LABEL) or element.get("id"))
        return place

    def place_inside(self, element: Element, style: Style, around: Place) -> Place:
        """Return the place inside `element` before its own clip; `style` is its computed one."""
        measures = around.measures
        if style.font_size != measures.font_size:
            measures = replace(measures, font_size=style.font_size)
        place = Place(
            around.matrix,
            style,
            measures,
            around.clips,
            around.opacity * style.opacity,
            around.layer,
            around.depth,
            around.active,
            around.size,
        )
        if style.transform is None:
            return place
        return replace(place, matrix=around.matrix @ self._own_matrix(element, style, place))

    def inherited_style(self, element: Element) -> Style:
        """Return the style that `element` inherits where it stands in the file."""
        parents = self._parents()
        chain = []
        above = parents.get(element)
        while above is not None:
            chain.append(above)
            above = parents.get(above)
        style = root = INITIAL
        for ancestor in reversed(chain):
            style = self.element_style(ancestor, style, root.font_size)
            root = style if ancestor is self._document.root else root
        return style

    def _parents(self) -> dict[Element, Element]:
        if self._parent_of is None:
            self._parent_of = {child: parent for parent in self._document.root.iter() for child in parent}
        return self._parent_of

    def _own_matrix(self, element: Element, style: Style, place: Place) -> Matrix:
        assert style.transform is not None
        if style.transform_origin is None:
            return style.transform
        box = ViewBox(0, 0, place.measures.width, place.measures.height)
        if style.transform_box in ("fill-box", "content-box", "stroke-box", "border-box"):
            box = self.bounding_box(element, place) or ViewBox(0, 0, 0, 0)
        measures = replace(place.measures, width=box.width, height=box.height)
        x, y = style.transform_origin
        origin = (box.x + to_px(x, Axis.X, measures), box.y + to_px(y, Axis.Y, measures))
        return translation(*origin) @ style.transform @ translation(-origin[0], -origin[1])

    def _leaf(self, name: str, element: Element, place: Place) -> Iterator[Found]:
        path, complete = shape_path(name, element, place.measures)
        if path is not None and len(path.curves):
            self._budget.shape()
            yield Leaf(element, path, place, complete)
        elif not complete:
            yield Skipped("unreadable")

    def _length(self, element: Element, name: str, axis: Axis, place: Place) -> float:
        length = parse_length(element.get(name, ""))
        return to_px(length, axis, place.measures) if length is not None else 0.0

    def _use(self, element: Element, place: Place) -> Iterator[Found]:
        address = link(element)
        if address and not address.startswith("#"):
            yield Skipped("external")
            return
        target = self.target(address)
        if target is None or target in place.active:
            return
        x, y = self._length(element, "x", Axis.X, place), self._length(element, "y", Axis.Y, place)
        inner = replace(
            place,
            matrix=place.matrix @ translation(x, y),
            depth=place.depth + 1,
            active=place.active | {element},
        )
        if local_name(target) in ("svg", "symbol"):
            width, height = element.get("width"), element.get("height")
            outer = place.size
            inner = replace(inner, size=(width or outer[0], height or outer[1]))
        yield from self.walk(target, inner)

    def _switch(self, element: Element, place: Place) -> Iterator[Found]:
        inner = replace(place, depth=place.depth + 1, active=place.active | {element})
        for child in element:
            if local_name(child) is not None and passes_conditions(child):
                yield from self.walk(child, inner)
                return

    def _viewport(self, element: Element, place: Place) -> Iterator[Found]:
        """Draw a nested `svg` or an instance of a `symbol` (SVG 1.1, 7.9 and 5.6)."""
        if local_name(element) == "symbol" and not place.active:
            return
        is_svg = local_name(element) == "svg"
        width = self._side(place.size[0] or element.get("width"), Axis.X, place)
        height = self._side(place.size[1] or element.get("height"), Axis.Y, place)
        if width <= 0 or height <= 0:
            return
        x = self._length(element, "x", Axis.X, place) if is_svg else 0.0
        y = self._length(element, "y", Axis.Y, place) if is_svg else 0.0
        matrix = place.matrix @ translation(x, y)
        clips = place.clips
        if place.style.overflow not in ("visible", "auto"):
            clips = (*clips, BoxClip(ViewBox(0, 0, width, height), matrix))
        box = parse_view_box(element.get("viewBox"))
        if box is not None:
            if box.width == 0 or box.height == 0:
                return
            matrix = matrix @ view_box_matrix(box, width, height, element.get("preserveAspectRatio"))
        inner_width, inner_height = (box.width, box.height) if box else (width, height)
        measures = replace(place.measures, width=inner_width, height=inner_height)
        inner = replace(place, matrix=matrix, clips=clips, measures=measures, size=(None, None))
        yield from self.children(element, inner)

    def _side(self, text: str | None, axis: Axis, place: Place) -> float:
        length = parse_length(text or "100%") or Length(100, "%")
        return to_px(length, axis, place.measures)

    def bounding_box(self, element: Element, place: Place) -> ViewBox | None:
        """Return the box around the fills of all that `element` draws, in its own user space.

        `place` is the place inside the element. None where it draws nothing. Clips, strokes and
        visibility don't bear on it (SVG 1.1, 7.11).
        """
        name = local_name(element)
        still = replace(place, matrix=IDENTITY)
        found: Iterator[Found]
        if name in SHAPES:
            found = self._leaf(name or "", element, still)
        elif name == "use":
            found = self._use(element, still)
        elif name == "svg":
            found = self._viewport(element, still)
        else:
            found = self.children(element, still)
        boxes = [
            _path_box(leaf.path.transformed(leaf.place.matrix)) for leaf in found if isinstance(leaf, Leaf)
        ]
        if not boxes:
            return None
        low_x, low_y = min(b[0] for b in boxes), min(b[1] for b in boxes)
        high_x, high_y = max(b[2] for b in boxes), max(b[3] for b in boxes)
        return ViewBox(low_x, low_y, high_x - low_x, high_y - low_y)


_DRAWN = SHAPES | {"g", "a", "svg", "symbol", "use", "switch"}


def _path_box(path: Path) -> tuple[float, float, float, float]:
    points = curve_extremes(path)
    return points.real.min(), points.imag.min(), points.real.max(), points.imag.max()
