"""The area that closed polylines enclose under a fill rule."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.drawing.areas import as_area, join
from peekpaper.drawing.drawing import Area
from peekpaper.drawing.matrix import Points


def fill_area(outlines: Sequence[Points], *, even_odd: bool) -> Area:
    """Return the area inside `outlines`, each closed as if by a straight line (SVG 1.1, 11.3).

    The nonzero rule counts in which sense outlines run around a point, the even-odd rule only how many.
    """
    rings = [ring for ring in map(_ring, outlines) if ring is not None]
    if not rings:
        return MultiPolygon()
    lines = shapely.linearrings(
        np.concatenate([np.column_stack((ring.real, ring.imag)) for ring in rings]),
        indices=np.repeat(np.arange(len(rings)), [len(ring) for ring in rings]),
    )
    polygons = shapely.polygons(lines)
    if len(rings) == 1 and polygons[0].is_valid:
        return as_area(polygons[0])
    if shapely.is_valid(polygons).all() and not _boundaries_meet(lines):
        return _nested(polygons, even_odd=even_odd)
    return _arranged(lines, even_odd=even_odd)


def _ring(points: Points) -> Points | None:
    """Return an outline without repeated points, closed, or None where it encloses nothing."""
    kept = points[np.concatenate(([True], points[1:] != points[:-1]))]
    if kept[0] != kept[-1]:
        kept = np.append(kept, kept[0])
    return kept if len(kept) > 3 else None


def _boundaries_meet(lines: NDArray[np.object_]) -> bool:
    tree = shapely.STRtree(lines)
    first, second = tree.query(lines, predicate="intersects")
    return bool((first != second).any())


def _nested(polygons: NDArray[np.object_], *, even_odd: bool) -> Area:
    """Return the filled area of simple outlines that nest without touching one another."""
    areas = shapely.area(polygons)
    turns = np.where(shapely.is_ccw(shapely.get_exterior_ring(polygons)), 1, -1)
    starts = shapely.get_point(shapely.get_exterior_ring(polygons), 0)
    inner, outer = shapely.STRtree(polygons).query(starts, predicate="within")
    nests = inner != outer
    inner, outer = inner[nests], outer[nests]
    around = np.bincount(
        inner, weights=np.ones(len(inner)) if even_odd else turns[outer], minlength=len(areas)
    )
    within = around + (1 if even_odd else turns)
    filled, filled_around = _is_filled(within, even_odd=even_odd), _is_filled(around, even_odd=even_odd)
    shells = np.flatnonzero(filled & ~filled_around)
    holes: dict[int, list[int]] = {int(shell): [] for shell in shells}
    keeps = ~filled[inner] & filled_around[inner] & filled[outer] & ~filled_around[outer]
    inner, outer = inner[keeps], outer[keeps]
    # The smallest shell around a hole comes first.
    order = np.lexsort((areas[outer], inner))
    inner, outer = inner[order], outer[order]
    for hole, shell in zip(
        *(part[np.unique(inner, return_index=True)[1]] for part in (inner, outer)), strict=True
    ):
        holes[int(shell)].append(int(hole))
    rings = shapely.get_exterior_ring(polygons)
    return as_area(
        MultiPolygon([Polygon(rings[shell], [rings[hole] for hole in holes[int(shell)]]) for shell in shells])
    )


def _is_filled(windings: NDArray[np.float64], *, even_odd: bool) -> NDArray[np.bool_]:
    return windings % 2 == 1 if even_odd else windings != 0


def _arranged(lines: NDArray[np.object_], *, even_odd: bool) -> Area:
    """Return the filled area of any outlines, by the winding number of each face that they form."""
    noded = shapely.unary_union(lines)
    faces = shapely.get_parts(shapely.polygonize(shapely.get_parts(noded)))
    if len(faces) == 0:
        return MultiPolygon()
    points = shapely.point_on_surface(faces)
    filled = _is_filled(_windings(lines, points, even_odd=even_odd), even_odd=even_odd)
    return join(faces[filled])


def _windings(
    lines: NDArray[np.object_], points: NDArray[np.object_], *, even_odd: bool
) -> NDArray[np.float64]:
    """Return how often the outlines run around each point, by the edges that a ray to the right crosses."""
    coordinates, which = shapely.get_coordinates(lines, return_index=True)
    same = which[1:] == which[:-1]
    starts, ends = coordinates[:-1][same], coordinates[1:][same]
    edges = shapely.linestrings(np.stack((starts, ends), axis=1))
    x, y = shapely.get_x(points), shapely.get_y(points)
    right = coordinates[:, 0].max() + 1
    rays = shapely.linestrings(
        np.stack((np.column_stack((x, y)), np.column_stack((np.full_like(x, right), y))), axis=1)
    )
    point, edge = shapely.STRtree(edges).query(rays)
    (x1, y1), (x2, y2) = starts[edge].T, ends[edge].T
    px, py = x[point], y[point]
    down, up = (y1 <= py) & (y2 > py), (y2 <= py) & (y1 > py)
    crosses = down | up
    with np.errstate(divide="ignore", invalid="ignore"):
        hits = crosses & (x1 + (py - y1) / (y2 - y1) * (x2 - x1) > px)
    sense = np.where(hits, 1.0 if even_odd else np.where(down, 1.0, -1.0), 0.0)
    return np.bincount(point, weights=sense, minlength=len(points))
