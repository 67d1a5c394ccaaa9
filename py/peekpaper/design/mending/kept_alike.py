"""Alike openings stay alike: what wider bars take from one of them is taken from all.

Each opening of a group is laid on the first one; what is left of all of them there is what each may keep.
"""

from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon
from shapely.geometry.base import BaseGeometry

from peekpaper.breathing import Breathing
from peekpaper.design.mending.mends import AddCard
from peekpaper.design.openings.alike import alike_turns
from peekpaper.design.openings.reading_order import reading_order
from peekpaper.design.placing import Placing
from peekpaper.geometry.affine import after as one_after
from peekpaper.geometry.affine import back, moved
from peekpaper.geometry.areas import as_area, geometries, holes_of
from peekpaper.geometry.grid import one_grown
from peekpaper.geometry.overlay import difference, intersection, union_all

_SMALLEST_MM2 = 1.0
"""Smaller openings are not cut, so they need not be alike."""
_CHANGED_MM2 = 0.02
"""An opening that loses less is as it was."""
_OWN_SHARE = 0.7
"""An opening that keeps less than this share of what the others keep is left to itself (from memory)."""
_OVERLAP_MM = 0.02
"""So far added card reaches over the edges that it lies on."""
_STRAY_MM = 0.004
"""What differs by less along edges is rounding: alike openings are so only within a tolerance."""

Map = NDArray[np.float64]


def kept_alike(before: MultiPolygon, after: MultiPolygon, placing: Placing) -> Breathing[list[AddCard]]:
    """Return the card in px that makes openings alike again which `after`, with more card, told apart.

    `before` and `after` are in mm; nothing but card is added. It takes breath after each group.
    """
    holes = [hole for hole in holes_of(before) if hole.area >= _SMALLEST_MM2]
    # Groups go by their first opening, so they are those of the design only in its order.
    openings = [holes[place] for place in reading_order(holes)]
    left = _left(geometries(openings), after)
    lost = shapely.area(openings) - shapely.area(left)
    if not (lost > _CHANGED_MM2).any():
        return []
    found = []
    yield
    for maps in alike_turns(openings):
        yield
        wanted = {place: maps[place] for place in _of_one_mind(maps, left)}
        if len(wanted) < 2 or not (lost[list(wanted)] > _CHANGED_MM2).any():
            continue
        common = _common([_laid(left[place], lay) for place, lay in wanted.items()])
        yield
        all_of_them = union_all([_laid(openings[place], lay) for place, lay in wanted.items()])
        taken = one_grown(difference(all_of_them, common), -_STRAY_MM, 4)
        if taken.is_empty:
            continue
        patch = shapely.simplify(one_grown(taken, _STRAY_MM + _OVERLAP_MM, 4), _STRAY_MM)
        found.append(_card(as_area(patch), list(wanted.values()), placing))
    return found


def _left(openings: NDArray[np.object_], after: MultiPolygon) -> NDArray[np.object_]:
    """Return what is left of openings (n) in a card."""
    holes = geometries(holes_of(after))
    opening, hole = shapely.STRtree(holes).query(openings, predicate="intersects")
    shared = intersection(openings[opening], holes[hole])
    return geometries([as_area(union_all(shared[opening == place])) for place in range(len(openings))])


def _of_one_mind(maps: Mapping[int, Map], left: NDArray[np.object_]) -> list[int]:
    """Return which openings of a group keep about as much as the others."""
    kept = shapely.area(left[list(maps)])
    return [place for place, area in zip(maps, kept, strict=True) if area >= _OWN_SHARE * np.median(kept)]


def _common(areas: Sequence[BaseGeometry]) -> BaseGeometry:
    common = areas[0]
    for area in areas[1:]:
        common = as_area(intersection(common, area))
    return common


def _laid(area: BaseGeometry, lay: Map) -> BaseGeometry:
    return shapely.transform(area, lambda points: moved(points, lay))


def _card(patch: MultiPolygon, maps: list[Map], placing: Placing) -> AddCard:
    """Return a patch on the first opening of a group as card in px on all whose maps are given."""
    first, *others = (back(lay) for lay in maps)
    rings = shapely.get_rings(shapely.get_parts(_laid(patch, first)))
    outlines = tuple(placing.px_places(shapely.get_coordinates(ring)[:-1]) for ring in rings)
    forth = back(first)
    return AddCard(outlines, tuple(placing.px_turn(one_after(turn, forth)) for turn in others))
