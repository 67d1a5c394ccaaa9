"""Where a piece may lie: its zone less half the gap, clear of open openings and of the outside."""

from collections.abc import Hashable, Iterable, Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.backing.backing import BackingChoices
from peekpaper.backing.reuse import kept_or_made
from peekpaper.geometry.areas import plainer, polygonal
from peekpaper.geometry.grid import grown, one_grown
from peekpaper.geometry.overlay import difference, intersection, union_all

_QUARTER_SEGMENTS = 8
"""Chords of a quarter circle: 0.5 % of a gap or margin off at most, 1 - cos(pi / 32)."""


def outline_of(card: MultiPolygon) -> Polygon | MultiPolygon:
    """Return the card with all its openings filled."""
    return polygonal(union_all([Polygon(part.exterior) for part in card.geoms]))


def drawn_in(
    zones: Iterable[Polygon | MultiPolygon], gap_mm: float, kept: Mapping[Hashable, BaseGeometry]
) -> dict[Hashable, BaseGeometry]:
    """Return the zones less half the gap, by zone and gap; those among `kept` are taken from there."""
    areas = np.array(list(zones), dtype=object)

    def make(fresh: list[int]) -> NDArray[np.object_]:
        return plainer(grown(plainer(areas[fresh]), -gap_mm / 2, _QUARTER_SEGMENTS))

    return kept_or_made([(zone, gap_mm) for zone in shapely.to_wkb(areas)], kept, make)


def rooms(
    zones: Mapping[int, BaseGeometry],
    outline: Polygon | MultiPolygon,
    opened: Sequence[Polygon],
    choices: BackingChoices,
) -> dict[int, Polygon | MultiPolygon]:
    """Return for each zone, drawn in already, the room that is left for a piece (none, or several parts).

    `outline` is the card's outside, `opened` the openings that stay open.
    """
    numbers = list(zones)
    left = np.array(list(zones.values()), dtype=object)
    inner = one_grown(outline, -choices.edge_margin_mm, _QUARTER_SEGMENTS)
    shapely.prepare(inner)
    outward = ~shapely.covers(inner, left)
    left[outward] = intersection(left[outward], inner)
    if opened:
        left = _without(left, np.array(opened, dtype=object), choices.clearance_mm)
    return {number: polygonal(area) for number, area in zip(numbers, left, strict=True)}


def _without(
    areas: NDArray[np.object_], opened: NDArray[np.object_], clearance_mm: float
) -> NDArray[np.object_]:
    around = grown(opened, clearance_mm, _QUARTER_SEGMENTS)
    area, hit = shapely.STRtree(around).query(areas, predicate="intersects")
    left = areas.copy()
    for index in np.unique(area):
        left[index] = difference(left[index], union_all(around[hit[area == index]]))
    return left
