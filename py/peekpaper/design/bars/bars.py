"""Bars: the strips of card between openings, and between openings and the outside."""

import math
from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Polygon

from peekpaper.design.bars.spans import find_spans, strips
from peekpaper.design.bars.triangulation import OUTSIDE, CardTriangulation, triangulate_card
from peekpaper.design.design import Bar
from peekpaper.geometry.areas import geometries

_MOST_NODES = 12_000
"""No more nodes than these along all edges: they bound what the triangles cost (from memory)."""
_LEAST_NODES = 400
"""So many even on a small card, so that its bars are measured all along."""
_FINE_MM = 0.4
"""Nodes need not stand closer: a bar is as wide between two of them as at them, to a hundredth of a mm."""
_FACING = 0.5
"""Two edges make a bar where they face each other along at least this share of the strip's width, or of the
smaller opening's size; shorter is a corner where other bars meet (from memory)."""


def find_bars(
    card: MultiPolygon, openings: Sequence[Polygon], triangulation: CardTriangulation
) -> tuple[Bar, ...]:
    """Return the bars of a card in mm, narrowest first; `openings` are its interior rings, numbered from 1.

    Two edges share a bar where triangles of the card's constrained Delaunay triangulation span from a side
    on the one to a corner on the other. The least width is the exact distance of the two edges; where another
    opening lies between their nearest points, it is that across the triangles.
    """
    if not openings:
        return ()
    spans = find_spans(triangulation)
    narrowest = spans.narrowest()
    crossings = geometries(shapely.linestrings(spans.crossing[narrowest]))
    edges = np.array([card_outside(card), *(opening.exterior for opening in openings)], dtype=object)
    shapely.prepare(edges)
    direct = geometries(shapely.shortest_line(edges[spans.rings[:, 0]], edges[spans.rings[:, 1]]))
    shapely.prepare(card)
    is_open = (shapely.length(direct) == 0) | shapely.contains_properly(card, _shortened(direct))
    lines = np.where(is_open, direct, crossings)
    widths = shapely.length(lines)
    sizes = np.array([np.inf, *(math.sqrt(opening.area) for opening in openings)])
    facing = spans.facing() >= _FACING * np.minimum(widths, sizes[spans.rings].min(axis=1))
    facing |= _nearest_of_one(spans.rings, widths)
    areas = strips(triangulation, spans, facing)
    bars = [
        _bar(int(first), int(second), float(width), line, strip)
        for (first, second), width, line, strip in zip(
            spans.rings[facing], widths[facing], lines[facing], areas, strict=True
        )
    ]
    return tuple(sorted(bars, key=lambda bar: (bar.width_mm, bar.first, bar.second or 0)))


def _nearest_of_one(rings: NDArray[np.int64], widths: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Tell which pairs of rings are the nearest pair of one of their openings."""
    least = np.full(int(rings.max(initial=OUTSIDE)) + 1, np.inf)
    for side in (0, 1):
        np.minimum.at(least, rings[:, side], widths)
    least[OUTSIDE] = -1
    nearest: NDArray[np.bool_] = np.asarray(widths[:, None] <= least[rings])
    return nearest[:, 0] | nearest[:, 1]


def bar_triangulation(card: MultiPolygon, openings: Sequence[Polygon]) -> CardTriangulation:
    """Return the card triangulated finely enough to tell its bars apart."""
    step = max(card.length / _MOST_NODES, min(card.length / _LEAST_NODES, _FINE_MM))
    return triangulate_card(card, openings, step)


def _shortened(lines: NDArray[np.object_]) -> NDArray[np.object_]:
    """Return the middle parts of two-point lines, clear of both ends."""
    ends = shapely.get_coordinates(lines).reshape(-1, 2, 2)
    middle = ends.mean(axis=1, keepdims=True)
    return geometries(shapely.linestrings(middle + 0.998 * (ends - middle)))


def card_outside(card: MultiPolygon) -> shapely.MultiLineString:
    """Return the outlines of the card's parts."""
    return shapely.MultiLineString([part.exterior for part in card.geoms])


def _bar(first: int, second: int, width: float, line: LineString, strip: Polygon | MultiPolygon) -> Bar:
    return (
        Bar(second, None, width, line, strip) if first == OUTSIDE else Bar(first, second, width, line, strip)
    )
