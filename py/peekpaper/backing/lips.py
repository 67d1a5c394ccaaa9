"""How wide the lips came out: from the openings' edges to the edge of their backing."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.geometry.polyline import points_at, rows_of
from peekpaper.geometry.vectors import norms

_STEP_MM = 1.5
"""How far apart lips are looked at for their median: several along any side worth its glue."""
_FEWEST = 24
"""So many along even the smallest opening, so that no single corner makes the median."""


@dataclass(frozen=True, slots=True)
class Lip:
    """The narrowest and the median lip along the edges of a piece's openings, in mm."""

    least_mm: float
    median_mm: float


def measured_lips(cores: Mapping[int, MultiPolygon], outlines: Mapping[int, Polygon]) -> dict[int, Lip]:
    """Return the lip that each piece's outline leaves around its openings.

    The least is exact, the median taken over points at most 1.5 mm apart along the openings' edges.
    """
    if not cores:
        return {}
    edges = shapely.get_exterior_ring(np.array([outlines[piece] for piece in cores], dtype=object))
    shapely.prepare(edges)
    least = shapely.distance(edges, shapely.boundary(np.array(list(cores.values()), dtype=object)))
    openings, owner = shapely.get_parts(list(cores.values()), return_index=True)
    points, ring = _points_along(shapely.get_exterior_ring(openings))
    distances = shapely.distance(edges[owner[ring]], shapely.points(points))
    medians = _medians(distances, owner[ring])
    return {piece: Lip(*lip) for piece, *lip in zip(cores, least.tolist(), medians.tolist(), strict=True)}


def _points_along(rings: NDArray[np.object_]) -> tuple[NDArray[np.float64], NDArray[np.int64]]:
    """Return points (n, 2) evenly along rings, at most a step apart, and which ring (n) each is on."""
    nodes, ring = shapely.get_coordinates(rings, return_index=True)
    sides = norms(np.diff(nodes, axis=0, prepend=nodes[:1]))
    sides[np.append(True, ring[1:] != ring[:-1])] = 0
    reached = np.cumsum(sides)
    last = np.flatnonzero(np.append(ring[1:] != ring[:-1], True))
    lengths = np.diff(reached[last], prepend=0.0)
    counts = np.maximum(np.ceil(lengths / _STEP_MM), _FEWEST).astype(np.intp)
    owner, nth = rows_of(counts)
    begin = reached[last] - lengths
    # Half a step in, so that no point lies where one ring ends and the next begins.
    at = begin[owner] + (nth + 0.5) * (lengths / counts)[owner]
    return points_at(at, reached, nodes), owner


def _medians(values: NDArray[np.float64], group: NDArray[np.int64]) -> NDArray[np.float64]:
    """Return the median of each group's values; groups lie in a row, and none is empty."""
    ordered = values[np.lexsort((values, group))]
    begins = np.flatnonzero(np.append(True, group[1:] != group[:-1]))
    ends = np.append(begins[1:], len(group))
    medians: NDArray[np.float64] = (ordered[(begins + ends - 1) // 2] + ordered[(begins + ends) // 2]) / 2
    return medians
