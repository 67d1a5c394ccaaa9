"""What is left of a trim beside some pieces."""

from collections.abc import Sequence

import shapely
from shapely import Polygon

from peekpaper.geometry.grid import one_grown
from peekpaper.plan.fill.bottom_left import Room
from peekpaper.plan.plan import PlacedPiece, PlanChoices, Trim
from peekpaper.plan.shapes.shape import Pose, Shape

TOLERANCE_MM = 0.005
"""How much may be missing from the spacing: half of what outlines promise."""


class FreeSpace:
    """Where in a trim a shape keeps the margin, and the spacing from other pieces."""

    def __init__(self, trim: Trim, others: Sequence[PlacedPiece], choices: PlanChoices) -> None:
        self._box = (
            choices.margin_mm,
            choices.margin_mm,
            trim.width_mm - choices.margin_mm,
            trim.height_mm - choices.margin_mm,
        )
        self._room = Room(trim.width_mm, trim.height_mm, trim.outline)
        self._margin = choices.margin_mm
        self._spacing = choices.spacing_mm - TOLERANCE_MM
        self._numbers = [other.number for other in others]
        self._others = shapely.STRtree([other.outline for other in others])

    def is_free(self, shape: Shape, pose: Pose) -> bool:
        """Tell whether a shape may lie so."""
        outline = shape.polygon(pose)
        return self._keeps_margin(outline) and not self._near(outline)

    def keeps_margin(self, shape: Shape, pose: Pose) -> bool:
        """Tell whether a shape that lies so keeps the margin at the trim's edge."""
        return self._keeps_margin(shape.polygon(pose))

    def crowded(self, shape: Shape, pose: Pose) -> list[int]:
        """Return the numbers of the pieces to which a shape that lies so would be too near."""
        return sorted(self._numbers[index] for index in self._near(shape.polygon(pose)))

    def _keeps_margin(self, outline: Polygon) -> bool:
        left, top, right, bottom = outline.bounds
        if left < self._box[0] - 1e-6 or top < self._box[1] - 1e-6:
            return False
        if right > self._box[2] + 1e-6 or bottom > self._box[3] + 1e-6:
            return False
        return self._room.keeps_margin([outline], self._margin)

    def _near(self, outline: Polygon) -> list[int]:
        reach = one_grown(outline, self._spacing) if self._spacing < 0 else outline
        return [*self._others.query(reach, predicate="dwithin", distance=max(self._spacing, 0.0))]
