"""Which rectangles a trim may be: sides in steps, within the sheet, on the mat, of the wished shape."""

import math
from collections.abc import Sequence

from peekpaper.papers.paper import Direction, Paper
from peekpaper.plan.plan import PlanChoices, TrimShape

FREE_STEP_MM = 1.0
"""In what steps trims are sought where the person wants none; the trim found is then drawn tight."""
LONG = 2.5
"""A trim is long from this ratio of its sides on (common practice, no published source)."""
NEARLY_SQUARE = 1.25
"""A trim is nearly square up to this ratio of its sides (common practice, no published source)."""
EPSILON = 1e-6
"""Lengths in mm, and areas in mm2, that differ by less are equal."""
MOST_WIDTHS = 48
"""How many widths are tried at most where steps are fine."""


Size = tuple[float, float]
"""Width and height in mm."""


def usable_mat(choices: PlanChoices) -> Size:
    """Return the width and height (mm) that one trim can have on the mat, from its first grid lines on."""

    def usable(side: float) -> float:
        first = math.ceil(choices.mat_rim_mm / choices.mat_grid_mm - EPSILON) * choices.mat_grid_mm
        return max(0.0, side - choices.mat_rim_mm - first)

    return usable(choices.mat_width_mm), usable(choices.mat_height_mm)


def largest_sizes(sheet: Size, direction: Direction, choices: PlanChoices) -> tuple[Size, ...]:
    """Return the largest trims of a sheet (or scrap) of that size (mm) that the mat takes, as they lie on it.

    One of them must hold it; the first is the sheet the right way up on the mat the right way up.
    """
    mat = usable_mat(choices)
    (wide, high), (mat_wide, mat_high) = sheet, mat
    boxes = [(min(wide, mat_wide), min(high, mat_high))]
    if direction is Direction.ANY:
        boxes.append((min(wide, mat_high), min(high, mat_wide)))
        boxes += [(tall, broad) for broad, tall in boxes]
    return tuple(dict.fromkeys(boxes))


def largest_trims(paper: Paper, choices: PlanChoices) -> tuple[Size, ...]:
    """Return the largest trims of a paper that the mat takes, as `largest_sizes` does.

    A printed pattern turns with its trim, so that pages may lie on their side whatever the direction.
    """
    wide, high = paper.room_mm
    upright = largest_sizes((wide, high), paper.direction, choices)
    if not paper.is_printed:
        return upright
    return tuple(dict.fromkeys((*upright, *largest_sizes((high, wide), paper.direction, choices))))


def sides(longest: float, step: float | None) -> list[float]:
    """Return the lengths that a side may have up to `longest`: whole steps, and `longest` itself."""
    step = FREE_STEP_MM if step is None else step
    whole = [round(step * count, 6) for count in range(1, math.floor(longest / step + EPSILON) + 1)]
    if not whole or longest - whole[-1] > EPSILON:
        whole.append(longest)
    return whole


def round_up(length: float, longest: float, step: float | None) -> float:
    """Return the least side a trim may have that is at least `length`; `longest` where steps overshoot it."""
    if step is None:
        return min(length, longest)
    return min(round(math.ceil(length / step - EPSILON) * step, 6), max(longest, length))


def has_shape(width_mm: float, height_mm: float, shape: TrimShape, step: float | None) -> bool:
    """Tell whether a rectangle is of the wished shape: long, nearly square (or as near as steps get), any."""
    long, short = max(width_mm, height_mm), min(width_mm, height_mm)
    match shape:
        case TrimShape.ANY:
            return True
        case TrimShape.LONG:
            return long >= LONG * short - EPSILON
        case TrimShape.SQUARE:
            return long <= NEARLY_SQUARE * short + EPSILON or long - short <= (step or 0.0) + EPSILON


def _is_nearer(size: Size, than: Size, shape: TrimShape, step: float | None) -> bool:
    """Tell whether a size is as near the wished shape as one that is not of it, or nearer."""
    if has_shape(*than, shape, step):
        return False
    ratio, other = max(size) / min(size), max(than) / min(than)
    return ratio >= other if shape is TrimShape.LONG else ratio <= other


def smaller_sizes(
    than_mm: Size, largest: Sequence[Size], direction: Direction, choices: PlanChoices
) -> list[Size]:
    """Return all sizes of the wished shape that a trim may have with an area less than that of `than_mm`.

    Where that is not of the wished shape itself, sizes that come nearer to it are listed as well. Where the
    trim may be turned, only the wider of two ways is listed, unless it is too large that way.
    """
    step = choices.trim_step_mm
    area = than_mm[0] * than_mm[1]
    sizes = set()
    for wide, high in largest:
        widths = sides(wide, step)
        heights = sides(high, step)
        for width in widths[:: max(1, len(widths) // MOST_WIDTHS)]:
            for height in heights:
                if width * height >= area - EPSILON:
                    break
                if has_shape(width, height, choices.trim_shape, step) or _is_nearer(
                    (width, height), than_mm, choices.trim_shape, step
                ):
                    sizes.add((width, height))
    if direction is Direction.ANY:
        sizes = {size for size in sizes if size[0] >= size[1] or (size[1], size[0]) not in sizes}
    return sorted(sizes)
