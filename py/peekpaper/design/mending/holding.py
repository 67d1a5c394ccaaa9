"""Bars that hold what falls out: every part of the card reaches the largest one, by few and short bars.

The parts and the gaps between them are a graph; what must hold is a spanning tree of least length (Kruskal
1956), as in work on stencils from pictures (Bronson, Rheingans and Olano 2008, on semi-automatic stencil
creation; Igarashi and Igarashi 2010, on drawing stencils, both from memory). A large part that would swing on
one bar gets two or four, spread around it. Where places are as good as one another those are taken that lie
on the line from the middle of parts that are alike, or upright, or level: so alike parts get alike bars.
"""

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Polygon

from peekpaper.breathing import Breathing, out_of_breath
from peekpaper.design.mending.edges import edge_pieces
from peekpaper.design.openings.alike import group_alike
from peekpaper.geometry.areas import geometries
from peekpaper.geometry.elementary import hypot
from peekpaper.geometry.overlay import intersection
from peekpaper.geometry.vectors import norms, unit

_SAMPLES = 48
"""Places along a part's edge that are looked at (from memory: finer ones look the same)."""
_ONE_BAR, _TWO_BARS = 5.0, 30.0
"""Up to so many bar widths across a part is held by one bar, or two; a larger one by four (from memory)."""
_OTHER_LOOSE = 1.1
"""How much longer a bar counts that leads to a part which itself has to be held (from memory)."""
_SPREAD = 0.6
"""What bars all on one side cost, as a share of the part's reach (from memory)."""
_AXIS = 0.08
"""What a bar off the lines that the drawing suggests costs, as a share of the part's reach (from memory)."""
_NEXT_TO, _NEXT_TO_MM = 1.02, 0.1
"""A bar on a suggested line may be so many times as long as the shortest and so much longer (from memory)."""
_EVERY = 3
"""Of the places all round so many are passed over where three bars or more are sought."""
_OVERHANG = 1.0
"""What a bar that hangs beside its part at a corner costs, as a share of its width (from memory)."""
_STEADY = 0.05
"""Costs in mm nearer than this are the same, so that rounding decides nothing."""


@dataclass(frozen=True, slots=True)
class HeldPart:
    """A part of the card that nothing held, and the lines in mm of the bars that hold it."""

    part: int
    bars: tuple[LineString, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Places:
    """Places (n) where a bar could leave a part: `lines` to the nearest other part, `target` (n).

    `length` (n) in mm, `direction` (n, 2) the unit vector from the part's middle to the place; the
    first `suggested` lie on lines that the drawing suggests.
    """

    lines: NDArray[np.object_]
    target: NDArray[np.int64]
    length: NDArray[np.float64]
    direction: NDArray[np.float64]
    suggested: int


def hold_parts(parts: Sequence[Polygon], wanted: Sequence[int], width_mm: float) -> tuple[HeldPart, ...]:
    """Return bars `width_mm` wide for the `wanted` of the parts of a card in mm, all but the largest.

    Each bar runs from edge to edge. Together they join every wanted part with what is not wanted.
    """
    return out_of_breath(holding(parts, wanted, width_mm))


def holding(
    parts: Sequence[Polygon], wanted: Sequence[int], width_mm: float
) -> Breathing[tuple[HeldPart, ...]]:
    """Return what `hold_parts` does, taking breath after each part."""
    areas = geometries(list(parts))
    edges = _Edges(areas)
    axes = _axes(areas, wanted)
    own: dict[int, list[LineString]] = {part: [] for part in wanted}
    at_hand: dict[int, list[LineString]] = {part: [] for part in wanted}
    links: list[tuple[int, int]] = []

    def link(part: int, target: int, line: LineString) -> None:
        own[part].append(line)
        at_hand[part].append(line)
        if target in at_hand:
            at_hand[target].append(shapely.reverse(line))
        links.append((part, target))

    for part in sorted(wanted, key=lambda each: -float(shapely.area(areas[each]))):
        places = _places(edges, part, axes[part], set(wanted), width_mm)
        count = _count(areas[part], width_mm) - len(at_hand[part])
        if count > 0 and len(places.lines):
            for place in _chosen(places, areas[part], axes[part], at_hand[part], count):
                link(part, int(places.target[place]), places.lines[place])
        yield
    for part, target, line in _missing(edges, areas, wanted, links):
        link(*((part, target) if part in own else (target, part)), line)
        yield
    return tuple(HeldPart(part, tuple(own[part])) for part in wanted)


def _count(part: Polygon, width_mm: float) -> int:
    left, top, right, bottom = part.bounds
    across = max(right - left, bottom - top)
    return 1 if across <= _ONE_BAR * width_mm else 2 if across <= _TWO_BARS * width_mm else 4


class _Edges:
    """The outlines of parts in short pieces, to look up what is near."""

    def __init__(self, areas: NDArray[np.object_]) -> None:
        parts = areas.tolist()
        owner = [part for part, area in enumerate(parts) for _ in (area.exterior, *area.interiors)]
        self.pieces, ring = edge_pieces([ring for area in parts for ring in (area.exterior, *area.interiors)])
        self.owner = np.array(owner, np.int64)[ring]
        self.areas = areas
        self._tree = shapely.STRtree(self.pieces)
        self._reach = float(np.median(shapely.length(self.pieces))) or 1.0

    def straight(self, line: LineString, way: NDArray[np.float64], part: int) -> LineString | None:
        """Return the line straight on to a part from a shortest line's start, if it is next to as short."""
        start = shapely.get_coordinates(line)[0]
        ray = LineString([start, start + (_NEXT_TO * line.length + _NEXT_TO_MM) * way])
        near = self._tree.query(ray, predicate="intersects")
        hits = shapely.get_coordinates(shapely.intersection(self.pieces[near[self.owner[near] == part]], ray))
        if not len(hits):
            return None
        return LineString([start, hits[np.argmin(norms(hits - start))]])

    def shortest(
        self, places: NDArray[np.object_], others: NDArray[np.bool_]
    ) -> tuple[NDArray[np.object_], NDArray[np.int64]]:
        """Return the shortest lines from geometries (n) to edges of `others`, and whose those are.

        Edges are looked for farther and farther away, in one tree whoever the others are.
        """
        chosen = np.full(len(places), -1)
        reach = self._reach
        while len(left := np.flatnonzero(chosen < 0)):
            place, piece = self._tree.query(places[left], predicate="dwithin", distance=reach)
            among = others[self.owner[piece]]
            place, piece = place[among], piece[among]
            order = np.lexsort((piece, shapely.distance(places[left[place]], self.pieces[piece]), place))
            found, first = np.unique(place[order], return_index=True)
            chosen[left[found]] = piece[order[first]]
            reach *= 2
        lines = geometries(shapely.shortest_line(places, self.pieces[chosen]))
        return lines, self.owner[chosen]


def _axes(areas: NDArray[np.object_], wanted: Sequence[int]) -> dict[int, NDArray[np.float64]]:
    """Return for each wanted part the unit vectors (k, 2) of lines that bars had best lie on, best first."""
    middles = {part: shapely.get_coordinates(areas[part].centroid)[0] for part in wanted}
    groups = group_alike([Polygon(areas[part].exterior) for part in wanted]).same_size
    axes = {}
    for part, group in zip(wanted, groups, strict=True):
        alike = [middles[other] for other, which in zip(wanted, groups, strict=True) if which == group]
        upright = np.array([[0.0, 1.0], [1.0, 0.0]])
        away = middles[part] - np.mean(alike, axis=0)
        far = float(norms(away))
        if len(alike) > 2 and far > np.sqrt(areas[part].area):
            outwards = away / far
            upright = np.array([outwards, [-outwards[1], outwards[0]]])
        axes[part] = upright
    return axes


def _places(
    edges: _Edges, part: int, axes: NDArray[np.float64], wanted: set[int], width_mm: float
) -> _Places:
    """Return where a bar could leave a part: on the lines that the drawing suggests first, then all round."""
    area: Polygon = edges.areas[part]
    outline, middle = area.exterior, shapely.get_coordinates(area.centroid)[0]
    along = shapely.line_interpolate_point(outline, np.arange(_SAMPLES) / _SAMPLES, normalized=True)
    on_axes, ways = _on_axes(outline, middle, axes)
    others = np.ones(len(edges.areas), bool)
    others[part] = False
    lines, target = edges.shortest(np.concatenate([on_axes, geometries(along)]), others)
    for place, way in enumerate(ways):
        straight = edges.straight(lines[place], way, int(target[place]))
        lines[place] = straight if straight is not None else lines[place]
    shapely.prepare(area)
    inside = shapely.length(intersection(lines, area)) > 1e-6
    lines, target = lines[~inside], target[~inside]
    towards = shapely.get_coordinates(shapely.get_point(lines, 0)) - middle
    reach = np.maximum(norms(towards), 1e-9)
    length = shapely.length(lines) * np.where(np.isin(target, list(wanted)), _OTHER_LOOSE, 1.0)
    length += _overhanging(area, lines, width_mm) * _OVERHANG * width_mm
    suggested = int((~inside[: len(ways)]).sum())
    return _Places(lines, target, length, towards / reach[:, None], suggested)


def _overhanging(area: Polygon, lines: NDArray[np.object_], width_mm: float) -> NDArray[np.float64]:
    """Return which share of the corners (0, 0.5 or 1) of bars (n) from a part hang beside it."""
    ends = shapely.get_coordinates(lines).reshape(-1, 2, 2)
    along = ends[:, 1] - ends[:, 0]
    along = unit(along)
    across = np.stack([-along[:, 1], along[:, 0]], axis=1) * (width_mm / 2)
    inside = ends[:, 0] - along * (width_mm / 4)
    beside = [~shapely.contains_xy(area, *(inside + side * across).T) for side in (1, -1)]
    hanging: NDArray[np.float64] = np.mean(beside, axis=0)
    return hanging


def _on_axes(
    outline: shapely.LinearRing, middle: NDArray[np.float64], axes: NDArray[np.float64]
) -> tuple[NDArray[np.object_], list[NDArray[np.float64]]]:
    """Return the outermost points of an outline on lines through its middle, and the ways out there."""
    left, top, right, bottom = outline.bounds
    far = right - left + bottom - top
    found, ways = [], []
    for axis in (*axes, *-axes):
        ray = LineString([middle, middle + far * axis])
        crossed = shapely.get_coordinates(intersection(outline, ray))
        if len(crossed):
            found.append(shapely.Point(crossed[np.argmax((crossed - middle) @ axis)]))
            ways.append(axis)
    return geometries(found) if found else np.empty(0, dtype=object), ways


def _chosen(
    places: _Places,
    area: Polygon,
    axes: NDArray[np.float64],
    have: Sequence[LineString],
    count: int,
) -> tuple[int, ...]:
    """Return which places bars leave a part at, given the bars that it has."""
    reach = float(shapely.hausdorff_distance(area.centroid, area.exterior))
    middle = shapely.get_coordinates(area.centroid)[0]
    off = 1 - np.abs(places.direction @ axes.T)
    straying = np.minimum(off[:, 0], off[:, 1] + 0.05)
    single = places.length + _AXIS * reach * np.maximum(straying, 0.0)
    fixed = np.array([shapely.get_coordinates(line)[0] - middle for line in have]).reshape(-1, 2)
    fixed = unit(fixed)
    if count == 1 and not len(have):
        return (int(np.flatnonzero(single <= single.min() + _STEADY)[0]),)
    best = np.argsort(np.rint(single / _STEADY), kind="stable")
    all_round = np.unique([*range(places.suggested), *range(0, len(single), _EVERY)])
    few = best[:_SAMPLES] if count < 3 else all_round
    sets = np.array(list(itertools.combinations(few.tolist(), min(count, len(few)))), np.int64)
    cost = single[sets].sum(axis=1) + _SPREAD * reach * _unevenness(places.direction[sets], fixed)
    return tuple(sets[int(np.flatnonzero(cost <= cost.min() + _STEADY)[0])].tolist())


def _unevenness(ways: NDArray[np.float64], fixed: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return how unevenly unit vectors (n, k, 2) and fixed ones (m, 2) lie around: 0 for evenly.

    They sum up to nothing where they are even, and so do, from three on, those of doubled angles: four that
    are two pairs on one line do not.
    """
    x, y = ways[..., 0], ways[..., 1]
    uneven = hypot(x.sum(axis=1) + fixed[:, 0].sum(), y.sum(axis=1) + fixed[:, 1].sum())
    if ways.shape[1] + len(fixed) < 3:
        return uneven
    doubled, other = fixed[:, 0] ** 2 - fixed[:, 1] ** 2, 2 * fixed[:, 0] * fixed[:, 1]
    twice = hypot((x**2 - y**2).sum(axis=1) + doubled.sum(), (2 * x * y).sum(axis=1) + other.sum())
    return uneven + twice


def _missing(
    edges: _Edges, areas: NDArray[np.object_], wanted: Sequence[int], links: Sequence[tuple[int, int]]
) -> Iterator[tuple[int, int, LineString]]:
    """Yield the shortest bars between clusters of parts that are not held yet, until all are one."""
    leader = list(range(len(areas)))

    def cluster(part: int) -> int:
        while leader[part] != part:
            leader[part] = leader[leader[part]]
            part = leader[part]
        return part

    free = set(wanted)
    held = [part for part in range(len(areas)) if part not in free]
    for part in held[1:]:
        leader[cluster(part)] = cluster(held[0])
    for one, other in links:
        leader[cluster(one)] = cluster(other)
    clusters = np.array([cluster(part) for part in range(len(areas))])
    root = clusters[held[0]]
    nearest = {
        int(number): _nearest(edges, areas, clusters, int(number))
        for number in np.unique(clusters)
        if number != root
    }
    while nearest:
        number, (_, part, other, line) = min(nearest.items(), key=lambda each: (each[1][0], each[0]))
        yield part, other, line
        beyond = int(clusters[other])
        clusters[clusters == number] = beyond
        del nearest[number]
        # What is nearest to the others is so still: only what grew has to look further.
        if beyond != root:
            nearest[beyond] = _nearest(edges, areas, clusters, beyond)


def _nearest(
    edges: _Edges, areas: NDArray[np.object_], clusters: NDArray[np.int64], number: int
) -> tuple[float, int, int, LineString]:
    """Return the shortest bar from a cluster of parts to another: its length, both parts, and the line."""
    own = np.flatnonzero(clusters == number)
    lines, target = edges.shortest(areas[own], clusters != number)
    lengths = shapely.length(lines)
    first = int(np.argmin(lengths))
    return float(lengths[first]), int(own[first]), int(target[first]), lines[first]
