"""Alike groups: openings that match under turn and mirror, and those that match at any size."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.geometry.congruent_outlines import CentredOutlines, centred_outlines

TOLERANCE_MM = 0.3
"""How far outlines of alike openings may stray from one another (common practice, no published source)."""

_RELATIVE = 0.05
"""Small openings must match more closely, to this share of the root of their area (from memory)."""

_RELATIVE_ANY_SIZE = 0.02
"""How closely shapes at any size must match, as a share of the root of their area (from memory)."""

_MOST_AHEAD = 64
"""So many outlines are compared with the others at once, while they turn out different."""


@dataclass(frozen=True, slots=True)
class AlikeGroups:
    """The groups' numbers for each opening, counted from 1 in the order of their first openings."""

    same_size: tuple[int, ...]
    any_size: tuple[int, ...]


def group_alike(openings: Sequence[Polygon]) -> AlikeGroups:
    """Group openings (mm) by shape and size, and by shape at any size.

    The first opening of a group stands for it: others join where their outline, turned or mirrored, strays at
    most 0.3 mm from it, or 5 % of the root of its area where that is less.
    """
    if not openings:
        return AlikeGroups((), ())
    areas = np.array(openings, dtype=object)
    sizes = np.sqrt(shapely.area(areas))
    tolerance = np.minimum(TOLERANCE_MM, _RELATIVE * sizes)
    same = grouped(centred_outlines(areas, np.ones(len(areas)), tolerance), tolerance)
    heads = np.unique(same, return_index=True)[1]
    relative = np.full(len(heads), _RELATIVE_ANY_SIZE)
    among_heads = grouped(centred_outlines(areas[heads], 1 / sizes[heads], relative), relative)
    return AlikeGroups(tuple(same.tolist()), tuple(among_heads[same - 1].tolist()))


def alike_turns(openings: Sequence[Polygon]) -> list[dict[int, NDArray[np.float64]]]:
    """Return for each group of alike openings (mm) the affine maps (2, 3) of its members, by their places.

    A map lays an opening on the group's first one. Groups are those of `group_alike` with more than one.
    """
    if not openings:
        return []
    areas = np.array(openings, dtype=object)
    tolerance = np.minimum(TOLERANCE_MM, _RELATIVE * np.sqrt(shapely.area(areas)))
    outlines = centred_outlines(areas, np.ones(len(areas)), tolerance)
    group = grouped(outlines, tolerance)
    middles = shapely.get_coordinates(shapely.centroid(areas))
    found = []
    for number in np.flatnonzero(np.bincount(group) > 1).tolist():
        members = np.flatnonzero(group == number)
        head = int(members[0])
        linear = outlines.turns(head, members, float(tolerance[head]))
        shift = middles[head] - np.einsum("nij,nj->ni", linear, middles[members])
        maps = np.concatenate([linear, shift[:, :, None]], axis=2)
        known = np.isfinite(maps).all(axis=(1, 2))
        found.append(dict(zip(members[known].tolist(), maps[known], strict=True)))
    return found


def grouped(outlines: CentredOutlines, tolerance: NDArray[np.float64]) -> NDArray[np.int64]:
    """Return group numbers (n) from 1 for outlines matched within `tolerance` (n).

    The first of a group is the one that others are compared with.
    """
    group = np.zeros(len(tolerance), np.int64)
    count, ahead = 0, 1
    while len(heads := np.flatnonzero(group == 0)[:ahead]):
        place, others = outlines.near(heads, tolerance[heads])
        free = (group[others] == 0) & (others > heads[place])
        place, others = place[free], others[free]
        matches = outlines.matching(heads[place], others, tolerance[heads[place]])
        place, others = place[matches], others[matches]
        before = count
        for head, low, high in zip(heads.tolist(), *_bounds(place, len(heads)), strict=True):
            if group[head] == 0:
                count += 1
                group[head] = count
                alike = others[low:high]
                group[alike[group[alike] == 0]] = count
        # Those that were looked at for nothing are alike to one before: then it is better to look at fewer.
        ahead = min(_MOST_AHEAD, 2 * ahead) if count - before == len(heads) else max(1, ahead // 4)
    return group


def _bounds(place: NDArray[np.int64], count: int) -> tuple[list[int], list[int]]:
    """Return where each of `count` places begins and ends in a sorted array of places."""
    ends = np.searchsorted(place, np.arange(count + 1)).tolist()
    return ends[:-1], ends[1:]
