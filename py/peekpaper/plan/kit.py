"""The pieces of a puzzle made ready for a close fit: outlines, corners, which of them are alike."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.papers.paper import Direction
from peekpaper.plan.bodies import Floats
from peekpaper.plan.corners import Corners, make_corners

SAME_MM = 0.04
SAME_ANGLE = 0.004
"""Lengths and angles (radians) that differ by less are taken as equal."""


@dataclass(frozen=True, slots=True)
class Kit:
    """Pieces to fit together: closed rings about their origins, areas, lengths of outlines, corners.

    `kinds` holds for each piece the first one that could take its place.
    """

    rings: tuple[Floats, ...]
    areas: Floats
    lengths: Floats
    corners: Corners
    kinds: tuple[int, ...]


def make_kit(outlines: Sequence[Polygon], direction: Direction) -> Kit:
    """Return the kit of these outlines; only where they may turn freely alike ones are of one kind."""
    corners = make_corners(outlines)
    areas = shapely.area(outlines)
    kinds = _kinds(corners, areas) if direction is Direction.ANY else list(range(len(outlines)))
    rings = tuple(shapely.get_coordinates(outline.exterior) for outline in outlines)
    return Kit(rings, areas, shapely.length(outlines), corners, tuple(kinds))


def _kinds(corners: Corners, areas: Floats) -> list[int]:
    sides = [
        np.column_stack([corners.length_out, corners.angle])[corners.owner == index]
        for index in range(len(areas))
    ]
    kinds: list[int] = []
    for index, own in enumerate(sides):
        others = (
            kind
            for kind in sorted(set(kinds))
            if abs(areas[kind] - areas[index]) < 1e-3 * areas[index] and _are_alike(sides[kind], own)
        )
        kinds.append(next(others, index))
    return kinds


def _are_alike(one: Floats, other: Floats) -> bool:
    """Tell whether two runs of side and angle are the same, wherever they begin."""
    return len(one) == len(other) and any(
        np.allclose(np.roll(one, shift, axis=0), other, rtol=0, atol=SAME_ANGLE) for shift in range(len(one))
    )
