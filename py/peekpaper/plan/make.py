"""Pieces into trims, trims onto mats: a first answer soon, then better ones."""

import time
from collections.abc import Iterator, Sequence
from dataclasses import replace

from peekpaper.papers.paper import Shelf
from peekpaper.plan.assemble import assemble
from peekpaper.plan.plan import CutSpeed, PaperRounds, PieceToPlace, Plan, PlanChoices, rounds_of
from peekpaper.plan.search import Found, searched
from peekpaper.plan.trims.check import refuse_impossible_choices, refuse_impossible_pieces, refuse_too_large
from peekpaper.plan.trims.pins import refuse_contradictory_pins
from peekpaper.plan.trims.task import PaperTask, make_tasks


def plans(
    pieces: Sequence[PieceToPlace], shelf: Shelf, choices: PlanChoices, speed: CutSpeed, seconds: float
) -> Iterator[Plan | None]:
    """Yield a first plan, then better ones, until `seconds` after it or until nothing better can be.

    Every few hundredths of a second something is yielded, so that the caller can show, stop or breathe: None
    before the first plan, then the last plan again, the same object, until there is a better one. The last
    plan is `complete`. Trims grow no larger from plan to plan. With `choices.rounds` the work ends after so
    many rounds of each paper instead, whatever the clock says, and is repeatable: a plan that says how many
    `rounds` of each paper went into it comes again for those. A round that the time cuts short counts for
    nothing. Raises Refusal for what can't be planned, before the first plan.
    """
    refuse_impossible_choices(choices)
    refuse_impossible_pieces(pieces, shelf, choices)
    refuse_contradictory_pins(pieces, shelf, choices)
    tasks = []
    for task in make_tasks(pieces, shelf, choices):
        tasks.append(task)
        yield None
    refuse_too_large(tasks)
    yield from _Planning(tasks, choices, speed).plans(seconds)


class _Planning:
    """The planning of all papers, round by round, one paper after the other."""

    def __init__(self, tasks: Sequence[PaperTask], choices: PlanChoices, speed: CutSpeed) -> None:
        self._tasks = tasks
        self._choices = choices
        self._speed = speed
        self._searches = {task.paper.id: searched(task) for task in tasks}
        self._found: dict[str, Found] = {}

    def plans(self, seconds: float) -> Iterator[Plan | None]:
        for paper in self._searches:
            yield from self._advance(paper)
        end = time.monotonic() + seconds
        plan = self._plan()
        if self._tasks:
            yield plan
        active = [paper for paper in self._searches if self._may_go_on(paper)]
        while active and not self._is_late(end):
            paper = min(active, key=lambda one: self._found[one].rounds)
            before = self._found[paper]
            for _ in self._advance(paper):
                yield plan
                if self._is_late(end):
                    break
            else:
                found = self._found[paper]
                if found is before or not self._may_go_on(paper):
                    active.remove(paper)
                if found.layouts != before.layouts:
                    plan = self._plan()
                    yield plan
        yield replace(self._plan(), complete=True)

    def _advance(self, paper: str) -> Iterator[None]:
        """Work until the next round of a paper has ended, or nothing is left to try for it."""
        for found in self._searches[paper]:
            if found is not None:
                self._found[paper] = found
                return
            yield

    def _may_go_on(self, paper: str) -> bool:
        asked = self._choices.rounds
        return asked is None or self._found[paper].rounds < rounds_of(asked).get(paper, 0)

    def _is_late(self, end: float) -> bool:
        return self._choices.rounds is None and time.monotonic() >= end

    def _plan(self) -> Plan:
        layouts = {paper: found.layouts for paper, found in self._found.items()}
        rounds = tuple(PaperRounds(paper, found.rounds) for paper, found in self._found.items())
        return assemble(self._tasks, layouts, self._choices, self._speed, rounds)
