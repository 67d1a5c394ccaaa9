"""The least size at which every piece gets its least lip, and the largest uniform lip, in closed form."""

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Polygon

from peekpaper.backing.backing import BackingChoices
from peekpaper.backing.nearest import closest_pairs
from peekpaper.backing.outlines.room import outline_of
from peekpaper.design.design import Design

_SAME = 0.005
"""Places that ask for a size so near the largest asked for set it too: half a percent, nothing to see."""


@dataclass(frozen=True, slots=True)
class Narrow:
    """A narrowest place: `across` is the segment there, of `width_mm`.

    Of the width, `kept_mm` must stay free, and the rest is shared among `sides` lips (1 or 2).
    """

    across: LineString
    width_mm: float
    kept_mm: float
    sides: int

    @property
    def lip_mm(self) -> float:
        """The lip that this place allows; negative where not even what must stay free fits."""
        return (self.width_mm - self.kept_mm) / self.sides

    def scale_for(self, lip_mm: float) -> float:
        """Return by how much the design must be scaled so that this place allows such a lip."""
        needed = lip_mm * self.sides + self.kept_mm
        return needed / self.width_mm if self.width_mm > 0 else (math.inf if needed > 0 else 0.0)


@dataclass(frozen=True, slots=True)
class SmallestSize:
    """The least finished width with the least lip everywhere, and the segments across what sets it.

    `width_mm` is infinite where backed openings touch each other, or no lip as wide is wanted: no size
    will do.
    """

    width_mm: float
    set_by: tuple[LineString, ...]


def smallest_of(
    places_at: Callable[[float], Sequence[Narrow]], width_mm: float, choices: BackingChoices
) -> SmallestSize:
    """Return the smallest workable size of a design so wide now.

    `places_at` tells the narrowest places where the design is scaled by so much, in mm of today's size.
    Lips scale with the design; gap, clearance, margin and least lip do not. At scale s a place of width w
    allows the lip (s w - kept) / sides, which is the least lip at s = (sides * least + kept) / w. No lip is
    wider than the wanted one: where that is less than the least lip, no size will do.

    What shares a piece changes with the size: the larger, the fewer share, so the more places must be wide
    enough. The scale that the places ask for so never falls as the scale grows, and to ask again at what was
    asked for ends at the nearest size that will do: from one that is too small at the least larger one, else
    at the least that has only workable ones between it and today's.
    """
    if choices.lip_mm < choices.least_lip_mm:
        return SmallestSize(math.inf if places_at(1.0) else 0.0, ())
    scale = 1.0
    while True:
        places = places_at(scale)
        scales = [place.scale_for(choices.least_lip_mm) for place in places]
        most = max(scales, default=0.0)
        if most in (0.0, scale, math.inf):
            break
        scale = most
    setting = [
        place.across
        for place, needed in zip(places, scales, strict=True)
        if needed == most or needed >= most * (1 - _SAME)
    ]
    return SmallestSize(most * width_mm, tuple(setting))


def uniform_lip(places: Iterable[Narrow]) -> float:
    """Return the largest lip that fits everywhere; infinite without any narrow place, 0 where none fits."""
    return max(min((place.lip_mm for place in places), default=math.inf), 0.0)


@dataclass(frozen=True, slots=True)
class Closest:
    """Segments across where openings of pieces are about closest to one another, to open ones, to outside."""

    between: Sequence[LineString]
    to_open: Sequence[LineString]
    to_outside: Sequence[LineString]


def closest_places(design: Design, pieces: Mapping[int, int]) -> Closest:
    """Return where the openings of pieces come about closest to what they must keep clear of.

    `pieces` tells the piece of each backed opening; openings that it misses stay open.
    """
    groups: dict[int, list[Polygon]] = {}
    for opening in design.openings:
        if opening.number in pieces:
            groups.setdefault(pieces[opening.number], []).append(opening.area)
    backed = np.array([shapely.multipolygons(group) for group in groups.values()], dtype=object)
    opened = np.array([o.area for o in design.openings if o.number not in pieces], dtype=object)
    outside = np.array([shapely.boundary(outline_of(design.card))], dtype=object)
    reach = 2 * max(design.width_mm, design.height_mm)
    return Closest(*(_closest(backed, others, reach) for others in (backed, opened, outside)))


def narrows(closest: Closest, choices: BackingChoices) -> list[Narrow]:
    """Return the narrowest places with what must be kept free there."""
    kinds = (
        (closest.between, choices.gap_mm, 2),
        (closest.to_open, choices.clearance_mm, 1),
        (closest.to_outside, choices.edge_margin_mm, 1),
    )
    return [Narrow(line, line.length, kept_mm, sides) for lines, kept_mm, sides in kinds for line in lines]


def _closest(
    backed: NDArray[np.object_], others: NDArray[np.object_], reach_mm: float
) -> tuple[LineString, ...]:
    pairs = closest_pairs(backed, others, reach_mm)
    return tuple(shapely.shortest_line(backed[pairs[:, 0]], others[pairs[:, 1]]))
