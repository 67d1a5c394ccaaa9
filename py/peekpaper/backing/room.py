"""Where a piece may lie: its zone less half the gap, clear of open openings and of the outside."""

from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.backing.areas import plainer, polygonal
from peekpaper.backing.backing import BackingChoices

_QUARTER_SEGMENTS = 8


def outline_of(card: MultiPolygon) -> Polygon | MultiPolygon:
    """Return the card with all its openings filled."""
    return polygonal(shapely.union_all([Polygon(part.exterior) for part in card.geoms]))


def rooms(
    zones: Mapping[int, Polygon | MultiPolygon],
    outline: Polygon | MultiPolygon,
    opened: Sequence[Polygon],
    choices: BackingChoices,
) -> dict[int, Polygon | MultiPolygon]:
    """Return for each zone the room that is left for a piece (possibly none, or in several parts).

    `outline` is the card's outside, `opened` the openings that stay open.
    """
    numbers = list(zones)
    left = plainer(np.array(list(zones.values()), dtype=object))
    left = plainer(shapely.buffer(left, -choices.gap_mm / 2, quad_segs=_QUARTER_SEGMENTS))
    inner = shapely.buffer(outline, -choices.edge_margin_mm, quad_segs=_QUARTER_SEGMENTS)
    shapely.prepare(inner)
    outward = ~shapely.covers(inner, left)
    left[outward] = shapely.intersection(left[outward], inner)
    if opened:
        left = _without(left, np.array(opened, dtype=object), choices.clearance_mm)
    return {number: polygonal(area) for number, area in zip(numbers, left, strict=True)}


def _without(
    areas: NDArray[np.object_], opened: NDArray[np.object_], clearance_mm: float
) -> NDArray[np.object_]:
    grown = shapely.buffer(opened, clearance_mm, quad_segs=_QUARTER_SEGMENTS)
    area, hit = shapely.STRtree(grown).query(areas, predicate="intersects")
    left = areas.copy()
    for index in np.unique(area):
        left[index] = shapely.difference(left[index], shapely.union_all(grown[hit[area == index]]))
    return left
