"""Fits pieces made of equal squares into a rectangle of squares, as pentominoes are: an exact cover."""

from collections.abc import Iterator

import numpy as np

from peekpaper.plan.cells import Cells
from peekpaper.plan.exact_cover import ExactCover
from peekpaper.plan.shape import Pose

NODES_A_ROUND = 120
MOST_ROWS = 12000


class CellFit:
    """A search for one way to fit all pieces into `columns` x `rows` squares; goes on round by round.

    `solution` holds the poses by index once it is found; after `most_rounds` it gives up.
    """

    def __init__(self, cells: Cells, columns: int, rows: int, most_rounds: int) -> None:
        self.solution: dict[int, Pose] | None = None
        self._rounds_left = most_rounds
        self._cells = cells
        self._kinds = _kinds(cells)
        self._rows: list[tuple[int, int, int, int]] = []
        self._cover = self._make_cover(columns, rows)

    @property
    def is_done(self) -> bool:
        """Tell whether a way was found, none is left, or too much was tried."""
        is_over = self._cover is None or self._cover.is_done or self._rounds_left == 0
        return self.solution is not None or is_over

    def round(self) -> Iterator[None]:
        """Try some more ways; yields to let the caller breathe."""
        if self._cover is None:
            return
        self._rounds_left -= 1
        yield from self._cover.advance(NODES_A_ROUND)
        if self._cover.solution is not None:
            self.solution = self._poses(self._cover.solution)

    def _make_cover(self, columns: int, rows: int) -> ExactCover | None:
        first = [kind for kind, members in enumerate(self._kinds) if members]
        table = []
        for column_of_kind, kind in enumerate(first):
            for number, way in enumerate(self._cells.ways[kind]):
                across, down = way.squares.max(axis=0) + 1
                for row in range(rows - down + 1):
                    for column in range(columns - across + 1):
                        covered = (way.squares[:, 1] + row) * columns + way.squares[:, 0] + column
                        table.append((column_of_kind, covered))
                        self._rows.append((kind, number, column, row))
            if len(table) > MOST_ROWS:
                return None
        spare = columns * rows - self._cells.count
        if spare < 0:
            return None
        covers = np.zeros((len(table), len(first) + columns * rows), bool)
        for index, (kind, covered) in enumerate(table):
            covers[index, kind] = True
            covers[index, len(first) + covered] = True
        return ExactCover(covers, [len(self._kinds[kind]) for kind in first], spare)

    def _poses(self, chosen: list[int]) -> dict[int, Pose]:
        waiting = [list(members) for members in self._kinds]
        poses = {}
        for kind, number, column, row in (self._rows[index] for index in chosen):
            piece = waiting[kind].pop()
            way = self._same_way(kind, number, piece)
            poses[piece] = self._cells.ways[piece][way].pose(column, row, self._cells.cell_mm)
        return poses

    def _same_way(self, kind: int, number: int, piece: int) -> int:
        """Return which way of a piece covers the squares that way `number` of its kind covers."""
        squares = self._cells.ways[kind][number].squares.tobytes()
        own = [way.squares.tobytes() for way in self._cells.ways[piece]]
        return own.index(squares)


def _kinds(cells: Cells) -> list[list[int]]:
    """Return for each piece those of its kind, empty but for the first of each kind."""
    kinds: list[list[int]] = [[] for _ in cells.ways]
    first: dict[frozenset[bytes], int] = {}
    for index, ways in enumerate(cells.ways):
        key = frozenset(way.squares.tobytes() for way in ways)
        kinds[first.setdefault(key, index)].append(index)
    return kinds
