"""How wide the lips came out: from the openings' edges to the edge of their backing."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

_STEP_MM = 1.5
_FEWEST = 24


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
    rings = shapely.get_exterior_ring(openings)
    counts = np.maximum(np.ceil(shapely.length(rings) / _STEP_MM), _FEWEST).astype(int)
    shares = np.concatenate([np.arange(count) / count for count in counts])
    points = shapely.line_interpolate_point(np.repeat(rings, counts), shares, normalized=True)
    piece_of_point = np.repeat(owner, counts)
    distances = shapely.distance(edges[piece_of_point], points)
    medians = _medians(distances, piece_of_point)
    return {piece: Lip(*lip) for piece, *lip in zip(cores, least.tolist(), medians.tolist(), strict=True)}


def _medians(values: NDArray[np.float64], group: NDArray[np.int64]) -> NDArray[np.float64]:
    """Return the median of each group's values; groups lie in a row, and none is empty."""
    ordered = values[np.lexsort((values, group))]
    begins = np.flatnonzero(np.append(True, group[1:] != group[:-1]))
    ends = np.append(begins[1:], len(group))
    medians: NDArray[np.float64] = (ordered[(begins + ends - 1) // 2] + ordered[(begins + ends) // 2]) / 2
    return medians
