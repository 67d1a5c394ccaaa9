"""Coordinates on a grid: what was computed with sines is the same on every machine once it lies there.

GEOS rounds corners with the sines of the machine, which differ from machine to machine in the last bit. Put
on a grid the nodes are the same, but for one in some ten millions that lies half-way between two lines of it.
"""

from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from peekpaper.geometry.overlay import each_done

PITCH = 2.0**-20
"""A millionth, in px or mm: far below what a blade can follow, far above the last bit of a coordinate."""

Join = Literal["round", "mitre", "bevel"]
Cap = Literal["round", "flat", "square"]


def to_grid(coordinates: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return coordinates, each at the nearest line of the grid."""
    snapped: NDArray[np.float64] = np.rint(coordinates / PITCH) * PITCH
    return snapped


def grown(
    areas: NDArray[np.object_],
    by: float,
    quad_segs: int,
    *,
    join_style: Join = "round",
    cap_style: Cap = "round",
    mitre_limit: float = 5.0,
) -> NDArray[np.object_]:
    """Return areas or lines (n) grown by a distance, or shrunk where it is below zero, on the grid.

    The styles are those of shapely's `buffer`. What the grid would spoil is mended.
    """
    around = each_done(
        lambda shapes: shapely.buffer(
            shapes,
            by,
            quad_segs=quad_segs,
            join_style=join_style,
            cap_style=cap_style,
            mitre_limit=mitre_limit,
        ),
        areas,
    )
    if by == 0:
        # No corner is rounded, and what touches stays together.
        return np.asarray(around, dtype=object)
    snapped = np.asarray(shapely.transform(around, to_grid), dtype=object)
    spoilt = ~shapely.is_valid(snapped)
    if spoilt.any():
        snapped[spoilt] = shapely.make_valid(snapped[spoilt], method="structure", keep_collapsed=False)
    return snapped


def one_grown(
    area: BaseGeometry,
    by: float,
    quad_segs: int = 16,
    *,
    join_style: Join = "round",
    cap_style: Cap = "round",
    mitre_limit: float = 5.0,
) -> BaseGeometry:
    """Return one area or line grown by a distance, on the grid."""
    areas = np.array([area], dtype=object)
    around: BaseGeometry = grown(
        areas, by, quad_segs, join_style=join_style, cap_style=cap_style, mitre_limit=mitre_limit
    )[0]
    return around
