"""Drawings larger than a page, at true size on several pages that overlap."""

import math
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiLineString

from peekpaper.geometry.outline import Floats
from peekpaper.sheets.pages.page import SMALL, Leaf, TypeArea, type_area
from peekpaper.sheets.paper_sizes import PaperSize
from peekpaper.sheets.picture.colours import INK, PALE_INK
from peekpaper.sheets.picture.picture import Anchor, Mark, Picture, Stroke, Words, moved_mark, placed
from peekpaper.words.words import Language

OVERLAP_MM = 12.0
"""How far neighbouring pages show the same; the cut runs down the middle (common practice, no source)."""

_REACH_MM = 0.5
"""How far the outermost tiles reach past the drawing, so that lines at its edge are whole."""

_RIM_MM = 6.0
"""Room for crop marks around the drawing."""


@dataclass(frozen=True, slots=True)
class _Tile:
    """What one page shows of a drawing, in the drawing's mm; `row` and `column` count from 1."""

    row: int
    column: int
    rows: int
    columns: int
    left: float
    top: float
    width: float
    height: float


def tiled(picture: Picture, title: str, note: str, paper: PaperSize, words: Language) -> list[Leaf]:
    """Return a drawing of strokes and words on as few pages as it needs, upright or sideways.

    Where it needs several, each tells its row and column and has crop marks along which to cut and join.
    """
    upright, sideways = (_tiles(picture, type_area(paper, lying)) for lying in (False, True))
    lies = len(sideways) < len(upright)
    free = type_area(paper, lies)
    if len(upright) == 1 or len(sideways) == 1:
        x = free.x + (free.width - picture.width_mm) / 2
        return [Leaf(title, note, placed(picture, x, free.y, 1.0), lies)]
    leaves = []
    for tile in sideways if lies else upright:
        shown = [part for mark in picture.marks for part in _shown(mark, tile)]
        x, y = free.x + _RIM_MM - tile.left, free.y + _RIM_MM - tile.top
        marks = tuple(moved_mark(mark, x, y) for mark in (*shown, *_crop_marks(tile)))
        leaves.append(Leaf(f"{title} ({tile.row}-{tile.column})", f"{_how(tile, words)} {note}", marks, lies))
    return leaves


def _how(tile: _Tile, words: Language) -> str:
    row, column = {"row": tile.row, "rows": tile.rows}, {"column": tile.column, "columns": tile.columns}
    return words.text("print.tile", **row, **column)


def _tiles(picture: Picture, free: TypeArea) -> list[_Tile]:
    if picture.width_mm <= free.width and picture.height_mm <= free.height:
        return [_Tile(1, 1, 1, 1, 0.0, 0.0, picture.width_mm, picture.height_mm)]
    width, height = free.width - 2 * _RIM_MM, free.height - 2 * _RIM_MM
    columns, rows = _count(picture.width_mm, width), _count(picture.height_mm, height)
    return [
        _Tile(
            row + 1,
            column + 1,
            rows,
            columns,
            column * (width - OVERLAP_MM),
            row * (height - OVERLAP_MM),
            width,
            height,
        )
        for row in range(rows)
        for column in range(columns)
    ]


def _count(length: float, window: float) -> int:
    return max(1, math.ceil((length - OVERLAP_MM - 1e-6) / (window - OVERLAP_MM)))


def _shown(mark: Mark, tile: _Tile) -> list[Mark]:
    """Return what of a mark lies in a tile; areas are not drawn on tiles."""
    # Lines along the edge of the drawing lie on the edge of outer tiles, so those reach a little further.
    left = tile.left - (_REACH_MM if tile.column == 1 else 0)
    top = tile.top - (_REACH_MM if tile.row == 1 else 0)
    right = tile.left + tile.width + (_REACH_MM if tile.column == tile.columns else 0)
    bottom = tile.top + tile.height + (_REACH_MM if tile.row == tile.rows else 0)
    match mark:
        case Stroke():
            inside = shapely.clip_by_rect(MultiLineString(list(mark.lines)), left, top, right, bottom)
            lines = tuple(shapely.get_coordinates(line) for line in shapely.get_parts(inside))
            return [Stroke(lines, mark.colour, mark.width_mm, mark.dash_mm)] if lines else []
        case Words():
            reach = mark.cap_height
            across = tile.left + reach < mark.x < right - reach
            return [mark] if across and tile.top + reach < mark.y < bottom - reach else []
        case _:
            return []


def _crop_marks(tile: _Tile) -> list[Mark]:
    """Return the marks at the ends of the cuts that join a tile to its neighbours, and what lies beyond."""
    half, gap, length = OVERLAP_MM / 2, 0.8, 4.0
    left, top, right, bottom = tile.left, tile.top, tile.left + tile.width, tile.top + tile.height
    lines: list[Floats] = []
    words: list[Mark] = []
    for joined, x in ((tile.column > 1, left + half), (tile.column < tile.columns, right - half)):
        if joined:
            lines += [np.array([[x, top - gap], [x, top - gap - length]])]
            lines += [np.array([[x, bottom + gap], [x, bottom + gap + length]])]
            other = tile.column + (1 if x > (left + right) / 2 else -1)
            words.append(_beyond(f"{tile.row}-{other}", x, top - gap - length / 2, x > (left + right) / 2))
    for joined, y in ((tile.row > 1, top + half), (tile.row < tile.rows, bottom - half)):
        if joined:
            lines += [np.array([[left - gap, y], [left - gap - length, y]])]
            lines += [np.array([[right + gap, y], [right + gap + length, y]])]
    return [Stroke(tuple(lines), INK, 0.2), *words]


def _beyond(tile: str, x: float, y: float, to_the_right: bool) -> Words:
    anchor = Anchor.START if to_the_right else Anchor.END
    return Words(tile, x + (1.0 if to_the_right else -1.0), y, SMALL * 0.8, PALE_INK, anchor)
