"""Areas of patches of triangles."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.geometry.areas import as_area, geometries
from peekpaper.geometry.overlay import coverage_union_all, union_all
from peekpaper.geometry.pairs import pair_names


def patch_areas(
    points: NDArray[np.float64], triangles: NDArray[np.int64], patch: NDArray[np.int64], count: int
) -> list[Polygon | MultiPolygon]:
    """Return the areas of `count` patches of triangles.

    `triangles` (m, 3) index `points` (n, 2), all turning the same way (positive area in x, y) and without
    overlap; `patch` (m) tells whose each is. A side that no other triangle of the patch runs through
    backwards lies on its outline; sides are strung to rings. A patch with holes, or that touches itself in
    a point, is left to GEOS.
    """
    if not count:
        return []
    whose = np.repeat(patch, 3)
    starts, ends = triangles.ravel(), triangles[:, [1, 2, 0]].ravel()
    first, last = pair_names(whose, starts, len(points)), pair_names(whose, ends, len(points))
    outer = ~np.isin(pair_names(last, starts, len(points)), pair_names(first, ends, len(points)))
    plain = np.ones(count, bool)
    corner, times = np.unique(first[outer], return_counts=True)
    plain[corner[times > 1] // len(points)] = False
    outer &= plain[whose]
    whose, starts, first, last = whose[outer], starts[outer], first[outer], last[outer]
    order = np.argsort(first)
    rings = _rings(order[np.searchsorted(first[order], last)].tolist())
    strokes = np.array([stroke for ring in rings for stroke in ring], dtype=np.int64)
    begins = np.cumsum([0, *map(len, rings)])[:-1]
    corners, which = points[starts[strokes]], np.repeat(np.arange(len(rings)), [len(ring) for ring in rings])
    outlines = geometries(shapely.linearrings(corners, indices=which))
    owner = whose[strokes[begins]]
    plain[owner[~shapely.is_ccw(outlines)]] = False
    parts = of_each(geometries(shapely.polygons(outlines)), owner, count)
    order = np.argsort(patch, kind="stable")
    bounds = np.searchsorted(patch[order], np.arange(count + 1))
    return [
        _together(part)
        if is_plain
        else triangles_area(geometries(shapely.polygons(points[triangles[order[low:high]]])))
        for is_plain, part, low, high in zip(plain, parts, bounds[:-1], bounds[1:], strict=True)
    ]


def triangles_area(triangles: NDArray[np.object_]) -> Polygon | MultiPolygon:
    """Return the area of triangles that do not overlap."""
    joined = coverage_union_all(triangles)
    if not joined.is_valid:  # where triangles meet in a single point only
        joined = union_all(triangles)
    return joined if isinstance(joined, Polygon) else as_area(joined)


def joined_patches(patches: Sequence[Polygon | MultiPolygon]) -> MultiPolygon:
    """Return the union of patches of one triangulation.

    They share whole sides, so that taking those away joins them; only what then touches itself in a point is
    left to the general overlay.
    """
    parts = geometries(shapely.get_parts(coverage_union_all(np.array(patches, dtype=object))))
    broken = ~shapely.is_valid(parts)
    parts[broken] = shapely.make_valid(parts[broken], method="structure", keep_collapsed=False)
    return MultiPolygon(shapely.get_parts(parts).tolist())


def of_each(areas: NDArray[np.object_], owner: NDArray[np.int64], count: int) -> list[NDArray[np.object_]]:
    """Return the areas of each of `count` owners."""
    order = np.argsort(owner, kind="stable")
    return np.split(areas[order], np.searchsorted(owner[order], np.arange(1, count)))


def _together(parts: NDArray[np.object_]) -> Polygon | MultiPolygon:
    return parts[0] if len(parts) == 1 else MultiPolygon(parts.tolist())


def _rings(following: list[int]) -> list[list[int]]:
    """Return the rings of strokes of which each runs on with another."""
    seen = bytearray(len(following))
    rings = []
    for first in range(len(following)):
        ring, stroke = [], first
        while not seen[stroke]:
            seen[stroke] = 1
            ring.append(stroke)
            stroke = following[stroke]
        if ring:
            rings.append(ring)
    return rings
