"""Moves pieces that were fitted too closely a little apart, so that they keep their spacing."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely

from peekpaper.plan.bodies import make_bodies
from peekpaper.plan.group import Group, to_array
from peekpaper.plan.polish import TOLERANCE_MM, Polish
from peekpaper.plan.shape import Pose

SPREADS = (1.0005, 1.002, 1.006, 1.015, 1.03)
"""By what factor to spread the pieces, from the least to the most."""

BESIDE_MM = 0.05
INTERLOCKED = 0.98
"""Where depths stay at more than this part pieces are interlocked, so that more room does not help."""
AIMS_MM = (0.0004 - TOLERANCE_MM, 0.003 - TOLERANCE_MM)
"""How far from the spacing to aim for: outlines that were rounded overlap whatever is done, interlocked ones
above all, so nearly as much overlap as is borne, then less.
"""


class Loosening:
    """Spreads poses that overlap by hairs until they polish well; `solution` are the poses found."""

    def __init__(self, group: Group, poses: Sequence[Pose]) -> None:
        self.solution: list[Pose] | None = None
        self._group = replace(group, exact_bodies=make_bodies(group.shapes, 0.0, BESIDE_MM))
        self._poses = poses

    def run(self) -> Iterator[None]:
        """Try one spread after the other; yields to let the caller breathe."""
        outlines = [shape.polygon(pose) for shape, pose in zip(self._group.shapes, self._poses, strict=True)]
        left, top, right, bottom = shapely.total_bounds(outlines)
        margin = self._group.margin_mm
        least = np.inf
        for spread in SPREADS:
            array = to_array(self._poses)
            array[:, :2] = (array[:, :2] - np.array([left, top])) * spread + margin
            size = ((right - left) * spread + 2 * margin, (bottom - top) * spread + 2 * margin)
            for aim in AIMS_MM:
                polish = Polish(self._group, self._group.frame(*size), array, aim)
                while not polish.is_done:
                    polish.advance()
                    yield
                self.solution = polish.found()
                if self.solution is not None:
                    return
                array = polish.poses
            depth = float(polish.depths().max())
            if depth > INTERLOCKED * least:
                return
            least = depth
