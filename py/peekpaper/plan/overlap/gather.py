"""Where pieces overflow a full sheet: gets more of them onto it, so that the rest takes less paper."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from peekpaper.plan.fill.first import trim_for
from peekpaper.plan.overlap.group import Group, make_group, to_array
from peekpaper.plan.overlap.placement import PlacementSearch
from peekpaper.plan.overlap.separation import Separation, make_placement_search
from peekpaper.plan.shapes.distance_field import DistanceFields
from peekpaper.plan.shapes.sample_points import Floats
from peekpaper.plan.shapes.shape import Pose
from peekpaper.plan.trims.layout import Layout
from peekpaper.plan.trims.task import PaperTask

FULLNESS = (0.78, 0.82, 0.86, 0.9)
"""What part of the sheet to fill, spacing included, from the surest try to the boldest."""
ROUNDS = 40
"""How many rounds one try gets (by trial: what is not separated by then rarely is)."""
SEED_STRIDE = 104729
"""A prime, so that seeds of tries differ from those of other seeds that a person may choose."""


class Gathering:
    """Works on the last full sheet and the trim that takes its overflow, round by round.

    `layouts` are the best found so far, without the trim for the overflow where the sheet holds everything.
    """

    def __init__(self, task: PaperTask, fields: DistanceFields, layouts: tuple[Layout, ...]) -> None:
        self.layouts = layouts
        self._task = task
        self._fields = fields
        self._full = _last_full_sheet(task, layouts)
        self._rest = loose_trim(layouts)
        self._tries = list(FULLNESS) if self._full is not None else []
        self._separation: Separation | None = None
        self._indices: list[int] = []

    @property
    def is_done(self) -> bool:
        """Tell whether all tries are through, one has failed, or no rest is left."""
        return self._separation is None and (not self._tries or self._rest is None)

    def round(self) -> Iterator[None]:
        """Work a little; yields to let the caller breathe."""
        if self._separation is None:
            yield from self._begin_next()
            return
        yield from self._separation.round()
        if self._separation.solution is not None:
            yield
            yield from self._take(self._separation.solution)
            self._separation = None
            yield
        elif self._separation.rounds >= ROUNDS:
            self._separation, self._tries = None, []

    def _begin_next(self) -> Iterator[None]:
        """Begin a separation with as many pieces of the rest, largest first, as the next try allows."""
        assert self._full is not None
        assert self._rest is not None
        task, full = self._task, self._full
        fullness = self._tries.pop(0)
        overhang = 2 * task.choices.margin_mm - task.choices.spacing_mm
        most = fullness * (full.width_mm - overhang) * (full.height_mm - overhang)
        area = math.fsum(self._grown_area(index) for index in full.poses)
        added = []
        loose = [index for index in self._rest.poses if index not in self._rest.fixed]
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
            self._fields.only(self._indices),
            task.paper.direction,
            task.choices,
        )
        yield
        size = (full.width_mm, full.height_mm)
        placements = make_placement_search(group, size)
        middle = Pose(full.width_mm / 2, full.height_mm / 2, 0.0)
        poses = to_array([full.poses.get(index, middle) for index in self._indices])
        yield from _lay_added(group, placements, poses, size, len(added))
        seed = task.choices.seed * SEED_STRIDE + len(self._tries)
        self._separation = Separation(group, size, poses, placements, seed)

    def _grown_area(self, index: int) -> float:
        shape, spacing = self._task.shapes[index], self._task.choices.spacing_mm
        return shape.area_mm2 + shape.piece.outline.length * spacing / 2 + math.pi * spacing * spacing / 4

    def _take(self, solution: list[Pose]) -> Iterator[None]:
        full, rest = self._full, self._rest
        assert full is not None
        assert rest is not None
        poses = dict(zip(self._indices, solution, strict=True))
        left = [index for index in rest.poses if index not in poses]
        self._full = replace(full, scrap=None, keeps_size=bool(left), poses=poses)
        self._rest = None
        if left:
            pinned = {index: rest.poses[index] for index in rest.fixed}
            self._rest = yield from trim_for(self._task, self._fields, rest.id, left, pinned)
        changed = {id(full): self._full, id(rest): self._rest}
        after = (changed.get(id(layout), layout) for layout in self.layouts)
        self.layouts = tuple(layout for layout in after if layout is not None)


def loose_trim(layouts: Sequence[Layout]) -> Layout | None:
    """Return the one trim that may become smaller, the last; None where all keep their size."""
    return next((layout for layout in reversed(layouts) if not layout.keeps_size), None)


def _last_full_sheet(task: PaperTask, layouts: Sequence[Layout]) -> Layout | None:
    pinned = {pin.trim for pin in task.trim_pins}
    return next(
        (
            layout
            for layout in reversed(layouts)
            if layout.keeps_size and not layout.scrap and layout.id not in pinned
        ),
        None,
    )


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
