"""Where things lie: affine matrices of shape (2, 3) from the design to a trim and on to its mat, in mm."""

import numpy as np
import shapely

from peekpaper.geometry.affine import IDENTITY, Floats, mirrored, moved
from peekpaper.geometry.outline import rectangle
from peekpaper.plan.plan import PlacedPiece, Trim
from peekpaper.sheets.choices import SheetChoices


def from_design(piece: PlacedPiece) -> Floats:
    """Return the matrix that lays a piece's outline in the design into its trim."""
    turn = np.radians(piece.turn_deg)
    cosine, sine = np.cos(turn), np.sin(turn)
    return np.array([[cosine, -sine, piece.x_mm], [sine, cosine, piece.y_mm]])


def from_trim(trim: Trim) -> Floats:
    """Return the matrix that lays a trim's own coordinates onto its mat."""
    if trim.turned:
        return np.array([[0.0, -1.0, trim.x_mm + trim.height_mm], [1.0, 0.0, trim.y_mm]])
    return np.array([[1.0, 0.0, trim.x_mm], [0.0, 1.0, trim.y_mm]])


def edge_of(trim: Trim) -> Floats:
    """Return the edge of a trim in its own coordinates, as a ring: a rectangle, or its scrap's outline."""
    if trim.outline is None:
        return rectangle(0.0, 0.0, trim.width_mm, trim.height_mm)
    return shapely.get_coordinates(trim.outline.exterior)


def as_cut(width_mm: float, choices: SheetChoices) -> Floats:
    """Return the matrix that lays a sheet of the given width as it is cut: turned over where wanted."""
    return mirrored(width_mm) if choices.mirrored else IDENTITY


def size_on_mat(trim: Trim) -> tuple[float, float]:
    """Return the width and height that a trim takes up on its mat."""
    return (trim.height_mm, trim.width_mm) if trim.turned else (trim.width_mm, trim.height_mm)


def size_on_sheet(trim: Trim) -> tuple[float, float]:
    """Return the width and height that a trim takes up on its upright sheet, or scrap."""
    turned = trim.cut_from is not None and trim.cut_from.turned
    return (trim.height_mm, trim.width_mm) if turned else (trim.width_mm, trim.height_mm)


def corner_on_mat(trim: Trim, side: Floats) -> tuple[float, float]:
    """Return the top left corner of a trim on its mat, which is turned by the matrix `side`."""
    width, height = size_on_mat(trim)
    corners = moved(np.array([[trim.x_mm, trim.y_mm], [trim.x_mm + width, trim.y_mm + height]]), side)
    left, top = corners.min(axis=0)
    return float(left), float(top)


def turn_on_mat(trim: Trim, piece: PlacedPiece) -> float:
    """Return by how many degrees, clockwise on screen, a piece lies turned on its mat, in [0, 360)."""
    return (piece.turn_deg + (90.0 if trim.turned else 0.0)) % 360.0
