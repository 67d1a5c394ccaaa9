"""Tables that run over pages."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from peekpaper.sheets.pages.page import LEADING, SMALL, TEXT, rule
from peekpaper.sheets.picture.colours import INK, PALE_INK
from peekpaper.sheets.picture.fills import Fill
from peekpaper.sheets.picture.picture import Anchor, Mark, Stroke, Words, moved_mark
from peekpaper.sheets.picture.typeface import wrapped

_PAD = 1.5
"""Above and below the lines of a row, in mm."""
_GUTTER = 3.0
"""Between columns, in mm."""
_SWATCH = 4.0
"""The side of a paper's colour, in mm."""
_SWATCH_ROOM = _SWATCH + 2
"""The colour and the space behind it."""
_LINE = TEXT * LEADING
_HEAD_HEIGHT = SMALL * LEADING + _PAD


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its heading, its share of the table's width, and on which side its text stands."""

    title: str
    share: float
    anchor: Anchor = Anchor.START


@dataclass(frozen=True, slots=True)
class Row:
    """A row of texts; `swatch` is a paper shown before the first of them, if any."""

    cells: tuple[str, ...]
    swatch: Fill | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Table:
    """A part of a table that fits one page: marks with its top left corner at (0, 0), and its height."""

    marks: tuple[Mark, ...]
    height: float


def tables(
    columns: Sequence[Column], rows: Sequence[Row], width: float, heights: Sequence[float]
) -> list[Table]:
    """Return the rows as tables, each with the headings on top.

    The first may be as high as the first of `heights` in mm, the following as the next; the last of them
    holds for all that follow. Only a row that is higher than any of them is split.
    """
    bounds = _bounds(columns, width)
    most = int((min(heights) - _HEAD_HEIGHT - 2 * _PAD) // _LINE)
    parts: list[Table] = []
    marks, y = _head(columns, bounds)
    for lines in (part for row in rows for part in _lines(row, bounds, most)):
        cells, height = _cells(columns, lines, bounds)
        limit = heights[min(len(parts), len(heights) - 1)]
        if y + height > limit and y > _HEAD_HEIGHT:
            parts.append(Table(tuple(marks), y))
            marks, y = _head(columns, bounds)
        marks += [moved_mark(mark, 0, y) for mark in cells]
        y += height
        marks.append(rule(0, y, width))
    return [*parts, Table(tuple(marks), y)]


def _bounds(columns: Sequence[Column], width: float) -> list[tuple[float, float]]:
    total = sum(column.share for column in columns)
    ends = np.cumsum([column.share for column in columns]) / total * (width + _GUTTER)
    starts = np.append(0, ends[:-1])
    return [(float(start), float(end) - _GUTTER) for start, end in zip(starts, ends, strict=True)]


def _head(columns: Sequence[Column], bounds: Sequence[tuple[float, float]]) -> tuple[list[Mark], float]:
    marks: list[Mark] = [
        Words(
            column.title,
            start if column.anchor is Anchor.START else end,
            SMALL,
            SMALL,
            PALE_INK,
            column.anchor,
        )
        for column, (start, end) in zip(columns, bounds, strict=True)
    ]
    line = np.array([[0, _HEAD_HEIGHT], [bounds[-1][1], _HEAD_HEIGHT]])
    return [*marks, Stroke((line,), INK, 0.25)], _HEAD_HEIGHT


@dataclass(frozen=True, slots=True)
class _Lines:
    """A row, or a part of one, with each cell's text in lines."""

    cells: tuple[list[str], ...]
    swatch: Fill | None


def _lines(row: Row, bounds: Sequence[tuple[float, float]], most: int) -> list[_Lines]:
    """Return a row in lines, in several parts where it has more than `most` of them."""
    rooms = [end - start for start, end in bounds]
    rooms[0] -= _SWATCH_ROOM if row.swatch is not None else 0
    cells = [wrapped(cell, TEXT, room) for cell, room in zip(row.cells, rooms, strict=True)]
    count = max(1, *map(len, cells))
    return [
        _Lines(tuple(lines[start : start + most] for lines in cells), None if start else row.swatch)
        for start in range(0, count, most)
    ]


def _cells(
    columns: Sequence[Column], row: _Lines, bounds: Sequence[tuple[float, float]]
) -> tuple[list[Mark], float]:
    marks: list[Mark] = []
    for index, (column, lines, (start, end)) in enumerate(zip(columns, row.cells, bounds, strict=True)):
        left = start
        if index == 0 and row.swatch is not None:
            marks += row.swatch.swatch(start, _PAD + (_LINE - _SWATCH) / 2, _SWATCH)
            left += _SWATCH_ROOM
        x = left if column.anchor is Anchor.START else end
        marks += [
            Words(line, x, _PAD + (place + 0.5) * _LINE, TEXT, INK, column.anchor)
            for place, line in enumerate(lines)
        ]
    return marks, 2 * _PAD + max(1, *map(len, row.cells)) * _LINE
