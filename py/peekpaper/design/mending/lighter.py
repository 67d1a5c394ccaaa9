"""Where mends would change much: how thin bars may be, or how large the design, so that they change little.

A drawing whose lines are thinner than the limit everywhere is another drawing once all are wide enough. What
wider bars add is what each piece of the card's middle line lacks in width, times its length.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from peekpaper.design.design import Design, Limits
from peekpaper.design.mending.effect import effect_of, whole_card
from peekpaper.design.mending.mend_all import SPARE_MM, Found
from peekpaper.design.mending.thin import widths_along

MUCH = 0.08
"""Mends that change more than this share of the card make another picture of it (from memory)."""
_AIM = 0.04
"""The share that is aimed at, as bars are not all that mends add."""
_SPARES = 1.0, 1.15
"""How much room is left beyond what was reckoned, where the first did not do when tried."""
_MOST_MM = 1000.0
"""No larger finished size is proposed: it would be no panel to make from sheets of card (from memory)."""
_THINNEST_MM = 25.4 / 64
"""No bar of card thinner than this holds while it is lifted off a mat (from memory)."""


@dataclass(frozen=True, slots=True)
class Steps:
    """In full how many mm finished widths and limits for bars are proposed."""

    width_mm: float
    bar_mm: float


STEPS = {"mm": Steps(width_mm=5.0, bar_mm=0.1), "in": Steps(width_mm=25.4 / 4, bar_mm=25.4 / 64)}
"""What is round in each unit."""


@dataclass(frozen=True, slots=True)
class Lighter:
    """A choice with which mending all changes `share` of the card: a finished width, or a limit for bars.

    Lengths are in mm, None for the one that stays.
    """

    share: float
    width_mm: float | None = None
    bar_mm: float | None = None


def changed_share(design: Design, found: tuple[Found, ...]) -> float:
    """Return the area that changes make different, as a share of the card."""
    changed = effect_of(design, [each.change for each in found]).changed_mm2
    return changed / whole_card(design).area


def bar_that_changes_little(design: Design, limits: Limits) -> float:
    """Return the widest limit for bars in mm, up to the one there is, that adds little, as it is reckoned."""
    card = whole_card(design)
    width, length = widths_along(card)
    tried = np.linspace(limits.bar_mm, 0, 60, endpoint=False)
    made = 1 + SPARE_MM / limits.bar_mm
    added = [float(((made * limit - width) * length)[width < limit].sum()) for limit in tried]
    fits = np.flatnonzero(np.array(added) <= _AIM * card.area)
    return float(tried[fits[0]]) if len(fits) else 0.0


def larger_widths(design: Design, limits: Limits, bar_mm: float, step_mm: float) -> Iterator[Lighter]:
    """Yield finished widths to try, in full steps, so that bars of `bar_mm` become as wide as the limit."""
    for spare in _SPARES:
        by = limits.bar_mm / max(bar_mm, 1e-6) * spare
        if by * max(design.width_mm, design.height_mm) <= _MOST_MM:
            yield Lighter(1.0, width_mm=math.ceil(by * design.width_mm / step_mm) * step_mm)


def thinner_limits(bar_mm: float, step_mm: float) -> Iterator[Lighter]:
    """Yield the limits to try, in full steps, so that bars of `bar_mm` are wide enough."""
    for spare in _SPARES:
        limit = math.floor(round(bar_mm / spare / step_mm, 6)) * step_mm
        if limit >= _THINNEST_MM:
            yield Lighter(1.0, bar_mm=limit)
