"""Why what a person lays by hand can't stay where they let go of it."""

import math

from peekpaper.message import Message, message
from peekpaper.plan.hand.free_space import FreeSpace
from peekpaper.plan.hand.nearest import WantedPlacement
from peekpaper.plan.mats.bin_packing import Placement
from peekpaper.plan.plan import PieceToPlace, PlacedPiece, PlanChoices, Trim
from peekpaper.plan.shapes.shape import make_shape

AIM_MM = 2.0
"""A piece that comes to lie this near is where the finger meant it, or slid along what is there: about a
finger's aim; no published source."""
AIM_LINES = 1.5
"""The same for trims, in lines of the mat's grid."""


def piece_hindrance(
    trim: Trim,
    piece: PieceToPlace,
    choices: PlanChoices,
    wanted: WantedPlacement,
    found: PlacedPiece | None,
) -> Message | None:
    """Tell why a piece lies elsewhere in its trim than wanted; None where it lies as good as there.

    `trim` and `found` are those of `nearest_piece_placement`.
    """
    if found is None:
        return message("hand.piece-nowhere", piece=piece.number)
    if math.hypot(found.x_mm - wanted.x_mm, found.y_mm - wanted.y_mm) <= AIM_MM:
        return None
    shape = make_shape(piece)
    goal = shape.pose_of(found.turn_deg, wanted.x_mm, wanted.y_mm)
    space = FreeSpace(trim, [placed for placed in trim.pieces if placed.number != piece.number], choices)
    if not space.keeps_margin(shape, goal):
        return message("hand.piece-edge", piece=piece.number, margin_mm=choices.margin_mm)
    crowded = space.crowded(shape, goal)
    return message("hand.piece-pinned", pieces=tuple(crowded), count=len(crowded)) if crowded else None


def trim_hindrance(
    trim: Trim, choices: PlanChoices, wanted: Placement, found: Placement | None
) -> Message | None:
    """Tell why a trim lies elsewhere on its mat than wanted; None where it lies as good as there.

    `found` is that of `nearest_trim_placement`.
    """
    if found is None:
        return message("hand.trim-nowhere", mat=wanted.board)
    if math.hypot(found.x_mm - wanted.x_mm, found.y_mm - wanted.y_mm) <= AIM_LINES * choices.mat_grid_mm:
        return None
    across, down = (trim.height_mm, trim.width_mm) if wanted.turned else (trim.width_mm, trim.height_mm)
    most_x = choices.mat_width_mm - choices.mat_rim_mm - across
    most_y = choices.mat_height_mm - choices.mat_rim_mm - down
    is_within = choices.mat_rim_mm <= wanted.x_mm <= most_x and choices.mat_rim_mm <= wanted.y_mm <= most_y
    return message("hand.trim-pinned" if is_within else "hand.trim-edge")
