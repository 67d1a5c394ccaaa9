"""Seeks a smaller trim for the same pieces: by long leaps at first, then all sizes a little smaller.

Each time the pieces are clear of each other the trim shrinks and they are moved apart again (Egeblad, Nielsen
and Odgaard 2007, Imamichi, Yagiura and Nagamochi 2009; both for strips, from memory).
"""

import math
from collections.abc import Iterator, Sequence

import numpy as np

from peekpaper.papers.paper import Direction
from peekpaper.plan.overlap.group import Group, make_group, to_array
from peekpaper.plan.overlap.placement import PlacementSearch
from peekpaper.plan.overlap.separation import Separation, make_placement_search
from peekpaper.plan.shapes.distance_field import DistanceFields
from peekpaper.plan.shapes.sample_points import Floats
from peekpaper.plan.shapes.shape import Pose
from peekpaper.plan.trims.layout import Layout
from peekpaper.plan.trims.sizes import round_up, smaller_sizes
from peekpaper.plan.trims.task import PaperTask

FIRST_LEAP, LONGEST_LEAP, LEAST_LEAP = 0.06, 0.12, 0.012
"""By which part a trim's area is to shrink at a leap."""
LEAP_ROUNDS = 30
"""How many rounds a size gets at a leap before a shorter leap is tried (by trial)."""
QUICK_ROUNDS = 8
"""Where a leap took no more rounds the next is longer."""
SIZES_AT_ONCE = 6
"""How many sizes share the rounds once all leaps have failed (by trial)."""
SHAPES_APART = 0.12
"""Sizes whose ratios of sides differ by less (as logarithms) are of the same shape."""
LEAST_GAIN = 0.004
"""What part of its area a trim must save to be worth trying, where steps are fine."""
SEED_STRIDE = 7919
"""A prime, so that seeds of sizes differ from those of other seeds that a person may choose."""


class Shrinking:
    """Works on one trim, round by round; `best` is the smallest so far, `is_done` when nothing is left."""

    def __init__(self, task: PaperTask, fields: DistanceFields, layout: Layout) -> None:
        self.best = layout
        self._task = task
        self._indices = sorted(layout.poses)
        self._group = _group_of(task, fields, layout)
        self._leap = FIRST_LEAP
        self._separations: dict[tuple[float, float], Separation] = {}
        self._count = 0
        self._placements: tuple[tuple[float, float], PlacementSearch] | None = None
        self._sizes = self._smaller_sizes()

    @property
    def is_done(self) -> bool:
        """Tell whether no smaller trim could hold the pieces."""
        return not self._sizes

    def round(self) -> Iterator[None]:
        """Work a little towards a smaller trim; yields to let the caller breathe."""
        size = self._next_size()
        if size not in self._separations:
            self._separations[size] = self._separation(size)
        separation = self._separations[size]
        yield from separation.round()
        if separation.solution is not None:
            self._take(separation)

    @property
    def _is_leaping(self) -> bool:
        return self._leap >= LEAST_LEAP

    def _next_size(self) -> tuple[float, float]:
        while self._is_leaping:
            wanted = self.best.area_mm2 * (1 - self._leap)
            small = [size for size in self._sizes if size[0] * size[1] <= wanted]
            for size in _of_all_shapes(small)[: self._sizes_to_leap_at]:
                if size not in self._separations or self._separations[size].rounds < LEAP_ROUNDS:
                    return size
            self._leap /= 2
        return min(enumerate(_of_all_shapes(self._sizes)[:SIZES_AT_ONCE]), key=self._claim)[1]

    @property
    def _sizes_to_leap_at(self) -> int:
        """How many shapes of trim to try at each leap: most for few pieces, whose rounds are quick."""
        return max(1, SIZES_AT_ONCE - len(self._indices) // 5)

    def _claim(self, ranked: tuple[int, tuple[float, float]]) -> float:
        """Return how far a size is ahead of its share of rounds; the easiest sizes get the largest share."""
        rank, size = ranked
        separation = self._separations.get(size)
        return (separation.rounds if separation else 0) * (rank + 1.0)

    def _take(self, separation: Separation) -> None:
        assert separation.solution is not None
        self._leap = min(self._leap * 1.5, LONGEST_LEAP) if separation.rounds <= QUICK_ROUNDS else self._leap
        poses = dict(zip(self._indices, separation.solution, strict=True))
        width, height = self._tight(separation)
        old = self.best
        self.best = Layout(old.id, old.paper, width, height, old.scrap, old.keeps_size, poses, old.fixed)
        self._sizes = self._smaller_sizes()
        self._separations = {
            size: kept for size, kept in self._separations.items() if size in set(self._sizes)
        }

    def _tight(self, separation: Separation) -> tuple[float, float]:
        """Return the least sides that still hold what the separation found."""
        assert separation.solution is not None
        rings = np.concatenate(
            [np.array(shape.polygon(pose).bounds)[None, 2:] for shape, pose in
             zip(self._group.shapes, separation.solution, strict=True)]
        )  # fmt: skip
        right, bottom = rings.max(axis=0) + self._group.margin_mm
        step = self._task.choices.trim_step_mm
        width, height = separation.size_mm
        return round_up(float(right), width, step), round_up(float(bottom), height, step)

    def _smaller_sizes(self) -> list[tuple[float, float]]:
        """Return sizes smaller than the best that could hold the group, the easiest first."""
        group, choices = self._group, self._task.choices
        overhang = 2 * group.margin_mm - group.spacing_mm
        best = (self.best.width_mm, self.best.height_mm)
        pinned = _pinned_reach(group, self._array())
        sizes = [
            (width, height)
            for width, height in smaller_sizes(best, self._task.largest, self._task.paper.direction, choices)
            if width * height <= self.best.area_mm2 * (1 - LEAST_GAIN)
            and (width - overhang) * (height - overhang) >= group.grown_area_mm2
            and width >= pinned[0] - 1e-6
            and height >= pinned[1] - 1e-6
        ]
        sizes = _that_hold(sizes, group.boxes, group.margin_mm)
        return sorted(sizes, key=lambda size: (-(size[0] - overhang) * (size[1] - overhang), size))

    def _separation(self, size: tuple[float, float]) -> Separation:
        self._count += 1
        seed = self._task.choices.seed * SEED_STRIDE + self._count
        return Separation(self._group, size, self._squeezed(size), self._placements_for(size), seed)

    def _placements_for(self, size: tuple[float, float]) -> PlacementSearch:
        if self._placements is None or size[0] > self._placements[0][0] or size[1] > self._placements[0][1]:
            larger = (size[0] * 1.1, size[1] * 1.1)
            self._placements = (larger, make_placement_search(self._group, larger))
        return self._placements[1]

    def _squeezed(self, size: tuple[float, float]) -> Floats:
        """Return the best layout's poses, drawn together to fit about into a trim of another size."""
        poses, margin = self._array(), self._group.margin_mm
        width, height = self.best.width_mm, self.best.height_mm
        free = self._group.freedom[:, 0] > 0
        if (
            self._task.paper.direction is Direction.ANY
            and free.all()
            and (width > height) != (size[0] > size[1])
        ):
            poses = np.column_stack([height - poses[:, 1], poses[:, 0], poses[:, 2] + np.pi / 2])
            width, height = height, width
        for axis, (old, new) in enumerate(((width, size[0]), (height, size[1]))):
            drawn = margin + (poses[:, axis] - margin) * (new - 2 * margin) / (old - 2 * margin)
            poses[free, axis] = drawn[free]
        return poses

    def _array(self) -> Floats:
        return to_array([self.best.poses[index] for index in self._indices])


def _of_all_shapes(sizes: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Return the first of the sizes of each shape, from square to long, in their order."""
    first: dict[int, tuple[float, float]] = {}
    for width, height in sizes:
        first.setdefault(round(math.log(width / height) / SHAPES_APART), (width, height))
    return list(first.values())


def _group_of(task: PaperTask, fields: DistanceFields, layout: Layout) -> Group:
    """Return the group of a layout's shapes, in the order of their indices."""
    indices = sorted(layout.poses)
    return make_group(
        [task.shapes[index] for index in indices],
        [index in layout.fixed for index in indices],
        fields.only(indices),
        task.paper.direction,
        task.choices,
    )


def _pinned_reach(group: Group, poses: Floats) -> tuple[float, float]:
    """Return the least width and height of a trim that holds the pinned pieces."""
    held = np.nonzero(group.freedom[:, 0] == 0)[0]
    reach = [
        group.shapes[k].polygon(Pose(poses[k, 0], poses[k, 1], np.degrees(poses[k, 2]))).bounds for k in held
    ]
    return (
        max((bounds[2] for bounds in reach), default=0.0) + group.margin_mm,
        max((bounds[3] for bounds in reach), default=0.0) + group.margin_mm,
    )


def _that_hold(
    sizes: list[tuple[float, float]], boxes: Sequence[Floats], margin: float
) -> list[tuple[float, float]]:
    """Return the sizes of trims that hold each shape at one of its turns (boxes: turns, 2) at least."""
    if not sizes:
        return []
    inner = np.array(sizes) - 2 * margin + 1e-6
    for box in boxes:
        holds = (box[:, 0] <= inner[:, :1]) & (box[:, 1] <= inner[:, 1:])
        inner[~np.any(holds, axis=1)] = -1.0
    return [size for size, left in zip(sizes, inner[:, 0].tolist(), strict=True) if left >= 0]
