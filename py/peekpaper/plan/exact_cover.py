"""Exact cover: choose rows of a table of zeros and ones so that every column has its ones covered once.

The search is Knuth's Algorithm X ("Dancing links", 2000): always the column with the fewest rows left is
covered next.
"""

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

NODES_AT_ONCE = 40


class ExactCover:
    """A search for rows (k, columns) that cover each cell at most once and each kind as often as given.

    The first `len(often)` columns are kinds, of which `often` rows must be chosen; the others are cells, all
    but `spare` of which must be covered. `solution` holds the chosen rows' numbers once found; `is_done`
    tells that there is nothing left to try.
    """

    def __init__(self, rows: NDArray[np.bool_], often: Sequence[int], spare: int) -> None:
        self.solution: list[int] | None = None
        self.is_done = False
        self._rows = rows
        self._sums = rows.astype(np.float32)
        self._kinds = len(often)
        left = np.concatenate([np.array(often), np.ones(rows.shape[1] - len(often))]).astype(np.intp)
        self._search = self._nodes(np.arange(len(rows)), left, spare)
        self._chosen: list[int] = []

    def advance(self, nodes: int) -> Iterator[None]:
        """Look at so many nodes of the tree of choices; yields now and then."""
        for count in range(nodes):
            if next(self._search, None) is None:
                self.is_done = True
                return
            if count % NODES_AT_ONCE == NODES_AT_ONCE - 1:
                yield

    def _nodes(self, active: NDArray[np.intp], left: NDArray[np.intp], spare: int) -> Iterator[bool]:
        """Yield at each node; stops where a solution is found or the branch is done."""
        yield True
        counts = self._rows[active].sum(axis=0)
        counts[: self._kinds][left[: self._kinds] > 1] = len(self._rows)
        counts[left == 0] = len(self._rows) + 1
        column = int(counts.argmin())
        if counts[column] > len(self._rows):
            self.solution = list(self._chosen)
            return
        for row in active[self._rows[active, column]].tolist():
            yield from self._choose(row, active, left, spare)
            if self.solution is not None:
                return
            active = active[active != row]
        if spare > 0 and column >= self._kinds:
            after = left.copy()
            after[column] = 0
            yield from self._nodes(active, after, spare - 1)

    def _choose(
        self, row: int, active: NDArray[np.intp], left: NDArray[np.intp], spare: int
    ) -> Iterator[bool]:
        after = left - self._rows[row]
        used = self._sums[row].copy()
        used[: self._kinds][after[: self._kinds] > 0] = 0.0
        rest = active[self._sums[active] @ used == 0]
        self._chosen.append(row)
        yield from self._nodes(rest[rest != row], after, spare)
        if self.solution is None:
            self._chosen.pop()
