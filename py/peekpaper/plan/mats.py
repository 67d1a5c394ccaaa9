"""Lays rectangles on as few mats (or sheets) as it can, their corners on grid lines."""

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass

from peekpaper.plan.bitmap import Bitmap, Mask

EPSILON = 1e-6
DEFAULT_TRIES = 60


@dataclass(frozen=True, slots=True)
class Block:
    """A rectangle to lay, in mm; `may_turn` by a quarter turn."""

    width_mm: float
    height_mm: float
    may_turn: bool


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a block lies: mat (from 1), the corner's place in mm, and whether it is turned."""

    mat: int
    x_mm: float
    y_mm: float
    turned: bool


@dataclass(frozen=True, slots=True)
class Board:
    """A mat or sheet with a grid, in mm; blocks keep off its rim."""

    width_mm: float
    height_mm: float
    rim_mm: float
    grid_mm: float

    @property
    def first_line(self) -> int:
        """The first grid line that is past the rim, counted from the edge."""
        return math.ceil(self.rim_mm / self.grid_mm - EPSILON)

    def last_lines(self, width_mm: float, height_mm: float) -> tuple[int, int]:
        """Return the last grid lines (across, down) at which a block of that size may begin."""
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


def lay_on_mats(
    blocks: Sequence[Block], board: Board, fixed: Sequence[Spot | None], seed: int, tries: int = DEFAULT_TRIES
) -> list[Spot]:
    """Lay every block on a board, on as few boards as `tries` seeded orders find.

    `fixed[k]` is the spot that block k keeps. Among layouts on equally many boards the one that covers the
    least rectangle of the last board is taken. Each block must fit an empty board in one of its ways.
    """
    generator = random.Random(seed)
    free = [index for index, spot in enumerate(fixed) if spot is None]
    orders: list[list[int]] = [
        sorted(free, key=lambda index: -blocks[index].width_mm * blocks[index].height_mm),
        sorted(free, key=lambda index: -max(blocks[index].width_mm, blocks[index].height_mm)),
        sorted(free, key=lambda index: -blocks[index].width_mm),
        sorted(free, key=lambda index: -blocks[index].height_mm),
    ]
    best: tuple[tuple[float, ...], list[Spot]] | None = None
    for number in range(max(tries, 1)):
        order = orders[number] if number < len(orders) else _shuffled(orders[number % 4], generator)
        spots = _lay_in_order(blocks, board, fixed, order)
        score = _score(blocks, spots)
        if best is None or score < best[0]:
            best = (score, spots)
        if len(free) <= 1:
            break
    assert best is not None
    return best[1]


def _shuffled(order: Sequence[int], generator: random.Random) -> list[int]:
    """Return the order slightly disturbed: largest first stays the rule, not the law."""
    ranked = [(place + generator.gauss(0, 0.3 * len(order)), index) for place, index in enumerate(order)]
    return [index for _, index in sorted(ranked)]


def _lay_in_order(
    blocks: Sequence[Block], board: Board, fixed: Sequence[Spot | None], order: Sequence[int]
) -> list[Spot]:
    boards: list[Bitmap] = []
    spots: dict[int, Spot] = {}
    for index, spot in enumerate(fixed):
        if spot is not None:
            while len(boards) < spot.mat:
                boards.append(_empty(board))
            column, row = (round(at / board.grid_mm) - board.first_line for at in (spot.x_mm, spot.y_mm))
            boards[spot.mat - 1].take(_mask(blocks[index], board, spot.turned), column, row)
            spots[index] = spot
    for index in order:
        for number in range(1, len(boards) + 2):
            if number > len(boards):
                boards.append(_empty(board))
            found = _best_place(blocks[index], board, boards[number - 1])
            if found is not None:
                column, row, is_turned = found
                boards[number - 1].take(_mask(blocks[index], board, is_turned), column, row)
                x, y = (board.at(line + board.first_line) for line in (column, row))
                spots[index] = Spot(number, x, y, is_turned)
                break
        else:
            raise ValueError("a block is larger than the board")
    return [spots[index] for index in range(len(blocks))]


def free_spots(
    block: Block, is_turned: bool, board: Board, taken: Sequence[tuple[Block, Spot]]
) -> list[tuple[float, float]]:
    """Return all corners (x, y) in mm at which a block lies on grid lines, clear of those already there."""
    bitmap = _empty(board)
    for other, spot in taken:
        column, row = (round(at / board.grid_mm) - board.first_line for at in (spot.x_mm, spot.y_mm))
        bitmap.take(_mask(other, board, spot.turned), column, row)
    width, height = _sides(block, is_turned)
    last_column, last_row = (line - board.first_line for line in board.last_lines(width, height))
    places = bitmap.all_free(_mask(block, board, is_turned), last_column, last_row)
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


def _sides(block: Block, is_turned: bool) -> tuple[float, float]:
    return (block.height_mm, block.width_mm) if is_turned else (block.width_mm, block.height_mm)


def _mask(block: Block, board: Board, is_turned: bool) -> Mask:
    columns, rows = (board.cells(side) for side in _sides(block, is_turned))
    return Mask(columns, rows, tuple((row, 0, columns) for row in range(rows)))


def _best_place(block: Block, board: Board, bitmap: Bitmap) -> tuple[int, int, bool] | None:
    """Return the free place (column, row, turned) whose far edges lie nearest the top, then the left."""
    best: tuple[tuple[int, int], tuple[int, int, bool]] | None = None
    for is_turned in (False, True) if block.may_turn else (False,):
        width, height = _sides(block, is_turned)
        last_column, last_row = (line - board.first_line for line in board.last_lines(width, height))
        mask = _mask(block, board, is_turned)
        place = bitmap.first_free(mask, last_column, last_row)
        if place is not None:
            key = (place[1] + mask.rows, place[0] + mask.columns)
            if best is None or key < best[0]:
                best = (key, (*place, is_turned))
    return best[1] if best else None


def _score(blocks: Sequence[Block], spots: Sequence[Spot]) -> tuple[float, ...]:
    mats = max((spot.mat for spot in spots), default=0)
    right = bottom = 0.0
    for block, spot in zip(blocks, spots, strict=True):
        if spot.mat == mats:
            width, height = _sides(block, spot.turned)
            right, bottom = max(right, spot.x_mm + width), max(bottom, spot.y_mm + height)
    return (mats, right * bottom, right + bottom)
