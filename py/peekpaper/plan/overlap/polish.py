"""The last hundredths of a millimetre: from poses that nearly keep the spacing to poses that do."""

from collections.abc import Sequence

import numpy as np
import shapely

from peekpaper.geometry.grid import grown
from peekpaper.papers.paper import Direction
from peekpaper.plan.overlap.descent import Descent
from peekpaper.plan.overlap.group import Group, to_poses
from peekpaper.plan.overlap.penalty import Frame, PenaltyModel
from peekpaper.plan.shapes.sample_points import Floats
from peekpaper.plan.shapes.shape import Pose

AIM_MM = 0.004
"""How much more than the spacing to aim for, so that what is left of the overlap does no harm."""
TOLERANCE_MM = 0.0098
"""How much may be missing from the spacing in the end; outlines promise a hundredth."""
SKIN_MM = 0.3
"""Contacts are kept until bodies have moved by this: steps are a fifteenth of it."""
LONGEST_STEP_MM = 0.02
"""No body moves further in one step: overlaps are a few hundredths of a millimetre by now."""
STEPS = 40
"""After so many steps there is no hope (by trial)."""
MOST_STEPS_AT_ONCE = 4
"""Steps between two breaths at most."""
BODY_STEPS_AT_ONCE = 160
"""Steps times bodies between two breaths: some hundredths of a second on a tablet."""
ENOUGH_ENERGY = AIM_MM**2 / 100
"""Penalty at which all overlaps are far below what is aimed for beyond the spacing."""


class Polish:
    """The last steps of a separation, with exact distances; `poses` (n, 3) is where it stands."""

    def __init__(self, group: Group, frame: Frame, poses: Floats) -> None:
        self._group = group
        self._frame = frame
        aim = Frame(frame.left, frame.top, frame.right, frame.bottom, frame.spacing + AIM_MM)
        model = PenaltyModel(group.exact_bodies, group.exact, aim, group.freedom, SKIN_MM)
        self._descent = Descent(model, np.ones((len(poses), len(poses))), poses, LONGEST_STEP_MM)
        self._steps = 0

    @property
    def is_done(self) -> bool:
        """Tell whether there is nothing left to do, or no hope."""
        return self._descent.is_done or self._steps >= STEPS

    @property
    def poses(self) -> Floats:
        """The poses (n, 3) reached."""
        return self._descent.poses

    def advance(self) -> None:
        """Take a few steps."""
        steps = max(1, min(MOST_STEPS_AT_ONCE, BODY_STEPS_AT_ONCE // len(self.poses)))
        self._descent.advance(steps, ENOUGH_ENERGY)
        self._steps += steps

    def depths(self) -> Floats:
        """Return how deep (mm) each two bodies are in each other's spacing (n, n)."""
        return self._descent.penalty.depths(self._group.exact_bodies)

    def found(self) -> list[Pose] | None:
        """Return poses that keep spacing and frame, None where these are out of reach."""
        poses = to_poses(self.poses, self._group.direction is Direction.ANY)
        found = _moved_inside(self._group, self._frame, poses)
        if keeps_spacing(self._group, found) and keeps_inside(self._group, self._frame, found):
            return found
        return None


def keeps_spacing(group: Group, poses: Sequence[Pose]) -> bool:
    """Tell whether all shapes keep their spacing (to TOLERANCE_MM)."""
    outlines = np.array([shape.polygon(pose) for shape, pose in zip(group.shapes, poses, strict=True)])
    distance = group.spacing_mm - TOLERANCE_MM
    if distance <= 0:
        outlines = grown(outlines, distance / 2 - 1e-6, 8)
        distance = 0.0
    tree = shapely.STRtree(outlines)
    one, other = tree.query(outlines, predicate="dwithin", distance=distance)
    return bool((one == other).all())


def keeps_inside(group: Group, frame: Frame, poses: Sequence[Pose]) -> bool:
    """Tell whether all shapes are inside the frame."""
    outlines = [shape.polygon(pose) for shape, pose in zip(group.shapes, poses, strict=True)]
    left, top, right, bottom = shapely.total_bounds(outlines)
    slack = 1e-6
    return bool(
        left >= frame.left - slack
        and top >= frame.top - slack
        and right <= frame.right + slack
        and bottom <= frame.bottom + slack
    )


def _moved_inside(group: Group, frame: Frame, poses: Sequence[Pose]) -> list[Pose]:
    """Return the poses with those that stick out of the frame by a hair moved back."""
    inside = []
    for shape, pose, may_move in zip(group.shapes, poses, group.freedom[:, 0] > 0, strict=True):
        left, top, right, bottom = shape.polygon(pose).bounds
        dx = max(frame.left - left, 0.0) + min(frame.right - right, 0.0)
        dy = max(frame.top - top, 0.0) + min(frame.bottom - bottom, 0.0)
        inside.append(Pose(pose.x_mm + dx, pose.y_mm + dy, pose.turn_deg) if may_move else pose)
    return inside
