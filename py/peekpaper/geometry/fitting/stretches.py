"""Outlines cut where they have corners, so that what lies between can be drawn with one stroke."""

from dataclasses import dataclass

import numpy as np
import shapely

from peekpaper.geometry.outline import Floats
from peekpaper.geometry.vectors import norms, unit

_FLATTENED_MM = 0.03
"""A chord that would need a higher arc than this over it is a straight edge: curves are flattened finer."""

_CORNER = np.radians(50.0)
"""A sharper turn is a corner, however short its edges."""

_SAME_PLACE_MM = 1e-7
"""Points closer than this are one: no direction can be told between them."""


@dataclass(frozen=True, slots=True, eq=False)
class Stretch:
    """A part of a ring between two corners: its points, shape (k, 2), and the unit tangents at its ends.

    Tangents point inwards. They are zero where the ring has a corner: there the curve goes as it likes.
    """

    owner: int
    points: Floats
    start_tangent: Floats
    end_tangent: Floats


def cleaned(ring: Floats, tolerance: float) -> Floats:
    """Return the ring open, without repeated points and without points that `tolerance` (mm) can spare."""
    needed = shapely.simplify(shapely.LinearRing(ring), tolerance, preserve_topology=False)
    points = shapely.get_coordinates(needed)[:-1]
    apart = norms(points - np.roll(points, 1, axis=0)) > _SAME_PLACE_MM
    open_ring: Floats = points[apart]
    return open_ring


def stretches(points: Floats, owner: int) -> list[Stretch]:
    """Cut a cleaned ring at its corners and at the ends of its straight edges."""
    count = len(points)
    edges = np.roll(points, -1, axis=0) - points
    lengths = norms(edges)
    units = edges / lengths[:, None]
    before = np.roll(units, 1, axis=0)
    crosses = before[:, 0] * units[:, 1] - before[:, 1] * units[:, 0]
    turns = np.abs(np.arctan2(crosses, np.einsum("nd,nd->n", before, units)))
    # The arc over a chord of length l that turns by t from chord to chord rises l / 2 * tan(t / 4).
    end_turns = np.minimum(turns, np.roll(turns, -1))
    straight = lengths / 2 * np.tan(end_turns / 4) > _FLATTENED_MM
    shorter = np.minimum(lengths, np.roll(lengths, 1))
    corner = (turns > _CORNER) | (shorter / 2 * np.tan(turns / 4) > _FLATTENED_MM)
    breaks = np.flatnonzero(corner | straight | np.roll(straight, 1))
    if not len(breaks):
        return [_smooth_ring(points, units, owner)]
    free = np.zeros(2)
    found = []
    for start, following in zip(breaks, np.append(breaks[1:], breaks[0] + count), strict=True):
        indices = np.arange(start, following + 1) % count
        first, last = indices[0], indices[-1]
        leaves_edge = straight[first - 1] and not corner[first]
        meets_edge = straight[last] and not corner[last]
        opening = units[first - 1] if leaves_edge else free
        closing = -units[last] if meets_edge else free
        found.append(Stretch(owner, points[indices], opening, closing))
    return found


def _smooth_ring(points: Floats, units: Floats, owner: int) -> Stretch:
    """Return a ring without corners as one stretch from its first point round to it again."""
    tangent = units[0] + units[-1]
    tangent = unit(tangent)
    return Stretch(owner, np.vstack([points, points[:1]]), tangent, -tangent)
