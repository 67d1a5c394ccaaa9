"""Pixels of a region as the bits of one long integer, row by row from the lowest bit.

With that, whether a mask is free is asked for all its places at once by shifts and ors of long integers: an
erosion (van den Boomgaard and van Balen 1992, on morphology of bitmapped images, from memory).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class Mask:
    """The pixels that something covers, as runs `(row, first column, length)` inside `columns` x `rows`."""

    columns: int
    rows: int
    runs: tuple[tuple[int, int, int], ...]


def make_mask(pixels: NDArray[np.bool_]) -> Mask:
    """Return the mask of the true pixels of an array (rows, columns)."""
    edged = np.zeros((pixels.shape[0], pixels.shape[1] + 2), np.int8)
    edged[:, 1:-1] = pixels
    change = np.diff(edged, axis=1)
    row, first = np.nonzero(change == 1)
    last = np.nonzero(change == -1)[1]
    runs = tuple(zip(row.tolist(), first.tolist(), (last - first).tolist(), strict=True))
    return Mask(pixels.shape[1], pixels.shape[0], runs)


class Bitmap:
    """The taken pixels of a region of `columns` x `rows`."""

    def __init__(self, columns: int, rows: int) -> None:
        self.columns = columns
        self.rows = rows
        self._taken = 0
        self._each_row = _ones_apart(columns, rows)
        self._spans: list[int] = []

    def take(self, mask: Mask, column: int, row: int) -> None:
        """Mark the mask's pixels as taken, its corner at (column, row)."""
        bits = 0
        for down, first, length in mask.runs:
            bits |= ((1 << length) - 1) << (down * self.columns + first)
        self._taken |= bits << (row * self.columns + column)
        self._spans = []

    def take_pixels(self, pixels: NDArray[np.bool_]) -> None:
        """Mark the true pixels of an array of the region's size as taken."""
        self._taken |= int.from_bytes(np.packbits(pixels.ravel(), bitorder="little").tobytes(), "little")
        self._spans = []

    def first_free(self, mask: Mask, last_column: int, last_row: int) -> tuple[int, int] | None:
        """Return the topmost, then leftmost free place (column, row) for the mask's corner, None if none.

        Places are sought up to `last_column` and `last_row`, both included.
        """
        free = self._free(mask, last_column, last_row)
        if not free:
            return None
        row, column = divmod((free & -free).bit_length() - 1, self.columns)
        return column, row

    def all_free(self, mask: Mask, last_column: int, last_row: int) -> NDArray[np.intp]:
        """Return all free places (k, 2) for the mask's corner as columns and rows."""
        size = self.columns * self.rows
        octets = self._free(mask, last_column, last_row).to_bytes((size + 7) // 8, "little")
        places = np.nonzero(np.unpackbits(np.frombuffer(octets, np.uint8), bitorder="little"))[0]
        return np.column_stack([places % self.columns, places // self.columns])

    def _free(self, mask: Mask, last_column: int, last_row: int) -> int:
        last_column = min(last_column, self.columns - mask.columns)
        last_row = min(last_row, self.rows - mask.rows)
        if last_column < 0 or last_row < 0:
            return 0
        corners = self._each_row & ((1 << (self.columns * (last_row + 1))) - 1)
        places = corners * ((1 << (last_column + 1)) - 1)
        blocked = 0
        for down, first, length in mask.runs:
            power = length.bit_length() - 1
            span, offset = self._span(power), down * self.columns + first
            blocked |= span >> offset
            if length != 1 << power:
                blocked |= span >> (offset + length - (1 << power))
        return places & ~blocked

    def _span(self, power: int) -> int:
        """Return the pixels from which 2 ** power pixels rightwards are not all free."""
        if not self._spans:
            self._spans.append(self._taken)
        while len(self._spans) <= power:
            last = self._spans[-1]
            self._spans.append(last | last >> (1 << (len(self._spans) - 1)))
        return self._spans[power]


def _ones_apart(step: int, count: int) -> int:
    """Return `count` ones, `step` bits apart."""
    ones, have = 1, 1
    while have < count:
        more = min(have, count - have)
        ones |= (ones & ((1 << (step * more)) - 1)) << (step * have)
        have += more
    return ones
