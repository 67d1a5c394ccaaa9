"""Outlines drawn with fewer nodes, as those of tracings need it, and openings without sharp corners.

Nodes go after Douglas and Peucker (1973), none across another outline (GEOS); what stays of a curve is a row
of gentle turns, whose corners are cut (Chaikin 1974). Sharp corners of openings are rounded by a
morphological opening (Serra 1982): a disc of the wanted radius reaches all but them.
"""

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.geometry.areas import as_area, geometries, holes_of
from peekpaper.geometry.grid import grown
from peekpaper.geometry.overlay import difference, union_all
from peekpaper.geometry.vectors import norms

_GENTLE_COS = 0.766
"""Turns of less than 40 degrees belong to a curve (from memory)."""
_CUTS = 2
"""After two rounds of cutting a row of turns looks like a curve at any finished size (from memory)."""
_OVERLAP_MM = 1e-4
"""So far filled corners reach over the edges that they lie on: areas that only share edges may not join."""
_MOST_CORNER = 12.0
"""What a disc does not reach is a corner up to so many squares of its radius, else a slit that stays: that
much lies in a corner of eight degrees."""


def smoothed(card: MultiPolygon, tolerance: float) -> MultiPolygon:
    """Return a card in mm whose outlines stray about `tolerance` at most from where they were."""
    simple = as_area(shapely.simplify(card, tolerance, preserve_topology=True))
    if not simple.is_valid or simple.is_empty:
        return card
    curved = [_curved(part) for part in simple.geoms]
    parts = [one if one.is_valid else other for one, other in zip(curved, simple.geoms, strict=True)]
    smooth = MultiPolygon(parts)
    return smooth if smooth.is_valid else simple


def _curved(part: Polygon) -> Polygon:
    outside, *inside = [
        _cut_gently(shapely.get_coordinates(ring)[:-1]) for ring in (part.exterior, *part.interiors)
    ]
    return Polygon(outside, inside)


def _cut_gently(nodes: NDArray[np.float64]) -> NDArray[np.float64]:
    """Cut the corners of a closed outline (n, 2) that are gentle turns."""
    for _ in range(_CUTS):
        before, after = np.roll(nodes, 1, axis=0), np.roll(nodes, -1, axis=0)
        into, out = nodes - before, after - nodes
        lengths = np.maximum(norms(into) * norms(out), 1e-12)
        gentle = (into * out).sum(axis=1) / lengths > _GENTLE_COS
        first, second = nodes - 0.25 * into, nodes + 0.25 * out
        pairs = np.stack(
            [np.where(gentle[:, None], first, nodes), np.where(gentle[:, None], second, nodes)], axis=1
        )
        kept = np.stack([np.ones(len(nodes), bool), gentle], axis=1)
        nodes = pairs[kept]
    return nodes


def without_sharp_corners(card: MultiPolygon, radius: float) -> MultiPolygon:
    """Return a card in mm whose openings have no corner sharper than `radius`; nothing but card is added."""
    holes = geometries(holes_of(card))
    reached = grown(grown(holes, -radius, 8), radius, 8)
    # Where a disc fits nowhere the whole opening would be a corner.
    wide = ~shapely.is_empty(reached)
    corners = shapely.get_parts(difference(holes[wide], reached[wide]))
    corners = corners[shapely.area(corners) < _MOST_CORNER * radius**2]
    if not len(corners):
        return card
    return as_area(union_all([card, *grown(geometries(corners), _OVERLAP_MM, 2)]))
