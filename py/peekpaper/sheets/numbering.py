"""Numbers on a picture: inside their openings where they fit, else beside them with a leader."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.sheets.label_spots import label_spots, number_size
from peekpaper.sheets.outline import Floats

_DIGIT_WIDTH = 0.8
"""Width of a digit as a part of its height, common sans serifs (from memory)."""

_ANGLES = np.linspace(0, 2 * np.pi, 24, endpoint=False)
_REACHES = np.arange(1.5, 30.0, 1.0)
_AIR_MM = 0.35


@dataclass(frozen=True, slots=True, eq=False)
class PlacedNumber:
    """A number with its middle at (`x`, `y`); `leader` is a line of shape (2, 2) to its opening, or None."""

    text: str
    x: float
    y: float
    cap_height: float
    leader: Floats | None
    area: int


def placed_numbers(
    areas: Sequence[Polygon],
    texts: Sequence[str],
    least: float,
    largest: float,
    walls: Sequence[BaseGeometry],
) -> list[PlacedNumber]:
    """Return where each area's text goes, in mm, with cap heights between `least` and `largest`.

    `walls` are the areas and lines that a number beside its area must not touch.
    """
    spots = label_spots(areas)
    inside: list[PlacedNumber] = []
    outside: list[PlacedNumber] = []
    for index, (text, (x, y, radius)) in enumerate(zip(texts, spots.tolist(), strict=True)):
        size = number_size(text, radius, largest)
        number = PlacedNumber(text, x, y, max(size, least), None, index)
        (inside if size >= least else outside).append(number)
    beside = _Beside(walls, inside)
    return inside + [beside.place(number, areas[number.area]) for number in outside]


class _Beside:
    """Finds free places for numbers beside their areas, one after another."""

    def __init__(self, walls: Sequence[BaseGeometry], taken: Sequence[PlacedNumber]) -> None:
        self._walls = shapely.STRtree(walls)
        self._taken = [_box(number.text, number.x, number.y, number.cap_height) for number in taken]

    def place(self, number: PlacedNumber, area: Polygon) -> PlacedNumber:
        """Return the number at the nearest free place, else where it was."""
        reach = np.sqrt(area.area) / 2
        angles, reaches = np.meshgrid(_ANGLES, _REACHES + min(reach, 4.0))
        x = number.x + (reaches * np.cos(angles)).ravel()
        y = number.y + (reaches * np.sin(angles)).ravel()
        width, height = _box_size(number.text, number.cap_height)
        boxes = shapely.box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
        free = np.ones(len(boxes), dtype=np.bool_)
        free[self._walls.query(boxes, "intersects")[0]] = False
        if self._taken:
            leaders = shapely.linestrings(
                np.stack([np.column_stack([x, y]), np.tile((number.x, number.y), (len(x), 1))], axis=1)
            )
            taken = shapely.union_all(self._taken)
            free &= ~shapely.intersects(boxes, taken) & ~shapely.intersects(leaders, taken)
        if not free.any():
            return number
        best = int(np.flatnonzero(free)[0])
        self._taken.append(boxes[best])
        ends = np.array([[x[best], y[best]], [number.x, number.y]])
        return PlacedNumber(
            number.text,
            float(x[best]),
            float(y[best]),
            number.cap_height,
            _leader(boxes[best], ends),
            number.area,
        )


def _leader(box: Polygon, ends: Floats) -> Floats:
    outside = shapely.difference(shapely.LineString(ends), box)
    return shapely.get_coordinates(outside)[[0, -1]] if not outside.is_empty else ends


def _box_size(text: str, cap_height: float) -> tuple[float, float]:
    return len(text) * _DIGIT_WIDTH * cap_height + 2 * _AIR_MM, cap_height + 2 * _AIR_MM


def _box(text: str, x: float, y: float, cap_height: float) -> Polygon:
    width, height = _box_size(text, cap_height)
    return shapely.box(x - width / 2, y - height / 2, x + width / 2, y + height / 2)
