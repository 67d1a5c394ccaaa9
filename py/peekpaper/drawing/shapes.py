"""The basic shapes and `path` as paths (SVG 1.1, chapters 8.2 and 9)."""

import math
import re
from xml.etree.ElementTree import Element

from peekpaper.drawing.arc import Cubic, ellipse_curves
from peekpaper.drawing.lengths import Axis, Measures, parse_length, to_px
from peekpaper.drawing.path import Path, line, make_path
from peekpaper.drawing.path_data import read_path_data

SHAPES = frozenset({"path", "rect", "circle", "ellipse", "line", "polyline", "polygon"})

_NUMBER = r"[+-]?(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?"
_POINTS = re.compile(rf"\s*(?:{_NUMBER}(?:\s*,?\s*{_NUMBER})*)?")
_ONE_NUMBER = re.compile(_NUMBER)


def shape_path(name: str, element: Element, measures: Measures) -> tuple[Path | None, bool]:
    """Return the path of a shape element, or None where it draws nothing, and whether all could be read.

    `name` is one of SHAPES. Attributes in error count as absent.
    """
    if name == "path":
        return read_path_data(element.get("d", ""))
    if name in ("polyline", "polygon"):
        return _poly(element, closed=name == "polygon")
    reader = _Attributes(element, measures)
    match name:
        case "rect":
            return _rect(reader), True
        case "circle":
            radius = reader.size("r", Axis.BOTH)
            return _ellipse(reader, radius, radius), True
        case "ellipse":
            return _ellipse(reader, *reader.radii()), True
        case _:
            start = complex(reader.length("x1", Axis.X), reader.length("y1", Axis.Y))
            end = complex(reader.length("x2", Axis.X), reader.length("y2", Axis.Y))
            return make_path([([line(start, end)], False)]), True


class _Attributes:
    """Reads the lengths of one element."""

    def __init__(self, element: Element, measures: Measures) -> None:
        self._element = element
        self._measures = measures

    def length(self, name: str, axis: Axis) -> float:
        """Return a length, 0 where there is none."""
        length = parse_length(self._element.get(name, ""))
        return to_px(length, axis, self._measures) if length is not None else 0.0

    def size(self, name: str, axis: Axis) -> float | None:
        """Return a length that can't be negative, None where there is none."""
        length = parse_length(self._element.get(name, ""))
        if length is None or length.amount < 0:
            return None
        return to_px(length, axis, self._measures)

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
            turned = (quarter - 1) * math.pi / 2
            curves += ellipse_curves(corner + inset, rx, ry, 0, turned, math.pi / 2)
            point = curves[-1][3]
    curves[-1] = (*curves[-1][:3], curves[0][0])
    return make_path([(curves, True)])


def _ellipse(reader: _Attributes, rx: float | None, ry: float | None) -> Path | None:
    if not rx or not ry:
        return None
    centre = complex(reader.length("cx", Axis.X), reader.length("cy", Axis.Y))
    curves = ellipse_curves(centre, rx, ry, 0, 0, math.tau)
    curves[-1] = (*curves[-1][:3], curves[0][0])
    return make_path([(curves, True)])


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
    return make_path([([line(a, b) for a, b in zip(points, points[1:], strict=False)], closed)]), whole
