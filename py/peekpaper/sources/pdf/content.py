"""What the content of a PDF page paints (ISO 32000-1, 8): paths, clips, colours, forms and layers."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from peekpaper.drawing.file.budget import Budget
from peekpaper.sources.pdf.colours import BLACK, PLAIN_INK, Colours
from peekpaper.sources.vector import Clip, Lettering, Outline, PaintedPath, Segment

Matrix = tuple[float, float, float, float, float, float]
Box = tuple[float, float, float, float]
_MOST_DEPTH = 24
_THIN = 1 / 2000
"""Width of the thinnest line that there is, as a share of the page's longer side."""
_CAPS = {1: "round", 2: "square"}
_JOINS = {1: "round", 2: "bevel"}
_INVISIBLE = 3
"""The text rendering mode of words that are only there to be searched."""
_SHOWS = {b"Tj", b"TJ", b"'", b'"'}


@dataclass(frozen=True, slots=True)
class _State:
    """The graphics state, as far as it changes what is painted."""

    matrix: Matrix
    fill: str | None = BLACK
    stroke: str | None = BLACK
    fill_space: Any = "/DeviceGray"
    stroke_space: Any = "/DeviceGray"
    fill_opacity: float = 1.0
    stroke_opacity: float = 1.0
    width: float = 1.0
    cap: int = 0
    join: int = 0
    miter: float = 10.0
    dashes: tuple[float, ...] = ()
    dash_offset: float = 0.0
    clip: int | None = None
    rectangle: Box | None = None
    text_mode: int = 0


def combined(inner: Matrix, outer: Matrix) -> Matrix:
    """Return the matrix that does `inner` first, then `outer`."""
    a, b, c, d, e, f = inner
    a2, b2, c2, d2, e2, f2 = outer
    return (
        a * a2 + b * c2,
        a * b2 + b * d2,
        c * a2 + d * c2,
        c * b2 + d * d2,
        e * a2 + f * c2 + e2,
        e * b2 + f * d2 + f2,
    )


class Painter:
    """Reads a page's content and collects what it paints, in the page's box, y down.

    `content` and `clips` are the paths in order and what they are seen within; `pictures` counts images.
    """

    def __init__(self, page: Any, to_page: Matrix, box: Box) -> None:
        self.content: list[PaintedPath | Lettering] = []
        self.clips: list[Clip] = []
        self.pictures = 0
        self._page = page
        self._box = box
        self._budget = Budget()
        self._state = _State(to_page)
        self._stack: list[_State] = []
        self._numbers: dict[Clip, int] = {}
        self._outlines: list[Outline] = []
        self._start = self._at = 0j
        self._segments: list[Segment] = []
        self._clip_rule: bool | None = None
        self._marked: list[str | None] = []
        self._hidden = _hidden_layers(page)
        self._does_fill: dict[bytes, tuple[bool, bool, bool, bool]] = {
            # fills, by even and odd, strokes, closes first
            b"S": (False, False, True, False),
            b"s": (False, False, True, True),
            b"f": (True, False, False, False),
            b"F": (True, False, False, False),
            b"f*": (True, True, False, False),
            b"B": (True, False, True, False),
            b"B*": (True, True, True, False),
            b"b": (True, False, True, True),
            b"b*": (True, True, True, True),
            b"n": (False, False, False, False),
        }
        self._operators: dict[bytes, Callable[..., None]] = {
            b"q": self._save, b"Q": self._restore, b"cm": self._concatenate, b"gs": self._use_state,
            b"w": lambda width: self._set(width=float(width)), b"J": lambda cap: self._set(cap=int(cap)),
            b"j": lambda join: self._set(join=int(join)), b"M": lambda miter: self._set(miter=float(miter)),
            b"d": self._dash, b"m": self._move, b"l": self._line, b"c": self._curve,
            b"v": self._curve_from_here, b"y": self._curve_to_end, b"h": self._close, b"re": self._rectangle,
            b"W": lambda: self._clip_next(False), b"W*": lambda: self._clip_next(True),
            b"Tr": lambda mode: self._set(text_mode=int(mode)), b"sh": self._shade, b"Do": self._do,
            b"BDC": self._begin_marked, b"BMC": lambda _tag: self._marked.append(None),
            b"EMC": self._end_marked,
        }  # fmt: skip

    def paint(self) -> None:
        """Read the page. Raises Refusal for more than a design can need."""
        contents = self._page.get_contents()
        if contents is not None:
            self._run(contents, self._page.get("/Resources", {}), 0)

    def _run(self, contents: Any, resources: Any, depth: int) -> None:
        outer = getattr(self, "_resources", None), getattr(self, "_depth", 0)
        self._resources = _object(resources)
        self._depth = depth
        self._colours = Colours(self._resources)
        held = len(self._stack)
        for operands, operator in contents.operations:
            self._budget.visit(0)
            self._operate(operator, operands)
        del self._stack[held:]
        self._resources, self._depth = outer
        self._colours = Colours(self._resources or {})

    def _operate(self, operator: bytes, operands: Any) -> None:
        try:
            if operator in self._does_fill:
                self._paint_path(*self._does_fill[operator])
            elif operator in self._operators:
                self._operators[operator](*operands)
            elif operator in _SHOWS:
                self._show_words()
            elif operator == b"INLINE IMAGE":
                self._picture()
            elif (colour := self._colours.set_by(operator, operands, self._state)) is not None:
                self._set(**colour)
        except (ArithmeticError, AttributeError, LookupError, TypeError, ValueError):
            # An operator without what it needs does nothing; the others still do.
            return

    def _set(self, **changes: Any) -> None:
        self._state = replace(self._state, **changes)

    def _save(self) -> None:
        self._stack.append(self._state)

    def _restore(self) -> None:
        if self._stack:
            self._state = self._stack.pop()

    def _concatenate(self, *matrix: Any) -> None:
        self._set(matrix=combined(_matrix(matrix), self._state.matrix))

    def _use_state(self, name: Any) -> None:
        given = _object(_object(self._resources["/ExtGState"])[name])
        keys = {"/LW": "width", "/LC": "cap", "/LJ": "join", "/ML": "miter"}
        changes: dict[str, Any] = {keys[key]: float(given[key]) for key in keys if key in given}
        changes |= {key: int(changes[key]) for key in ("cap", "join") if key in changes}
        for key, field in (("/ca", "fill_opacity"), ("/CA", "stroke_opacity")):
            if key in given:
                changes[field] = float(given[key])
        self._set(**changes)
        if "/D" in given:
            self._dash(*given["/D"])

    def _dash(self, pattern: Any, offset: Any) -> None:
        dashes = tuple(float(one) for one in pattern)
        self._set(dashes=dashes if sum(dashes) > 0 else (), dash_offset=float(offset))

    def _point(self, x: Any, y: Any) -> complex:
        a, b, c, d, e, f = self._state.matrix
        x, y = float(x), float(y)
        return complex(a * x + c * y + e, b * x + d * y + f)

    def _move(self, x: Any, y: Any) -> None:
        self._end(closed=False)
        self._start = self._at = self._point(x, y)

    def _line(self, x: Any, y: Any) -> None:
        self._add((self._point(x, y),))

    def _curve(self, *numbers: Any) -> None:
        self._add(tuple(self._point(*numbers[k : k + 2]) for k in (0, 2, 4)))

    def _curve_from_here(self, *numbers: Any) -> None:
        self._add((self._at, self._point(*numbers[:2]), self._point(*numbers[2:4])))

    def _curve_to_end(self, *numbers: Any) -> None:
        end = self._point(*numbers[2:4])
        self._add((self._point(*numbers[:2]), end, end))

    def _add(self, segment: Segment) -> None:
        self._budget.points(len(segment))
        self._segments.append(segment)
        self._at = segment[-1]

    def _close(self) -> None:
        self._end(closed=True)
        self._at = self._start

    def _rectangle(self, x: Any, y: Any, width: Any, height: Any) -> None:
        x, y, width, height = (float(number) for number in (x, y, width, height))
        self._move(x, y)
        self._line(x + width, y)
        self._line(x + width, y + height)
        self._line(x, y + height)
        self._close()

    def _end(self, closed: bool) -> None:
        """End the subpath; a new one begins where it began if no other place is told."""
        if self._segments:
            self._outlines.append(Outline(self._start, tuple(self._segments), closed))
        self._segments = []

    def _clip_next(self, even_odd: bool) -> None:
        self._clip_rule = even_odd

    def _paint_path(self, fills: bool, even_odd: bool, strokes: bool, closes: bool) -> None:
        self._end(closed=closes)
        outlines, self._outlines = tuple(self._outlines), []
        if outlines and (fills or strokes):
            self._emit(outlines, fills, even_odd, strokes)
        if self._clip_rule is not None:
            self._clip(outlines, self._clip_rule)
        self._clip_rule = None
        self._at = self._start

    def _emit(self, outlines: tuple[Outline, ...], fills: bool, even_odd: bool, strokes: bool) -> None:
        if self._is_hidden():
            return
        state = self._state
        fill = state.fill if fills and state.fill_opacity > 0 else None
        stroke = state.stroke if strokes and state.stroke_opacity > 0 else None
        box = _box_of(outlines)
        if (fill is None and stroke is None) or not all(map(math.isfinite, box)):
            return
        self._budget.shape()
        scale = _scale(state.matrix)
        width = max(state.width * scale, self._thinnest)
        reach = width * max(1.0, state.miter) if stroke else 0.0
        grown = (box[0] - reach, box[1] - reach, box[2] + reach, box[3] + reach)
        clip = state.clip
        if clip is None and state.rectangle is not None and not _contains(state.rectangle, grown):
            clip = self._number(_rectangle_clip(state.rectangle))
        self.content.append(
            PaintedPath(
                self._layer(),
                outlines,
                fill=fill,
                stroke=stroke,
                stroke_width=width,
                even_odd=even_odd,
                fill_opacity=state.fill_opacity,
                stroke_opacity=state.stroke_opacity,
                stroke_style=_style(state, scale) if stroke else "",
                clip=clip,
            )
        )

    @property
    def _thinnest(self) -> float:
        return max(self._box[2], self._box[3]) * _THIN

    def _clip(self, outlines: tuple[Outline, ...], even_odd: bool) -> None:
        """Narrow what is seen; rectangles are kept apart, since most hold all that is painted anyway."""
        state = self._state
        rectangle = _as_rectangle(outlines)
        if rectangle is not None and state.clip is None:
            self._set(rectangle=_common(state.rectangle, rectangle))
            return
        within = state.clip
        if within is None and state.rectangle is not None:
            within = self._number(_rectangle_clip(state.rectangle))
        self._set(clip=self._number(Clip(outlines, even_odd, within)), rectangle=None)

    def _number(self, clip: Clip) -> int:
        if clip not in self._numbers:
            self._budget.clip(sum(len(outline.segments) for outline in clip.outlines))
            self._numbers[clip] = len(self.clips)
            self.clips.append(clip)
        return self._numbers[clip]

    def _shade(self, _name: Any) -> None:
        """A shading fills all that is seen, here with plain ink."""
        page = _rectangle_clip(self._box).outlines
        before = self._state
        self._set(fill=PLAIN_INK)
        self._emit(page, fills=True, even_odd=False, strokes=False)
        self._state = before

    def _do(self, name: Any) -> None:
        found = _object(_object(self._resources["/XObject"])[name])
        if found.get("/Subtype") == "/Image":
            self._picture()
            return
        if found.get("/Subtype") != "/Form":
            return
        self._budget.visit(self._depth)
        if self._depth >= _MOST_DEPTH or self._is_layer_hidden(found.get("/OC")):
            return
        before = self._state
        if "/Matrix" in found:
            self._concatenate(*found["/Matrix"])
        if "/BBox" in found:
            left, bottom, right, top = (float(side) for side in found["/BBox"])
            self._rectangle(left, bottom, right - left, top - bottom)
            outlines, self._outlines = tuple(self._outlines), []
            self._clip(outlines, False)
        from pypdf.generic import ContentStream

        self._run(
            ContentStream(found, self._page.pdf), found.get("/Resources", self._resources), self._depth + 1
        )
        self._state = before

    def _picture(self) -> None:
        if not self._is_hidden():
            self._budget.shape()
            self.pictures += 1

    def _show_words(self) -> None:
        if self._state.text_mode != _INVISIBLE and not self._is_hidden():
            self._budget.shape()
            self.content.append(Lettering(self._layer(), self._point(0, 0), 1.0, ""))

    def _begin_marked(self, tag: Any, properties: Any) -> None:
        layer = None
        if tag == "/OC":
            layer = _object(_object(self._resources.get("/Properties", {})).get(properties))
        self._marked.append(None if layer is None else self._name_of(layer))

    def _end_marked(self) -> None:
        if self._marked:
            self._marked.pop()

    def _name_of(self, layer: Any) -> str | None:
        return "\0" if self._is_layer_hidden(layer) else str(layer.get("/Name", ""))

    def _is_layer_hidden(self, layer: Any) -> bool:
        layer = _object(layer)
        return layer is not None and str(layer.get("/Name", "")) in self._hidden

    def _is_hidden(self) -> bool:
        return "\0" in self._marked

    def _layer(self) -> str:
        return next((name for name in self._marked if name), "")


def _object(value: Any) -> Any:
    return value.get_object() if hasattr(value, "get_object") else value


def _matrix(numbers: Sequence[Any]) -> Matrix:
    a, b, c, d, e, f = (float(number) for number in numbers)
    return a, b, c, d, e, f


def _scale(matrix: Matrix) -> float:
    a, b, c, d, _, _ = matrix
    return math.sqrt(abs(a * d - b * c))


def _style(state: _State, scale: float) -> str:
    """Return the attributes of SVG for what a line's ends, corners and dashes look like."""
    style = f' stroke-miterlimit="{max(1.0, state.miter):g}"'
    if state.cap in _CAPS:
        style += f' stroke-linecap="{_CAPS[state.cap]}"'
    if state.join in _JOINS:
        style += f' stroke-linejoin="{_JOINS[state.join]}"'
    if state.dashes:
        lengths = " ".join(f"{length * scale:.6g}" for length in state.dashes)
        style += f' stroke-dasharray="{lengths}" stroke-dashoffset="{state.dash_offset * scale:.6g}"'
    return style


def _box_of(outlines: Sequence[Outline]) -> Box:
    points = [point for one in outlines for part in ((one.start,), *one.segments) for point in part]
    x, y = [point.real for point in points], [point.imag for point in points]
    return min(x), min(y), max(x), max(y)


def _as_rectangle(outlines: Sequence[Outline]) -> Box | None:
    """Return the box of a single rectangle whose sides are upright, None for any other outline."""
    if len(outlines) != 1 or len(outlines[0].segments) not in {3, 4}:
        return None
    if any(len(segment) != 1 for segment in outlines[0].segments):
        return None
    box = _box_of(outlines)
    corners = [outlines[0].start, *(segment[0] for segment in outlines[0].segments[:3])]
    is_upright = all(point.real in (box[0], box[2]) and point.imag in (box[1], box[3]) for point in corners)
    return box if is_upright and len(set(corners)) == 4 else None


def _rectangle_clip(box: Box) -> Clip:
    left, top, right, bottom = box
    corners = ((complex(right, top),), (complex(right, bottom),), (complex(left, bottom),))
    return Clip((Outline(complex(left, top), corners, True),), False, None)


def _common(one: Box | None, other: Box) -> Box:
    if one is None:
        return other
    left, top = max(one[0], other[0]), max(one[1], other[1])
    return left, top, max(left, min(one[2], other[2])), max(top, min(one[3], other[3]))


def _contains(outer: Box, inner: Box) -> bool:
    return outer[0] <= inner[0] and outer[1] <= inner[1] and outer[2] >= inner[2] and outer[3] >= inner[3]


def _hidden_layers(page: Any) -> set[str]:
    """Return the names of layers that the file shows as off (ISO 32000-1, 8.11.4)."""
    try:
        default = page.pdf.root_object["/OCProperties"]["/D"]
        return {str(_object(layer).get("/Name", "")) for layer in default.get("/OFF", ())}
    except (AttributeError, KeyError, TypeError):
        return set()
