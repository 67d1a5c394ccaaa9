"""Each piece's zone: the part of the plane that lies nearer to its openings than to any other piece's."""

from collections import defaultdict
from collections.abc import Sequence
from functools import reduce

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LinearRing, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.backing.zones.borders import Borders, Crossings, zone_borders
from peekpaper.backing.zones.nearest_sites import nearest_sites
from peekpaper.backing.zones.sites import FRAME, Sites
from peekpaper.geometry.areas import polygonal
from peekpaper.geometry.overlay import symmetric_difference

OPEN = -2
"""The owner of an opening that stays open: it claims no zone."""


def zones(
    sites: Sites, owners: Sequence[int], known: Crossings
) -> tuple[dict[int, Polygon | MultiPolygon], Crossings]:
    """Return the zone of each owner, a generalised Voronoi diagram of the openings, and where borders cross.

    The crossings `known` from a call before for the same sites, with other owners, are not sought again.

    `owners[k]` is the number of the piece behind the k-th opening, or OPEN. Triangles whose corners belong
    to different owners are split where their sides are equally far from both edges; the parts of one
    owner, joined, are its zone. Zones share their borders exactly and cover the design and far around.
    (Approximation of the generalised diagram from sampled boundaries: Okabe, Boots, Sugihara and Chiu,
    Spatial Tessellations, 2nd ed. 2000, section 3.)
    """
    owner = np.append(np.asarray(owners, np.int64), FRAME)
    nearest = nearest_sites(sites, owner[sites.opening[sites.nearest]] != OPEN)
    borders, crossings = zone_borders(sites, nearest, owner[sites.opening[nearest]], known)
    return _areas(borders), crossings


def _areas(borders: Borders) -> dict[int, Polygon | MultiPolygon]:
    rings: dict[int, list[NDArray[np.float64]]] = defaultdict(list)
    following = borders.following.tolist()
    seen = bytearray(len(following))
    for first in range(len(following)):
        if seen[first]:
            continue
        loop, stroke = [], first
        while not seen[stroke]:
            seen[stroke] = 1
            loop.append(stroke)
            stroke = following[stroke]
        rings[int(borders.zone[first])].append(borders.points[loop])
    return {number: _even_odd(loops) for number, loops in rings.items() if number != FRAME}


def _even_odd(loops: list[NDArray[np.float64]]) -> Polygon | MultiPolygon:
    """Return what an odd number of loops go around."""
    areas = [Polygon(loop) for loop in loops if len(loop) > 2]
    if len(areas) == 1:
        return areas[0]
    nested = _nested(np.array(areas, dtype=object))
    if nested.is_valid:
        return nested
    empty: BaseGeometry = Polygon()
    return polygonal(reduce(symmetric_difference, areas, empty))


def _nested(areas: NDArray[np.object_]) -> MultiPolygon:
    """Return what an odd number of areas (n) cover, as polygons with holes; invalid where edges cross."""
    sizes = shapely.area(areas)
    inner, outer = shapely.STRtree(areas).query(shapely.point_on_surface(areas), predicate="within")
    inner, outer = inner[sizes[outer] > sizes[inner]], outer[sizes[outer] > sizes[inner]]
    depth = np.bincount(inner, minlength=len(areas))
    rings = shapely.get_exterior_ring(areas)
    holes: dict[int, list[LinearRing]] = defaultdict(list)
    is_around = (depth[inner] % 2 == 1) & (depth[outer] == depth[inner] - 1)
    for hole, around in zip(inner[is_around].tolist(), outer[is_around].tolist(), strict=True):
        holes[around].append(rings[hole])
    return MultiPolygon(
        [Polygon(rings[shell], holes[shell]) for shell in np.flatnonzero(depth % 2 == 0).tolist()]
    )
