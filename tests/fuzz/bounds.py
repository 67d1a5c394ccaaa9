"""The bounds that each fuzzed input must keep: processor time, and memory where the system tells it."""

import contextlib
import faulthandler
import resource
import signal
from collections.abc import Iterator
from pathlib import Path
from types import FrameType

SECONDS = 10.0
"""Processor time of one input; however busy the machine is, it counts the same."""

HANGING_SECONDS = 300.0
"""Time by the clock after which the whole run is ended with a trace: a library's own code hangs, and no
exception can reach it there."""

MEMORY_BYTES = 1 << 30
"""Address space that one input may take beyond what was in use before it: a gibibyte."""

_TAKEN = Path("/proc/self/statm")


@contextlib.contextmanager
def bounded(seconds: float = SECONDS, memory_bytes: int = MEMORY_BYTES) -> Iterator[None]:
    """Raise TimeoutError or MemoryError where what runs inside goes beyond the bounds."""

    def stop(_number: int, _frame: FrameType | None) -> None:
        raise TimeoutError(f"no end after {seconds:g} s of processor time")

    before = signal.signal(signal.SIGPROF, stop)
    signal.setitimer(signal.ITIMER_PROF, seconds)
    faulthandler.dump_traceback_later(HANGING_SECONDS, exit=True)
    try:
        with _within_memory(memory_bytes):
            yield
    finally:
        faulthandler.cancel_dump_traceback_later()
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, before)


@contextlib.contextmanager
def _within_memory(memory_bytes: int) -> Iterator[None]:
    if not _TAKEN.is_file():
        yield
        return
    taken = int(_TAKEN.read_text().split()[0]) * resource.getpagesize()
    limits = resource.getrlimit(resource.RLIMIT_AS)
    resource.setrlimit(resource.RLIMIT_AS, (taken + memory_bytes, limits[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_AS, limits)
