"""Which turns a paper's direction allows, and how points turn.

Turns are in degrees, clockwise on screen (y points down).
"""

import math
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.geometry import elementary
from peekpaper.papers.paper import Direction


def turns_allowed(direction: Direction, free_turns: int, first_deg: float = 0.0) -> tuple[float, ...]:
    """Return the turns to try for a paper: `free_turns` evenly spread ones where it has no direction.

    These begin with `first_deg`.
    """
    match direction:
        case Direction.ONE_WAY:
            return (0.0,)
        case Direction.TWO_WAY:
            return (0.0, 180.0)
        case Direction.ANY:
            return tuple((first_deg + 360.0 * step / free_turns) % 360.0 for step in range(free_turns))


def is_allowed(turn_deg: float, direction: Direction) -> bool:
    """Tell whether a piece turned by `turn_deg` keeps the paper's pattern the right way up."""
    if direction is Direction.ANY:
        return True
    return any(
        abs((turn_deg - allowed + 180.0) % 360.0 - 180.0) < 1e-6 for allowed in turns_allowed(direction, 1)
    )


@lru_cache(maxsize=4096)
def cosine_and_sine(turn_deg: float) -> tuple[float, float]:
    """Return cosine and sine of a turn, exact for quarter turns."""
    quarter, rest = divmod(turn_deg % 360.0, 90.0)
    if rest == 0.0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    return elementary.cosine_and_sine(math.radians(turn_deg))


def turned_by_degrees(points: NDArray[np.float64], turn_deg: float) -> NDArray[np.float64]:
    """Return points (n, 2) turned about the origin."""
    cosine, sine = cosine_and_sine(turn_deg)
    x, y = points[..., 0], points[..., 1]
    return np.stack([cosine * x - sine * y, sine * x + cosine * y], axis=-1)


def placed(outline: Polygon, turn_deg: float, x_mm: float, y_mm: float) -> Polygon:
    """Return an outline turned about the origin and then moved."""
    moved: Polygon = shapely.transform(
        outline, lambda nodes: turned_by_degrees(nodes, turn_deg) + np.array([x_mm, y_mm])
    )
    return moved
