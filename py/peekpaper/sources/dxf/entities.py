"""What the entities of a DXF file draw: blocks put in their places, colours and layers resolved."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any, Literal

from peekpaper.drawing.file.budget import Budget
from peekpaper.sources.vector import Outline, Segment

BY_BLOCK, BY_LAYER = 0, 256
"""Colours of the format's own index that stand for another's."""
_BLACK = "#000000"
_FOREGROUND = 7
"""The index of black on white, and white on black."""
_CURVED = {"ARC", "CIRCLE", "ELLIPSE"}
_LINES = {*_CURVED, "LINE", "LWPOLYLINE", "POLYLINE", "SPLINE", "HELIX", "3DFACE"}
_FILLED = {"HATCH", "MPOLYGON", "SOLID", "TRACE"}
_WORDS = {"TEXT", "MTEXT"}
_COMPOSED = {"MLINE"}
_NOT_PLOTTED = "defpoints"
_COPIED = 4
"""The work of an entity that a block's reference copies and moves, in entities that stand by themselves."""
_SEGMENTS = 8
"""Cubics to a whole turn; each is off by 4 millionths of the radius (Goldapp 1991, from memory)."""


@dataclass(frozen=True, slots=True)
class Drawn:
    """What one entity draws; `width` is a line's, 0 where it has none, or the height of letters."""

    layer: str
    colour: str
    kind: Literal["line", "fill", "text"]
    outlines: tuple[Outline, ...]
    width: float = 0.0
    text: str = ""
    complete: bool = True


@dataclass(frozen=True, slots=True)
class _Look:
    """What entities of a block take from the reference that puts it in its place."""

    layer: str
    colour: str


def drawn_in(document: Any, budget: Budget) -> Iterator[Drawn]:
    """Yield what the model space draws, in its order. Raises Refusal for more than a design can need."""
    hidden = {layer.dxf.name.lower() for layer in document.layers if layer.is_off() or layer.is_frozen()} | {
        _NOT_PLOTTED
    }
    yield from _Walk(document, hidden, budget).walk(document.modelspace(), _Look("0", _BLACK), 0)


class _Walk:
    def __init__(self, document: Any, hidden: set[str], budget: Budget) -> None:
        self._layers = document.layers
        self._hidden = hidden
        self._budget = budget

    def walk(self, entities: Any, look: _Look, depth: int) -> Iterator[Drawn]:
        for entity in entities:
            self._budget.visit(depth, _COPIED if depth else 1)
            kind = entity.dxftype()
            own = entity.dxf.get("layer", "0")
            layer = look.layer if own == "0" else own
            if layer.lower() in self._hidden or entity.dxf.get("invisible", 0):
                continue
            colour = self._colour(entity, layer, look)
            if kind == "INSERT":
                yield from self._block(entity, _Look(layer, colour), depth)
            elif kind in _COMPOSED:
                yield from self.walk(entity.virtual_entities(), _Look(layer, colour), depth + 1)
            elif kind in _WORDS:
                text = entity.plain_text() if kind == "MTEXT" else entity.dxf.get("text", "")
                at = Outline(_point(entity.dxf.insert), (), False)
                size = float(entity.dxf.get("char_height" if kind == "MTEXT" else "height", 1.0))
                yield Drawn(layer, colour, "text", (at,), size, str(text))
            elif kind in _LINES or kind in _FILLED:
                yield self._shape(entity, layer, colour)

    def _block(self, entity: Any, look: _Look, depth: int) -> Iterator[Drawn]:
        if entity.mcount > 1:
            self._budget.visit(depth, entity.mcount)
            for one in entity.multi_insert():
                yield from self.walk(one.virtual_entities(), look, depth + 1)
        else:
            yield from self.walk(entity.virtual_entities(), look, depth + 1)

    def _shape(self, entity: Any, layer: str, colour: str) -> Drawn:
        kind: Literal["line", "fill"] = "fill" if entity.dxftype() in _FILLED else "line"
        try:
            return Drawn(layer, colour, kind, tuple(_outlines(entity)), _width(entity))
        except (ArithmeticError, AttributeError, LookupError, TypeError, ValueError):  # of no shape
            return Drawn(layer, colour, kind, (), complete=False)

    def _colour(self, entity: Any, layer: str, look: _Look) -> str:
        true = entity.dxf.get("true_color")
        if true is not None:
            return f"#{true & 0xFFFFFF:06x}"
        index = entity.dxf.get("color", BY_LAYER)
        if index == BY_BLOCK:
            return look.colour
        if index == BY_LAYER:
            if layer not in self._layers:
                return look.colour
            entry = self._layers.get(layer)
            if entry.dxf.get("true_color") is not None:
                return f"#{entry.dxf.true_color & 0xFFFFFF:06x}"
            index = abs(entry.dxf.get("color", _FOREGROUND))
        return _indexed(index)


def _indexed(index: int) -> str:
    from ezdxf.colors import aci2rgb

    if index == _FOREGROUND or not 0 < index < BY_LAYER:
        return _BLACK
    return "#{:02x}{:02x}{:02x}".format(*aci2rgb(index))


def _width(entity: Any) -> float:
    """Return the width of a line where it is the same all along, else 0."""
    if entity.dxftype() == "LWPOLYLINE":
        return max(0.0, float(entity.dxf.get("const_width", 0.0)))
    return 0.0


def _outlines(entity: Any) -> Iterator[Outline]:
    from ezdxf import path as paths

    kind = entity.dxftype()
    if kind in {"HATCH", "MPOLYGON"}:
        for found in paths.from_hatch(entity):
            yield from _outline(found, closed=True)
        return
    found = paths.make_path(entity, segments=_segments(entity))
    is_area = kind in {"SOLID", "TRACE", "3DFACE", "CIRCLE"}
    is_closed = is_area or bool(getattr(entity, "is_closed", getattr(entity, "closed", False)))
    yield from _outline(found, closed=is_closed)


def _segments(entity: Any) -> int:
    """Return how many cubics each arc of an entity needs at least."""
    kind = entity.dxftype()
    if kind in _CURVED:
        return _SEGMENTS
    if kind == "LWPOLYLINE":
        bulges = [point[4] for point in entity]
    elif kind == "POLYLINE":
        bulges = [vertex.dxf.get("bulge", 0.0) for vertex in entity.vertices]
    else:
        return 1
    # A bulge is the tangent of a quarter of the arc's angle.
    turn = 4 * math.atan(max(map(abs, bulges), default=0.0))
    return max(1, math.ceil(turn / math.tau * _SEGMENTS))


def _outline(path: Any, closed: bool) -> Iterator[Outline]:
    for part in path.sub_paths():
        segments = tuple(_segment(command) for command in part.commands())
        if not segments:
            continue
        outline = Outline(_point(part.start), segments, closed)
        yield Outline(outline.start, segments, closed or part.is_closed)


def _segment(command: Any) -> Segment:
    end = _point(command.end)
    if hasattr(command, "ctrl1"):
        return (_point(command.ctrl1), _point(command.ctrl2), end)
    if hasattr(command, "ctrl"):
        # Never made of the entities above, but a path may hold it.
        raise TypeError("quadratic")
    return (end,)


def _point(vertex: Any) -> complex:
    return complex(vertex[0], -vertex[1])
