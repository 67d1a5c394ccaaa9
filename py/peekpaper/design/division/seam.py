"""A seam: the line along which a card is divided, through as little of it as can be.

The ways are those between the triangles of a Delaunay triangulation of the openings' edges and of a grid on
the free card: where a side has different openings at its ends its middle is the middle of a bar. Of all ways
from one side to the other the shortest is taken (Dijkstra 1959), then drawn straight where there is room.
"""

import heapq
from collections.abc import Sequence
from dataclasses import dataclass
from math import sqrt

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.geometry.areas import as_area, geometries
from peekpaper.geometry.delaunay import as_complex, delaunay
from peekpaper.geometry.elementary import hypot
from peekpaper.geometry.grid import to_grid
from peekpaper.geometry.overlay import union_all
from peekpaper.geometry.pairs import pairs_named, side_names

_STEP_MM = 1.0
"""How close points on the edges of openings lie."""
_GRID_MM = 4.0
"""How close points on card without openings lie, where that makes no more of them than the most."""
_MOST_ON_GRID = 8000
"""So many keep a seam through a card as large as a table within a few tenths of a second."""
_BEYOND_MM = 6.0
"""So far beyond the card ways begin and end."""
_BESIDE_CARD = 0.05
"""What a way beside the card costs for each mm, where one through card costs 1."""
_TRIES = 8
"""A way that cuts a corner of an opening is blocked there and sought again, so often."""
_LEAST_MM = 0.1
"""Through less of an opening a way may go: its edge is in both parts all the same."""
_AHEAD = 40
"""Over so many corners at most a way is drawn straight."""
_ROOM = 0.7
"""Drawn straight a way keeps this share of its least distance to openings."""
_FREE = -1
"""The number of no opening: points of the grid."""

Floats = NDArray[np.float64]


def seam_through(
    card: MultiPolygon, avoided: Sequence[Polygon], low: float, high: float
) -> LineString | None:
    """Return a line from above a card in mm to below it at x from `low` to `high`, or None.

    It goes through none of the openings to be `avoided`. There is none where those reach from one side of the
    strip to the other.
    """
    _, top, _, bottom = card.bounds
    strip = shapely.box(low, top - _BEYOND_MM, high, bottom + _BEYOND_MM)
    near = [hole for hole in avoided if hole.intersects(strip)]
    holes = union_all(near) if near else MultiPolygon()
    ways = _ways(card, holes, strip)
    blocked = np.zeros(len(ways.links), bool)
    for _ in range(_TRIES):
        path = ways.shortest(blocked, top, bottom)
        if path is None:
            return None
        line = shapely.linestrings(np.stack([ways.nodes[path[:-1]], ways.nodes[path[1:]]], axis=1))
        cut = shapely.length(shapely.intersection(line, holes)) > _LEAST_MM
        if not cut.any():
            return LineString(to_grid(_straightened(ways.nodes[path], holes)))
        steps = np.stack([path[:-1], path[1:]], axis=1)[cut]
        count = len(ways.nodes)
        blocked |= np.isin(side_names(ways.links, count), side_names(steps, count))
    return None


@dataclass(frozen=True, slots=True, eq=False)
class _Ways:
    """Places (n, 2) in mm that ways go through, `links` (m, 2) between them and what each costs (m)."""

    nodes: Floats
    links: NDArray[np.int64]
    costs: Floats

    def shortest(self, blocked: NDArray[np.bool_], top: float, bottom: float) -> NDArray[np.int64] | None:
        """Return the places of the cheapest way from above `top` to below `bottom`, or None."""
        beside: list[list[tuple[int, float]]] = [[] for _ in self.nodes]
        for (one, other), cost in zip(
            self.links[~blocked].tolist(), self.costs[~blocked].tolist(), strict=True
        ):
            beside[one].append((other, cost))
            beside[other].append((one, cost))
        ends = set(np.flatnonzero(self.nodes[:, 1] > bottom).tolist())
        queue = [(0.0, place, -1) for place in np.flatnonzero(self.nodes[:, 1] < top).tolist()]
        before: dict[int, int] = {}
        while queue:
            cost, place, came_from = heapq.heappop(queue)
            if place in before:
                continue
            before[place] = came_from
            if place in ends:
                return _back(before, place)
            for other, more in beside[place]:
                if other not in before:
                    heapq.heappush(queue, (cost + more, other, place))
        return None


def _back(before: dict[int, int], place: int) -> NDArray[np.int64]:
    path = [place]
    while before[path[-1]] >= 0:
        path.append(before[path[-1]])
    return np.array(path[::-1], np.int64)


def _ways(card: MultiPolygon, holes: BaseGeometry, strip: BaseGeometry) -> _Ways:
    points, owner = _points(holes, strip)
    triangles = delaunay(points)
    middles = points[triangles].mean(axis=1)
    shapely.prepare(holes)
    triangles = triangles[~shapely.contains_xy(holes, *middles.T)]
    sides = triangles[:, [[0, 1], [1, 2], [2, 0]]]
    free = (owner[sides[..., 0]] != owner[sides[..., 1]]) | (owner[sides[..., 0]] == _FREE)
    names, place = np.unique(side_names(sides[free], len(points)), return_inverse=True)
    node = np.full(free.shape, -1)
    node[free] = place
    nodes = points[pairs_named(names, len(points))].mean(axis=1)
    pairs = np.concatenate([node[:, [0, 1]], node[:, [1, 2]], node[:, [2, 0]]])
    links = pairs[(pairs >= 0).all(axis=1)]
    ends = nodes[links]
    shapely.prepare(card)
    on_card = shapely.contains_xy(card, *ends.mean(axis=1).T)
    lengths = hypot(*(ends[:, 1] - ends[:, 0]).T)
    return _Ways(nodes, links, lengths * np.where(on_card, 1.0, _BESIDE_CARD))


def _points(holes: BaseGeometry, strip: BaseGeometry) -> tuple[Floats, NDArray[np.int64]]:
    """Return sorted points (n, 2) on openings' edges in a strip and on a grid beside them, and whose."""
    left, top, right, bottom = strip.bounds
    step = max(_GRID_MM, sqrt(strip.area / _MOST_ON_GRID))
    each = shapely.get_parts(as_area(holes))
    edges = shapely.segmentize(shapely.simplify(each, _STEP_MM / 20), _STEP_MM)
    on_edges, owner = shapely.get_coordinates(edges, return_index=True)
    inside = (on_edges[:, 0] > left) & (on_edges[:, 0] < right)
    across, down = (
        np.linspace(low, high, max(2, round((high - low) / step) + 1))
        for low, high in ((left, right), (top, bottom))
    )
    grid = np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 2)
    if len(each):
        places = shapely.points(grid)
        taken, _ = shapely.STRtree(each).query(places, predicate="dwithin", distance=step / 4)
        grid = np.delete(grid, np.unique(taken), axis=0)
    points = to_grid(np.concatenate([on_edges[inside], grid]))
    owners = np.concatenate([owner[inside], np.full(len(grid), _FREE)])
    _, first = np.unique(as_complex(points), return_index=True)
    return points[first], owners[first]


def _straightened(path: Floats, holes: BaseGeometry) -> Floats:
    """Return a path with fewer corners, nearer to openings nowhere than a share of what it was."""
    if holes.is_empty:
        return path[[0, -1]]
    room = np.asarray(shapely.distance(geometries(shapely.points(path)), holes))
    kept = [0]
    while kept[-1] < len(path) - 1:
        here = kept[-1]
        ahead = np.arange(here + 1, min(here + _AHEAD, len(path) - 1) + 1)
        ends = np.stack(np.broadcast_arrays(path[here], path[ahead]), axis=1)
        least = np.minimum.accumulate(room[here : ahead[-1] + 1])[1:] * _ROOM
        clear = np.asarray(shapely.distance(geometries(shapely.linestrings(ends)), holes)) >= least
        clear[0] = True
        kept.append(int(ahead[np.flatnonzero(clear)[-1]]))
    return path[kept]
