"""The packing of papers apart from the desk: what packers are given and what they tell.

A packer knows the plan alone. It runs in a worker of its own and loads nothing that packing does not need.
"""

import json
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import shapely

from peekpaper.desk.step import BREATH, Step, result, step
from peekpaper.papers.paper import Paper, Scrap, Shelf
from peekpaper.plan.by_turns import FoundByPaper, found_by_turns
from peekpaper.plan.plan import PieceToPlace, PlanChoices
from peekpaper.plan.search import Found
from peekpaper.plan.trims.task import PaperTask, make_tasks
from peekpaper.project.codec import decode, encode


def work_text(task: PaperTask) -> str:
    """Return what a packer is given for one paper, as text that nobody else need read."""
    pieces = [
        {
            "number": shape.piece.number,
            "outline": shapely.to_wkb(shape.piece.outline, hex=True),
            "alike": shape.piece.alike,
            "lip_mm": shape.piece.lip_mm,
            "design_width_mm": shape.piece.design_width_mm,
        }
        for shape in task.shapes
    ]
    work = {"paper": task.paper, "scraps": task.scraps, "choices": task.choices}
    return json.dumps({"pieces": pieces, **{name: encode(value) for name, value in work.items()}})


def found_of(texts: Mapping[str, str]) -> FoundByPaper:
    """Return what packers found, by paper, from what they told."""
    return {paper: decode(Found, json.loads(text)) for paper, text in texts.items()}


class Packer:
    """Answers the call `pack`, as the desk does its own."""

    def steps(self, call: str, arguments: str, _buffers: Sequence[bytes] = ()) -> Iterator[Step]:
        """Yield the steps of the call: what is found for each paper as it is found, at last all of it.

        Of an answer `found` holds texts by paper. Raises KeyError for a call that is not `pack`.
        """
        if call != "pack":
            raise KeyError(call)
        asked = json.loads(arguments)
        tasks = []
        for text in asked["work"]:
            tasks.append(_task(text))
            yield BREATH
        told: FoundByPaper = {}
        rounds = tasks[0].choices.rounds
        for found in found_by_turns(tasks, rounds, float(asked["seconds"])):
            changed = {
                paper: each
                for paper, each in (found or {}).items()
                if paper not in told or each.layouts != told[paper].layouts
            }
            yield step("progress", {"found": _texts(changed)}) if changed else BREATH
            told = found or told
        yield result({"found": _texts(told)})


def _texts(found: FoundByPaper) -> dict[str, str]:
    return {paper: json.dumps(encode(each)) for paper, each in found.items()}


def _task(text: str) -> PaperTask:
    work: dict[str, Any] = json.loads(text)
    paper = decode(Paper, work["paper"])
    pieces = [
        PieceToPlace(paper=paper.id, **{**piece, "outline": shapely.from_wkb(piece["outline"])})
        for piece in work["pieces"]
    ]
    scraps = decode(tuple[Scrap, ...], work["scraps"])
    (task,) = make_tasks(pieces, Shelf((paper,), scraps), decode(PlanChoices, work["choices"]))
    return task
