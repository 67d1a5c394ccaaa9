"""Corners of outlines and of the room between them: what has to be laid against what in a close fit."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.plan.bodies import Floats, Indices
from peekpaper.steady import directions, hypot

STRAIGHT_MM = 0.01
"""Nodes nearer to the line between their neighbours are no corners."""


@dataclass(frozen=True, slots=True)
class Corners:
    """Corners of rings that run with their inside on the left (y taken as pointing up), in arrays.

    `angle` (radians) opens to the inside; the edge that comes in runs in direction `direction_in` and is
    `length_in` long, the one that goes out likewise. `before` and `after` are the neighbours' indices.
    `owner` is the number of the polygon.
    """

    x: Floats
    y: Floats
    angle: Floats
    direction_in: Floats
    direction_out: Floats
    length_in: Floats
    length_out: Floats
    before: Indices
    after: Indices
    owner: Indices

    def __len__(self) -> int:
        return len(self.x)


def make_corners(polygons: Sequence[Polygon]) -> Corners:
    """Return the corners of polygons and of their holes."""
    rings, owners = [], []
    for owner, polygon in enumerate(polygons):
        for number, ring in enumerate((polygon.exterior, *polygon.interiors)):
            nodes = without_straight_nodes(shapely.get_coordinates(ring)[:-1])
            if len(nodes) >= 3:
                rings.append(nodes if ring.is_ccw == (number == 0) else nodes[::-1])
                owners.append(owner)
    counts = np.array([len(ring) for ring in rings], dtype=np.intp)
    start = np.repeat(np.cumsum(counts) - counts, counts)
    size = np.repeat(counts, counts)
    place = np.arange(counts.sum()) - start
    before, after = start + (place - 1) % size, start + (place + 1) % size
    nodes = np.concatenate(rings)
    out = nodes[after] - nodes
    direction, length = directions(out[:, 0], out[:, 1]), hypot(out[:, 0], out[:, 1])
    turn = (direction - direction[before] + np.pi) % (2 * np.pi) - np.pi
    return Corners(
        nodes[:, 0],
        nodes[:, 1],
        np.pi - turn,
        direction[before],
        direction,
        length[before],
        length,
        before,
        after,
        np.repeat(np.array(owners, dtype=np.intp), counts),
    )


def without_straight_nodes(nodes: Floats) -> Floats:
    """Return the nodes (n, 2) of an open ring without those on the line between their neighbours."""
    while len(nodes) > 3:
        back, on = np.roll(nodes, 1, axis=0) - nodes, np.roll(nodes, -1, axis=0) - nodes
        across = np.abs(back[:, 0] * on[:, 1] - back[:, 1] * on[:, 0])
        off = across / np.maximum(hypot(*(on - back).T), 1e-12)
        straight = off < STRAIGHT_MM
        straight[1:] &= ~straight[:-1]
        if not straight.any():
            break
        nodes = nodes[~straight]
    return nodes
