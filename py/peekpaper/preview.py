"""Which bit of a paper's pattern each opening will show, once trims are planned."""

import math
from collections.abc import Mapping, Sequence

from peekpaper.backing.backing import Piece
from peekpaper.papers.paper import Direction, Shelf
from peekpaper.plan.mats import Block, Board, Spot, lay_on_mats
from peekpaper.plan.plan import PlacedPiece, Plan, PlanChoices, Trim
from peekpaper.plan.rectangles import FREE_STEP_MM

Affine = tuple[float, float, float, float, float, float]
"""x' = a x + c y + e, y' = b x + d y + f, as (a, b, c, d, e, f)."""


def preview(plan: Plan, pieces: Sequence[Piece], shelf: Shelf, choices: PlanChoices) -> dict[int, Affine]:
    """Return, for each opening with a planned piece, the map from its paper's pattern to the design, in mm.

    The pattern's coordinates are those of the upright sheet (of the scrap, for a trim from a scrap), origin
    at its top left corner; trims of one paper lie on its sheets as they were counted for the plan.
    """
    openings = {piece.number: piece.openings for piece in pieces}
    spots = sheet_spots(plan.trims, shelf, choices)
    return {
        opening: pattern_to_design(trim, placed, spots[trim.id])
        for trim in plan.trims
        for placed in trim.pieces
        for opening in openings.get(placed.number, ())
    }


def sheet_spots(trims: Sequence[Trim], shelf: Shelf, choices: PlanChoices) -> Mapping[str, Spot]:
    """Return where each trim is cut from its sheets (counted from 1), or from its scrap's corner."""
    spots = {trim.id: Spot(1, 0.0, 0.0, False) for trim in trims}
    grid = choices.trim_step_mm or FREE_STEP_MM
    for paper in shelf.papers:
        mine = [trim for trim in trims if trim.paper == paper.id and trim.scrap is None]
        may_turn = paper.direction is Direction.ANY
        blocks = [Block(trim.width_mm, trim.height_mm, may_turn) for trim in mine]
        sheet = Board(paper.sheet_width_mm, paper.sheet_height_mm, 0.0, grid)
        laid = lay_on_mats(blocks, sheet, [None] * len(blocks), choices.seed)
        spots |= {trim.id: spot for trim, spot in zip(mine, laid, strict=True)}
    return spots


def pattern_to_design(trim: Trim, placed: PlacedPiece, spot: Spot) -> Affine:
    """Return the map from the sheet that `trim` is cut from at `spot` to the design, for a piece in it."""
    turn = math.radians(placed.turn_deg)
    cos, sin = math.cos(turn), math.sin(turn)
    # A point q of the trim is p turned and moved; so p = turned back (q - move), (q_x, q_y) as below.
    back = (cos, -sin, sin, cos)
    across, down = _sheet_to_trim(trim, spot)
    columns = [
        (back[0] * x + back[2] * y, back[1] * x + back[3] * y)
        for x, y in (
            (across[0], down[0]),
            (across[1], down[1]),
            (across[2] - placed.x_mm, down[2] - placed.y_mm),
        )
    ]
    (a, b), (c, d), (e, f) = columns
    return a, b, c, d, e, f


def _sheet_to_trim(trim: Trim, spot: Spot) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    """Return the rows (of x, of y, constant) that give a sheet's point in the trim's coordinates."""
    if spot.turned:
        return (0.0, 1.0, -spot.y_mm), (-1.0, 0.0, trim.height_mm + spot.x_mm)
    return (1.0, 0.0, -spot.x_mm), (0.0, 1.0, -spot.y_mm)
