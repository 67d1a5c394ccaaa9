"""The least size at which every piece gets its least lip, and the largest uniform lip, in closed form."""

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.backing.backing import BackingChoices
from peekpaper.backing.room import outline_of
from peekpaper.design.design import Design

_SAME = 0.005


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

    `width_mm` is infinite where backed openings touch each other: no size will do.
    """

    width_mm: float
    set_by: tuple[LineString, ...]


def smallest_size(design: Design, choices: BackingChoices) -> SmallestSize:
    """Return the smallest workable size if every opening of the design is backed by a piece of its own."""
    numbers = {opening.number: opening.number for opening in design.openings}
    return smallest_of(narrows(design, numbers, choices), design.width_mm, choices.least_lip_mm)


def smallest_of(places: Sequence[Narrow], width_mm: float, least_lip_mm: float) -> SmallestSize:
    """Return the smallest workable size of a design so wide now, from its narrowest places.

    Lips scale with the design; gap, clearance, margin and least lip do not. At scale s a place of width w
    allows the lip (s w - kept) / sides, which is the least lip at s = (sides * least + kept) / w.
    """
    scales = [place.scale_for(least_lip_mm) for place in places]
    if not scales:
        return SmallestSize(0.0, ())
    most = max(scales)
    setting = [
        place.across
        for place, scale in zip(places, scales, strict=True)
        if scale == most or scale >= most * (1 - _SAME)
    ]
    return SmallestSize(most * width_mm, tuple(setting))


def uniform_lip(places: Iterable[Narrow]) -> float:
    """Return the largest lip that fits everywhere; infinite without any narrow place, 0 where none fits."""
    return max(min((place.lip_mm for place in places), default=math.inf), 0.0)


def narrows(design: Design, pieces: Mapping[int, int], choices: BackingChoices) -> list[Narrow]:
    """Return for each backed opening its narrowest places towards other pieces, open openings, the outside.

    `pieces` tells the piece of each backed opening; openings that it misses stay open.
    """
    backed = [opening for opening in design.openings if opening.number in pieces]
    opened = [opening.area for opening in design.openings if opening.number not in pieces]
    groups: dict[int, list[Polygon]] = {}
    for opening in backed:
        groups.setdefault(pieces[opening.number], []).append(opening.area)
    areas = [shapely.multipolygons(group) for group in groups.values()]
    return [
        *_between(areas, choices.gap_mm),
        *_towards(areas, opened, choices.clearance_mm),
        *_towards_outside(areas, design.card, choices.edge_margin_mm),
    ]


def _between(areas: Sequence[MultiPolygon], gap_mm: float) -> list[Narrow]:
    if len(areas) < 2:
        return []
    geometries = np.array(areas, dtype=object)
    pairs = shapely.STRtree(geometries).query_nearest(geometries, exclusive=True, all_matches=True).T
    pairs = np.unique(np.sort(pairs, axis=1), axis=0)
    return _measured(geometries[pairs[:, 0]], geometries[pairs[:, 1]], gap_mm, 2)


def _towards(areas: Sequence[MultiPolygon], opened: Sequence[Polygon], clearance_mm: float) -> list[Narrow]:
    if not areas or not opened:
        return []
    geometries, others = np.array(areas, dtype=object), np.array(opened, dtype=object)
    one, other = shapely.STRtree(others).query_nearest(geometries, all_matches=False)
    return _measured(geometries[one], others[other], clearance_mm, 1)


def _towards_outside(areas: Sequence[MultiPolygon], card: MultiPolygon, margin_mm: float) -> list[Narrow]:
    if not areas or card.is_empty:
        return []
    geometries, edge = np.array(areas, dtype=object), shapely.boundary(outline_of(card))
    shapely.prepare(edge)
    return _measured(geometries, edge, margin_mm, 1)


def _measured(
    first: NDArray[np.object_], second: NDArray[np.object_] | BaseGeometry, kept_mm: float, sides: int
) -> list[Narrow]:
    lines = np.atleast_1d(shapely.shortest_line(second, first))
    return [Narrow(line, float(line.length), kept_mm, sides) for line in lines]
