"""The figures of earlier runs on this machine, and which of a new run are worse by more than noise.

What noise is, earlier runs tell themselves: by how much they differed from one another.
"""

import json
import statistics
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from table import Row, figure

MOST_RUNS = 7
"""As many runs of each figure are kept, the newest."""
LEAST_NOISE = 0.1
"""A smaller share is told of no figure: a few runs have not shown all their noise (from memory)."""
LESS_IS_BETTER = {"s", "ms", "MB", "kB", "x", "MB brotli", "MB gzip"}
"""Units of costs; what is counted otherwise is better or worse only where it has a target."""


@dataclass(frozen=True, slots=True)
class Earlier:
    """The values of earlier runs by figure, the newest last."""

    values: Mapping[str, tuple[float, ...]]

    @classmethod
    def read(cls, file: Path) -> "Earlier":
        """Return what was kept; nothing where there is no such file."""
        kept = json.loads(file.read_text()) if file.is_file() else {}
        return cls({name: tuple(values) for name, values in kept.items()})

    def write(self, file: Path) -> None:
        """Keep it for the runs to come."""
        file.write_text(json.dumps({name: list(values) for name, values in self.values.items()}, indent=1))

    def usual(self, row: Row) -> float | None:
        """Return the median of a figure's earlier values, None where it is new."""
        values = self.values.get(_name(row))
        return statistics.median(values) if values else None

    def worse(self, rows: Iterable[Row]) -> Iterator[str]:
        """Yield a line for each figure that is worse than all before, by more than they differed."""
        for row in rows:
            values = self.values.get(_name(row), ())
            if not values or (row.target is None and row.unit not in LESS_IS_BETTER):
                continue
            middle = statistics.median(values)
            noise = max(LEAST_NOISE * abs(middle), max(values) - min(values))
            if (middle - row.value if row.at_least else row.value - middle) > noise:
                told = f"{figure(row.value)} {row.unit}".rstrip()
                yield f"Worse: {row.part}, {row.case}: {told}, usually {figure(middle)}"

    def with_run(self, rows: Iterable[Row]) -> "Earlier":
        """Return it with the figures of one more run."""
        values = dict(self.values)
        for row in rows:
            values[_name(row)] = (*values.get(_name(row), ()), row.value)[-MOST_RUNS:]
        return Earlier(values)


def _name(row: Row) -> str:
    return f"{row.part}: {row.case}"
