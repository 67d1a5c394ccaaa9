"""Openings in rings about the middle of the card."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

from peekpaper.design.design import Design

_STEP = 0.05
"""How much distances from the middle may differ within a ring, as a part of the largest (by trial)."""


@dataclass(frozen=True, slots=True)
class Rings:
    """A design in which openings are alike only within a ring, and how far out each opening's ring is.

    `outwards` gives 0 for the innermost ring to 1 for the outermost, by an opening's number.
    """

    design: Design
    outwards: Mapping[int, float]


def rings_of(design: Design) -> Rings:
    """Return the openings of a design in rings: alike ones that lie as far from the card's middle."""
    left, top, right, bottom = design.card.bounds
    middle = (left + right) / 2, (top + bottom) / 2
    away = {opening.number: math.dist(opening.area.centroid.coords[0], middle) for opening in design.openings}
    step = _STEP * max(away.values(), default=0.0)
    order = sorted(design.openings, key=lambda opening: (opening.alike, away[opening.number], opening.number))
    ring_of: dict[int, int] = {}
    inner: dict[int, float] = {}
    last: tuple[int, float] | None = None
    for opening in order:
        number = opening.number
        # A ring begins anew so far out from its innermost opening, lest many small steps make one of all.
        if last is None or last[0] != opening.alike or away[number] > last[1] + step:
            last = opening.alike, away[number]
            inner[len(inner)] = away[number]
        ring_of[number] = len(inner) - 1
    levels = _levels(inner, step)
    most = max(levels.values(), default=0) or 1
    openings = tuple(replace(opening, alike=ring_of[opening.number]) for opening in design.openings)
    outwards = {number: levels[ring] / most for number, ring in ring_of.items()}
    return Rings(replace(design, openings=openings), outwards)


def _levels(inner: Mapping[int, float], step: float) -> dict[int, int]:
    """Return which ring from the middle each is, where those within a step count as one."""
    levels: dict[int, int] = {}
    level, begun = -1, -math.inf
    for ring, away in sorted(inner.items(), key=lambda one: one[1]):
        if away > begun + step:
            level, begun = level + 1, away
        levels[ring] = level
    return levels
