"""Where trims are cut from their paper's sheets: from as few as can be."""

from collections.abc import Sequence

from peekpaper.papers.paper import PRINT_GAP_MM, Paper
from peekpaper.plan.mats.bin_packing import Board, Item, pack
from peekpaper.plan.plan import PlanChoices, SheetPlacement
from peekpaper.plan.trims.sizes import FREE_STEP_MM


def placements_on_sheets(
    sizes: Sequence[tuple[float, float]], paper: Paper, choices: PlanChoices
) -> list[SheetPlacement]:
    """Return where each trim of these sizes (mm) is cut from the paper's sheets.

    Every size must fit a sheet, turned or not where the paper allows it. On a printed page trims lie apart,
    and their places count from the corner of its room.
    """
    gap, step = (PRINT_GAP_MM, None) if paper.is_printed else (0.0, choices.trim_step_mm)
    items = [Item(width + gap, height + gap, paper.turns_on_sheet) for width, height in sizes]
    wide, high = paper.room_mm
    sheet = Board(wide + gap, high + gap, 0.0, step or FREE_STEP_MM)
    placements = pack(items, sheet, [None] * len(items), choices.seed)
    return [
        SheetPlacement(placement.board, placement.x_mm, placement.y_mm, placement.turned)
        for placement in placements
    ]
