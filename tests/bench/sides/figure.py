"""One figure that is taken on both sides, natively and in the page's Python, and the clock it is taken by.

Modules in this folder run on both sides: they use numpy, shapely, the package and one another alone. Each has
`figures() -> Iterable[Figure]`.
"""

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True)
class Figure:
    """A measured figure with its targets, the most that it should be on each side (None: only recorded)."""

    case: str
    value: float
    unit: str = "s"
    native: float | None = None
    page: float | None = None
    note: str = ""


def seconds(work: Callable[[], Answer], *, repeats: int = 3) -> tuple[float, Answer]:
    """Return the least time that `work` took in so many runs, in seconds, with its last answer.

    Of wall and processor time the lesser counts, so that what else the machine does counts little.
    """
    times = []
    for _ in range(repeats):
        begin = _clocks()
        answer = work()
        times.append(min(end - start for start, end in zip(begin, _clocks(), strict=True)))
    return min(times), answer


def _clocks() -> tuple[float, float]:
    return time.perf_counter(), processor_seconds()


def processor_seconds() -> float:
    try:
        from js import process
    except ImportError:
        return time.process_time()
    # WebAssembly has no clock for processor time; that of Node.js counts its helping threads too.
    used = process.cpuUsage()
    return float(used.user + used.system) / 1e6
