"""Where pieces overflow a full sheet: gets more of them onto it, so that the rest takes less paper."""

import math
from collections.abc import Iterator

import numpy as np

from peekpaper.plan.fill.first import trim_for
from peekpaper.plan.overlap.group import Group, make_group, to_array
from peekpaper.plan.overlap.placement import PlacementSearch
from peekpaper.plan.overlap.separation import Separation, make_placement_search
from peekpaper.plan.shapes.sample_points import Floats
from peekpaper.plan.shapes.shape import Pose
from peekpaper.plan.trims.layout import Layout
from peekpaper.plan.trims.task import PaperTask

FULLNESS = (0.78, 0.82, 0.86, 0.9)
"""What part of the sheet to fill, spacing included, from the surest try to the boldest."""
ROUNDS = 40
SEED_STRIDE = 104729


class Gathering:
    """Works on a full sheet and the trim that takes its overflow, round by round.

    `full` and `rest` are the best found so far, `rest` None where the sheet holds everything.
    """

    def __init__(self, task: PaperTask, full: Layout, rest: Layout) -> None:
        self.full = full
        self.rest: Layout | None = rest
        self._task = task
        self._tries = list(FULLNESS)
        self._separation: Separation | None = None
        self._indices: list[int] = []

    @property
    def is_done(self) -> bool:
        """Tell whether all tries are through, one has failed, or no rest is left."""
        return self._separation is None and (not self._tries or self.rest is None)

    def round(self) -> Iterator[None]:
        """Work a little; yields to let the caller breathe."""
        if self._separation is None:
            yield from self._begin_next()
            return
        yield from self._separation.round()
        if self._separation.solution is not None:
            yield
            self._take(self._separation.solution)
            self._separation = None
            yield
        elif self._separation.rounds >= ROUNDS:
            self._separation, self._tries = None, []

    def _begin_next(self) -> Iterator[None]:
        """Begin a separation with as many pieces of the rest, largest first, as the next try allows."""
        assert self.rest is not None
        task, full = self._task, self.full
        fullness = self._tries.pop(0)
        overhang = 2 * task.choices.margin_mm - task.choices.spacing_mm
        most = fullness * (full.width_mm - overhang) * (full.height_mm - overhang)
        area = math.fsum(self._grown_area(index) for index in full.poses)
        added = []
        loose = [index for index in self.rest.poses if index not in self.rest.fixed]
        for index in sorted(loose, key=lambda index: -task.shapes[index].area_mm2):
            if area + self._grown_area(index) <= most:
                area += self._grown_area(index)
                added.append(index)
        yield
        if not added:
            return
        self._indices = [*sorted(full.poses), *added]
        group = make_group(
            [task.shapes[index] for index in self._indices],
            [index in full.fixed for index in self._indices],
            task.fields.only(self._indices),
            task.paper.direction,
            task.choices,
        )
        yield
        size = (full.width_mm, full.height_mm)
        placements = make_placement_search(group, size)
        poses = to_array([self._pose(index) for index in self._indices])
        yield from _lay_added(group, placements, poses, size, len(added))
        seed = task.choices.seed * SEED_STRIDE + len(self._tries)
        self._separation = Separation(group, size, poses, placements, seed)

    def _pose(self, index: int) -> Pose:
        middle = Pose(self.full.width_mm / 2, self.full.height_mm / 2, 0.0)
        return self.full.poses.get(index, middle)

    def _grown_area(self, index: int) -> float:
        shape, spacing = self._task.shapes[index], self._task.choices.spacing_mm
        return shape.area_mm2 + shape.piece.outline.length * spacing / 2 + math.pi * spacing * spacing / 4

    def _take(self, solution: list[Pose]) -> None:
        assert self.rest is not None
        poses = dict(zip(self._indices, solution, strict=True))
        left = [index for index in self.rest.poses if index not in poses]
        full = self.full
        keeps_size = bool(left)
        self.full = Layout(
            full.id, full.paper, full.width_mm, full.height_mm, None, keeps_size, poses, full.fixed
        )
        pinned = {index: self.rest.poses[index] for index in self.rest.fixed}
        self.rest = trim_for(self._task, self.rest.id, left, pinned) if left else None


def _lay_added(
    group: Group, placements: PlacementSearch, poses: Floats, size: tuple[float, float], added: int
) -> Iterator[None]:
    """Lay the last `added` bodies, one by one, where they overlap the others least; changes `poses`."""
    frame = group.frame(*size)
    first = len(poses) - added
    weights = np.ones((len(poses), len(poses)))
    weights[:, first:] = 0.0
    depths = placements.depths(poses, frame)
    for body in range(first, len(poses)):
        yield
        poses[body] = placements.best_place(body, poses[body], depths.round_others(body, weights), frame)
        depths = placements.depths_after_move(depths, body, poses[body], frame)
        weights[:, body] = 1.0
