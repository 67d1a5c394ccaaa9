"""How wide the lips came out: from the openings' edges to the edge of their backing."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, MultiPolygon, Polygon

_STEP_MM = 1.0
_FEWEST = 32


@dataclass(frozen=True, slots=True)
class Lip:
    """The narrowest and the median lip along the edges of a piece's openings, in mm.

    `narrowest` is the segment across the lip at the narrowest place.
    """

    least_mm: float
    median_mm: float
    narrowest: LineString


def measured_lips(cores: Mapping[int, MultiPolygon], outlines: Mapping[int, Polygon]) -> dict[int, Lip]:
    """Return the lip that each piece's outline leaves around its openings.

    The least is exact, the median taken over points a millimetre or less apart along the openings' edges.
    """
    lips = {}
    for piece, core in cores.items():
        edge = outlines[piece].exterior
        shapely.prepare(edge)
        narrowest = shapely.shortest_line(edge, core.boundary)
        rings = np.array([opening.exterior for opening in core.geoms], dtype=object)
        counts = np.maximum(np.ceil(shapely.length(rings) / _STEP_MM), _FEWEST).astype(int)
        places = np.concatenate([np.arange(count) / count for count in counts])
        points = shapely.line_interpolate_point(np.repeat(rings, counts), places, normalized=True)
        median = float(np.median(shapely.distance(edge, points)))
        lips[piece] = Lip(float(narrowest.length), median, narrowest)
    return lips
