"""The walk over a file's tree, in paint order, down to the shapes that it draws."""

from collections.abc import Hashable, Iterator
from dataclasses import replace
from xml.etree.ElementTree import Element

from peekpaper.drawing.css.cascade import Cascade
from peekpaper.drawing.css.css_lengths import Axis, Length, Measures, parse_length, to_px
from peekpaper.drawing.css.style import INITIAL, NO_PAINT, Style, compute_style, is_basic_shape, parse_address
from peekpaper.drawing.css.transform import parse_angle
from peekpaper.drawing.file.budget import Budget
from peekpaper.drawing.file.document import Document, link, local_name
from peekpaper.drawing.outlines.markers import Vertex, path_vertices
from peekpaper.drawing.outlines.matrix import IDENTITY, Matrix, rotation, translation
from peekpaper.drawing.outlines.path import Path, curve_extremes
from peekpaper.drawing.tree.conditions import passes_conditions
from peekpaper.drawing.tree.graphics_state import BoxClip, Content, GraphicsState, Leaf, LeftOut, PathClip
from peekpaper.drawing.tree.lettering import WITHOUT_LETTERS, has_lettering, is_lettering
from peekpaper.drawing.tree.shapes import SHAPES, shape_path
from peekpaper.drawing.tree.view_box import ViewBox, parse_view_box, view_box_matrix
from peekpaper.drawing.tree.whereabouts import box_of_frame, box_of_text, box_on_page

_DRAWN = SHAPES | {"g", "a", "svg", "symbol", "use", "switch"}
_MARKED = frozenset({"path", "line", "polyline", "polygon"})
_CHOICES = _DRAWN | {
    "text", "image", "defs", "clipPath", "marker", "mask", "pattern", "filter", "linearGradient",
    "radialGradient",
}  # fmt: skip
"""What a `switch` chooses among; descriptions, and what no reader of geometry can draw, are passed over."""
_POINTS = frozenset({"path", "polyline", "polygon"})
_HOLDS_WORDS = frozenset({"tspan", "a", "textPath"})
_LEFT_OUT = {"text": "text", "image": "image", "foreignObject": "unreadable", "script": "script"}
_LABEL = "{http://www.inkscape.org/namespaces/inkscape}label"
_OBJECT_BOXES = frozenset({"fill-box", "content-box", "stroke-box", "border-box"})


class Walker:
    """Walks over the tree of one file."""

    def __init__(self, document: Document, cascade: Cascade, budget: Budget) -> None:
        self._document = document
        self._cascade = cascade
        self._budget = budget
        # Most elements of a file look like others, and a `use` draws the same again.
        self._styles: dict[Hashable, tuple[Style, Style]] = {}
        self._inner_styles: dict[Element, Style] = {}
        self._repeated: dict[tuple[Element, Measures], tuple[Path | None, bool]] = {}
        self._parents: dict[Element, Element] = {}
        self._root_font_size = INITIAL.font_size
        self._root_font_size = self.element_style(document.root, INITIAL).font_size
        self._styles.clear()

    def element_style(self, element: Element, inherited: Style) -> Style:
        """Return the computed style of an element."""
        declarations = self._cascade.declarations(element)
        key = (id(inherited), *declarations)
        if key not in self._styles:
            style = compute_style(inherited, declarations, self._root_font_size)
            self._styles[key] = (inherited, style)
        return self._styles[key][1]

    def inherited_style(self, element: Element) -> Style:
        """Return the style that `element` inherits where it stands in the file."""
        if not self._parents:
            self._parents = {child: parent for parent in self._document.root.iter() for child in parent}
        ancestors = []
        above = self._parents.get(element)
        while above is not None and above not in self._inner_styles:
            ancestors.append(above)
            above = self._parents.get(above)
        style = INITIAL if above is None else self._inner_styles[above]
        for ancestor in reversed(ancestors):
            style = self._inner_styles[ancestor] = self.element_style(ancestor, style)
        return style

    def target(self, address: str | None) -> Element | None:
        """Return the element of this file that an address names."""
        return self._document.by_id.get(address[1:]) if address and address.startswith("#") else None

    def walk_page(self, around: GraphicsState) -> Iterator[Content]:
        """Yield what the outermost `svg` draws; `around` lies inside its viewBox."""
        state = self._enter(self._document.root, around)
        if state is not None:
            yield from self._children(self._document.root, state)

    def walk(self, element: Element, around: GraphicsState) -> Iterator[Content]:
        """Yield what `element` draws, in paint order."""
        name = local_name(element) or ""
        if name == "text" and has_lettering(element):
            yield from self._text(element, around)
            return
        if name in _LEFT_OUT:
            if name == "script":
                yield LeftOut(_LEFT_OUT[name])
            elif self._is_shown(element, around):
                yield self._left_out(name, element, around)
            return
        if name not in _DRAWN or element in around.active:
            return
        self._budget.visit(around.depth)
        state = self._enter(element, around)
        if state is not None:
            if not state.is_measured:
                yield from self._effects(element, state)
            yield from self._inside(name, element, state)
            if name in _MARKED and state.style.visibility == "visible":
                yield from self._markers(name, element, state)

    def _inside(self, name: str, element: Element, state: GraphicsState) -> Iterator[Content]:
        """Yield what `element` draws in the state inside it."""
        if name in SHAPES:
            yield from self._leaf(name, element, state)
        elif name == "use":
            yield from self._use(element, state)
        elif name in ("svg", "symbol"):
            yield from self._viewport(element, state)
        elif name == "switch":
            yield from self._switch(element, state)
        elif name == "text":
            yield from self._words(element, state)
        else:
            yield from self._children(element, state)

    def _children(self, element: Element, state: GraphicsState) -> Iterator[Content]:
        inner = _inner(element, state)
        for child in element:
            if local_name(child) != "symbol" and passes_conditions(child):
                yield from self.walk(child, inner)

    def _text(self, element: Element, around: GraphicsState) -> Iterator[Content]:
        """Yield the outlines of words, each as what holds it is painted (SVG 2, 11.1)."""
        if element in around.active or not passes_conditions(element):
            return
        self._budget.visit(around.depth)
        state = self._enter(element, around)
        if state is None:
            return
        yield from self._words(element, state)

    def _words(self, element: Element, state: GraphicsState) -> Iterator[Content]:
        state = state._replace(style=replace(state.style, fill_rule="nonzero", clip_rule="nonzero"))
        for child in element:
            if is_lettering(child):
                yield from self._leaf("path", child, state)
            elif local_name(child) in _HOLDS_WORDS:
                yield from self._text(child, _inner(element, state))

    def _is_shown(self, element: Element, around: GraphicsState) -> bool:
        style = self.element_style(element, around.style)
        return (
            style.display != "none" and style.visibility == "visible" and style.opacity * around.opacity > 0
        )

    def _left_out(self, name: str, element: Element, around: GraphicsState) -> LeftOut:
        state = self.state_inside(element, self.element_style(element, around.style), around)
        box = box_of_text(element, state) if name == "text" else box_of_frame(element, state)
        is_unknown = name == "text" and element.get(WITHOUT_LETTERS) is not None
        return LeftOut("words-without-letters" if is_unknown else _LEFT_OUT[name], box)

    def _effects(self, element: Element, state: GraphicsState) -> Iterator[LeftOut]:
        kinds = list(self._effect_kinds(state.style)) if state.opacity > 0 else []
        if kinds and (state.is_visible or local_name(element) not in SHAPES):
            box = box_on_page(self.bounding_box(element, state), state.matrix)
            yield from (LeftOut(kind, box) for kind in kinds)

    def _effect_kinds(self, style: Style) -> Iterator[str]:
        mask = self.target(style.mask)
        if mask is not None and local_name(mask) == "mask":
            yield "mask"
        if is_basic_shape(style.clip_path):
            yield "clip-shape"
        if style.filter:
            address = parse_address(style.filter)
            if address is None or self.target(address) is not None:
                yield "filter"

    def _enter(self, element: Element, around: GraphicsState) -> GraphicsState | None:
        """Return the state inside `element`, or None where it is not rendered at all."""
        style = self.element_style(element, around.style)
        if style.display == "none" and local_name(element) != "symbol":
            return None
        state = self.state_inside(element, style, around)
        if state.matrix.determinant == 0:
            return None
        if style.clip_path:
            clip = PathClip(style.clip_path, element, state, self._content_matrix(element, state))
            state = state._replace(clips=(*state.clips, clip))
        if state.layer is None and local_name(element) == "g":
            state = state._replace(layer=element.get(_LABEL) or element.get("id"))
        return state

    def _content_matrix(self, element: Element, state: GraphicsState) -> Matrix:
        """Return the map of what is inside an element to the page; `state` is the state inside it."""
        name = local_name(element)
        if name == "use":
            return state.matrix @ _offset(element, state)
        if name in ("svg", "symbol") and element is not self._document.root:
            inner = _viewport_state(element, state)
            return inner.matrix if inner is not None else state.matrix
        return state.matrix

    def state_inside(self, element: Element, style: Style, around: GraphicsState) -> GraphicsState:
        """Return the state inside `element` but for its own clip; `style` is its computed one."""
        measures = around.measures
        if style.font_size != measures.font_size:
            measures = replace(measures, font_size=style.font_size)
        state = around._replace(style=style, measures=measures, opacity=around.opacity * style.opacity)
        if style.transform is None:
            return state
        return state._replace(matrix=around.matrix @ self._own_matrix(element, style.transform, state))

    def _own_matrix(self, element: Element, transform: Matrix, state: GraphicsState) -> Matrix:
        """Return an element's transform about its origin (CSS Transforms 1, chapters 4 and 8)."""
        style = state.style
        if style.transform_origin is None:
            return transform
        box = ViewBox(0, 0, state.measures.width, state.measures.height)
        if style.transform_box in _OBJECT_BOXES:
            box = self.bounding_box(element, state) or ViewBox(0, 0, 0, 0)
        measures = replace(state.measures, width=box.width, height=box.height)
        x = box.x + to_px(style.transform_origin[0], Axis.X, measures)
        y = box.y + to_px(style.transform_origin[1], Axis.Y, measures)
        return translation(x, y) @ transform @ translation(-x, -y)

    def _leaf(self, name: str, element: Element, state: GraphicsState) -> Iterator[Content]:
        path, complete = self._path(name, element, state)
        if path is not None and len(path.curves):
            yield Leaf(element, path, state, complete)
        elif not complete and state.is_visible and _paints(state.style):
            yield LeftOut("unreadable" if name in _POINTS else "font-unit", box_of_frame(element, state))

    def _path(self, name: str, element: Element, state: GraphicsState) -> tuple[Path | None, bool]:
        if state.context is None:
            return shape_path(name, element, state.measures)
        key = (element, state.measures)
        if key not in self._repeated:
            self._repeated[key] = shape_path(name, element, state.measures)
        return self._repeated[key]

    def _use(self, element: Element, state: GraphicsState) -> Iterator[Content]:
        address = link(element)
        if address and not address.startswith("#"):
            yield LeftOut("external")
        target = self.target(address)
        if target is None or target in state.active or not passes_conditions(target):
            return
        inner = _inner(element, state)._replace(matrix=state.matrix @ _offset(element, state), context=state)
        if local_name(target) in ("svg", "symbol"):
            width, height = _stated_side(element, "width"), _stated_side(element, "height")
            inner = inner._replace(size=(width or state.size[0], height or state.size[1]))
        yield from self.walk(target, inner)

    def _switch(self, element: Element, state: GraphicsState) -> Iterator[Content]:
        for child in element:
            if local_name(child) in _CHOICES and passes_conditions(child):
                if local_name(child) != "symbol":
                    yield from self.walk(child, _inner(element, state))
                return

    def _viewport(self, element: Element, state: GraphicsState) -> Iterator[Content]:
        """Yield what a nested `svg` or an instance of a `symbol` draws (SVG 1.1, 7.9 and 5.6.3)."""
        inner = _viewport_state(element, state)
        if inner is not None:
            yield from self._children(element, inner)

    def _markers(self, name: str, element: Element, state: GraphicsState) -> Iterator[Content]:
        style = state.style
        addresses = {"start": style.marker_start, "mid": style.marker_mid, "end": style.marker_end}
        markers = {end: self.target(address) for end, address in addresses.items() if address}
        if not any(markers.values()):
            return
        path, _ = self._path(name, element, state)
        for vertex in path_vertices(path) if path is not None else ():
            marker = markers.get(vertex.end)
            if marker is not None and local_name(marker) == "marker" and marker not in state.active:
                yield from self._marker(marker, vertex, state)

    def _marker(self, marker: Element, vertex: Vertex, state: GraphicsState) -> Iterator[Content]:
        """Yield what a marker draws at a vertex (SVG 1.1, 11.6.2)."""
        self._budget.visit(state.depth)
        style = self.element_style(marker, self.inherited_style(marker))
        size = 1.0
        if marker.get("markerUnits") != "userSpaceOnUse":
            size = to_px(state.style.stroke_width, Axis.BOTH, state.measures)
        width = _length(marker, "markerWidth", Axis.X, state, 3.0)
        height = _length(marker, "markerHeight", Axis.Y, state, 3.0)
        if width <= 0 or height <= 0 or size <= 0:
            return
        turn = rotation(_marker_angle(marker, vertex))
        matrix = (
            state.matrix @ translation(vertex.point.real, vertex.point.imag) @ turn @ Matrix(a=size, d=size)
        )
        box = parse_view_box(marker.get("viewBox"))
        if box is not None and 0 in (box.width, box.height):
            return
        x, y = _length(marker, "refX", Axis.X, state), _length(marker, "refY", Axis.Y, state)
        fit = view_box_matrix(box, width, height, marker.get("preserveAspectRatio")) if box else IDENTITY
        origin = fit.apply_to(complex(x, y))
        at = state._replace(
            matrix=matrix @ translation(-origin.real, -origin.imag),
            style=style,
            opacity=state.opacity * style.opacity,
            context=state,
            is_marker=True,
        )
        inner = _in_viewport(marker, width, height, at)
        if inner is not None:
            yield from self._children(marker, inner)

    def bounding_box(self, element: Element, state: GraphicsState) -> ViewBox | None:
        """Return the box around the fills of all that `element` draws, in its own user space.

        `state` is the state inside the element. None where it draws nothing. Clips, strokes, markers and
        visibility don't bear on it (SVG 1.1, 7.11).
        """
        still = state._replace(matrix=IDENTITY, is_marker=False, is_measured=True)
        boxes = [
            path_box(leaf.path.transformed(leaf.state.matrix))
            for leaf in self._inside(local_name(element) or "", element, still)
            if isinstance(leaf, Leaf) and not leaf.state.is_marker
        ]
        if not boxes:
            return None
        left, top = min(box.x for box in boxes), min(box.y for box in boxes)
        right = max(box.x + box.width for box in boxes)
        return ViewBox(left, top, right - left, max(box.y + box.height for box in boxes) - top)


def _paints(style: Style) -> bool:
    return style.fill != NO_PAINT or style.stroke != NO_PAINT


def _inner(element: Element, state: GraphicsState) -> GraphicsState:
    return state._replace(depth=state.depth + 1, active=state.active | {element})


def _length(element: Element, name: str, axis: Axis, state: GraphicsState, default: float = 0.0) -> float:
    length = parse_length(element.get(name, ""))
    return to_px(length, axis, state.measures) if length is not None else default


def _offset(element: Element, state: GraphicsState) -> Matrix:
    """Return the shift that the attributes `x` and `y` tell."""
    return translation(_length(element, "x", Axis.X, state), _length(element, "y", Axis.Y, state))


def _viewport_state(element: Element, state: GraphicsState) -> GraphicsState | None:
    """Return the state inside a nested `svg` or an instance of a `symbol`, None where it has no area.

    A `symbol` has no place or size of its own (SVG 1.1, 5.5), nor have browsers given it one since.
    """
    width, height = state.size
    if local_name(element) == "svg":
        width, height = width or _stated_side(element, "width"), height or _stated_side(element, "height")
        state = state._replace(matrix=state.matrix @ _offset(element, state))
    across = to_px(width or _WHOLE, Axis.X, state.measures)
    down = to_px(height or _WHOLE, Axis.Y, state.measures)
    return _in_viewport(element, across, down, state) if across > 0 and down > 0 else None


_WHOLE = Length(100, "%")


def _stated_side(element: Element, name: str) -> Length | None:
    """Return the length that an attribute tells, None for one that is missing, in error or negative."""
    length = parse_length(element.get(name, ""))
    return length if length is not None and length.amount >= 0 else None


def _in_viewport(element: Element, width: float, height: float, state: GraphicsState) -> GraphicsState | None:
    """Return the state inside a viewport at the origin of `state`, None where its viewBox is empty."""
    box = parse_view_box(element.get("viewBox"))
    if box is not None and 0 in (box.width, box.height):
        return None
    clips = state.clips
    if state.style.overflow not in ("visible", "auto"):
        clips = (*clips, BoxClip(ViewBox(0, 0, width, height), state.matrix))
    matrix, sides = state.matrix, (width, height)
    if box is not None:
        matrix = matrix @ view_box_matrix(box, width, height, element.get("preserveAspectRatio"))
        sides = (box.width, box.height)
    measures = replace(state.measures, width=sides[0], height=sides[1])
    return state._replace(matrix=matrix, clips=clips, measures=measures, size=(None, None))


def _marker_angle(marker: Element, vertex: Vertex) -> float:
    orient = marker.get("orient", "0").strip()
    if orient == "auto":
        return vertex.angle
    if orient == "auto-start-reverse":
        return vertex.angle + (180 if vertex.end == "start" else 0)
    return parse_angle(orient) or 0.0


def path_box(path: Path) -> ViewBox:
    """Return the box around a path, in its own user space."""
    points = curve_extremes(path)
    left, top = float(points.real.min()), float(points.imag.min())
    return ViewBox(left, top, float(points.real.max()) - left, float(points.imag.max()) - top)
