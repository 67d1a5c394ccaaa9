"""Where trims are cut from their paper's sheets: from as few as can be."""

from collections.abc import Sequence

from peekpaper.papers.paper import Direction, Paper
from peekpaper.plan.mats.bin_packing import Board, Item, pack
from peekpaper.plan.plan import PlanChoices, SheetPlacement
from peekpaper.plan.trims.sizes import FREE_STEP_MM


def placements_on_sheets(
    sizes: Sequence[tuple[float, float]], paper: Paper, choices: PlanChoices
) -> list[SheetPlacement]:
    """Return where each trim of these sizes (mm) is cut from the paper's sheets.

    Every size must fit a sheet, turned or not where the paper has no direction.
    """
    may_turn = paper.direction is Direction.ANY
    items = [Item(width, height, may_turn) for width, height in sizes]
    sheet = Board(paper.sheet_width_mm, paper.sheet_height_mm, 0.0, choices.trim_step_mm or FREE_STEP_MM)
    placements = pack(items, sheet, [None] * len(items), choices.seed)
    return [
        SheetPlacement(placement.board, placement.x_mm, placement.y_mm, placement.turned)
        for placement in placements
    ]
