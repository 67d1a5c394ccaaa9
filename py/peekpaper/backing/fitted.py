"""The fitted outline of a piece: its openings with the widest lip that fits, everywhere."""

from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.backing.areas import holding, polygonal

_QUARTER_SEGMENTS = 8
# A little more than wanted, so that arcs drawn with few nodes never fall short of it.
_MORE, _MORE_MM = 0.02, 0.04
_HAIR_MM = 1e-6


def fitted_outlines(
    cores: Mapping[int, Polygon | MultiPolygon],
    rooms: Mapping[int, Polygon | MultiPolygon],
    lip_mm: float,
) -> dict[int, Polygon]:
    """Return for each piece its core grown by the lip, as far as its room allows.

    A core is what the piece must cover, room or not. Enclosed pockets that belong to its room are filled.
    """
    numbers = list(cores)
    areas = covered([cores[number] for number in numbers])
    spaces = np.array([rooms[number] for number in numbers], dtype=object)
    more = min(lip_mm * _MORE, _MORE_MM)
    grown = shapely.buffer(areas, lip_mm + more, quad_segs=_QUARTER_SEGMENTS)
    joined = shapely.union(shapely.intersection(grown, spaces), areas)
    return {
        number: without_pockets(holding(polygonal(area), core))
        for number, area, core in zip(numbers, joined, areas, strict=True)
    }


def covered(areas: Sequence[Polygon | MultiPolygon] | NDArray[np.object_]) -> NDArray[np.object_]:
    """Return areas grown by a hair: what covers these covers the areas, however coordinates round."""
    grown: NDArray[np.object_] = shapely.buffer(
        np.array(areas, dtype=object), _HAIR_MM, quad_segs=1, join_style="mitre"
    )
    return grown


def without_pockets(area: Polygon) -> Polygon:
    """Return `area` with its holes filled."""
    return Polygon(area.exterior) if area.interiors else area


def total_nodes(outlines: Sequence[Polygon]) -> int:
    """Return how many nodes the outlines have together, each ring's start counted once."""
    rings = shapely.get_exterior_ring(np.array(outlines, dtype=object))
    return int((shapely.get_num_coordinates(rings) - 1).sum()) if len(outlines) else 0
