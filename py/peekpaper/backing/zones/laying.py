"""Laying sites along the edges of all openings: the one slow step, made once for a design."""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.backing.zones.nearest_sites import nearest_sites
from peekpaper.backing.zones.sites import FRAME, HELPER, Sites
from peekpaper.geometry.delaunay import as_complex, delaunay

_HELPER_STEP_MM = 3.5
"""How far apart helpers stand at most: triangles not much larger than a usual lip (from memory)."""
_MOST_HELPERS = 20_000
"""No more helpers than this, however large the card: they bound what its triangles cost (from memory)."""
_FINEST_MM = 0.1
"""The least step along edges: finer ones move no border by what a blade tells."""
_COARSEST_MM = 0.7
"""The largest step along edges, at which borders are still smooth."""
_MOST_STEPS = 12_000
"""About so many sites along all edges of a design: they bound what its triangles cost (from memory)."""


def site_step(openings: Sequence[Polygon]) -> float:
    """Return how far apart sites along openings' edges may lie (mm): less in small designs."""
    length = shapely.length(np.array(openings, dtype=object)).sum()
    return float(np.clip(length / _MOST_STEPS, _FINEST_MM, _COARSEST_MM))


def lay_sites(openings: Sequence[Polygon], outline: Polygon | MultiPolygon, step_mm: float) -> Sites:
    """Return points at most a step apart along all edges, triangulated.

    Points that edges share count for one of them.
    Helpers along the card's `outline` and all over its wide places keep the triangles small there.
    """
    edges = shapely.get_exterior_ring(np.array(openings, dtype=object))
    coordinates, ring = shapely.get_coordinates(shapely.segmentize(edges, step_mm), return_index=True)
    closing = np.append(ring[1:] != ring[:-1], True)
    coordinates, ring = coordinates[~closing], ring[~closing]
    helpers = _helpers(openings, outline)
    points = np.concatenate([coordinates, helpers, _frame(np.concatenate([coordinates, helpers]))])
    opening = np.concatenate([ring, np.full(len(helpers), HELPER), np.full(4, FRAME)])
    # Helpers and frame are loops of one site each.
    loop = np.append(ring, ring[-1] + 1 + np.arange(len(helpers) + 4))
    unique, first, rings = np.unique(as_complex(points), return_index=True, return_inverse=True)
    begin = np.searchsorted(loop, loop)
    length = np.searchsorted(loop, loop, side="right") - begin
    sorted_points = unique.view(np.float64).reshape(-1, 2)
    sites = Sites(
        points=sorted_points,
        opening=opening[first],
        triangles=delaunay(sorted_points),
        nearest=np.arange(len(sorted_points)),
        rings=rings,
        begin=begin[first],
        length=length[first],
        place=(np.arange(len(loop)) - begin)[first],
    )
    return replace(sites, nearest=nearest_sites(sites, sites.opening != HELPER))


def _helpers(openings: Sequence[Polygon], outline: Polygon | MultiPolygon) -> NDArray[np.float64]:
    """Return points (k, 2) along the outline and on a triangular grid over it, clear of all openings."""
    low_x, low_y, high_x, high_y = outline.bounds
    area = (high_x - low_x) * (high_y - low_y)
    step = max(min(_HELPER_STEP_MM, np.sqrt(area) / 40), np.sqrt(area / _MOST_HELPERS))
    along = shapely.get_coordinates(shapely.segmentize(outline, step / 2))
    x, y = np.meshgrid(np.arange(low_x, high_x, step), np.arange(low_y, high_y, step * np.sqrt(3) / 2))
    x[::2] += step / 2
    grid = np.stack([x.ravel(), y.ravel()], axis=1)
    grid = grid[shapely.contains_xy(outline, grid)]
    near, _ = shapely.STRtree(openings).query(shapely.points(grid), predicate="dwithin", distance=step / 2)
    return np.concatenate([along, np.delete(grid, near, axis=0)])


def _frame(points: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the corners of a square so far out that no place among the points is nearest to one."""
    low, high = points.min(axis=0), points.max(axis=0)
    centre, reach = (low + high) / 2, 4 * float((high - low).max()) + 1
    corners: NDArray[np.float64] = centre + reach * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
    return corners
