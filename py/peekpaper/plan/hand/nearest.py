"""Where a piece or a trim that a person drags may lie: the nearest free place to the one they want."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from peekpaper.papers.paper import Direction, Paper
from peekpaper.plan.fill.bottom_left import BottomLeftFill, Room
from peekpaper.plan.hand.free_space import FreeSpace
from peekpaper.plan.mats.bin_packing import Board, Item, Placement, free_placements
from peekpaper.plan.plan import PieceToPlace, PlacedPiece, PlanChoices, Trim
from peekpaper.plan.shapes.distance_field import make_distance_fields
from peekpaper.plan.shapes.shape import Pose, Shape, make_shape
from peekpaper.plan.shapes.turns import is_allowed, turns_allowed

PIXEL_MM = 0.5
"""How finely free places are sought before the last stretch is halved: about what a finger can aim at."""
FIELD_BEYOND_MM = 1.0
"""How far past the spacing distances are known: past the diagonal of a pixel."""
HALVINGS = 12
"""Halves a stretch of a mat's length to less than a tenth of a millimetre."""


@dataclass(frozen=True, slots=True)
class WantedPlacement:
    """Where a piece is wanted in a trim: its outline in the design turned by `turn_deg`, then moved."""

    turn_deg: float
    x_mm: float
    y_mm: float


def nearest_piece_placement(
    trim: Trim, piece: PieceToPlace, paper: Paper, choices: PlanChoices, wanted: WantedPlacement
) -> PlacedPiece | None:
    """Return the place in a trim nearest to the wanted one where a piece keeps margin and spacing.

    The piece may be one of the trim's own, or a new one. Where the paper has a direction the nearest turn
    that it allows is taken. None: the piece fits nowhere at that turn. `with_held_pieces` gives the
    trim without the pieces that need not be kept clear of.
    """
    shape = make_shape(piece)
    turn = _nearest_turn(wanted.turn_deg, paper.direction)
    goal = shape.pose_of(turn, wanted.x_mm, wanted.y_mm)
    others = [placed for placed in trim.pieces if placed.number != piece.number]
    space = FreeSpace(trim, others, choices)
    if space.is_free(shape, goal):
        return shape.placed(goal)
    shapes = [shape, *(_as_shape(placed, trim.paper) for placed in others)]
    fixed = {index: Pose(*shapes[index].centre, 0.0) for index in range(1, len(shapes))}
    filler = BottomLeftFill(
        shapes,
        make_distance_fields(shapes, choices.spacing_mm + FIELD_BEYOND_MM),
        [[turn]] * len(shapes),
        choices,
        PIXEL_MM,
    )
    places = filler.places(0, Room(trim.width_mm, trim.height_mm, trim.outline), fixed)
    places += [
        shape.pose_of(one.turn_deg, one.x_mm, one.y_mm)
        for one in trim.pieces
        if one.number == piece.number and one.turn_deg == turn
    ]
    places.sort(key=lambda pose: math.hypot(pose.x_mm - goal.x_mm, pose.y_mm - goal.y_mm))
    start = next((pose for pose in places if space.is_free(shape, pose)), None)
    return shape.placed(_nearer(space, shape, start, goal)) if start else None


def with_held_pieces(trim: Trim, piece: int, choices: PlanChoices) -> Trim:
    """Return a trim with only that piece and those laid by hand: the solver lays the others anew."""
    held = {pin.piece for pin in choices.piece_pins if pin.trim == trim.id} | {piece}
    return replace(trim, pieces=tuple(one for one in trim.pieces if one.number in held))


def nearest_trim_placement(
    trims: Sequence[Trim], trim: Trim, paper: Paper, choices: PlanChoices, wanted: Placement
) -> Placement | None:
    """Return the free placement of a trim on a mat's grid nearest to the wanted one; None if none is.

    A trim is turned only where its paper has no direction. `trims` are all trims of the plan.
    """
    may_turn = paper.direction is Direction.ANY
    is_turned = wanted.turned and may_turn
    board = Board(choices.mat_width_mm, choices.mat_height_mm, choices.mat_rim_mm, choices.mat_grid_mm)
    others = [other for other in trims if other.mat == wanted.board and other.id != trim.id]
    taken = [
        (
            Item(other.width_mm, other.height_mm, True),
            Placement(other.mat, other.x_mm, other.y_mm, other.turned),
        )
        for other in others
    ]
    placements = free_placements(Item(trim.width_mm, trim.height_mm, may_turn), is_turned, board, taken)
    return min(
        (Placement(wanted.board, x, y, is_turned) for x, y in placements),
        key=lambda placement: (
            math.hypot(placement.x_mm - wanted.x_mm, placement.y_mm - wanted.y_mm),
            placement.y_mm,
            placement.x_mm,
        ),
        default=None,
    )


def _nearer(space: FreeSpace, shape: Shape, start: Pose, goal: Pose) -> Pose:
    """Return how far a shape can go from a free pose straight to the wanted one, then along each axis."""
    for to_x, to_y in ((True, True), (True, False), (False, True)):
        end = Pose(goal.x_mm if to_x else start.x_mm, goal.y_mm if to_y else start.y_mm, goal.turn_deg)
        free, taken = 0.0, 1.0
        for _ in range(HALVINGS):
            middle = (free + taken) / 2
            if space.is_free(shape, _between(start, end, middle)):
                free = middle
            else:
                taken = middle
        start = _between(start, end, free)
    return start


def _between(start: Pose, end: Pose, part: float) -> Pose:
    return Pose(
        start.x_mm + (end.x_mm - start.x_mm) * part, start.y_mm + (end.y_mm - start.y_mm) * part, end.turn_deg
    )


def _nearest_turn(turn_deg: float, direction: Direction) -> float:
    if is_allowed(turn_deg, direction):
        return turn_deg % 360.0
    return min(
        turns_allowed(direction, 1), key=lambda allowed: abs((turn_deg - allowed + 180.0) % 360.0 - 180.0)
    )


def _as_shape(placed: PlacedPiece, paper: str) -> Shape:
    return make_shape(PieceToPlace(placed.number, paper, placed.outline, placed.number))
