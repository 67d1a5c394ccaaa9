"""Lays rectangles on as few mats (or sheets) as it can, their corners on grid lines.

Two-dimensional bin packing: first fit by decreasing size, each item at the place that reaches least far down,
then right (bottom-left: Baker, Coffman and Rivest 1980), in some orders and in ones disturbed at random.
"""

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass

from peekpaper.plan.shapes.bitmap import Bitmap, Mask

EPSILON = 1e-6
"""Grid lines: sides that differ by less than this part of a cell are equal."""
DEFAULT_TRIES = 60
"""How many orders to try; by experience, more find fewer boards hardly ever."""
DISTURBED = 0.3
"""By what part of their number items change places in a disturbed order (standard deviation)."""


@dataclass(frozen=True, slots=True)
class Item:
    """A rectangle to lay, in mm; `may_turn` by a quarter turn."""

    width_mm: float
    height_mm: float
    may_turn: bool


@dataclass(frozen=True, slots=True)
class Placement:
    """Where an item lies: on which board (from 1), its top left corner in mm, whether it is turned."""

    board: int
    x_mm: float
    y_mm: float
    turned: bool


@dataclass(frozen=True, slots=True)
class Board:
    """A mat or sheet with a printed grid, in mm; items keep off its rim."""

    width_mm: float
    height_mm: float
    rim_mm: float
    grid_mm: float

    @property
    def first_line(self) -> int:
        """The first grid line that is past the rim, counted from the edge."""
        return math.ceil(self.rim_mm / self.grid_mm - EPSILON)

    def last_lines(self, width_mm: float, height_mm: float) -> tuple[int, int]:
        """Return the last grid lines (across, down) at which an item of that size may begin."""
        return (
            math.floor((self.width_mm - self.rim_mm - width_mm) / self.grid_mm + EPSILON),
            math.floor((self.height_mm - self.rim_mm - height_mm) / self.grid_mm + EPSILON),
        )

    def at(self, line: int) -> float:
        """Return where a grid line lies, in mm from the edge."""
        return round(line * self.grid_mm, 6)

    def cells(self, length_mm: float) -> int:
        """Return how many grid cells a length covers, at least in part."""
        return max(1, math.ceil(length_mm / self.grid_mm - EPSILON))


def pack(
    items: Sequence[Item],
    board: Board,
    fixed: Sequence[Placement | None],
    seed: int,
    tries: int = DEFAULT_TRIES,
) -> list[Placement]:
    """Lay every item on a board, on as few boards as `tries` seeded orders find.

    `fixed[k]` is the placement that item k keeps. Among layouts on equally many boards the one that covers
    the least rectangle of the last board is taken. Each item must fit an empty board in one of its ways.
    """
    generator = random.Random(seed)
    free = [index for index, placement in enumerate(fixed) if placement is None]
    orders: list[list[int]] = [
        sorted(free, key=lambda index: -items[index].width_mm * items[index].height_mm),
        sorted(free, key=lambda index: -max(items[index].width_mm, items[index].height_mm)),
        sorted(free, key=lambda index: -items[index].width_mm),
        sorted(free, key=lambda index: -items[index].height_mm),
    ]
    best: tuple[tuple[float, ...], list[Placement]] | None = None
    for number in range(max(tries, 1)):
        order = orders[number] if number < len(orders) else _shuffled(orders[number % 4], generator)
        placements = _lay_in_order(items, board, fixed, order)
        score = _score(items, placements)
        if best is None or score < best[0]:
            best = (score, placements)
        if len(free) <= 1:
            break
    assert best is not None
    return best[1]


def _shuffled(order: Sequence[int], generator: random.Random) -> list[int]:
    """Return the order slightly disturbed: largest first stays the rule, not the law."""
    ranked = [
        (place + generator.gauss(0, DISTURBED * len(order)), index) for place, index in enumerate(order)
    ]
    return [index for _, index in sorted(ranked)]


def _lay_in_order(
    items: Sequence[Item], board: Board, fixed: Sequence[Placement | None], order: Sequence[int]
) -> list[Placement]:
    boards: list[Bitmap] = []
    placements: dict[int, Placement] = {}
    for index, placement in enumerate(fixed):
        if placement is not None:
            while len(boards) < placement.board:
                boards.append(_empty(board))
            column, row = (
                round(at / board.grid_mm) - board.first_line for at in (placement.x_mm, placement.y_mm)
            )
            boards[placement.board - 1].take(_mask(items[index], board, placement.turned), column, row)
            placements[index] = placement
    for index in order:
        for number in range(1, len(boards) + 2):
            if number > len(boards):
                boards.append(_empty(board))
            found = _best_place(items[index], board, boards[number - 1])
            if found is not None:
                column, row, is_turned = found
                boards[number - 1].take(_mask(items[index], board, is_turned), column, row)
                x, y = (board.at(line + board.first_line) for line in (column, row))
                placements[index] = Placement(number, x, y, is_turned)
                break
        else:
            raise ValueError("an item is larger than the board")
    return [placements[index] for index in range(len(items))]


def free_placements(
    item: Item, is_turned: bool, board: Board, taken: Sequence[tuple[Item, Placement]]
) -> list[tuple[float, float]]:
    """Return all corners (x, y) in mm at which an item lies on grid lines, clear of those already there."""
    bitmap = _empty(board)
    for other, placement in taken:
        column, row = (
            round(at / board.grid_mm) - board.first_line for at in (placement.x_mm, placement.y_mm)
        )
        bitmap.take(_mask(other, board, placement.turned), column, row)
    width, height = _sides(item, is_turned)
    last_column, last_row = (line - board.first_line for line in board.last_lines(width, height))
    places = bitmap.all_free(_mask(item, board, is_turned), last_column, last_row)
    return [
        (board.at(column + board.first_line), board.at(row + board.first_line))
        for column, row in places.tolist()
    ]


def _empty(board: Board) -> Bitmap:
    columns, rows = (
        board.cells(max(side - board.first_line * board.grid_mm, board.grid_mm))
        for side in (board.width_mm, board.height_mm)
    )
    return Bitmap(columns, rows)


def _sides(item: Item, is_turned: bool) -> tuple[float, float]:
    return (item.height_mm, item.width_mm) if is_turned else (item.width_mm, item.height_mm)


def _mask(item: Item, board: Board, is_turned: bool) -> Mask:
    columns, rows = (board.cells(side) for side in _sides(item, is_turned))
    return Mask(columns, rows, tuple((row, 0, columns) for row in range(rows)))


def _best_place(item: Item, board: Board, bitmap: Bitmap) -> tuple[int, int, bool] | None:
    """Return the free place (column, row, turned) whose far edges lie nearest the top, then the left."""
    best: tuple[tuple[int, int], tuple[int, int, bool]] | None = None
    for is_turned in (False, True) if item.may_turn else (False,):
        width, height = _sides(item, is_turned)
        last_column, last_row = (line - board.first_line for line in board.last_lines(width, height))
        mask = _mask(item, board, is_turned)
        place = bitmap.first_free(mask, last_column, last_row)
        if place is not None:
            key = (place[1] + mask.rows, place[0] + mask.columns)
            if best is None or key < best[0]:
                best = (key, (*place, is_turned))
    return best[1] if best else None


def _score(items: Sequence[Item], placements: Sequence[Placement]) -> tuple[float, ...]:
    mats = max((placement.board for placement in placements), default=0)
    right = bottom = 0.0
    for item, placement in zip(items, placements, strict=True):
        if placement.board == mats:
            width, height = _sides(item, placement.turned)
            right, bottom = max(right, placement.x_mm + width), max(bottom, placement.y_mm + height)
    return (mats, right * bottom, right + bottom)
