"""A piece made ready for the search: its outline with few nodes, about an origin of its own."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.geometry.elementary import directions, hypot
from peekpaper.geometry.grid import one_grown
from peekpaper.plan.plan import PieceToPlace, PlacedPiece
from peekpaper.plan.shapes.turns import cosine_and_sine, placed, turned_by_degrees

MANY_NODES = 32
"""Outlines with more nodes get along with fewer, for the search goes by nodes."""
SLACK_MM = 0.03
"""How much an outline with many nodes may grow to get along with fewer."""


@dataclass(frozen=True, slots=True)
class Pose:
    """Where a shape lies in a trim: its origin at (`x_mm`, `y_mm`), turned by `turn_deg`."""

    x_mm: float
    y_mm: float
    turn_deg: float


@dataclass(frozen=True, slots=True)
class Shape:
    """A piece as the search sees it.

    `outline` (n, 2) is a closed ring in mm about the shape's own origin, which lies at `centre` in the
    design; it contains the piece's outline. Turned by `upright_deg` its tightest box lies along the axes.
    """

    piece: PieceToPlace
    centre: tuple[float, float]
    outline: NDArray[np.float64]
    area_mm2: float
    upright_deg: float

    def polygon(self, pose: Pose) -> Polygon:
        """Return the shape's outline as it lies in the trim."""
        return Polygon(turned_by_degrees(self.outline, pose.turn_deg) + np.array([pose.x_mm, pose.y_mm]))

    def placed(self, pose: Pose) -> PlacedPiece:
        """Return the piece itself as it lies in the trim."""
        cosine, sine = cosine_and_sine(pose.turn_deg)
        x = pose.x_mm - (cosine * self.centre[0] - sine * self.centre[1])
        y = pose.y_mm - (sine * self.centre[0] + cosine * self.centre[1])
        outline = placed(self.piece.outline, pose.turn_deg, x, y)
        return PlacedPiece(self.piece.number, pose.turn_deg % 360.0, x, y, outline)

    def pose_of(self, turn_deg: float, x_mm: float, y_mm: float) -> Pose:
        """Return the pose of a piece turned about the design's origin and then moved (see PlacedPiece)."""
        cosine, sine = cosine_and_sine(turn_deg)
        return Pose(
            x_mm + cosine * self.centre[0] - sine * self.centre[1],
            y_mm + sine * self.centre[0] + cosine * self.centre[1],
            turn_deg % 360.0,
        )


def make_shape(piece: PieceToPlace) -> Shape:
    """Return the shape of a piece, its origin at the middle of the outline's bounds."""
    outline = Polygon(piece.outline.exterior)
    if len(outline.exterior.coords) > MANY_NODES:
        outline = _with_fewer_nodes(outline)
    left, top, right, bottom = outline.bounds
    centre = ((left + right) / 2, (top + bottom) / 2)
    ring = np.array(outline.exterior.coords)[:, :2] - centre
    return Shape(piece, centre, ring, outline.area, _upright(outline))


def _upright(outline: Polygon) -> float:
    """Return the turn that lays the longer side of the tightest box round an outline along the x axis."""
    tightest = outline.minimum_rotated_rectangle
    if not isinstance(tightest, Polygon):
        return 0.0
    corners = np.array(tightest.exterior.coords)
    sides = np.diff(corners[:3], axis=0)
    longer = sides[int(hypot(*sides[1]) > hypot(*sides[0]))]
    return float(-np.degrees(directions(longer[:1], longer[1:])[0]) % 180.0)


def _with_fewer_nodes(outline: Polygon) -> Polygon:
    grown = one_grown(outline, SLACK_MM, quad_segs=2).simplify(SLACK_MM * 0.9)
    simple = Polygon(grown.exterior) if isinstance(grown, Polygon) else outline
    if not simple.is_valid or len(simple.exterior.coords) >= len(outline.exterior.coords):
        return outline
    return simple if shapely.contains_properly(simple, outline) or simple.covers(outline) else outline
