"""Where trims are cut from their paper's sheets: from as few as can be."""

from collections.abc import Sequence

from peekpaper.papers.paper import Direction, Paper
from peekpaper.plan.mats import Block, Board, lay_on_mats
from peekpaper.plan.plan import PlanChoices, SheetSpot
from peekpaper.plan.rectangles import FREE_STEP_MM


def spots_on_sheets(
    sizes: Sequence[tuple[float, float]], paper: Paper, choices: PlanChoices
) -> list[SheetSpot]:
    """Return where each trim of these sizes (mm) is cut from the paper's sheets.

    Every size must fit a sheet, turned or not where the paper has no direction.
    """
    may_turn = paper.direction is Direction.ANY
    blocks = [Block(width, height, may_turn) for width, height in sizes]
    sheet = Board(paper.sheet_width_mm, paper.sheet_height_mm, 0.0, choices.trim_step_mm or FREE_STEP_MM)
    spots = lay_on_mats(blocks, sheet, [None] * len(blocks), choices.seed)
    return [SheetSpot(spot.mat, spot.x_mm, spot.y_mm, spot.turned) for spot in spots]
