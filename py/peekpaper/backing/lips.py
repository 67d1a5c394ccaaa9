"""How wide a lip came out: from an opening's edge to the edge of its backing."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

_STEP_MM = 1.0
_FEWEST = 48


@dataclass(frozen=True, slots=True)
class Lip:
    """The narrowest and the median lip along the edges of a piece's openings, in mm."""

    least_mm: float
    median_mm: float


def measured_lip(openings: Sequence[Polygon], outline: Polygon) -> Lip:
    """Return the lip that `outline` leaves around `openings`.

    The least is exact, the median taken over points a millimetre or less apart. Where the outline
    leaves part of an opening uncovered, the lip there is 0.
    """
    edge = outline.exterior
    least = min(shapely.distance(opening.exterior, edge) for opening in openings)
    shapely.prepare(edge)
    lips = np.concatenate([shapely.distance(edge_points(opening), edge) for opening in openings])
    return Lip(float(least), float(np.median(lips)))


def edge_points(opening: Polygon) -> NDArray[np.object_]:
    """Return points a millimetre or less apart along the edge of an opening."""
    ring = opening.exterior
    count = max(int(np.ceil(ring.length / _STEP_MM)), _FEWEST)
    points: NDArray[np.object_] = shapely.line_interpolate_point(
        ring, np.arange(count) / count, normalized=True
    )
    return points
