"""Lays the trims of all papers on mats and adds up the figures."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

from peekpaper.message import Message, message
from peekpaper.papers.paper import Direction, Paper
from peekpaper.plan.cutting import cut_seconds
from peekpaper.plan.mats.bin_packing import Board, Item, Placement, pack
from peekpaper.plan.mats.sheets import placements_on_sheets
from peekpaper.plan.plan import CutSpeed, Mat, MatUse, PaperRounds, Plan, PlanChoices, SheetPlacement, Trim
from peekpaper.plan.trims.layout import Layout
from peekpaper.plan.trims.sizes import EPSILON, Size
from peekpaper.plan.trims.task import PaperTask, largest_of_scrap, leaves_a_scrap, outline_of


def assemble(
    tasks: Sequence[PaperTask],
    layouts: Mapping[str, Sequence[Layout]],
    choices: PlanChoices,
    speed: CutSpeed,
    rounds: tuple[PaperRounds, ...],
) -> Plan:
    """Return the plan of these layouts (by paper id), not yet `complete`: trims on mats, sheets, time."""
    tasks_of = {task.paper.id: task for task in tasks}
    flat = [_with_its_scrap(layout, task) for task in tasks for layout in layouts[task.paper.id]]
    if choices.mat_use is MatUse.SHEETS:
        flat = [_on_full_sheet(layout, tasks_of[layout.paper]) for layout in flat]
    placements = _mat_placements(flat, tasks_of, choices)
    sources = _sheet_placements(tasks, flat)
    trims = tuple(
        _trim(layout, tasks_of[layout.paper], placement, sources.get(layout.id))
        for layout, placement in zip(flat, placements, strict=True)
    )
    shapes = [shape for task in tasks for shape in task.shapes]
    length = math.fsum(shape.piece.outline.length for shape in shapes)
    sheets = tuple(
        (
            task.paper.id,
            max(
                (trim.source.sheet for trim in trims if trim.paper == task.paper.id and trim.source),
                default=0,
            ),
        )
        for task in tasks
    )
    mats = max((placement.board for placement in placements), default=0)
    return Plan(
        trims=trims,
        mats=tuple(Mat(number, choices.mat_width_mm, choices.mat_height_mm) for number in range(1, mats + 1)),
        paper_area_mm2=tuple(
            (task.paper.id, math.fsum(layout.area_mm2 for layout in flat if layout.paper == task.paper.id))
            for task in tasks
        ),
        sheets=sheets,
        cut_length_mm=length,
        seconds=cut_seconds(length, len(shapes), speed),
        rounds=rounds,
        complete=False,
        warnings=tuple(warnings_on_sheets([task.paper for task in tasks], dict(sheets))),
    )


def _trim(layout: Layout, task: PaperTask, placement: Placement, source: SheetPlacement | None) -> Trim:
    scrap = next((one for one in task.scraps if one.id == layout.scrap), None)
    pieces = tuple(task.shapes[index].placed(pose) for index, pose in sorted(layout.poses.items()))
    return Trim(
        layout.id,
        layout.paper,
        layout.width_mm,
        layout.height_mm,
        layout.scrap,
        pieces,
        placement.board,
        placement.x_mm,
        placement.y_mm,
        placement.turned,
        cut_from=None if task.paper.is_printed else source,
        printed_at=source if task.paper.is_printed else None,
        outline=None if scrap is None else outline_of(scrap),
    )


def _sheet_placements(tasks: Sequence[PaperTask], layouts: Sequence[Layout]) -> dict[str, SheetPlacement]:
    """Return where trims are cut from sheets or printed, by id; those from scraps are left out."""
    placements: dict[str, SheetPlacement] = {}
    for task in tasks:
        own = [layout for layout in layouts if layout.paper == task.paper.id and not layout.scrap]
        sizes = [(layout.width_mm, layout.height_mm) for layout in own]
        laid = placements_on_sheets(sizes, task.paper, task.choices)
        placements |= {layout.id: placement for layout, placement in zip(own, laid, strict=True)}
    return placements


def _mat_placements(
    layouts: Sequence[Layout], tasks_of: Mapping[str, PaperTask], choices: PlanChoices
) -> list[Placement]:
    board = Board(choices.mat_width_mm, choices.mat_height_mm, choices.mat_rim_mm, choices.mat_grid_mm)
    items = [_item(layout, tasks_of[layout.paper].paper) for layout in layouts]
    pins = {pin.trim: Placement(pin.mat, pin.x_mm, pin.y_mm, pin.turned) for pin in choices.trim_pins}
    fixed = [pins.get(layout.id) for layout in layouts]
    if choices.mat_use is MatUse.TOGETHER:
        return pack(items, board, fixed, choices.seed)
    placements: dict[int, Placement] = {}
    used = 0
    for paper in tasks_of:
        own = [index for index, layout in enumerate(layouts) if layout.paper == paper]
        laid = pack([items[index] for index in own], board, [None] * len(own), choices.seed)
        for index, placement in zip(own, laid, strict=True):
            placements[index] = Placement(
                placement.board + used, placement.x_mm, placement.y_mm, placement.turned
            )
        used += max((placement.board for placement in laid), default=0)
    return [placements[index] for index in range(len(layouts))]


def _item(layout: Layout, paper: Paper) -> Item:
    return Item(layout.width_mm, layout.height_mm, paper.direction is Direction.ANY)


def _with_its_scrap(layout: Layout, task: PaperTask) -> Layout:
    """Return the layout on all of its scrap that the mat takes, where nothing useful would be left of it."""
    scrap = next((one for one in task.scraps if one.id == layout.scrap), None)
    size = (layout.width_mm, layout.height_mm)
    if scrap is None or layout.keeps_size or leaves_a_scrap(scrap, size, task.choices):
        return layout
    return _on_largest(layout, largest_of_scrap(scrap, task))


def _on_full_sheet(layout: Layout, task: PaperTask) -> Layout:
    """Return the layout on as much of a sheet as the mat takes; scraps and pinned trims stay as they are."""
    if layout.keeps_size or layout.scrap:
        return layout
    return _on_largest(layout, task.largest)


def _on_largest(layout: Layout, largest: Sequence[Size]) -> Layout:
    """Return the layout on the largest of these sizes that holds it."""
    boxes = [
        box for box in largest if layout.width_mm <= box[0] + EPSILON and layout.height_mm <= box[1] + EPSILON
    ]
    width, height = max(boxes, key=lambda box: box[0] * box[1])
    return replace(layout, width_mm=width, height_mm=height, keeps_size=True)


def warnings_on_sheets(papers: Sequence[Paper], sheets: Mapping[str, int]) -> list[Message]:
    """Return what is told of papers of which a plan takes more sheets (by paper id) than there are."""
    return [
        message("plan.too-few-sheets", paper=paper.name, count=sheets[paper.id], at_hand=paper.sheets)
        for paper in papers
        if paper.sheets is not None and sheets.get(paper.id, 0) > paper.sheets
    ]
