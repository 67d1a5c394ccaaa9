"""The pieces that share a trim, ready to be moved about together."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.geometry.elementary import cosines_and_sines
from peekpaper.geometry.grid import grown
from peekpaper.papers.paper import Direction
from peekpaper.plan.overlap.penalty import Frame
from peekpaper.plan.plan import PlanChoices
from peekpaper.plan.shapes.distance_field import DistanceFields
from peekpaper.plan.shapes.exact_distances import ExactDistances, make_exact_distances
from peekpaper.plan.shapes.sample_points import Floats, SamplePoints, make_sample_points
from peekpaper.plan.shapes.shape import Pose, Shape
from peekpaper.plan.shapes.turns import turns_allowed

BOX_TURNS, BOX_TURNS_OF_FEW, FEW = 36, 180, 12
"""At how many turns the boxes of shapes are looked at: at more where there are few shapes."""
COARSE_MM = 0.1
"""How far the points that the search goes by may be off the outline."""
GYRATION = 0.6
"""About how far a body's points are from its origin, as a part of its radius."""


@dataclass(frozen=True, slots=True)
class Group:
    """Shapes of one paper with all that the search asks of them.

    The search goes by `bodies` and `fields`, the last steps by `exact_bodies` and `exact`.
    `freedom` (n, 3) is zero where a pose may not change: all of it for pinned pieces, turns of papers with a
    direction. `grown_area_mm2` is the area of all shapes grown by half the spacing: no trim can hold less.
    `boxes` holds the width and height (turns, 2) of each shape at the turns it may take.
    """

    shapes: tuple[Shape, ...]
    bodies: SamplePoints
    exact_bodies: SamplePoints
    fields: DistanceFields
    exact: ExactDistances
    freedom: Floats
    direction: Direction
    spacing_mm: float
    margin_mm: float
    grown_area_mm2: float
    boxes: tuple[Floats, ...]

    def frame(self, width_mm: float, height_mm: float) -> Frame:
        """Return the part of a trim of that size that pieces may cover."""
        margin = self.margin_mm
        return Frame(margin, margin, width_mm - margin, height_mm - margin, self.spacing_mm)


def make_group(
    shapes: Sequence[Shape],
    held: Sequence[bool],
    fields: DistanceFields,
    direction: Direction,
    choices: PlanChoices,
) -> Group:
    """Return the group of these shapes; `held` tells which are pinned."""
    bodies = make_sample_points(shapes, COARSE_MM)
    freedom = np.ones((len(shapes), 3))
    turns_freely = direction is Direction.ANY
    freedom[:, 2] = 1.0 / (GYRATION * np.maximum(bodies.radius, 0.1)) if turns_freely else 0.0
    freedom[np.array(held, dtype=bool)] = 0.0
    outlines = np.array([Polygon(shape.outline) for shape in shapes], dtype=object)
    box_turns = BOX_TURNS_OF_FEW if len(shapes) <= FEW else BOX_TURNS
    return Group(
        tuple(shapes),
        bodies,
        make_sample_points(shapes, 0.0),
        fields,
        make_exact_distances(shapes),
        freedom,
        direction,
        choices.spacing_mm,
        choices.margin_mm,
        float(shapely.area(grown(outlines, choices.spacing_mm / 2, 8)).sum()),
        tuple(_boxes(shape, direction, box_turns) for shape in shapes),
    )


def _boxes(shape: Shape, direction: Direction, count: int) -> Floats:
    turns = np.radians(turns_allowed(direction, count, shape.upright_deg))
    cosine, sine = (part[:, None] for part in cosines_and_sines(turns))
    x, y = shape.outline.T
    return np.stack([np.ptp(cosine * x - sine * y, axis=1), np.ptp(sine * x + cosine * y, axis=1)], axis=1)


def to_array(poses: Sequence[Pose]) -> Floats:
    """Return poses as an array (n, 3): x, y in mm, turn in radians."""
    return np.array([(pose.x_mm, pose.y_mm, np.radians(pose.turn_deg)) for pose in poses])


def to_poses(array: Floats, turns_freely: bool) -> list[Pose]:
    """Return an array of poses as poses; turns of a paper with direction are whole degrees."""
    turns = np.degrees(array[:, 2]) % 360.0
    if not turns_freely:
        turns = np.round(turns) % 360.0
    return [
        Pose(float(x), float(y), float(turn))
        for x, y, turn in zip(array[:, 0], array[:, 1], turns, strict=True)
    ]
