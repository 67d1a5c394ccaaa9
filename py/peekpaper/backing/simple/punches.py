"""Simple shapes by name: the punches of a person's stock, and rectangles of two scissor cuts."""

import math
import re
from dataclasses import dataclass
from enum import StrEnum

from peekpaper.lengths import MM_PER_INCH, format_length, parse_length
from peekpaper.refusal import Refusal


class Form(StrEnum):
    """The forms that need no template."""

    SQUARE = "square"
    CIRCLE = "circle"
    RECTANGLE = "rectangle"


@dataclass(frozen=True, slots=True)
class SimpleShape:
    """A form of a size in mm; a circle's width and height are its diameter."""

    form: Form
    width_mm: float
    height_mm: float

    @property
    def area_mm2(self) -> float:
        """The area that the shape covers."""
        share = math.pi / 4 if self.form is Form.CIRCLE else 1.0
        return share * self.width_mm * self.height_mm


_TIMES = re.compile(r"\s+[x×]\s+")
_UNIT = re.compile(r"[^\d\s./,½¼¾⅛⅜⅝⅞⅓⅔-]+\s*$")


def parse_shape(name: str) -> SimpleShape:
    """Return the shape that a name like `square 1 in`, `circle 3/4 in` or `rectangle 1 x 2 in` tells.

    Raises Refusal for anything else.
    """
    form, _, size = name.strip().partition(" ")
    sides = _TIMES.split(size.strip())
    if form not in set(Form) or len(sides) != (2 if form == Form.RECTANGLE else 1):
        raise Refusal("no-punch", text=name.strip()[:40])
    unit = _UNIT.search(sides[-1])
    lengths = [
        parse_length(side if _UNIT.search(side) or unit is None else f"{side} {unit[0]}") for side in sides
    ]
    if min(lengths) <= 0:
        raise Refusal("punch-without-size", text=name.strip()[:40])
    return SimpleShape(Form(form), lengths[0], lengths[-1])


def rectangle_around(width_mm: float, height_mm: float, step_mm: float) -> SimpleShape:
    """Return the least rectangle in steps that is so wide and high."""
    return SimpleShape(
        Form.RECTANGLE,
        math.ceil(round(width_mm / step_mm, 6)) * step_mm,
        math.ceil(round(height_mm / step_mm, 6)) * step_mm,
    )


def shape_name(shape: SimpleShape) -> str:
    """Return the name that `parse_shape` reads back: in inches where fractions tell it, else in mm."""
    return f"{shape.form} {shape_size(shape)}"


def shape_size(shape: SimpleShape) -> str:
    """Return a shape's size as its name tells it: `1 1/2 in`, of a rectangle `1 x 2 in`."""
    sides = (shape.width_mm, shape.height_mm) if shape.form is Form.RECTANGLE else (shape.width_mm,)
    in_inches = all(abs(side * 32 / MM_PER_INCH - round(side * 32 / MM_PER_INCH)) < 1e-6 for side in sides)
    if in_inches:
        return " x ".join(format_length(side, "in").removesuffix(" in") for side in sides) + " in"
    return " x ".join(f"{round(side, 6):g}" for side in sides) + " mm"
