"""How small trims become, and how soon, for cases that lie in a folder, one JSON file each.

Processor time counts, so that what else the machine does counts little.
"""

import json
import math
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import shapely
from figure import processor_seconds

from peekpaper.papers.paper import Direction, Paper, Shelf
from peekpaper.plan.make import plans
from peekpaper.plan.plan import CutSpeed, PieceToPlace, Plan, PlanChoices


def measured(folder: str) -> Iterator[dict[str, Any]]:
    """Yield for each case its name and figures.

    `areas_mm2` are the trims' areas at the case's moments (of the first answer, where that takes longer),
    `answer_s` how long the first answer took, `pause_s` the longest pause between two steps, `heap_mb` the
    memory that the page's Python has taken by then (0 elsewhere).
    """
    for file in sorted(Path(folder).glob("*.json")):
        yield _planned(json.loads(file.read_text()))


def _planned(case: Mapping[str, Any]) -> dict[str, Any]:
    pieces = [
        PieceToPlace(number, paper, shapely.from_wkb(outline), number)
        for number, paper, outline in case["pieces"]
    ]
    shelf = Shelf(
        tuple(
            Paper(name, name, "#8899aa", direction=Direction(direction)) for name, direction in case["papers"]
        )
    )
    begin = now = processor_seconds()
    moments: list[float] = list(case["moments"])
    last: Plan | None = None
    told = {"name": case["name"], "pause_s": 0.0}
    areas: list[float] = []
    for plan in plans(pieces, shelf, PlanChoices(), CutSpeed(), math.inf):
        before, now = now, processor_seconds()
        told["pause_s"] = max(told["pause_s"], now - before)
        if plan is None:
            continue
        if last is None:
            told["answer_s"] = now - begin
        while moments and now - begin > moments[0]:
            areas.append(_area(last or plan))
            moments.pop(0)
        last = plan
        if not moments:
            break
    assert last is not None
    areas += [_area(last)] * len(moments)
    rounds = sum(one.rounds for one in last.rounds)
    return {**told, "areas_mm2": areas, "rounds": rounds, "heap_mb": _heap_mb()}


def _area(plan: Plan) -> float:
    return sum(area for _, area in plan.paper_area_mm2)


def _heap_mb() -> float:
    if sys.platform != "emscripten":
        return 0.0
    import pyodide_js

    return float(pyodide_js._module.HEAP8.length) / 1e6
