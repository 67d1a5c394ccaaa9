"""Openings in reading order: rows from the top, each from left to right."""

from collections.abc import Callable, Iterator, Sequence
from statistics import median

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

_SAME_PLACE = 0.002
"""Centres nearer than this share of the design's height stand in one column; the upper comes first."""


def reading_order(openings: Sequence[Polygon]) -> list[int]:
    """Return the indices of openings (any unit) in reading order.

    A row reaches half a typical opening's height below the centre of its first. The order does not change
    with the design's size, nor with rounding errors in symmetric designs.
    """
    if not openings:
        return []
    bounds = shapely.bounds(np.array(openings, dtype=object))
    height = float(bounds[:, 3].max() - bounds[:, 1].min())
    x, y = (bounds[:, 0] + bounds[:, 2]) / 2 / height, (bounds[:, 1] + bounds[:, 3]) / 2 / height
    reach = median((bounds[:, 3] - bounds[:, 1]).tolist()) / height / 2
    order: list[int] = []
    by_height = np.argsort(y, kind="stable")
    for row in _split(by_height, lambda first, item: y[item] - y[first] > reach + _SAME_PLACE):
        order += _row_order(np.array(row), x, y)
    return order


def _row_order(row: NDArray[np.int64], x: NDArray[np.float64], y: NDArray[np.float64]) -> list[int]:
    across = row[np.argsort(x[row], kind="stable")]
    order: list[int] = []
    for column in _split(across, lambda first, item: x[item] - x[first] > _SAME_PLACE):
        order += sorted(column, key=lambda item: y[item])
    return order


def _split(items: NDArray[np.int64], starts_anew: Callable[[int, int], bool]) -> Iterator[list[int]]:
    """Yield runs of sorted items; a run ends where `starts_anew(its first, the next)` is true."""
    run: list[int] = []
    for item in items.tolist():
        if run and starts_anew(run[0], item):
            yield run
            run = []
        run.append(item)
    if run:
        yield run
