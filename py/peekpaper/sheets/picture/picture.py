"""Pictures in mm, before they are written as SVG, PDF or PNG: areas, strokes and words, back to front."""

from dataclasses import dataclass, replace
from enum import StrEnum

import numpy as np
from numpy.typing import NDArray

from peekpaper.geometry.outline import Floats
from peekpaper.sheets.picture.raster import Raster


class Anchor(StrEnum):
    """Which point of a line of text lies at its x."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


INK = "#1d2430"
"""The colour of words that have none of their own."""


@dataclass(frozen=True, slots=True, eq=False)
class Area:
    """Filled rings, each of shape (k, 2) with its first point repeated last; none has holes."""

    rings: tuple[Floats, ...]
    fill: str


@dataclass(frozen=True, slots=True, eq=False)
class Pattern(Area):
    """Areas that show a repeated picture of `raster_width_mm`, or the plain `fill` where a file can't.

    `matrix` (2, 3) maps the pattern, in mm from the top left corner of one repeat, to the picture. SVG shows
    JPEG, PNG the `pixels` of shape (h, w, 3).
    """

    raster: Raster
    raster_width_mm: float
    matrix: Floats
    pixels: NDArray[np.uint8] | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Stroke:
    """Lines of shape (k, 2) drawn with a round pen; `dash_mm` is the length of dash and space (0: solid)."""

    lines: tuple[Floats, ...]
    colour: str
    width_mm: float
    dash_mm: float = 0.0


@dataclass(frozen=True, slots=True)
class Words:
    """A line of text. `y` is the middle of its capitals, `cap_height` their height in mm.

    It is turned clockwise about (`x`, `y`).
    """

    text: str
    x: float
    y: float
    cap_height: float
    colour: str = INK
    anchor: Anchor = Anchor.START
    bold: bool = False
    turn_deg: float = 0.0


Mark = Area | Stroke | Words


@dataclass(frozen=True, slots=True, eq=False)
class Picture:
    """Marks on a white sheet of the given size in mm; `title` is for those who don't see it."""

    title: str
    width_mm: float
    height_mm: float
    marks: tuple[Mark, ...]


def placed(picture: Picture, x: float, y: float, scale: float) -> tuple[Mark, ...]:
    """Return the marks of a picture, scaled, with its top left corner at (`x`, `y`)."""
    return tuple(moved_mark(mark, x, y, scale) for mark in picture.marks)


def moved_mark(mark: Mark, x: float, y: float, scale: float = 1.0) -> Mark:
    """Return a mark scaled about the origin and then moved by (`x`, `y`)."""
    match mark:
        case Pattern():
            rings = tuple(ring * scale + (x, y) for ring in mark.rings)
            matrix = mark.matrix * scale + np.array([[0.0, 0.0, x], [0.0, 0.0, y]])
            return replace(mark, rings=rings, matrix=matrix)
        case Area():
            return Area(tuple(ring * scale + (x, y) for ring in mark.rings), mark.fill)
        case Stroke():
            lines = tuple(line * scale + (x, y) for line in mark.lines)
            return Stroke(lines, mark.colour, mark.width_mm * scale, mark.dash_mm * scale)
        case Words():
            size = mark.cap_height * scale
            return replace(mark, x=mark.x * scale + x, y=mark.y * scale + y, cap_height=size)
