"""Moves pieces that were fitted too closely a little apart, so that they keep their spacing."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from peekpaper.plan.group import Group, to_array
from peekpaper.plan.polish import Polish
from peekpaper.plan.shape import Pose

SPREADS = (1.0005, 1.002, 1.006, 1.015, 1.03)
"""By what factor to spread the pieces, from the least to the most."""


class Loosening:
    """Spreads poses that overlap by hairs until they polish well; `solution` are the poses found."""

    def __init__(self, group: Group, poses: Sequence[Pose]) -> None:
        self.solution: list[Pose] | None = None
        self._group = group
        self._poses = poses

    def run(self) -> Iterator[None]:
        """Try one spread after the other; yields to let the caller breathe."""
        outlines = [shape.polygon(pose) for shape, pose in zip(self._group.shapes, self._poses, strict=True)]
        left, top, right, bottom = shapely.total_bounds(outlines)
        margin = self._group.margin_mm
        for spread in SPREADS:
            array = to_array(self._poses)
            array[:, :2] = (array[:, :2] - np.array([left, top])) * spread + margin
            size = ((right - left) * spread + 2 * margin, (bottom - top) * spread + 2 * margin)
            polish = Polish(self._group, self._group.frame(*size), array)
            while not polish.is_done:
                polish.advance()
                yield
            self.solution = polish.found()
            if self.solution is not None:
                return
