"""What a strip packer makes of the same pieces: the least trim over all useful strip heights.

The strip packer is `spyrrow` of the Python registry (development only). Its answers take over a minute each,
so they are kept in `strips.json`, together with how they were made. One is made anew when its pieces
have changed.
"""

import json
import math
import resource
from collections.abc import Sequence
from importlib.metadata import version
from pathlib import Path
from typing import Any

import spyrrow

from peekpaper.papers.paper import Direction, Paper
from peekpaper.plan.plan import PieceToPlace, PlanChoices

SECONDS = 60
MOST_HEIGHTS = 8
SEED = 1
SAME = 0.005
"""By what part areas and lengths of pieces may differ from those that a kept answer was made for."""
KEPT = Path(__file__).parent / "strips.json"


def reference_area(case: str, pieces: Sequence[PieceToPlace], paper: Paper, choices: PlanChoices) -> float:
    """Return the area (mm2) of the least trim found in SECONDS for one paper's pieces of a case.

    Raises ValueError where none fits a sheet.
    """
    asked = {
        "pieces": len(pieces),
        "area_mm2": round(sum(piece.outline.area for piece in pieces), 1),
        "length_mm": round(sum(piece.outline.length for piece in pieces), 1),
        "direction": paper.direction.value,
        "step_mm": choices.trim_step_mm,
        "spacing_mm": choices.spacing_mm,
        "margin_mm": choices.margin_mm,
    }
    name = f"{case}: {paper.id}"
    kept: dict[str, dict[str, Any]] = json.loads(KEPT.read_text()) if KEPT.exists() else {}
    if name not in kept or not _is_same(asked, kept[name]):
        kept[name] = {**asked, **_made(pieces, paper, choices)}
        KEPT.write_text(json.dumps(dict(sorted(kept.items())), indent=1) + "\n")
    if kept[name]["trim_mm2"] is None:
        raise ValueError(f"{name}: the reference needs more than one sheet")
    return float(kept[name]["trim_mm2"])


def _is_same(asked: dict[str, Any], kept: dict[str, Any]) -> bool:
    return all(
        math.isclose(value, kept[key], rel_tol=SAME) if isinstance(value, float) else value == kept[key]
        for key, value in asked.items()
    )


def _made(pieces: Sequence[PieceToPlace], paper: Paper, choices: PlanChoices) -> dict[str, Any]:
    """Return the area of the least trim and how it was found."""
    heights = _useful_heights(pieces, paper, choices)
    seconds = max(2, round(SECONDS / len(heights)))
    begin = _processor_seconds()
    found = [(_width_at(pieces, paper, choices, height, seconds), height) for height in heights]
    sizes = [(width * height, width, height) for width, height in found if width is not None]
    area, width, height = min(sizes) if sizes else (None, None, None)
    return {
        "trim_mm2": area,
        "trim_mm": [width, height],
        "made_by": f"spyrrow {version('spyrrow')}",
        "seed": SEED,
        "heights_mm": heights,
        "seconds_each": seconds,
        "processor_seconds": round(_processor_seconds() - begin, 1),
    }


def _processor_seconds() -> float:
    used = resource.getrusage(resource.RUSAGE_SELF)
    return used.ru_utime + used.ru_stime


def _useful_heights(pieces: Sequence[PieceToPlace], paper: Paper, choices: PlanChoices) -> list[float]:
    """Return strip heights in steps: of long trims to square ones, of high ones where turns are bound."""
    step = choices.trim_step_mm or 1.0
    grown = sum(piece.outline.buffer(choices.spacing_mm / 2).area for piece in pieces)
    side = math.sqrt(grown / 0.85)
    most = 1.0 if paper.direction is Direction.ANY else 1.6
    heights = [
        round(step * count, 6)
        for count in range(1, int(paper.sheet_height_mm / step + 1e-6) + 1)
        if 0.55 * side <= step * count - 2 * choices.margin_mm <= most * side + step
    ]
    while len(heights) > MOST_HEIGHTS:
        heights = heights[::2]
    return heights or [paper.sheet_height_mm]


def _width_at(
    pieces: Sequence[PieceToPlace], paper: Paper, choices: PlanChoices, height: float, seconds: int
) -> float | None:
    """Return the width of the trim of that height, None where it is none or wider than the sheet."""
    turns = {Direction.ANY: None, Direction.ONE_WAY: [0.0], Direction.TWO_WAY: [0.0, 180.0]}[paper.direction]
    items = [
        spyrrow.Item(str(piece.number), list(piece.outline.exterior.coords)[:-1], 1, turns)
        for piece in pieces
    ]
    config = spyrrow.StripPackingConfig(
        early_termination=False,
        min_items_separation=choices.spacing_mm,
        total_computation_time=seconds,
        seed=SEED,
    )
    try:
        instance = spyrrow.StripPackingInstance("trim", height - 2 * choices.margin_mm, items)
        width = float(instance.solve(config).width) + 2 * choices.margin_mm
    except ValueError:
        return None
    step = choices.trim_step_mm
    if step is not None:
        width = round(math.ceil(width / step - 1e-6) * step, 6)
    return width if width <= paper.sheet_width_mm + 1e-6 else None
