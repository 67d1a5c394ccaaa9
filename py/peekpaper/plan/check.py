"""What can't be planned, said before any work is done."""

import math
import statistics
from collections.abc import Sequence

import numpy as np

from peekpaper.lengths import format_length
from peekpaper.papers.paper import Direction, Paper, Shelf
from peekpaper.plan.plan import PieceToPlace, PlanChoices
from peekpaper.plan.rectangles import Room, mat_room
from peekpaper.plan.shape import Shape
from peekpaper.plan.turns import turned, turns_allowed
from peekpaper.refusal import Refusal

# The finest lines of common rulers and mats; common practice, no published source.
LEAST_STEP_MM = 0.5


def refuse_impossible_choices(choices: PlanChoices) -> None:
    """Raise Refusal where a length of the choices is no length or leaves no room."""
    step = choices.trim_step_mm
    if step is not None and not (math.isfinite(step) and step > 0):
        raise Refusal("The trim step must be larger than zero: choose 1/2 in, 10 mm or free.")
    if step is not None and step < LEAST_STEP_MM:
        raise Refusal("The trim step is finer than rulers show: choose 1/2 in, 10 mm or free.")
    if not (math.isfinite(choices.mat_grid_mm) and choices.mat_grid_mm > 0):
        raise Refusal("The mat's grid must be wider than zero: most mats have lines 1/2 in or 1 cm apart.")
    if choices.mat_grid_mm < LEAST_STEP_MM:
        raise Refusal("The mat's grid is finer than mats have it: most have lines 1/2 in or 1 cm apart.")
    for value, name in (
        (choices.spacing_mm, "spacing"),
        (choices.margin_mm, "trim margin"),
        (choices.mat_rim_mm, "mat's rim"),
    ):
        if not (math.isfinite(value) and value >= 0):
            raise Refusal(f"The {name} can't be less than zero.")
    if not (math.isfinite(choices.mat_width_mm) and math.isfinite(choices.mat_height_mm)):
        raise Refusal("The mat needs a width and a height.")
    if min(mat_room(choices)) <= 2 * choices.margin_mm:
        raise Refusal("Rim and trim margin leave no room on the mat: choose a larger mat or smaller margins.")


def refuse_impossible_pieces(pieces: Sequence[PieceToPlace], shelf: Shelf, choices: PlanChoices) -> None:
    """Raise Refusal where pieces have no paper, or are smaller than the spacing between them."""
    if not shelf.papers:
        raise Refusal("There is no paper on the shelf: add a paper, then plan the trims.")
    known = {paper.id for paper in shelf.papers}
    for piece in pieces:
        if piece.paper not in known:
            raise Refusal(
                f"Piece {piece.number} has a paper that is not on the shelf: choose another one for it."
            )
    if pieces:
        middle = statistics.median(_longer_side(piece) for piece in pieces)
        if choices.spacing_mm > middle:
            raise Refusal(
                f"The spacing of {format_length(choices.spacing_mm, 'mm')} is larger than most pieces: "
                "choose a spacing of a few millimetres."
            )


def refuse_too_large(shape: Shape, paper: Paper, room: Room, choices: PlanChoices) -> None:
    """Raise Refusal where a piece fits no trim of the paper on the mat, and say at what size it would."""
    free_turns = 180 if paper.direction is Direction.ANY else 1
    margins = 2 * choices.margin_mm
    fits_at = 0.0
    for turn in turns_allowed(paper.direction, free_turns):
        width, height = np.ptp(turned(shape.outline, turn), axis=0)
        for wide, high in room.boxes:
            fits_at = max(fits_at, min((wide - margins) / width, (high - margins) / height))
        if fits_at >= 1.0 - 1e-9:
            return
    sheet = f"{paper.sheet_width_mm:g} × {paper.sheet_height_mm:g} mm"
    size = " × ".join(f"{side:.0f}" for side in np.ptp(shape.outline, axis=0))
    room_size = " × ".join(f"{side:g}" for side in room.boxes[0])
    percent = math.floor(fits_at * 200) / 2
    if percent <= 0:
        raise Refusal(
            f"The trim margin leaves no room on a sheet of {paper.name} ({sheet}): make it smaller."
        )
    raise Refusal(
        f"Piece {shape.piece.number} ({size} mm) is too large: "
        f"a trim of {paper.name} can be {room_size} mm at most "
        f"(sheet {sheet}, mat {choices.mat_width_mm:g} × {choices.mat_height_mm:g} mm). "
        f"It fits if you make the design {percent:g} % of its size, or take a larger sheet and mat."
    )


def _longer_side(piece: PieceToPlace) -> float:
    left, top, right, bottom = piece.outline.bounds
    return max(right - left, bottom - top)
