"""Necks: thin places where a tongue of card hangs on, both sides being one and the same edge."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon

from peekpaper.design.bars.patches import of_each, patch_areas
from peekpaper.design.bars.triangulation import CardTriangulation
from peekpaper.design.connected import connected
from peekpaper.geometry.areas import as_area, geometries
from peekpaper.geometry.overlay import union_all
from peekpaper.geometry.pairs import side_names
from peekpaper.geometry.vectors import cross, norms

_HEAVY = 4.0
"""A tongue whose area is less than this many squares of its neck is a mere point (from memory)."""


_LEAST_MM2 = 1.0
"""A lighter tongue is not worth a word (from memory)."""

_DRAWN_MM = 0.1
"""How far the drawn strip reaches beside a segment across a neck."""


@dataclass(frozen=True, slots=True)
class Neck:
    """The thin part of a tongue, and the segment across its narrowest place, `width_mm` long."""

    width_mm: float
    narrowest: LineString
    strip: MultiPolygon


def find_necks(triangulation: CardTriangulation, limit_mm: float) -> tuple[Neck, ...]:
    """Return the necks of a triangulated card (mm) that are narrower than `limit_mm`, narrowest first.

    A side of the triangulation that runs through the card from an edge back to the same edge cuts off a
    tongue, whose area follows from the edge's partial sums of the shoelace formula.
    """
    triangle, chord = _chords(triangulation, limit_mm)
    ends = triangulation.points[chord]
    widths = norms(ends[:, 1] - ends[:, 0])
    is_neck = _cut_off(triangulation, chord) >= np.maximum(_HEAVY * widths**2, _LEAST_MM2)
    if not is_neck.any():
        return ()
    triangle, chord, widths, ends = triangle[is_neck], chord[is_neck], widths[is_neck], ends[is_neck]
    corners = triangulation.corners[triangle]
    longest = norms(corners - np.roll(corners, 1, axis=1)).max(axis=1)
    is_thin = longest <= 2 * limit_mm
    thin = triangulation.triangles[np.unique(triangle[is_thin])]
    joined = connected(len(triangulation.points), np.concatenate([chord, thin[:, :2], thin[:, 1:]]))
    firsts, neck = np.unique(joined[chord[:, 0]], return_inverse=True)
    patches = patch_areas(
        triangulation.points, thin, np.searchsorted(firsts, joined[thin[:, 0]]), len(firsts)
    )
    order = np.lexsort((widths, neck))
    narrowest = order[np.searchsorted(neck[order], np.arange(len(firsts)))]
    lines = geometries(shapely.linestrings(ends))
    # Between thick triangles a neck is no more than a line.
    shown = np.union1d(narrowest, np.flatnonzero(~is_thin))
    around = of_each(geometries(shapely.buffer(lines[shown], _DRAWN_MM)), neck[shown], len(firsts))
    necks = [
        Neck(float(widths[first]), lines[first], as_area(union_all([patch, *drawn])))
        for first, patch, drawn in zip(narrowest, patches, around, strict=True)
    ]
    return tuple(sorted(necks, key=lambda neck: neck.width_mm))


def _chords(triangulation: CardTriangulation, limit_mm: float) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return triangles (k) and their short sides (k, 2) that cross the card between points of one ring."""
    triangles = triangulation.triangles
    sides = np.sort(triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2), axis=1)
    triangle = np.repeat(np.arange(len(triangles)), 3)
    same = triangulation.ring[sides[:, 0]] == triangulation.ring[sides[:, 1]]
    short = norms(triangulation.points[sides[:, 1]] - triangulation.points[sides[:, 0]]) < limit_mm
    names = side_names(sides, len(triangulation.points))
    _, inverse, counts = np.unique(names, return_inverse=True, return_counts=True)
    chosen = same & short & (counts[inverse] == 2)
    return triangle[chosen], sides[chosen]


def _cut_off(triangulation: CardTriangulation, chords: NDArray[np.int64]) -> NDArray[np.float64]:
    """Return the area (mm²) that each chord cuts off from its edge, on the smaller side."""
    order = np.lexsort((triangulation.along, triangulation.loop))
    points, loop = triangulation.points[order], triangulation.loop[order]
    sums = np.concatenate([[0.0], np.cumsum(cross(points[:-1], points[1:]) * (loop[1:] == loop[:-1]))])
    loops = np.arange(int(loop[-1]) + 1)
    firsts, lasts = np.searchsorted(loop, loops), np.searchsorted(loop, loops, "right") - 1
    whole = sums[lasts] - sums[firsts] + cross(points[lasts], points[firsts])
    place = np.empty(len(order), np.int64)
    place[order] = np.arange(len(order))
    one, other = np.sort(place[chords], axis=1).T
    cut = sums[other] - sums[one] + cross(points[other], points[one])
    smaller: NDArray[np.float64] = np.minimum(np.abs(cut), np.abs(whole[loop[one]] - cut)) / 2
    return np.where(loop[one] == loop[other], smaller, 0.0)
