"""The search for the trims of several papers, round by round: the one with the fewest rounds is next."""

import time
from collections.abc import Iterator, Mapping, Sequence

from peekpaper.plan.plan import PaperRounds, rounds_of
from peekpaper.plan.search import Found, searched
from peekpaper.plan.trims.task import PaperTask

FoundByPaper = Mapping[str, Found]
"""What was found for each paper, by its id."""


def found_by_turns(
    tasks: Sequence[PaperTask], asked: Sequence[PaperRounds] | None, seconds: float
) -> Iterator[FoundByPaper | None]:
    """Yield what is found for these papers, until `seconds` after the first answers, or until all is tried.

    None is yielded until each paper has its first answer, and after that what was yielded last, the same
    object, until a round has ended, so that the caller can show, stop or breathe. With `asked` the work ends
    after so many rounds of each paper instead, whatever the clock says. What is found for a paper depends on
    its rounds alone: papers may be shared out among any number of such searches.
    """
    yield from _Turns(tasks, asked, seconds).found()


class _Turns:
    def __init__(
        self, tasks: Sequence[PaperTask], asked: Sequence[PaperRounds] | None, seconds: float
    ) -> None:
        self._searches = {task.paper.id: searched(task) for task in tasks}
        self._asked = None if asked is None else rounds_of(asked)
        self._seconds = seconds
        self._found: dict[str, Found] = {}

    def found(self) -> Iterator[FoundByPaper | None]:
        for paper in self._searches:
            for _ in self._advance(paper):
                yield None
        end = time.monotonic() + self._seconds
        told = dict(self._found)
        if told:
            yield told
        active = [paper for paper in self._searches if self._may_go_on(paper)]
        while active and not self._is_late(end):
            paper = min(active, key=lambda one: self._found[one].rounds)
            before = self._found[paper]
            for _ in self._advance(paper):
                yield told
                if self._is_late(end):
                    break
            else:
                if self._found[paper] is before or not self._may_go_on(paper):
                    active.remove(paper)
                told = dict(self._found)
                yield told

    def _advance(self, paper: str) -> Iterator[None]:
        """Work until the next round of a paper has ended, or nothing is left to try for it."""
        for found in self._searches[paper]:
            if found is not None:
                self._found[paper] = found
                return
            yield

    def _may_go_on(self, paper: str) -> bool:
        return self._asked is None or self._found[paper].rounds < self._asked.get(paper, 0)

    def _is_late(self, end: float) -> bool:
        return self._asked is None and time.monotonic() >= end
