"""Where a field of values passes through zero, as closed rings between the px.

Marching squares, the plane case of William E. Lorensen and Harvey E. Cline, "Marching cubes" (SIGGRAPH 1987):
rings cross the sides between neighbouring values where straight interpolation is zero. Sides are linked cell
by cell for the whole picture at once; which ring a crossing is on, and how far along, is found by pointer
jumping (Wyllie's list ranking, 1979).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from peekpaper.geometry.outline import Floats, Indices

# The sides of a cell.
_TOP, _RIGHT, _BOTTOM, _LEFT = range(4)
# By which of a cell's corners are inside (top left 1, top right 2, bottom right 4, bottom left 8): from which
# of its sides a ring goes to which, the inside on its right. Saddles have two, of either pairing.
_SEGMENTS: dict[int, tuple[tuple[int, int], ...]] = {
    1: ((_TOP, _LEFT),),
    2: ((_RIGHT, _TOP),),
    3: ((_RIGHT, _LEFT),),
    4: ((_BOTTOM, _RIGHT),),
    6: ((_BOTTOM, _TOP),),
    7: ((_BOTTOM, _LEFT),),
    8: ((_LEFT, _BOTTOM),),
    9: ((_TOP, _BOTTOM),),
    11: ((_RIGHT, _BOTTOM),),
    12: ((_LEFT, _RIGHT),),
    13: ((_TOP, _RIGHT),),
    14: ((_LEFT, _TOP),),
}
# Saddles where the cell's middle is outside.
_APART = {5: ((_TOP, _LEFT), (_BOTTOM, _RIGHT)), 10: ((_RIGHT, _TOP), (_LEFT, _BOTTOM))}
# Saddles where it is inside.
_TOGETHER = {5: ((_TOP, _RIGHT), (_BOTTOM, _LEFT)), 10: ((_LEFT, _TOP), (_RIGHT, _BOTTOM))}


@dataclass(frozen=True, slots=True, eq=False)
class Rings:
    """Closed rings laid end to end: `points` (n, 2), px 0 from 0 to 1, and `heads`, where each begins."""

    points: Floats
    heads: Indices

    @property
    def counts(self) -> Indices:
        """How many points each ring has."""
        return np.diff(np.append(self.heads, len(self.points)))

    def areas(self) -> Floats:
        """Return what each ring encloses; below 0 where it goes about a hole."""
        if not len(self.heads):
            return np.zeros(0)
        following = np.arange(1, len(self.points) + 1)
        following[np.append(self.heads[1:], len(self.points)) - 1] = self.heads
        x, y = self.points.T
        crosses = x * y[following] - x[following] * y
        areas: Floats = np.add.reduceat(crosses, self.heads) / 2
        return areas

    def chosen(self, which: NDArray[np.bool_]) -> "Rings":
        """Return some of the rings."""
        counts = self.counts
        kept = np.repeat(which, counts)
        ends = np.cumsum(counts[which])
        return Rings(self.points[kept], ends - counts[which])


def zero_rings(field: NDArray[np.float32]) -> Rings:
    """Return the rings that part values above 0 from the others; a field should end in values below 0."""
    height, width = field.shape
    inside = field > 0
    mixed = inside[:-1, :-1] ^ inside[:-1, 1:]
    mixed |= inside[1:, :-1] ^ inside[1:, 1:]
    mixed |= inside[:-1, :-1] ^ inside[1:, :-1]
    row, column = np.nonzero(mixed)
    del mixed
    if not len(row):
        return Rings(np.zeros((0, 2)), np.zeros(0, dtype=np.intp))
    starts, ends = _linked_sides(field, inside, row, column)
    order = np.argsort(starts)
    starts, ends = starts[order], ends[order]
    after = np.searchsorted(starts, ends)
    points = _crossings(field, starts, height * width, width)
    return _in_order(points, after)


def _linked_sides(
    field: NDArray[np.float32], inside: NDArray[np.bool_], row: Indices, column: Indices
) -> tuple[Indices, Indices]:
    """Return which side of the px grid each segment leads from, and which to.

    A side is numbered by the px that it goes out from: to the right below the count of px, downwards from it.
    """
    height, width = field.shape
    corners = [inside[row + down, column + right] for down, right in ((0, 0), (0, 1), (1, 1), (1, 0))]
    code = sum(corner.astype(np.int8) << bit for bit, corner in enumerate(corners))
    middle = sum(field[row + down, column + right] for down, right in ((0, 0), (0, 1), (1, 1), (1, 0)))
    first = row * width + column
    down = height * width
    side = {_TOP: first, _RIGHT: first + down + 1, _BOTTOM: first + width, _LEFT: first + down}
    starts, ends = [], []
    for cases, among in ((_SEGMENTS, None), (_APART, middle <= 0), (_TOGETHER, middle > 0)):
        for case, segments in cases.items():
            cells = np.flatnonzero(code == case if among is None else (code == case) & among)
            for start, end in segments:
                starts.append(side[start][cells])
                ends.append(side[end][cells])
    return np.concatenate(starts), np.concatenate(ends)


def _crossings(field: NDArray[np.float32], sides: Indices, count: int, width: int) -> Floats:
    values = field.ravel()
    downwards = sides >= count
    one = sides - np.where(downwards, count, 0)
    first, second = values[one], values[one + np.where(downwards, width, 1)]
    share = (first / (first - second)).astype(np.float64)
    return np.stack(
        [
            one % width + 0.5 + np.where(downwards, 0.0, share),
            one // width + 0.5 + np.where(downwards, share, 0.0),
        ],
        axis=-1,
    )


def _in_order(points: Floats, after: Indices) -> Rings:
    """Return points as rings, where each is followed by the point `after`."""
    count = len(points)
    first, jump = np.arange(count), after
    for _ in range(count.bit_length()):
        lower = np.minimum(first, first[jump])
        if np.array_equal(lower, first):
            break
        first, jump = lower, jump[jump]
    # Each ring ends before its first point; the steps from a point to there are summed in doubling jumps.
    last = after == first
    jump = np.where(last, np.arange(count), after)
    ahead = (~last).astype(np.intp)
    for _ in range(count.bit_length()):
        step = ahead[jump]
        if not step.any():
            break
        ahead += step
        jump = jump[jump]
    order = np.lexsort((-ahead, first))
    heads = np.flatnonzero(np.diff(first[order], prepend=-1))
    return Rings(points[order], heads)
