"""Lines without the rounding errors that files bring."""

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString

from peekpaper.geometry.elementary import hypot
from peekpaper.geometry.vectors import norms

ROUNDING = 1e-6
"""Nodes nearer to one another than this share of a drawing's diagonal are one."""


def clean_nodes(line: LineString, closed: bool, distance: float) -> NDArray[np.float64]:
    """Return the nodes (n, 2) of a line, without those that repeat the one before within `distance`.

    A closed line ends exactly where it starts.
    """
    nodes = shapely.get_coordinates(shapely.remove_repeated_points(line, distance))
    if not closed:
        return nodes
    if len(nodes) > 2 and norms(nodes[0] - nodes[-1]) <= distance:
        nodes = nodes[:-1]
    return np.concatenate([nodes, nodes[:1]])


def diagonal(lines: NDArray[np.object_]) -> float:
    """Return the diagonal of the bounding box of lines."""
    left, top, right, bottom = shapely.total_bounds(lines)
    return float(hypot(right - left, bottom - top))
