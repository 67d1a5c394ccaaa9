"""How much work mends may ask for: a project's file may hold any, drawn by nobody's finger."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.design.mending.mends import (
    AddBar,
    AddCard,
    Change,
    CutOpening,
    LeaveAsIs,
    Outline,
    RubOut,
    Thicken,
)
from peekpaper.geometry.crossings import cross_more_often
from peekpaper.refusal import Refusal

_MOST_POINTS = 500_000
"""Of all lines and outlines, each turn of an outline counting anew: ten times what mending all of a design of
the most openings takes."""
_MOST_CROSSINGS = 60_000
"""Of all lines: a few seconds' work."""
_MOST_CROSSED = 1_500
"""Of outlines with themselves: what repairs them takes a time that grows with the square, here a second."""


def refuse_too_much(changes: Sequence[Change]) -> None:
    """Raise Refusal for changes of more points than any design needs, or that cross beyond measure."""
    outlines = [outline for change in changes for outline in _outlines(change)]
    lines = [np.array(change.line) for change in changes if isinstance(change, AddBar | Thicken | RubOut)]
    points = sum(map(len, lines)) + sum(map(_points, changes))
    if points > _MOST_POINTS or cross_more_often(lines, _MOST_CROSSINGS):
        raise Refusal("mends-too-tangled")
    crossed = [_closed(outline) for outline in outlines if not Polygon(outline).is_valid]
    if cross_more_often(crossed, _MOST_CROSSED):
        raise Refusal("mends-too-tangled")


def _points(change: Change) -> int:
    count = sum(map(len, _outlines(change)))
    return count * (1 + len(change.turns)) if isinstance(change, AddCard) else count


def _outlines(change: Change) -> Sequence[Outline]:
    if isinstance(change, CutOpening):
        return (change.outline,)
    return change.outlines if isinstance(change, AddCard | LeaveAsIs) else ()


def _closed(outline: Outline) -> NDArray[np.float64]:
    return np.array([*outline, outline[0]])
