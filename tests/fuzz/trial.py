"""Trying many spoilt inputs: each within bounds, all even if some fail, and those that fail told small."""

import os
import traceback
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from pathlib import Path

from bounds import bounded
from shrinking import Given, shrunk

MOST_FINDS = 10
MOST_LETTERS = 4000


def share_of_inputs(share: float) -> int:
    """Return how many inputs a test tries: its share of FUZZ_INPUTS, 3000 where the variable is not set."""
    return max(1, round(share * int(os.environ.get("FUZZ_INPUTS", "3000"))))


@dataclass
class Trial:
    """How many inputs ended in a result and how many in a refusal; the rest is what a trial is after."""

    results: int = 0
    refusals: int = 0
    finds: dict[str, str] = field(default_factory=dict)

    def of(self, inputs: Iterable[Given], has_result: Callable[[Given], bool]) -> None:
        """Try every input; `has_result` tells a result from a refusal and raises where it is neither.

        Raises AssertionError at the end with one small input for each way to fail.
        """
        for given in inputs:
            try:
                self._count(given, has_result)
            except Exception as failure:
                if (way := _way(failure)) not in self.finds and len(self.finds) < MOST_FINDS:
                    self.finds[way] = _told(shrunk(given, _fails_by(way, has_result)))
        assert not self.finds, "\n".join(f"{way}\n  {given}" for way, given in self.finds.items())

    def _count(self, given: Given, has_result: Callable[[Given], bool]) -> None:
        with bounded():
            result = has_result(given)
        if result:
            self.results += 1
        else:
            self.refusals += 1


def _fails_by(way: str, has_result: Callable[[Given], bool]) -> Callable[[Given], bool]:
    def fails(given: Given) -> bool:
        try:
            with bounded():
                has_result(given)
        except Exception as failure:
            return _way(failure) == way
        return False

    return fails


def _way(failure: Exception) -> str:
    """Return what failed where, which tells one fault from another."""
    *_, last = traceback.extract_tb(failure.__traceback__)
    return f"{type(failure).__name__} at {Path(last.filename).name}:{last.lineno} ({last.line})"


def _told(given: object) -> str:
    text = repr(given)
    return text if len(text) <= MOST_LETTERS else f"{text[:MOST_LETTERS]} ... ({len(text)} letters)"
