"""Pieces into trims, trims onto mats: a first answer soon, then better ones."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from peekpaper.breathing import Breathing
from peekpaper.papers.paper import Shelf
from peekpaper.plan.assemble import assemble
from peekpaper.plan.by_turns import FoundByPaper, found_by_turns
from peekpaper.plan.plan import CutSpeed, PaperRounds, PieceToPlace, Plan, PlanChoices
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
    tasks = yield from make_ready(pieces, shelf, choices)
    last: FoundByPaper = {}
    plan: Plan | None = None
    for found in found_by_turns(tasks, choices.rounds, seconds):
        if found is not None:
            if plan is None or any(found[paper].layouts != last[paper].layouts for paper in found):
                plan = plan_of(tasks, found, choices, speed)
            last = found
        yield plan
    whole = plan or plan_of(tasks, last, choices, speed)
    yield replace(whole, rounds=_rounds(tasks, last), complete=True)


def make_ready(
    pieces: Sequence[PieceToPlace], shelf: Shelf, choices: PlanChoices
) -> Breathing[tuple[PaperTask, ...]]:
    """Return what is to be sought for each paper. Raises Refusal for what can't be planned."""
    refuse_impossible_choices(choices)
    refuse_impossible_pieces(pieces, shelf, choices)
    refuse_contradictory_pins(pieces, shelf, choices)
    tasks = []
    for task in make_tasks(pieces, shelf, choices):
        tasks.append(task)
        yield
    refuse_too_large(tasks)
    return tuple(tasks)


def plan_of(tasks: Sequence[PaperTask], found: FoundByPaper, choices: PlanChoices, speed: CutSpeed) -> Plan:
    """Return the plan of what was found for each paper, wherever it was sought; not yet `complete`."""
    layouts = {paper: each.layouts for paper, each in found.items()}
    return assemble(tasks, layouts, choices, speed, _rounds(tasks, found))


def _rounds(tasks: Sequence[PaperTask], found: FoundByPaper) -> tuple[PaperRounds, ...]:
    return tuple(PaperRounds(task.paper.id, found[task.paper.id].rounds) for task in tasks)
