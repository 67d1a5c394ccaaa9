"""What can't be planned, said before any work is done."""

import math
import statistics
from collections.abc import Sequence

import numpy as np

from peekpaper.lengths import LARGEST_MM, refuse_no_length
from peekpaper.papers.paper import Direction, Shelf
from peekpaper.plan.plan import PieceToPlace, PlanChoices
from peekpaper.plan.shapes.shape import Shape
from peekpaper.plan.shapes.turns import turned_by_degrees, turns_allowed
from peekpaper.plan.trims.sizes import usable_mat
from peekpaper.plan.trims.task import PaperTask
from peekpaper.refusal import Refusal

LEAST_STEP_MM = 0.5
"""The finest lines of common rulers and mats (common practice, no published source)."""
USUAL_SPACING_MM = PlanChoices().spacing_mm
"""What is named as the usual spacing where a chosen one is too large."""


def refuse_impossible_choices(choices: PlanChoices) -> None:
    """Raise Refusal where a length of the choices is no length or leaves no room."""
    step = choices.trim_step_mm
    if step is not None and not (math.isfinite(step) and step > 0):
        raise Refusal("trim-step-zero")
    if step is not None and step < LEAST_STEP_MM:
        raise Refusal("trim-step-fine")
    if not (math.isfinite(choices.mat_grid_mm) and choices.mat_grid_mm > 0):
        raise Refusal("mat-grid-zero")
    if choices.mat_grid_mm < LEAST_STEP_MM:
        raise Refusal("mat-grid-fine")
    for value, name in (
        (choices.spacing_mm, "distance.spacing"),
        (choices.margin_mm, "distance.trim-margin"),
        (choices.mat_rim_mm, "distance.mat-rim"),
        (choices.mat_grid_mm, "distance.mat-grid"),
        (choices.least_scrap_mm, "distance.least-scrap"),
    ):
        refuse_no_length(value, name)
    if not (math.isfinite(choices.mat_width_mm) and math.isfinite(choices.mat_height_mm)):
        raise Refusal("mat-without-size")
    if max(choices.mat_width_mm, choices.mat_height_mm) > LARGEST_MM:
        raise Refusal("mat-too-large", most_m=LARGEST_MM / 1000)
    if min(usable_mat(choices)) <= 2 * choices.margin_mm:
        raise Refusal("no-room-on-mat")


def refuse_impossible_pieces(pieces: Sequence[PieceToPlace], shelf: Shelf, choices: PlanChoices) -> None:
    """Raise Refusal where pieces have no paper, or are smaller than the spacing between them."""
    if not shelf.papers:
        raise Refusal("shelf-without-paper")
    known = {paper.id for paper in shelf.papers}
    for piece in pieces:
        if piece.paper not in known:
            raise Refusal("piece-without-paper", piece=piece.number)
    if pieces:
        middle = statistics.median(_longer_side(piece) for piece in pieces)
        if choices.spacing_mm > middle > USUAL_SPACING_MM:
            raise Refusal("wide-spacing", spacing_mm=choices.spacing_mm, usual_mm=USUAL_SPACING_MM)
        if choices.spacing_mm > middle:
            raise Refusal("tiny-pieces", spacing_mm=choices.spacing_mm, piece_mm=middle)


def refuse_too_large(tasks: Sequence[PaperTask]) -> None:
    """Raise Refusal where a piece fits no trim of its paper on the mat, and say at what width all would."""
    least, piece_task = 1.0, None
    for task in tasks:
        for shape in task.shapes:
            fits_at = _fits_at(shape, task)
            if fits_at < least - 1e-9:
                least, piece_task = fits_at, (shape, task)
    if piece_task is None:
        return
    shape, task = piece_task
    paper = task.paper
    if least <= 0:
        raise Refusal("no-room-on-sheet", paper=paper.name)
    wide, high = (float(side) + 2 * task.choices.margin_mm for side in np.ptp(shape.outline, axis=0))
    trim_wide, trim_high = task.largest[0]
    wanted = math.floor(least * shape.piece.design_width_mm * 10) / 10
    raise Refusal(
        "piece-too-large",
        piece=shape.piece.number,
        paper=paper.name,
        needed_width_least_mm=wide,
        needed_height_least_mm=high,
        trim_width_most_mm=trim_wide,
        trim_height_most_mm=trim_high,
        wanted_most_mm=wanted,
    )


def _fits_at(shape: Shape, task: PaperTask) -> float:
    """Return what part of its size the design may have for a piece to fit; 1.0 where it fits as it is.

    The lip stays as it is while the design shrinks.
    """
    paper, margins, lips = task.paper, 2 * task.choices.margin_mm, 2 * shape.piece.lip_mm
    free_turns = 180 if paper.direction is Direction.ANY else 1
    best = 0.0
    for turn in turns_allowed(paper.direction, free_turns):
        width, height = np.ptp(turned_by_degrees(shape.outline, turn), axis=0)
        for wide, high in task.largest:
            best = max(best, min(_shrunk(width, wide - margins, lips), _shrunk(height, high - margins, lips)))
        if best >= 1.0:
            break
    return best


def _shrunk(side: float, room: float, lips: float) -> float:
    """Return what part of its size a side may have, but for the lips, to fit its room; 1.0 where it does."""
    if side <= room * (1 + 1e-9):
        return 1.0
    return max(0.0, (room - lips) / (side - lips)) if side > lips else 0.0


def _longer_side(piece: PieceToPlace) -> float:
    left, top, right, bottom = piece.outline.bounds
    return max(right - left, bottom - top)
