"""What a bench measures, one row a figure, and the table that shows it.

Each `bench_*.py` beside this file has a function `main() -> Iterable[Row]`. `python3 build.py bench` runs
each in a process of its own and prints one table; `python3 build.py bench reading` runs `bench_reading.py`
alone.
The modules say `from table import Row, seconds`, since this folder is on their path.
"""

import resource
import sys
import time
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TypeVar

Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class Row:
    """One measured figure; `target` is the most (or least) it should be, None where it is only recorded.

    `at_least` says that `target` is a floor instead of a ceiling. `note` tells what the figure rests on:
    the number of cases, the reference, the source of the target.
    """

    part: str
    case: str
    value: float
    unit: str
    target: float | None = None
    at_least: bool = False
    note: str = ""

    @property
    def reached(self) -> bool:
        """Whether the figure keeps its target; a figure without one always does."""
        if self.target is None:
            return True
        return self.value >= self.target if self.at_least else self.value <= self.target


def seconds(work: Callable[[], Answer], *, repeats: int = 3) -> tuple[float, Answer]:
    """Return the least time that `work` took in so many runs, in seconds, with its last answer."""
    times = []
    for _ in range(repeats):
        begin = time.perf_counter()
        answer = work()
        times.append(time.perf_counter() - begin)
    return min(times), answer


def peak_memory_mb() -> float:
    """Return the most memory that this process has held so far, in MB (10^6 bytes)."""
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak / 1e6 if sys.platform == "darwin" else peak * 1024 / 1e6


def table(rows: Iterable[Row], usual: Callable[[Row], float | None]) -> str:
    """Lay the rows out as a Markdown table, beside each figure the `usual` one, a failed target marked."""
    heads = ("part", "case", "value", "usually", "unit", "target", "", "note")
    lines = [heads, *(_cells(row, usual(row)) for row in rows)]
    widths = [max(len(line[column]) for line in lines) for column in range(len(heads))]
    text = [
        "| " + " | ".join(cell.ljust(width) for cell, width in zip(line, widths, strict=True)) + " |"
        for line in lines
    ]
    rule = "| " + " | ".join("-" * width for width in widths) + " |"
    return "\n".join([text[0], rule, *text[1:]])


def _cells(row: Row, usual: float | None) -> tuple[str, ...]:
    bound = "" if row.target is None else f"{'>=' if row.at_least else '<='} {figure(row.target)}"
    before = "" if usual is None else figure(usual)
    missed = "" if row.reached else "MISSED"
    return row.part, row.case, figure(row.value), before, row.unit, bound, missed, row.note


def figure(value: float) -> str:
    """Return a value as the table shows it."""
    return f"{value:.4g}" if abs(value) < 10_000 else f"{value:,.0f}"
