"""Where card is thinner than wanted: the middle lines of thin bars and necks, without tips and serifs.

The chordal axis of a triangulation between the card's edges (Prasad 1997, after Blum's medial axis) runs
through the middles of the triangles' inner sides. Work on thin features in fabrication widens models along
such an axis (Stava and others 2012, Wang and Chen 2013, both from memory). A line as wide as wanted drawn
along it is what discs of that width cover (Serra 1982); its round ends lie within the card where that is wide
enough, so that shoulders are soft.
"""

import heapq
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon

from peekpaper.breathing import Breathing, out_of_breath
from peekpaper.design.bars.triangulation import triangulate_card
from peekpaper.geometry.areas import as_area, geometries, holes_of
from peekpaper.geometry.pairs import pairs_named, side_names
from peekpaper.geometry.vectors import norms, triangle_areas

_MOST_NODES = 12_000
"""No more nodes than these along all edges: they bound what the triangles cost (from memory)."""
_COARSE_MM = 0.015
"""Nodes that matter less than this are not looked at."""
_FINE_MM = 0.4
"""The card's edges are looked at in steps of this, or coarser ones that keep so many nodes."""
_HEAVY = 4.0
"""A tip that is lighter than so many squares of its width may stay as thin as it is (from memory)."""
_LEAST_MM2 = 1.0
"""A lighter tip is not worth thickening (from memory)."""
_ON_EDGE_MM = 1e-6
"""A side whose middle is as near an edge as this runs along it."""
_ALMOST = 1.15
"""Up to so many times the wanted width card is looked at beside thin card, so that its edge stays smooth."""
_RUN_ON = 24
"""So many sides further a line may run over card that is almost thin."""
_STRAY_MM = 0.03
"""What a smoothed line may stray once corners are left out."""
_SMOOTHINGS = 2
"""So many rounds of corner cutting take the triangles' zigzag out of a middle line (from memory)."""


def thin_lines(card: MultiPolygon, width_mm: float) -> Breathing[NDArray[np.object_]]:
    """Return the middle lines (n) in mm of where a card is thinner than `width_mm`.

    They run on to where it is as wide. Tips whose card beyond is next to nothing stay as they are.
    """
    points, triangles, sides, kept = yield from _looked_at(card)
    if not len(triangles):
        return geometries([])
    yield
    thin = _run_on(sides, kept & (sides.width < width_mm), kept & (sides.width < _ALMOST * width_mm))
    return _lines(sides, points, triangles, thin)


def widths_along(card: MultiPolygon) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return how wide a card is along its middle line, but for tips: widths (n) and lengths (n) in mm."""
    _, triangles, sides, kept = out_of_breath(_looked_at(card))
    if not len(triangles):
        return np.empty(0), np.empty(0)
    row = sides.of_triangle[(sides.of_triangle >= 0).sum(axis=1) == 2]
    both = np.sort(row, axis=1)[:, 1:]
    both = both[kept[both].all(axis=1)]
    along = sides.middle[both[:, 1]] - sides.middle[both[:, 0]]
    return sides.width[both].mean(axis=1), norms(along)


def _looked_at(
    card: MultiPolygon,
) -> Breathing[tuple[NDArray[np.float64], NDArray[np.int64], "_Sides", NDArray[np.bool_]]]:
    """Return a card's triangles (m, 3) between points (n, 2), their sides, and which of those are no tips."""
    coarse = as_area(shapely.simplify(card, _COARSE_MM, preserve_topology=True))
    yield
    step = max(coarse.length / _MOST_NODES, _FINE_MM)
    triangulation = triangulate_card(coarse, holes_of(coarse), step)
    points, triangles = triangulation.points, triangulation.triangles
    yield
    sides = _inner_sides(points, triangles, coarse)
    yield
    heavy = _cut_off(sides, points, triangles)
    return points, triangles, sides, heavy >= np.maximum(_HEAVY * sides.length**2, _LEAST_MM2)


@dataclass(frozen=True, slots=True, eq=False)
class _Sides:
    """The sides that two triangles share: `of_triangle` (m, 3) numbers those of each triangle, -1 for edges.

    `middle` (k, 2) are the sides' middles in mm, `length` (k) their lengths, `width` (k) how wide the card is
    there; `pair` (k, 2) the two triangles.
    """

    of_triangle: NDArray[np.int64]
    pair: NDArray[np.int64]
    middle: NDArray[np.float64]
    length: NDArray[np.float64]
    width: NDArray[np.float64]


def _inner_sides(points: NDArray[np.float64], triangles: NDArray[np.int64], card: MultiPolygon) -> _Sides:
    """Return the sides inside the card; flat triangles along an edge must not make that a side."""
    names = side_names(triangles[:, [[0, 1], [1, 2], [2, 0]]], len(points)).ravel()
    names, which, counts = np.unique(names, return_inverse=True, return_counts=True)
    inner = counts == 2
    nodes = pairs_named(names, len(points))
    middles = points[nodes].mean(axis=1)
    edge = card.boundary
    shapely.prepare(edge)
    inner &= ~shapely.dwithin(edge, shapely.points(middles), _ON_EDGE_MM)
    number = np.where(inner, np.cumsum(inner) - 1, -1)
    of_side = number[which]
    order = np.argsort(of_side, kind="stable")
    order = order[of_side[order] >= 0].reshape(-1, 2)
    first, second = points[nodes[inner]].transpose(1, 0, 2)
    length = norms(second - first)
    width = length.copy()
    of_triangle = of_side.reshape(-1, 3)
    for turn in range(3):
        # A triangle on an edge is as wide as it is high over that edge, which its slanting sides do not tell.
        on_edge = np.flatnonzero(of_triangle[:, turn] < 0)
        start, end, tip = (points[triangles[on_edge, (turn + corner) % 3]] for corner in range(3))
        side = end - start
        along = np.clip(((tip - start) * side).sum(axis=1) / np.maximum((side**2).sum(axis=1), 1e-18), 0, 1)
        high = norms(tip - start - along[:, None] * side)
        for other in (1, 2):
            beside = of_triangle[on_edge, (turn + other) % 3]
            known = beside >= 0
            np.minimum.at(width, beside[known], high[known])
    return _Sides(of_triangle, order // 3, (first + second) / 2, length, width)


def _cut_off(sides: _Sides, points: NDArray[np.float64], triangles: NDArray[np.int64]) -> NDArray[np.float64]:
    """Return the card (mm²) beyond each side that ends in a tip, infinite where it goes round an opening.

    Triangles with one neighbour are taken off one after the other, the one with least card beyond it first,
    each handing that on.
    """
    beyond = triangle_areas(points[triangles]).tolist()
    cut = [np.inf] * len(sides.width)
    mine = [{side for side in row if side >= 0} for row in sides.of_triangle.tolist()]
    pair = sides.pair.tolist()
    tips = [(beyond[triangle], triangle) for triangle, own in enumerate(mine) if len(own) == 1]
    heapq.heapify(tips)
    while tips:
        _, triangle = heapq.heappop(tips)
        if len(mine[triangle]) != 1:
            continue
        (side,) = mine[triangle]
        cut[side] = beyond[triangle]
        neighbour = pair[side][0] if pair[side][1] == triangle else pair[side][1]
        beyond[neighbour] += beyond[triangle]
        mine[triangle].clear()
        mine[neighbour].discard(side)
        if len(mine[neighbour]) == 1:
            heapq.heappush(tips, (beyond[neighbour], neighbour))
    return np.array(cut)


def _run_on(sides: _Sides, thin: NDArray[np.bool_], almost: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Return the thin sides and those that are almost thin next to them, so that lines are not dashed."""
    first, second = sides.of_triangle.T[[0, 1, 2]], sides.of_triangle.T[[1, 2, 0]]
    for _ in range(_RUN_ON):
        joined = (first >= 0) & (second >= 0) & almost[first] & almost[second]
        grown = thin.copy()
        grown[second[joined & thin[first]]] = True
        grown[first[joined & thin[second]]] = True
        if (grown == thin).all():
            break
        thin = grown
    return thin


def _lines(
    sides: _Sides, points: NDArray[np.float64], triangles: NDArray[np.int64], thin: NDArray[np.bool_]
) -> NDArray[np.object_]:
    """Return the axis through thin sides, run on to the next sides, as smooth lines."""
    row = sides.of_triangle
    known = row >= 0
    is_thin = known & thin[np.where(known, row, 0)]
    inner = known.sum(axis=1)
    touched = is_thin.any(axis=1)
    pieces: list[NDArray[np.float64]] = []
    sleeves = np.flatnonzero(touched & (inner == 2))
    both = np.sort(row[sleeves], axis=1)[:, 1:]
    pieces.append(sides.middle[both])
    hubs = np.flatnonzero(touched & (inner == 3))
    centres = points[triangles[hubs]].mean(axis=1)
    for corner in range(3):
        spoke = is_thin[hubs, corner]
        ends = sides.middle[row[hubs[spoke], corner]]
        pieces.append(np.stack([ends, centres[spoke]], axis=1))
    segments = np.concatenate(pieces)
    segments = segments[norms(segments[:, 1] - segments[:, 0]) > 1e-9]
    if not len(segments):
        return geometries([])
    merged = shapely.get_parts(shapely.line_merge(shapely.multilinestrings(list(segments))))
    return geometries([_smoothed(line) for line in merged])


def _smoothed(line: LineString) -> LineString:
    """Return a line without the axis's zigzag; its ends stay."""
    nodes = shapely.get_coordinates(line)
    for _ in range(_SMOOTHINGS):
        if len(nodes) > 2:
            middle = (nodes[1:] + nodes[:-1]) / 2
            nodes = np.concatenate([nodes[:1], middle, nodes[-1:]])
    smooth = shapely.simplify(LineString(nodes), _STRAY_MM)
    assert isinstance(smooth, LineString)
    return smooth
