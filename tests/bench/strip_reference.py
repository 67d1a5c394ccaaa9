"""What a strip packer makes of the same pieces: the least trim over all useful strip heights.

The strip packer is `spyrrow` of the Python registry (development only). Its answers are kept in the user's
cache, since they take a minute each.
"""

import hashlib
import json
import math
import os
from collections.abc import Sequence
from pathlib import Path

import spyrrow

from peekpaper.papers.paper import Direction, Paper
from peekpaper.plan.plan import PieceToPlace, PlanChoices

SECONDS = 60
MOST_HEIGHTS = 8
VERSION = 1


def reference_area(pieces: Sequence[PieceToPlace], paper: Paper, choices: PlanChoices) -> float | None:
    """Return the area (mm2) of the least trim found in SECONDS, None where none fits a sheet."""
    asked = [[list(map(list, piece.outline.exterior.coords)) for piece in pieces], paper.direction.value,
             choices.trim_step_mm, choices.spacing_mm, choices.margin_mm, SECONDS, VERSION]  # fmt: skip
    key = hashlib.sha256(json.dumps(asked).encode()).hexdigest()[:24]
    cache = Path(os.environ.get("XDG_CACHE_HOME", Path.home() / ".cache")) / "peekpaper" / "strips"
    file = cache / f"{key}.json"
    if not file.exists():
        cache.mkdir(parents=True, exist_ok=True)
        file.write_text(json.dumps(_least_area(pieces, paper, choices)))
    area: float | None = json.loads(file.read_text())
    return area


def _least_area(pieces: Sequence[PieceToPlace], paper: Paper, choices: PlanChoices) -> float | None:
    heights = _useful_heights(pieces, paper, choices)
    seconds = max(2, round(SECONDS / len(heights)))
    areas = [
        area for height in heights if (area := _area_at(pieces, paper, choices, height, seconds)) is not None
    ]
    return min(areas, default=None)


def _useful_heights(pieces: Sequence[PieceToPlace], paper: Paper, choices: PlanChoices) -> list[float]:
    """Return strip heights in steps: of long trims to square ones, of high ones where turns are bound."""
    step = choices.trim_step_mm or 1.0
    grown = sum(piece.outline.buffer(choices.spacing_mm / 2).area for piece in pieces)
    side = math.sqrt(grown / 0.85)
    most = 1.0 if paper.direction is Direction.ANY else 1.6
    heights = [
        step * count
        for count in range(1, int(paper.sheet_height_mm / step + 1e-6) + 1)
        if 0.55 * side <= step * count - 2 * choices.margin_mm <= most * side + step
    ]
    while len(heights) > MOST_HEIGHTS:
        heights = heights[::2]
    return heights or [paper.sheet_height_mm]


def _area_at(
    pieces: Sequence[PieceToPlace], paper: Paper, choices: PlanChoices, height: float, seconds: int
) -> float | None:
    turns = {Direction.ANY: None, Direction.ONE_WAY: [0.0], Direction.TWO_WAY: [0.0, 180.0]}[paper.direction]
    items = [
        spyrrow.Item(str(piece.number), list(piece.outline.exterior.coords)[:-1], 1, turns)
        for piece in pieces
    ]
    config = spyrrow.StripPackingConfig(
        early_termination=False,
        min_items_separation=choices.spacing_mm,
        total_computation_time=seconds,
        seed=1,
    )
    try:
        instance = spyrrow.StripPackingInstance("trim", height - 2 * choices.margin_mm, items)
        width = instance.solve(config).width + 2 * choices.margin_mm
    except ValueError:
        return None
    step = choices.trim_step_mm
    if step is not None:
        width = math.ceil(width / step - 1e-6) * step
    return width * height if width <= paper.sheet_width_mm + 1e-6 else None
