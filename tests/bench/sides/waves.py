"""A card of wavy openings in rows: as many as a bench wants, a hundred edge points each."""

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.design.design import Design, Habit, Opening

CELL_MM = 20.0
NODES = 100


def waves(count: int) -> Design:
    """Return a card with `count` wavy openings."""
    columns = int(np.ceil(np.sqrt(count)))
    random = np.random.default_rng(1)
    angles = np.linspace(0, 2 * np.pi, NODES, endpoint=False)
    openings = []
    for k in range(count):
        radius = 7.5 + 1.5 * np.cos(angles * random.integers(2, 6) + random.uniform(0, 6))
        middle = CELL_MM * (np.array([k % columns, k // columns]) + 0.5)
        nodes = middle + radius[:, None] * np.stack([np.cos(angles), np.sin(angles)], axis=1)
        openings.append(Opening(k + 1, Polygon(nodes), k, k, None))
    side = CELL_MM * columns
    frame = shapely.box(-3, -3, side + 3, side + 3)
    card = MultiPolygon([Polygon(frame.exterior, [opening.area.exterior for opening in openings])])
    return Design(
        width_mm=side + 6,
        height_mm=side + 6,
        card=card,
        openings=tuple(openings),
        bars=(),
        loose_bits=(),
        warnings=(),
        habits=(Habit.SOLIDS,),
        colours=(),
        mm_per_px=1.0,
        size_is_a_guess=False,
    )


def two_papers(design: Design) -> dict[int, str]:
    """Return a paper for every opening, two in turn."""
    return {opening.number: f"p{opening.number % 2}" for opening in design.openings}
