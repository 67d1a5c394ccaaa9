"""Calls on the plan: trims and mats, by the solver and by hand."""

import time
from collections.abc import Iterator, Sequence

from peekpaper.breathing import telling
from peekpaper.desk.context import Arguments, Context
from peekpaper.desk.packing import found_of, work_text
from peekpaper.desk.step import BREATH, Step, result, step
from peekpaper.desk.views import View, plan_view
from peekpaper.papers.paper import Paper
from peekpaper.plan.cutting import calibrated
from peekpaper.plan.hand.hindrance import piece_hindrance, trim_hindrance
from peekpaper.plan.hand.nearest import (
    WantedPlacement,
    nearest_piece_placement,
    nearest_trim_placement,
    with_held_pieces,
)
from peekpaper.plan.mats.bin_packing import Placement
from peekpaper.plan.plan import Plan, Trim
from peekpaper.preview import preview as pattern_maps
from peekpaper.project.codec import encode
from peekpaper.project.project import Project
from peekpaper.refusal import Refusal


def plan(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Show ever better plans for the given seconds; answer with the best one, and with what to keep of it.

    What was `kept` of an earlier answer is gone on from, where it is of the project as it is.
    """
    project = context.project(arguments)
    context.pipeline.take_kept(project, arguments.get("kept"))
    start = time.monotonic()
    best: Plan | None = None
    for latest in context.pipeline.plans(project, float(arguments["seconds"])):
        elapsed = {"elapsed_s": round(time.monotonic() - start, 2)}
        view = {} if latest is None or latest is best else plan_view(latest)
        yield step("progress", {**view, **elapsed})
        best = latest
    if best is not None:
        yield result(_kept_view(context, project, best))


def packing(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the plan known so far, and with what packers are given to seek a better one.

    Arguments are those of `plan`. There is no work where the known plan is all that is asked for.
    """
    project = context.project(arguments)
    context.pipeline.take_kept(project, arguments.get("kept"))
    known, is_all = context.pipeline.plan_to_go_on_from(project, float(arguments["seconds"]))
    tasks = () if is_all else (yield from telling(context.pipeline.paper_tasks(project), BREATH))
    work = [{"paper": task.paper.id, "pieces": len(task.shapes), "text": work_text(task)} for task in tasks]
    yield result({"plan": known and _kept_view(context, project, known), "work": work})


def packed(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the plan of what packers found for each paper; `is_all` tells that they are through."""
    project = context.project(arguments)
    best = context.pipeline.take_found(project, found_of(arguments["found"]), arguments["is_all"])
    yield result(_kept_view(context, project, best) if arguments["is_all"] else plan_view(best))


def _kept_view(context: Context, project: Project, best: Plan) -> View:
    return {**plan_view(best), "kept": encode(context.pipeline.kept_plan(project))}


def preview(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the map from its paper's pattern to each opening, after the last plan."""
    project = context.project(arguments)
    pieces = context.pipeline.backing(project).pieces
    maps = pattern_maps(_last_plan(context, project), pieces)
    yield result({"openings": {str(number): list(numbers) for number, numbers in maps.items()}})


def place_piece(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the allowed place in a trim nearest to where a piece was dragged, or null, and why.

    It keeps clear of the pieces that were laid by hand; the others make way in the plan that comes next.
    """
    project = context.project(arguments)
    trim = _trim(_last_plan(context, project), arguments["trim"])
    piece = next(
        (one for one in context.pipeline.pieces_to_place(project) if one.number == arguments["piece"]), None
    )
    if piece is None:
        raise Refusal("piece-gone")
    wanted = WantedPlacement(arguments["turn_deg"], arguments["x_mm"], arguments["y_mm"])
    among = with_held_pieces(trim, piece.number, project.plan)
    paper = _paper(project, trim.paper)
    found = nearest_piece_placement(among, piece, paper, project.plan, wanted)
    why = piece_hindrance(among, piece, project.plan, wanted, found)
    place = found and {"turn_deg": found.turn_deg, "x_mm": found.x_mm, "y_mm": found.y_mm}
    yield result({"place": place, "why": why and why.told()})


def place_trim(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the free placement on a mat's grid nearest to where a trim was dragged, or null, and why.

    It keeps clear of the trims that were laid by hand; the others make way in the plan that comes next.
    """
    project = context.project(arguments)
    best = _last_plan(context, project)
    trim = _trim(best, arguments["trim"])
    wanted = Placement(arguments["mat"], arguments["x_mm"], arguments["y_mm"], arguments["turned"])
    held = {pin.trim for pin in project.plan.trim_pins}
    among = [one for one in best.trims if one.id in held]
    placement = nearest_trim_placement(among, trim, _paper(project, trim.paper), project.plan, wanted)
    why = trim_hindrance(trim, project.plan, wanted, placement)
    yield result({"place": placement and _placement_json(placement), "why": why and why.told()})


def _placement_json(placement: Placement) -> dict[str, float]:
    at = {"x_mm": placement.x_mm, "y_mm": placement.y_mm}
    return {"mat": placement.board, **at, "turned": placement.turned}


def calibrate(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the cutting speed that one timed cut of the last plan tells."""
    project = context.project(arguments)
    best = _last_plan(context, project)
    pieces = sum(len(trim.pieces) for trim in best.trims)
    speed = calibrated(project.speed, best.cut_length_mm, pieces, float(arguments["seconds"]))
    yield result({"speed": encode(speed)})


def _last_plan(context: Context, project: Project) -> Plan:
    last = context.pipeline.last_plan(project)
    if last is None:
        raise Refusal("plan-not-ready")
    return last


def _trim(best: Plan, trim: str) -> Trim:
    for one in best.trims:
        if one.id == trim:
            return one
    raise Refusal("trim-gone")


def _paper(project: Project, paper: str) -> Paper:
    for one in project.shelf.papers:
        if one.id == paper:
            return one
    raise Refusal("paper-gone")
