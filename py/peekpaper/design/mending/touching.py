"""Where edges of the card touch or all but touch, so that nothing holds it together there."""

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from peekpaper.design.mending.edges import edge_pieces
from peekpaper.geometry.areas import geometries
from peekpaper.geometry.overlay import intersection, union_all

_TOUCHING_MM = 0.05
"""Edges nearer than this touch: no blade leaves a bar between them (from memory)."""


def touching_lines(card: MultiPolygon) -> NDArray[np.object_]:
    """Return the lines (n) in mm along which two rings of a card, of one part or of two, touch."""
    rings = geometries(shapely.get_rings(shapely.get_parts(card)))
    pieces, ring = edge_pieces(list(rings))
    if not len(pieces):
        return geometries([])
    one, other = shapely.STRtree(pieces).query(pieces, predicate="dwithin", distance=_TOUCHING_MM)
    apart = ring[one] < ring[other]
    one, other = one[apart], other[apart]
    near = intersection(pieces[one], shapely.buffer(pieces[other], _TOUCHING_MM, quad_segs=2))
    lines = geometries(shapely.get_parts(shapely.line_merge(union_all(near))))
    return geometries(lines[shapely.get_dimensions(lines) == 1])
