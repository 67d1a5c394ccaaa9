"""Pieces into trims, trims onto mats: a first answer at once, then better ones."""

from collections.abc import Iterator, Sequence

from peekpaper.papers.paper import Shelf
from peekpaper.plan.assemble import assemble
from peekpaper.plan.check import refuse_impossible_choices, refuse_impossible_pieces, refuse_too_large
from peekpaper.plan.first import first_layouts
from peekpaper.plan.plan import CutSpeed, PieceToPlace, Plan, PlanChoices
from peekpaper.plan.task import make_tasks


def plans(
    pieces: Sequence[PieceToPlace], shelf: Shelf, choices: PlanChoices, speed: CutSpeed, seconds: float
) -> Iterator[Plan]:
    """Yield a first plan, then better ones, until `seconds` are over or nothing better can be.

    Between two better plans the last one is yielded again, the same object, every few hundredths of a second,
    so that the caller can show, stop or breathe: a plan is new where it `is not` the one before. The last plan
    is `complete`. Trims grow no larger from plan to plan. With `choices.rounds` the work ends after so many
    rounds instead, whatever the clock says, and is the same on every machine.
    Raises Refusal for what can't be planned, before the first plan.
    """
    refuse_impossible_choices(choices)
    refuse_impossible_pieces(pieces, shelf, choices)
    tasks = make_tasks(pieces, shelf, choices)
    for task in tasks:
        for shape in task.shapes:
            refuse_too_large(shape, task.paper, task.room, choices)
    layouts = {task.paper.id: first_layouts(task) for task in tasks}
    yield assemble(tasks, layouts, choices, speed, 0, True)
