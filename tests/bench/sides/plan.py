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
from peekpaper.plan.plan import CutSpeed, PieceToPlace, PlanChoices

FIRST_SECONDS = 1.0


def measured(folder: str) -> Iterator[dict[str, Any]]:
    """Yield for each case its name and figures.

    `first_mm2` and `last_mm2` are the trims' areas after FIRST_SECONDS (or with the first answer, where that
    takes longer) and in the end, `answer_s` how long the first answer took, `pause_s` the longest pause
    between two steps, `heap_mb` the memory that the page's Python has taken by then (0 elsewhere).
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
    steps = plans(pieces, shelf, PlanChoices(**case["choices"]), CutSpeed(), math.inf)
    begin = before = now = processor_seconds()
    last, pause = None, 0.0
    while last is None:
        last = next(steps)
        before, now = now, processor_seconds()
        pause = max(pause, now - before)
    told = {"name": case["name"], "answer_s": now - begin, "pause_s": pause}
    first = last
    for plan in steps:
        before, now = now, processor_seconds()
        told["pause_s"] = max(told["pause_s"], now - before)
        if now - begin <= FIRST_SECONDS:
            first = plan
        last = plan
        if now - begin >= case["seconds"]:
            break
    areas = {
        f"{name}_mm2": sum(area for _, area in plan.paper_area_mm2)
        for name, plan in (("first", first), ("last", last))
    }
    return {**told, **areas, "rounds": sum(one.rounds for one in last.rounds), "heap_mb": _heap_mb()}


def _heap_mb() -> float:
    if sys.platform != "emscripten":
        return 0.0
    import pyodide_js

    return float(pyodide_js._module.HEAP8.length) / 1e6
