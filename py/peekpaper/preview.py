"""Which bit of a paper's pattern each opening will show, once trims are planned."""

import math
from collections.abc import Sequence

import numpy as np

from peekpaper.backing.backing import Piece
from peekpaper.geometry.outline import Floats
from peekpaper.papers.paper import PRINT_BLEED_MM
from peekpaper.plan.plan import PlacedPiece, Plan, SheetPlacement, Trim

Affine = tuple[float, float, float, float, float, float]
"""x' = a x + c y + e, y' = b x + d y + f, as (a, b, c, d, e, f)."""

SCRAPS_CORNER = SheetPlacement(1, 0.0, 0.0, False)
"""A trim from a scrap begins at the scrap's corner."""

PRINTS_CORNER = SheetPlacement(1, PRINT_BLEED_MM, PRINT_BLEED_MM, False)
"""What is printed around a trim begins at the pattern's corner."""


def preview(plan: Plan, pieces: Sequence[Piece]) -> dict[int, Affine]:
    """Return, for each opening with a planned piece, the map from its paper's pattern to the design, in mm.

    The pattern's coordinates are those of the upright sheet (of the scrap, for a trim from a scrap), origin
    at its top left corner.
    """
    openings = {piece.number: piece.openings for piece in pieces}
    return {
        opening: pattern_to_design(trim, placed, pattern_corner(trim))
        for trim in plan.trims
        for placed in trim.pieces
        for opening in openings.get(placed.number, ())
    }


def matrix_of(affine: Affine) -> Floats:
    """Return a map as a matrix of shape (2, 3)."""
    return np.array(affine).reshape(3, 2).T


def pattern_corner(trim: Trim) -> SheetPlacement:
    """Return where on its paper's pattern a trim begins."""
    return trim.cut_from or (PRINTS_CORNER if trim.printed_at else SCRAPS_CORNER)


def pattern_to_design(trim: Trim, placed: PlacedPiece, spot: SheetPlacement) -> Affine:
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


def _sheet_to_trim(
    trim: Trim, spot: SheetPlacement
) -> tuple[tuple[float, float, float], tuple[float, float, float]]:
    """Return the rows (of x, of y, constant) that give a sheet's point in the trim's coordinates."""
    if spot.turned:
        return (0.0, 1.0, -spot.y_mm), (-1.0, 0.0, trim.height_mm + spot.x_mm)
    return (1.0, 0.0, -spot.x_mm), (0.0, 1.0, -spot.y_mm)
