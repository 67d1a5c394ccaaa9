"""Which colour a file shows in which opening."""

from collections.abc import Sequence

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.geometry.overlay import intersection

_MOST = 0.5
"""A colour is an opening's own where it shows in at least this share of it (from memory)."""


def given_colours(
    openings: Sequence[Polygon], given: Sequence[tuple[str, MultiPolygon]]
) -> tuple[str | None, ...]:
    """Return for each opening the colour that shows in most of it, or None; areas in mm."""
    areas = np.array(openings, dtype=object)
    if len(areas) == 0 or not given:
        return (None,) * len(areas)
    parts = np.array([part for _, area in given for part in area.geoms], dtype=object)
    owner = np.repeat(np.arange(len(given)), [len(area.geoms) for _, area in given])
    tree = shapely.STRtree(parts)
    opening, part = tree.query(areas, predicate="intersects")
    shown = np.zeros((len(areas), len(given)))
    np.add.at(shown, (opening, owner[part]), shapely.area(intersection(areas[opening], parts[part])))
    best = shown.argmax(axis=1)
    enough = shown.max(axis=1) >= _MOST * shapely.area(areas)
    return tuple(given[index][0] if sure else None for index, sure in zip(best, enough, strict=True))
