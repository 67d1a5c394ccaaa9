"""Packs pieces that are rectangles, or nearly so: window panes, border strips, what punches and cuts leave.

Straight sides that lie along each other are points that a search over overlaps misses. So rectangles are laid
side by side by the best-fit rule (Burke, Kendall and Whitwell 2004, "A new placement heuristic for the
orthogonal stock-cutting problem"): always into the lowest gap, and there the one that fits it best. Here it
is done for several widths of the trim, and again and again with the order disturbed a little.
"""

import math
import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from peekpaper.papers.paper import Direction
from peekpaper.plan.plan import PlanChoices
from peekpaper.plan.shapes.shape import Pose, Shape
from peekpaper.plan.shapes.turns import turned_by_degrees, turns_allowed
from peekpaper.plan.trims.layout import Layout
from peekpaper.plan.trims.sizes import has_shape, round_up, sides
from peekpaper.plan.trims.task import PaperTask

NEARLY = 0.97
"""What part of its box a piece must fill to be packed as that box: room for corners that are rounded."""
TRIES = (1, 15, 150)
"""How many orders to try for each width, in turns: all widths get their first one before any gets more."""
SECOND_BEST = 0.12
"""How often another than the best-fitting rectangle is laid (by experience), but for the first order."""
LONGEST = 3.0
"""The longest trims tried have this ratio of sides."""
MOST_WIDTHS = 24
"""How many widths are tried at most where steps are fine."""
SAME_MM = 0.02
"""Levels that differ by less are one level."""


@dataclass(frozen=True, slots=True)
class Box:
    """A shape's box at one turn (degrees), about the shape's origin, in mm; half the spacing all round it."""

    index: int
    turn_deg: float
    left: float
    top: float
    width: float
    height: float


@dataclass(slots=True)
class _Gap:
    """A stretch of the skyline on which the next rectangles are laid."""

    left: float
    width: float
    level: float


class RectanglePacking:
    """Seeks a smaller trim for rectangles, width by width; `best` is the smallest so far."""

    def __init__(self, task: PaperTask, layout: Layout) -> None:
        self.best = layout
        self._choices = task.choices
        self._boxes = [] if layout.fixed else _boxes(task, sorted(layout.poses))
        self._random = random.Random(task.choices.seed)
        widths = _widths(task, self._boxes) if len(self._boxes) > 1 else []
        self._left = [(*width, tries) for tries in TRIES for width in widths]

    @property
    def is_done(self) -> bool:
        """Tell whether all is tried, or the pieces are no rectangles."""
        return not self._left

    def round(self) -> Iterator[None]:
        """Try some orders at one width; yields to let the caller breathe."""
        wide, high, tries = self._left.pop(0)
        for number in range(tries):
            first = tries == TRIES[0] and number == 0
            laid = _laid(self._boxes, wide - self._overhang, 0.0 if first else SECOND_BEST, self._random)
            self._take(laid, wide, high)
            yield

    @property
    def _overhang(self) -> float:
        return 2 * self._choices.margin_mm - self._choices.spacing_mm

    def _take(self, laid: Mapping[Box, tuple[float, float]], wide: float, high: float) -> None:
        """Keep the rectangles laid, by their corners, if they make a smaller trim of the wished shape."""
        right = max(x + box.width for box, (x, _) in laid.items()) + self._overhang
        bottom = max(y + box.height for box, (_, y) in laid.items()) + self._overhang
        step = self._choices.trim_step_mm
        width, height = round_up(right, wide, step), round_up(bottom, high, step)
        if bottom > high + SAME_MM or width * height >= self.best.area_mm2:
            return
        if has_shape(width, height, self._choices.trim_shape, step):
            first = self._choices.margin_mm - self._choices.spacing_mm / 2
            poses = {
                box.index: Pose(first + x - box.left, first + y - box.top, box.turn_deg)
                for box, (x, y) in laid.items()
            }
            self.best = replace(self.best, width_mm=width, height_mm=height, poses=poses)


def _boxes(task: PaperTask, indices: Sequence[int]) -> list[tuple[Box, ...]]:
    """Return each shape's boxes at the turns at which it stands upright; none where one is no rectangle."""
    boxes = []
    for index in indices:
        own = _boxes_of(index, task.shapes[index], task.paper.direction, task.choices)
        if not own:
            return []
        boxes.append(own)
    return boxes


def _boxes_of(index: int, shape: Shape, direction: Direction, choices: PlanChoices) -> tuple[Box, ...]:
    turns = turns_allowed(direction, 4, shape.upright_deg)[:2] if direction is Direction.ANY else (0.0,)
    boxes = []
    for turn in turns:
        ring = turned_by_degrees(shape.outline, turn)
        (left, top), (right, bottom) = ring.min(axis=0).tolist(), ring.max(axis=0).tolist()
        if shape.area_mm2 < NEARLY * (right - left) * (bottom - top):
            return ()
        half = choices.spacing_mm / 2
        width, height = right - left + 2 * half, bottom - top + 2 * half
        boxes.append(Box(index, turn, left - half, top - half, width, height))
    return tuple(boxes)


def _widths(task: PaperTask, boxes: Sequence[tuple[Box, ...]]) -> list[tuple[float, float]]:
    """Return widths of trims to try, near-square ones first, each with the greatest height there is."""
    choices = task.choices
    side = math.sqrt(math.fsum(ways[0].width * ways[0].height for ways in boxes))
    least = max(min(box.width for box in ways) for ways in boxes) + 2 * choices.margin_mm - choices.spacing_mm
    found = []
    for wide, high in task.largest:
        widths = [
            width
            for width in sides(wide, choices.trim_step_mm)
            if max(least - SAME_MM, side / LONGEST) <= width <= side * LONGEST
        ]
        found += [(width, high) for width in widths[:: max(1, len(widths) // MOST_WIDTHS)]]
    return sorted(found, key=lambda size: (abs(math.log(size[0] / side)), size))


def _laid(
    boxes: Sequence[tuple[Box, ...]], width: float, second_best: float, generator: random.Random
) -> dict[Box, tuple[float, float]]:
    """Return one box of each shape and its top left corner, all within the width."""
    ranked = sorted(
        (box for ways in boxes for box in ways), key=lambda box: (_rank(box), box.index, box.turn_deg)
    )
    skyline = [_Gap(0.0, width, 0.0)]
    laid: dict[Box, tuple[float, float]] = {}
    while ranked:
        number = min(range(len(skyline)), key=lambda place: (skyline[place].level, skyline[place].left))
        gap = skyline[number]
        fitting = [box for box in ranked if box.width <= gap.width + SAME_MM / 2]
        if not fitting:
            _raise(skyline, number)
            continue
        box = fitting[0]
        while second_best and generator.random() < second_best:
            # The next size: another of the same size would change nothing.
            box = next((one for one in fitting if _rank(one) > _rank(box)), box)
        at = _beside_higher_wall(skyline, number, box.width)
        laid[box] = (at, gap.level)
        _lay_on(skyline, number, at, box)
        ranked = [other for other in ranked if other.index != box.index]
    return laid


def _rank(box: Box) -> tuple[float, float]:
    """Return by what a box goes before others of the same gap: the widest, of those the highest."""
    return -round(box.width, 2), -round(box.height, 2)


def _beside_higher_wall(skyline: Sequence[_Gap], number: int, width: float) -> float:
    gap = skyline[number]
    before = skyline[number - 1].level if number else math.inf
    after = skyline[number + 1].level if number + 1 < len(skyline) else math.inf
    return gap.left if before >= after else gap.left + max(gap.width - width, 0.0)


def _lay_on(skyline: list[_Gap], number: int, at: float, box: Box) -> None:
    gap = skyline[number]
    parts = [
        _Gap(gap.left, at - gap.left, gap.level),
        _Gap(at, min(box.width, gap.width), gap.level + box.height),
        _Gap(at + box.width, gap.left + gap.width - at - box.width, gap.level),
    ]
    skyline[number : number + 1] = [part for part in parts if part.width > SAME_MM / 2]
    _join_levels(skyline)


def _raise(skyline: list[_Gap], number: int) -> None:
    """Raise a gap that nothing fits to the lower of its walls."""
    walls = [skyline[place].level for place in (number - 1, number + 1) if 0 <= place < len(skyline)]
    skyline[number].level = min(walls)
    _join_levels(skyline)


def _join_levels(skyline: list[_Gap]) -> None:
    place = 0
    while place + 1 < len(skyline):
        one, other = skyline[place], skyline[place + 1]
        if abs(one.level - other.level) <= SAME_MM:
            one.width = other.left + other.width - one.left
            one.level = max(one.level, other.level)
            del skyline[place + 1]
        else:
            place += 1
