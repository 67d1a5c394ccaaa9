"""The first answer for one paper: pinned trims, then scraps, then as few trims from sheets as it takes."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from shapely import Polygon

from peekpaper.breathing import Breathing
from peekpaper.papers.paper import Scrap
from peekpaper.plan.fill.bottom_left import BottomLeftFill, Filling, Room
from peekpaper.plan.plan import TrimShape
from peekpaper.plan.shapes.distance_field import DistanceFields
from peekpaper.plan.shapes.shape import Pose
from peekpaper.plan.shapes.turns import turns_allowed
from peekpaper.plan.trims.layout import Layout
from peekpaper.plan.trims.pins import scrap_for
from peekpaper.plan.trims.sizes import Size, has_shape, round_up, sides
from peekpaper.plan.trims.task import PaperTask, largest_of_scrap, leaves_a_scrap, outline_of

FIRST_TURNS, FEWEST_TURNS = 8, 4
"""At how many turns a piece that may turn is tried at most, and at least (by trial on the bench)."""
MOST_MASKS = 1200
"""Where there are many pieces, each is tried at fewer turns: the first answer is to come soon."""
PIXELS_ACROSS = 110
"""How many pixels a trim of the usual size is wide: finer ones cost more than they gain (by trial)."""
LEAST_PIXEL_MM = 0.4
"""No finer than this: what is lost to pixels is then less than what shrinking the trim gains later."""
USUAL_DENSITY = 0.72
"""How much of a trim a first filling usually covers, spacing included."""
WIDTHS_TO_TRY = {
    TrimShape.ANY: (1.0, 0.85, 1.18, 0.72, 1.4),
    TrimShape.SQUARE: (1.0, 0.94, 1.06),
    TrimShape.LONG: (0.62, 0.56, 0.5, 0.45),
}
"""Widths of trims to fill, as parts of the side of a square that holds the pieces at the usual density."""


def first_layouts(task: PaperTask, fields: DistanceFields) -> Breathing[tuple[Layout, ...]]:
    """Return trims that hold every piece of the paper; deterministic. Yields to let the caller breathe."""
    return (yield from _First(task, fields).layouts())


def trim_for(
    task: PaperTask, fields: DistanceFields, trim: str, indices: Sequence[int], pinned: Mapping[int, Pose]
) -> Breathing[Layout]:
    """Return one trim of the task's paper that holds these shapes, or as many as a full sheet takes."""
    return (yield from _First(task, fields).one_trim(trim, indices, pinned))


class _First:
    def __init__(self, task: PaperTask, fields: DistanceFields) -> None:
        self._task = task
        self._step = task.choices.trim_step_mm
        spacing = task.choices.spacing_mm
        self._grown = [
            shape.area_mm2 + shape.piece.outline.length * spacing / 2 + math.pi * spacing * spacing / 4
            for shape in task.shapes
        ]
        side = math.sqrt(math.fsum(self._grown) / USUAL_DENSITY)
        turns = max(FEWEST_TURNS, min(FIRST_TURNS, MOST_MASKS // len(task.shapes)))
        self._filler = BottomLeftFill(
            task.shapes,
            fields,
            [turns_allowed(task.paper.direction, turns, shape.upright_deg) for shape in task.shapes],
            task.choices,
            max(LEAST_PIXEL_MM, min(side / PIXELS_ACROSS, 2.5)),
        )
        pinned = {index for poses in task.pinned.values() for index in poses}
        self._left = sorted(
            (index for index in range(len(task.shapes)) if index not in pinned),
            key=lambda index: -task.shapes[index].area_mm2,
        )
        self._pins_left = dict(task.pinned)
        self._ids = _unused_ids(task)

    def layouts(self) -> Breathing[tuple[Layout, ...]]:
        task = self._task
        layouts = []
        scraps = list(task.scraps)
        for pin in task.trim_pins:
            fixed = self._pins_left.pop(pin.trim, {})
            scrap = scrap_for(pin, scraps)
            room = Room(pin.width_mm, pin.height_mm, outline_of(scrap) if scrap else None)
            if not room.keeps_margin(self._outlines(fixed), task.choices.margin_mm):
                # What was laid into it by hand lay in another trim of that name: it is cut from a sheet.
                scrap, room = None, Room(pin.width_mm, pin.height_mm)
            filling = yield from self._filler.fill(self._left, room, fixed)
            scraps = [other for other in scraps if other is not scrap]
            name = scrap.id if scrap else None
            layouts.append(self._layout(pin.trim, (pin.width_mm, pin.height_mm), name, filling, fixed))
        while self._left or self._pins_left:
            trim = next(self._ids)
            fixed = self._pins_left.pop(trim, {})
            layout = yield from self._on_scrap(trim, scraps, fixed)
            if layout is None:
                layout = yield from self._on_sheet(trim, fixed)
            scraps = [scrap for scrap in scraps if scrap.id != layout.scrap]
            layouts.append(layout)
        return tuple(layout for layout in layouts if layout.poses)

    def _outlines(self, poses: Mapping[int, Pose]) -> list[Polygon]:
        return [self._task.shapes[index].polygon(pose) for index, pose in poses.items()]

    def one_trim(self, trim: str, indices: Sequence[int], pinned: Mapping[int, Pose]) -> Breathing[Layout]:
        self._left = [index for index in self._left if index in set(indices)]
        return (yield from self._on_sheet(trim, pinned))

    def _layout(
        self,
        trim: str,
        size: tuple[float, float],
        scrap: str | None,
        filling: Filling,
        fixed: Mapping[int, Pose],
    ) -> Layout:
        """Return a trim that keeps its size, and strike its pieces off those that are left."""
        self._left = [index for index in self._left if index not in filling.poses]
        poses = dict(filling.poses)
        return Layout(trim, self._task.paper.id, *size, scrap, True, poses, frozenset(fixed))

    def _on_scrap(
        self, trim: str, scraps: Sequence[Scrap], fixed: Mapping[int, Pose]
    ) -> Breathing[Layout | None]:
        """Return the smallest scrap that holds all that is left, else the one that holds most of it.

        Of a rectangle that holds all, no more is taken than is needed where a useful scrap stays.
        """
        best: tuple[float, Scrap, Filling, tuple[float, float]] | None = None
        for scrap in sorted(scraps, key=lambda scrap: scrap.area_mm2):
            for width, height in largest_of_scrap(scrap, self._task):
                room = Room(width, height, outline_of(scrap))
                if not room.keeps_margin(self._outlines(fixed), self._task.choices.margin_mm):
                    continue
                filling = yield from self._filler.fill(self._left, room, fixed)
                if not _contains(filling, width, height) or len(filling.poses) == len(fixed):
                    continue
                held = math.fsum(self._grown[index] for index in filling.poses)
                if best is None or held > best[0] + 1e-9:
                    best = (held, scrap, filling, (width, height))
            if best is not None and len(best[2].poses) == len(self._left) + len(fixed):
                break
        if best is None:
            return None
        _, scrap, filling, (width, height) = best
        if len(filling.poses) == len(self._left) + len(fixed) and not scrap.outline:
            part = yield from self._least_with_fallback(largest_of_scrap(scrap, self._task), fixed)
            if part is not None and leaves_a_scrap(scrap, part[:2], self._task.choices):
                cut = self._layout(trim, part[:2], scrap.id, part[2], fixed)
                return replace(cut, keeps_size=False)
        return self._layout(trim, (width, height), scrap.id, filling, fixed)

    def _on_sheet(self, trim: str, fixed: Mapping[int, Pose]) -> Breathing[Layout]:
        best = yield from self._least_with_fallback(self._task.largest, fixed)
        if best is not None:
            width, height, filling = best
            return replace(self._layout(trim, (width, height), None, filling, fixed), keeps_size=False)
        fillings = []
        for width, height in self._task.largest:
            filling = yield from self._filler.fill(self._left, Room(width, height), fixed)
            fillings.append((filling, width, height))
        filling, width, height = max(
            fillings, key=lambda found: math.fsum(self._grown[index] for index in found[0].poses)
        )
        return self._layout(trim, (width, height), None, filling, fixed)

    def _least_with_fallback(
        self, largest: Sequence[Size], fixed: Mapping[int, Pose]
    ) -> Breathing[tuple[float, float, Filling] | None]:
        wished = self._task.choices.trim_shape
        best = yield from self._least(WIDTHS_TO_TRY[wished], largest, fixed)
        if wished is not TrimShape.ANY:
            # No trim of the wished shape may hold all: then the longest that does, not a whole sheet.
            for factor in sorted(WIDTHS_TO_TRY[TrimShape.ANY]):
                best = best or (yield from self._least((factor,), largest, fixed))
        return best

    def _least(
        self, factors: Sequence[float], largest: Sequence[Size], fixed: Mapping[int, Pose]
    ) -> Breathing[tuple[float, float, Filling] | None]:
        """Return the least trim (width, height) that holds all that is left, of those of likely widths."""
        wanted = len(self._left) + len(fixed)
        best: tuple[tuple[bool, float, float], float, float, Filling] | None = None
        least = math.fsum(self._grown[index] for index in [*self._left, *fixed])
        overhang = 2 * self._task.choices.margin_mm - self._task.choices.spacing_mm
        for width, limit in self._widths(factors, largest):
            if (width - overhang) * (limit - overhang) < least:
                continue
            filling = yield from self._filler.fill(self._left, Room(width, limit), fixed)
            if len(filling.poses) < wanted or not _contains(filling, width, limit):
                continue
            trim_width = round_up(filling.extent_mm[0], width, self._step)
            trim_height = round_up(filling.extent_mm[1], limit, self._step)
            shape_is_off = not has_shape(trim_width, trim_height, self._task.choices.trim_shape, self._step)
            key = (shape_is_off, trim_width * trim_height, trim_width + trim_height)
            if best is None or key < best[0]:
                best = (key, trim_width, trim_height, filling)
        return None if best is None else best[1:]

    def _widths(self, factors: Sequence[float], largest: Sequence[Size]) -> Iterator[Size]:
        """Yield widths by the usual side times these factors, each with the height that the sheet leaves."""
        margins = 2 * self._task.choices.margin_mm
        side = math.sqrt(math.fsum(self._grown[index] for index in self._left) / USUAL_DENSITY) + margins
        seen = set()
        for wide, high in largest:
            allowed = sides(wide, self._step)
            for factor in factors:
                width = next((length for length in allowed if length >= side * factor - 1e-6), allowed[-1])
                if (width, high) not in seen:
                    seen.add((width, high))
                    yield width, high


def _contains(filling: Filling, width: float, height: float) -> bool:
    return filling.extent_mm[0] <= width + 1e-6 and filling.extent_mm[1] <= height + 1e-6


def _unused_ids(task: PaperTask) -> Iterator[str]:
    taken = {pin.trim for pin in task.trim_pins}
    counter = 0
    while True:
        counter += 1
        trim = f"{task.paper.id}-{counter}"
        if trim not in taken:
            yield trim
