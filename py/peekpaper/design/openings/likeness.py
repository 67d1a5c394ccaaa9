"""Openings that look alike: of one shape and size, paired by the symmetry of the whole, or roughly alike.

A traced or hand-drawn outline repeats nothing exactly, and still a person sees twelve petals. Two things make
them see it: outlines stray little from one another for their size, and a turn or mirror of the whole lays one
on the other. The groups are nested: each degree of likeness joins groups of the one before it.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.design.design import LEAST_ALIKE, Design, Opening
from peekpaper.design.openings.alike import grouped
from peekpaper.geometry.areas import geometries
from peekpaper.geometry.congruent_outlines import centred_outlines
from peekpaper.geometry.elementary import hypot
from peekpaper.geometry.overlay import intersection
from peekpaper.geometry.symmetry import Symmetry, symmetries

_STRAYS = (0.0, 0.08, 0.12, 0.17, 0.24)
"""How far outlines may stray at the degrees from 1 to `LEAST_ALIKE`, as shares of the root of their area. At
1 the symmetry of the whole pairs openings, and nothing else does; at the last a person barely calls them
alike. Set by eye on 34 traced, drawn and symmetrical designs."""

_EXACT, _SYMMETRICAL, _CLOSE, _ROUGH = 0, 1, 2, 3
"""Degrees that may suit a design; at 3 outlines stray by an eighth, as those of a tracing do."""

_REPEATED = 1 / 2
"""Where so many openings have others of the same shape and size, ..."""
_PAIRED = 0.75
"""... or the symmetry pairs so many, little else tells what is alike ..."""
_EXACTLY = 2 / 3
"""... and nothing else where so many of those pairs are of the same shape and size."""

_AWAY = 0.35
"""So far, as a share of the root of its area, an opening's centroid may lie from where the symmetry has its
twin's."""
_SHARED = 0.6
"""So much of what two openings cover together both must cover to be each other's twin, ..."""
_STRAY = 0.25
"""... or their outlines stray no more than this share of the root of their area: slender ones cover little
together."""
_FITS = 4
"""So often a symmetry is laid anew by the openings that it pairs: its middle is known only then (iterated
closest points: Besl and McKay 1992, from memory)."""
_NEARBY = 0.6
"""While it is laid, twins are sought so far away, as a share of the root of their area, ..."""
_SIZES = 0.7
"""... and may differ in size, as roots of their areas, by this factor."""
_LEAST_FITTED = 4
"""Fewer pairs don't tell where it lies."""
_ONE_MAP = 0.1
"""Symmetries that take no corner this share of the diagonal apart are one, laid well and less well."""

_DETAIL = 0.02
"""Finer detail than this share of the root of an opening's area tells nothing of its twin."""


@dataclass(frozen=True, slots=True)
class Likeness:
    """The group of each opening, by its place, at each degree of likeness, and the degree that suits them.

    A group bears the `alike` number of its first opening.
    """

    groups: tuple[tuple[int, ...], ...]
    usual: int


def likeness(openings: Sequence[Opening]) -> Likeness:
    """Return how openings, which know their exactly alike ones, look alike beyond that.

    Where most openings have others of the same shape and size, or symmetry pairs nearly all, symmetry is
    usual on top, and close likeness, too, where its pairs are not exact; else rough likeness is.
    """
    exact = np.array([opening.alike for opening in openings], dtype=np.int64)
    if not len(exact):
        return Likeness(((),) * (LEAST_ALIKE + 1), _EXACT)
    areas = geometries([opening.area for opening in openings])
    twins = _twins(areas)
    degrees = [exact, _joined(exact, twins)]
    for stray in _STRAYS[1:]:
        degrees.append(_looser(degrees[-1], areas, stray))
    repeats = _in_company(exact) >= _REPEATED or _in_company(degrees[_SYMMETRICAL]) >= _PAIRED
    one, other = exact[twins].T
    is_exact = (one == other).sum() >= _EXACTLY * len(twins)
    usual = _ROUGH if not repeats else _SYMMETRICAL if is_exact else _CLOSE
    return Likeness(tuple(tuple(groups.tolist()) for groups in degrees), usual)


def _in_company(groups: NDArray[np.int64]) -> float:
    """Return the share of openings that are not alone in their group."""
    _, place, count = np.unique(groups, return_inverse=True, return_counts=True)
    return float((count[place] > 1).mean())


def looked_alike(design: Design, groups: Sequence[int]) -> Design:
    """Return a design in which openings with the same number in `groups`, one for each, count as alike."""
    openings = zip(design.openings, groups, strict=True)
    return replace(design, openings=tuple(replace(opening, alike=group) for opening, group in openings))


def _twins(areas: NDArray[np.object_]) -> NDArray[np.int64]:
    """Return pairs (k, 2) of openings of which a symmetry of the whole lays one on the other."""
    sizes = np.sqrt(shapely.area(areas))
    plain = shapely.simplify(areas, _DETAIL * sizes)
    centres = shapely.STRtree(geometries(shapely.centroid(plain)))
    corners = shapely.get_coordinates(shapely.box(*shapely.total_bounds(plain)))
    least = _ONE_MAP * float(hypot(*np.ptp(corners, axis=0)))
    laid = [_laid(sizes, centres, symmetry) for symmetry in symmetries(plain)]
    paired = [(symmetry.moved(corners), _paired(plain, sizes, centres, symmetry)) for symmetry in laid]
    kept: list[tuple[NDArray[np.float64], NDArray[np.int64]]] = []
    for moved, pairs in sorted(paired, key=lambda each: -len(each[1])):
        if all(hypot(*(moved - others).T).max() > least for others, _ in kept):
            kept.append((moved, pairs))
    return np.concatenate([np.empty((0, 2), np.int64)] + [pairs for _, pairs in kept])


def _paired(
    areas: NDArray[np.object_], sizes: NDArray[np.float64], centres: shapely.STRtree, symmetry: Symmetry
) -> NDArray[np.int64]:
    """Return pairs (k, 2) of openings of which a symmetry lays one on the other."""
    moved = shapely.transform(areas, symmetry.moved)
    middles = geometries(shapely.centroid(moved))
    one, other = centres.query_nearest(middles, all_matches=False)
    away = shapely.distance(middles[one], centres.geometries[other])
    apart = (one != other) & (away <= _AWAY * sizes[one])
    one, other = one[apart], other[apart]
    # Hands place openings less evenly than they shape them.
    laid = _laid_on(moved[one], areas[other])
    covered = shapely.area(intersection(laid, areas[other]))
    together = sizes[one] ** 2 + sizes[other] ** 2 - covered
    strays = shapely.hausdorff_distance(laid, areas[other])
    are_twins = (covered >= _SHARED * together) | (strays <= _STRAY * np.minimum(sizes[one], sizes[other]))
    return np.stack([one[are_twins], other[are_twins]], axis=1)


def _laid(sizes: NDArray[np.float64], centres: shapely.STRtree, symmetry: Symmetry) -> Symmetry:
    """Return the symmetry as the middles of the openings that it pairs have it."""
    middles = shapely.get_coordinates(centres.geometries)
    for _ in range(_FITS):
        moved = geometries(shapely.points(symmetry.moved(middles)))
        one, other = centres.query_nearest(moved, all_matches=False)
        away = shapely.distance(moved[one], centres.geometries[other])
        small, large = np.minimum(sizes[one], sizes[other]), np.maximum(sizes[one], sizes[other])
        are_near = (away <= _NEARBY * small) & (small >= _SIZES * large)
        if are_near.sum() < _LEAST_FITTED:
            break
        symmetry = symmetry.fitted(middles[one[are_near]], middles[other[are_near]])
    return symmetry


def _laid_on(areas: NDArray[np.object_], others: NDArray[np.object_]) -> NDArray[np.object_]:
    """Return areas with their centroids on those of others, one for each."""
    ways = shapely.get_coordinates(shapely.centroid(others)) - shapely.get_coordinates(
        shapely.centroid(areas)
    )
    points, owner = shapely.get_coordinates(areas, return_index=True)
    return geometries(shapely.set_coordinates(areas.copy(), points + ways[owner]))


def _joined(groups: NDArray[np.int64], pairs: NDArray[np.int64]) -> NDArray[np.int64]:
    """Return the groups with those of each pair of openings made one, under the lower number."""
    joined = groups.copy()
    while len(pairs):
        low, high = np.sort(joined[pairs], axis=1).T
        differ = np.flatnonzero(low != high)
        if not len(differ):
            break
        # Each number at once becomes the lowest that it is paired with; chains settle in a few rounds.
        lowest = np.arange(joined.max() + 1)
        np.minimum.at(lowest, high[differ], low[differ])
        joined = lowest[joined]
    return joined


def _looser(groups: NDArray[np.int64], areas: NDArray[np.object_], stray: float) -> NDArray[np.int64]:
    """Return the groups with those made one whose first openings stray so little from one another."""
    numbers, heads = np.unique(groups, return_index=True)
    tolerance = stray * np.sqrt(shapely.area(areas[heads]))
    among_heads = grouped(centred_outlines(areas[heads], np.ones(len(heads)), tolerance), tolerance)
    lowest = np.full(among_heads.max() + 1, numbers.max() + 1)
    np.minimum.at(lowest, among_heads, numbers)
    renumbered: NDArray[np.int64] = lowest[among_heads][np.searchsorted(numbers, groups)]
    return renumbered
