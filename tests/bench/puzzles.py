"""Sets of pieces that are known to fill a rectangle: a tangram, pentominoes, rectangles cut up at random."""

import numpy as np
import shapely
from shapely import Polygon, affinity

TANGRAM_QUARTERS = (
    ((0, 0), (4, 0), (2, 2)),
    ((0, 0), (2, 2), (0, 4)),
    ((4, 0), (4, 2), (3, 1)),
    ((3, 1), (4, 2), (3, 3), (2, 2)),
    ((2, 2), (3, 3), (1, 3)),
    ((0, 4), (1, 3), (3, 3), (2, 4)),
    ((4, 2), (4, 4), (2, 4)),
)
"""The seven pieces in their square, in quarters of its side (the traditional puzzle)."""

PENTOMINOES = (
    "FIIIIILLLL",
    "FFFNWWTTTL",
    "YFNNXWWTZZ",
    "YYNXXXWTZV",
    "YUNUXPPZZV",
    "YUUUPPPVVV",
)
"""The twelve pentominoes in a rectangle of 10 x 6 (one of its 2339 fillings)."""


def tangram(side_mm: float) -> list[Polygon]:
    """Return the tangram's pieces; together they fill a square of that side."""
    return [Polygon(np.array(piece) * (side_mm / 4)) for piece in TANGRAM_QUARTERS]


def pentominoes(cell_mm: float) -> list[Polygon]:
    """Return the twelve pentominoes; together they fill ten by six cells."""
    return [
        shapely.union_all(
            [
                shapely.box(x * cell_mm, y * cell_mm, (x + 1) * cell_mm, (y + 1) * cell_mm)
                for y, row in enumerate(PENTOMINOES)
                for x, there in enumerate(row)
                if there == letter
            ]
        )
        for letter in sorted(set("".join(PENTOMINOES)))
    ]


def jigsaw(pieces: int, seed: int, width_mm: float, height_mm: float) -> list[Polygon]:
    """Return a rectangle cut into so many convex pieces, each turned at random."""
    random = np.random.default_rng(seed)
    seeds = random.uniform((0, 0), (width_mm, height_mm), (pieces, 2))
    frame = shapely.box(0, 0, width_mm, height_mm)
    cells = shapely.get_parts(shapely.voronoi_polygons(shapely.MultiPoint(seeds), extend_to=frame))
    return [affinity.rotate(cell.intersection(frame), random.uniform(0, 360)) for cell in cells]
