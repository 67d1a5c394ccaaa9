"""Numbers on a picture: inside their openings where they fit, else beside them with a leader."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.geometry.outline import Flags, Floats
from peekpaper.geometry.overlay import difference
from peekpaper.sheets.picture.label_spots import box_size, number_spots

_ANGLES = np.linspace(0, 2 * np.pi, 24, endpoint=False)
"""Directions in which a number is tried beside its area."""
_OFFSETS = np.column_stack([np.cos(_ANGLES), np.sin(_ANGLES)])
_REACHES = np.arange(1.5, 30.0, 1.0)
"""How far from it, in mm, the nearest first."""


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
    spots = number_spots(areas, texts, least, largest)
    inside: list[PlacedNumber] = []
    outside: list[PlacedNumber] = []
    for index, (text, (x, y, size)) in enumerate(zip(texts, spots, strict=True)):
        number = PlacedNumber(text, x, y, size or least, None, index)
        (inside if size else outside).append(number)
    beside = _Beside(walls, inside)
    return inside + [beside.place(number, areas[number.area]) for number in outside]


class _Beside:
    """Finds free places for numbers beside their areas, one after another."""

    def __init__(self, walls: Sequence[BaseGeometry], taken: Sequence[PlacedNumber]) -> None:
        self._walls = shapely.STRtree(walls)
        sizes = np.array([box_size(number.text, number.cap_height) for number in taken]).reshape(-1, 2)
        self._middles = np.array([(number.x, number.y) for number in taken]).reshape(-1, 2)
        self._halves = sizes / 2

    def place(self, number: PlacedNumber, area: Polygon) -> PlacedNumber:
        """Return the number at the nearest free place, else where it was."""
        home = np.array([number.x, number.y])
        half = np.array(box_size(number.text, number.cap_height)) / 2
        places = home + _OFFSETS * (_REACHES + min(np.sqrt(area.area) / 2, 4.0))[:, None, None]
        places = places.reshape(-1, 2)
        free = self._apart(places, half)
        boxes = shapely.box(*(places[free] - half).T, *(places[free] + half).T)
        clear = np.ones(len(boxes), dtype=np.bool_)
        clear[self._walls.query(boxes, "intersects")[0]] = False
        taken = shapely.box(*(self._middles - self._halves).T, *(self._middles + self._halves).T)
        for index in np.flatnonzero(clear):
            place = places[free][index]
            leader = shapely.LineString([place, home])
            if not shapely.intersects(leader, taken).any():
                self._middles = np.vstack([self._middles, place])
                self._halves = np.vstack([self._halves, half])
                x, y = place.tolist()
                line = _leader(boxes[index], leader)
                return PlacedNumber(number.text, x, y, number.cap_height, line, number.area)
        return number

    def _apart(self, places: Floats, half: Floats) -> Flags:
        """Tell which places keep a number of half size `half` off those that stand already."""
        reach = np.ptp(places, axis=0).max() + self._halves.max(initial=0.0)
        near = np.abs(self._middles - places[0]).max(axis=1, initial=0.0) < reach
        distances = np.abs(places[:, None] - self._middles[near])
        overlapping: Flags = (distances < self._halves[near] + half).all(axis=2).any(axis=1)
        return ~overlapping


def _leader(box: Polygon, line: LineString) -> Floats:
    outside = difference(line, box)
    ends: Floats = shapely.get_coordinates(line if outside.is_empty else outside)[[0, -1]]
    return ends


def number_ground(text: str, x: float, y: float, cap_height: float) -> Floats:
    """Return the ring around a number with its middle at (`x`, `y`) that sets it off a pattern."""
    width, height = box_size(text, cap_height)
    half = max(width - height, 0.0) / 2 + cap_height / 4
    line = LineString([(x - half, y), (x + half, y)])
    return shapely.get_coordinates(shapely.buffer(line, cap_height * 0.8, quad_segs=6).exterior)
