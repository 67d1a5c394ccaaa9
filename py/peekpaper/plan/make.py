"""Pieces into trims, trims onto mats: a first answer at once, then better ones."""

import time
from collections.abc import Iterator, Sequence
from dataclasses import replace

from peekpaper.papers.paper import Shelf
from peekpaper.plan.assemble import assemble
from peekpaper.plan.fill.first import first_layouts
from peekpaper.plan.plan import CutSpeed, PieceToPlace, Plan, PlanChoices
from peekpaper.plan.search import PaperSearch
from peekpaper.plan.trims.check import refuse_impossible_choices, refuse_impossible_pieces, refuse_too_large
from peekpaper.plan.trims.pins import refuse_contradictory_pins
from peekpaper.plan.trims.task import PaperTask, make_tasks


def plans(
    pieces: Sequence[PieceToPlace], shelf: Shelf, choices: PlanChoices, speed: CutSpeed, seconds: float
) -> Iterator[Plan]:
    """Yield a first plan, then better ones, until `seconds` are over or nothing better can be.

    Between two better plans the last one is yielded again, the same object, every few hundredths of a
    second, so that the caller can show, stop or breathe: a plan is new where it `is not` the one before.
    The last plan is `complete`. Trims grow no larger from plan to plan. With `choices.rounds` the work ends
    after so many rounds instead, whatever the clock says, and is repeatable: a plan that says how many
    `rounds` went into it comes again for that number. A round that the time cuts short counts for nothing.
    Raises Refusal for what can't be planned, before the first plan.
    """
    refuse_impossible_choices(choices)
    refuse_impossible_pieces(pieces, shelf, choices)
    refuse_contradictory_pins(pieces, shelf, choices)
    tasks = make_tasks(pieces, shelf, choices)
    refuse_too_large(tasks)
    yield from _Planning(tasks, choices, speed).plans(time.monotonic() + seconds)


class _Planning:
    """The planning of all papers, round by round, one paper after the other."""

    def __init__(self, tasks: Sequence[PaperTask], choices: PlanChoices, speed: CutSpeed) -> None:
        self._tasks = tasks
        self._choices = choices
        self._speed = speed
        self._layouts = {task.paper.id: tuple(first_layouts(task)) for task in tasks}
        self._rounds = 0

    def plans(self, end: float) -> Iterator[Plan]:
        plan = self._plan()
        if not self._tasks:
            yield replace(plan, complete=True)
            return
        yield plan
        searches = [PaperSearch(task, self._layouts[task.paper.id]) for task in self._tasks]
        while not self._is_over(end):
            active = [search for search in searches if not search.is_done]
            if not active:
                break
            search = active[self._rounds % len(active)]
            before = search.layouts
            for _ in search.round():
                yield plan
                if self._choices.rounds is None and time.monotonic() >= end:
                    break
            else:
                self._rounds += 1
            if search.layouts != before:
                self._layouts[search.paper] = search.layouts
                plan = self._plan()
                yield plan
        yield replace(self._plan(), complete=True)

    def _is_over(self, end: float) -> bool:
        if self._choices.rounds is not None:
            return self._rounds >= self._choices.rounds
        return time.monotonic() >= end

    def _plan(self) -> Plan:
        return assemble(self._tasks, self._layouts, self._choices, self._speed, self._rounds)
