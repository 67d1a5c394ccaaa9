"""Compact SVG path data: every contour in relative commands with one decimal."""

import cmath
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Line:
    """A straight side to `end`; points are complex numbers, x + y j."""

    end: complex


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc of at most half a turn to `end`; `clockwise` as seen on screen."""

    end: complex
    radius: float
    clockwise: bool = True


@dataclass(frozen=True, slots=True)
class Curve:
    """A cubic Bézier curve to `end` by two control points."""

    first: complex
    second: complex
    end: complex


Side = Line | Arc | Curve


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed contour: where it starts and its sides; a last straight side may be left out."""

    start: complex
    sides: tuple[Side, ...]

    def moved(self, offset: complex) -> "Outline":
        """Return the outline moved by `offset`."""
        return self._mapped(1, offset)

    def turned(self, degrees: float, about: complex) -> "Outline":
        """Return the outline turned clockwise on screen by `degrees` about a point."""
        factor = cmath.rect(1, cmath.pi * degrees / 180)
        return self._mapped(factor, about - factor * about)

    def mirrored(self, x: float) -> "Outline":
        """Return the outline mirrored left to right in the upright line at `x`."""

        def flip(point: complex) -> complex:
            return complex(2 * x - point.real, point.imag)

        sides: list[Side] = []
        for side in self.sides:
            match side:
                case Line(end):
                    sides.append(Line(flip(end)))
                case Arc(end, radius, clockwise):
                    sides.append(Arc(flip(end), radius, not clockwise))
                case Curve(first, second, end):
                    sides.append(Curve(flip(first), flip(second), flip(end)))
        return Outline(flip(self.start), tuple(sides))

    def _mapped(self, factor: complex, offset: complex) -> "Outline":
        def place(point: complex) -> complex:
            return factor * point + offset

        sides: list[Side] = []
        for side in self.sides:
            match side:
                case Line(end):
                    sides.append(Line(place(end)))
                case Arc(end, radius, clockwise):
                    sides.append(Arc(place(end), radius, clockwise))
                case Curve(first, second, end):
                    sides.append(Curve(place(first), place(second), place(end)))
        return Outline(place(self.start), tuple(sides))


def path_data(outlines: Sequence[Outline]) -> str:
    """Return the outlines as SVG path data (SVG 1.1, chapter 8.3), one after the other."""
    return "".join(_contour(outline) for outline in outlines)


def _contour(outline: Outline) -> str:
    here = _rounded(outline.start)
    words = [f"M{_point(here)}"]
    for side in outline.sides:
        end = _rounded(side.end - here)
        match side:
            case Line():
                words.append(f"l{_point(end)}")
            case Arc(radius=radius, clockwise=clockwise):
                size = _number(radius)
                words.append(f"a{size} {size} 0 0 {int(clockwise)} {_point(end)}")
            case Curve(first, second):
                points = (_rounded(first - here), _rounded(second - here), end)
                words.append("c" + "".join(_after(_point(point)) for point in points).lstrip())
        here += end
    return "".join(words) + "z"


def _rounded(point: complex) -> complex:
    return complex(round(point.real, 1), round(point.imag, 1))


def _number(value: float) -> str:
    text = f"{round(value, 1) + 0.0:.1f}".removesuffix(".0")
    return text.replace("0.", ".", 1) if text.startswith(("0.", "-0.")) else text


def _point(point: complex) -> str:
    return _number(point.real) + _after(_number(point.imag))


def _after(text: str) -> str:
    return text if text.startswith("-") else f" {text}"
