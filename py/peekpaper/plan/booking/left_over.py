"""Rectangles that are left of a sheet once trims were cut from it.

All maximal empty rectangles, each as large as it gets on every side, come of splitting what is free around
one taken rectangle after another (maximal rectangles: Jylänki 2010, "A Thousand Ways to Pack the Bin").
"""

from collections.abc import Iterable, Sequence
from typing import TypeAlias

Rectangle: TypeAlias = tuple[float, float, float, float]
"""Left, top, right and bottom in mm, y down."""

EPSILON = 1e-6
"""Sides in mm that differ by less are equal."""
MOST_LEFT_OVER = 3
"""How many rectangles of one sheet are worth keeping (common practice, no published source)."""


def left_over(
    room: Rectangle, taken: Iterable[Rectangle], least_mm: float, most: int = MOST_LEFT_OVER
) -> tuple[Rectangle, ...]:
    """Return up to `most` rectangles of a room that are clear of what was taken from it and of each other.

    No side is shorter than `least_mm`; together they are as large as can be had by taking one maximal empty
    rectangle after another. The largest comes first.
    """
    free = [room] if _is_useful(room, least_mm) else []
    for rectangle in taken:
        free = _without(free, rectangle, least_mm)
    best = _largest_together(free, most, least_mm)
    return tuple(sorted(best, key=area_of, reverse=True))


def _largest_together(free: Sequence[Rectangle], most: int, least_mm: float) -> list[Rectangle]:
    """Return at most `most` rectangles, clear of each other, of the largest sum: branch and bound."""
    if most == 0 or not free:
        return []
    ranked = sorted(free, key=lambda rectangle: (-area_of(rectangle), rectangle))
    if most == 1:
        return ranked[:1]
    best: list[Rectangle] = []
    best_area = 0.0
    for first in ranked:
        if most * area_of(first) <= best_area + EPSILON:
            # Those after it are no larger: so many of them can't reach it.
            break
        rest = _largest_together(_without(free, first, least_mm), most - 1, least_mm)
        area = sum(map(area_of, (first, *rest)))
        if area > best_area + EPSILON:
            best, best_area = [first, *rest], area
    return best


def _without(free: Iterable[Rectangle], taken: Rectangle, least_mm: float) -> list[Rectangle]:
    """Return the maximal rectangles left of maximal ones once another rectangle is taken."""
    left, top, right, bottom = taken
    whole, cut = [], []
    for rectangle in free:
        x0, y0, x1, y1 = rectangle
        if left >= x1 - EPSILON or right <= x0 + EPSILON or top >= y1 - EPSILON or bottom <= y0 + EPSILON:
            whole.append(rectangle)
        else:
            parts = ((x0, y0, left, y1), (right, y0, x1, y1), (x0, y0, x1, top), (x0, bottom, x1, y1))
            cut += [part for part in parts if _is_useful(part, least_mm)]
    kept: list[Rectangle] = []
    for rectangle in sorted(cut, key=area_of, reverse=True):
        if not any(_holds(other, rectangle) for other in (*whole, *kept)):
            kept.append(rectangle)
    return whole + kept


def _is_useful(rectangle: Rectangle, least_mm: float) -> bool:
    x0, y0, x1, y1 = rectangle
    least = max(least_mm - EPSILON, EPSILON)
    return x1 - x0 >= least and y1 - y0 >= least


def _holds(outer: Rectangle, inner: Rectangle) -> bool:
    return (
        outer[0] <= inner[0] + EPSILON
        and outer[1] <= inner[1] + EPSILON
        and outer[2] >= inner[2] - EPSILON
        and outer[3] >= inner[3] - EPSILON
    )


def area_of(rectangle: Rectangle) -> float:
    """Return the area of a rectangle, in mm2."""
    x0, y0, x1, y1 = rectangle
    return (x1 - x0) * (y1 - y0)
