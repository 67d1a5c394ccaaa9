"""The basic shapes and `path` as paths (SVG 1.1, chapters 8.2 and 9)."""

import math
import re
from collections.abc import Callable
from itertools import pairwise
from xml.etree.ElementTree import Element

from peekpaper.drawing.css.css_lengths import Axis, Length, Measures, needs_font, parse_length, to_px
from peekpaper.drawing.outlines.arc import Ellipse
from peekpaper.drawing.outlines.path import Cubic, Path, Subpath, line, make_path
from peekpaper.drawing.outlines.path_data import read_path_data

SHAPES = frozenset({"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"})

_NUMBER = r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_POINTS = re.compile(rf"\s*(?:{_NUMBER}(?:\s*,?\s*{_NUMBER})*)?")
_ONE_NUMBER = re.compile(_NUMBER)


def shape_path(name: str, element: Element, measures: Measures) -> tuple[Path | None, bool]:
    """Return the path of a shape element, or None where it draws nothing, and whether all could be read.

    `name` is one of SHAPES. Attributes in error count as absent.
    """
    if name == "path":
        data = element.get("d", "")
        return read_path_data("" if data.strip() == "none" else data)
    if name in ("polyline", "polygon"):
        return _poly(element, closed=name == "polygon")
    reader = _Attributes(element, measures)
    path = _DRAWERS[name](reader)
    return path, reader.understood


class _Attributes:
    """Reads the lengths of one element; `understood` tells whether all their units are known."""

    def __init__(self, element: Element, measures: Measures) -> None:
        self._element = element
        self._measures = measures
        self.understood = True

    def length(self, name: str, axis: Axis) -> float:
        """Return a length, 0 where there is none."""
        length = self._parse(name)
        return to_px(length, axis, self._measures) if length is not None else 0.0

    def size(self, name: str, axis: Axis) -> float | None:
        """Return a length that can't be negative, None where there is none."""
        length = self._parse(name)
        if length is None or length.amount < 0:
            return None
        return to_px(length, axis, self._measures)

    def _parse(self, name: str) -> Length | None:
        text = self._element.get(name, "")
        length = parse_length(text)
        self.understood &= length is not None or not needs_font(text)
        return length

    def radii(self) -> tuple[float | None, float | None]:
        """Return `rx` and `ry`, of which one that is missing takes the other's value (SVG 2, 10.2)."""
        rx, ry = self.size("rx", Axis.X), self.size("ry", Axis.Y)
        return (ry if rx is None else rx), (rx if ry is None else ry)


def _rect(reader: _Attributes) -> Path | None:
    width, height = reader.size("width", Axis.X), reader.size("height", Axis.Y)
    if not width or not height:
        return None
    x, y = reader.length("x", Axis.X), reader.length("y", Axis.Y)
    rx, ry = (radius or 0.0 for radius in reader.radii())
    rx, ry = min(rx, width / 2), min(ry, height / 2)
    if rx == 0 or ry == 0:
        rx = ry = 0.0
    corners = (
        (complex(x + width, y), complex(-rx, ry)),
        (complex(x + width, y + height), complex(-rx, -ry)),
        (complex(x, y + height), complex(rx, -ry)),
        (complex(x, y), complex(rx, ry)),
    )
    point = complex(x + rx, y)
    curves: list[Cubic] = []
    for quarter, (corner, inset) in enumerate(corners):
        before = corner + (inset.real if quarter % 2 == 0 else 1j * inset.imag)
        if before != point:
            curves.append(line(point, before))
            point = before
        if rx:
            curves += Ellipse(corner + inset, rx, ry).curves((quarter - 1) * math.pi / 2, math.pi / 2)
            point = curves[-1][3]
    return _closed(curves, [True] * len(curves))


def _closed(curves: list[Cubic], nodes: list[bool]) -> Path:
    """Return curves that come back to their start but for rounding as a closed path."""
    curves[-1] = (*curves[-1][:3], curves[0][0])
    return make_path([Subpath(curves, nodes, closed=True)])


def _ellipse_of(reader: _Attributes, rx: float | None, ry: float | None) -> Path | None:
    if not rx or not ry:
        return None
    centre = complex(reader.length("cx", Axis.X), reader.length("cy", Axis.Y))
    curves = Ellipse(centre, rx, ry).curves(0, math.tau)
    return _closed(curves, [False] * len(curves))


def _circle(reader: _Attributes) -> Path | None:
    radius = reader.size("r", Axis.BOTH)
    return _ellipse_of(reader, radius, radius)


def _ellipse(reader: _Attributes) -> Path | None:
    return _ellipse_of(reader, *reader.radii())


def _line(reader: _Attributes) -> Path | None:
    start = complex(reader.length("x1", Axis.X), reader.length("y1", Axis.Y))
    end = complex(reader.length("x2", Axis.X), reader.length("y2", Axis.Y))
    return make_path([Subpath([line(start, end)], [True], closed=False)])


_DRAWERS: dict[str, Callable[[_Attributes], Path | None]] = {
    "rect": _rect,
    "circle": _circle,
    "ellipse": _ellipse,
    "line": _line,
}


def _poly(element: Element, *, closed: bool) -> tuple[Path | None, bool]:
    text = element.get("points", "")
    end = _POINTS.match(text).end()  # type: ignore[union-attr]  # it matches the empty string too
    numbers = [float(number) for number in _ONE_NUMBER.findall(text, 0, end)]
    points = [complex(x, y) for x, y in zip(numbers[::2], numbers[1::2], strict=False)]
    whole = len(numbers) % 2 == 0 and not text[end:].strip()
    if len(points) < 2:
        return None, whole
    if closed:
        points.append(points[0])
    lines = [line(a, b) for a, b in pairwise(points)]
    return make_path([Subpath(lines, [True] * len(lines), closed)]), whole
