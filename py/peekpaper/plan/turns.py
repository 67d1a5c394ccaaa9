"""Which turns a paper's direction allows, and how points turn.

Turns are in degrees, clockwise on screen (y points down).
"""

import math

import numpy as np
from numpy.typing import NDArray

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


def cosine_and_sine(turn_deg: float) -> tuple[float, float]:
    """Return cosine and sine of a turn, exact for quarter turns."""
    quarter, rest = divmod(turn_deg % 360.0, 90.0)
    if rest == 0.0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter) % 4]
    angle = math.radians(turn_deg)
    return math.cos(angle), math.sin(angle)


def turned(points: NDArray[np.float64], turn_deg: float) -> NDArray[np.float64]:
    """Return points (n, 2) turned about the origin."""
    cosine, sine = cosine_and_sine(turn_deg)
    result: NDArray[np.float64] = points @ np.array([[cosine, sine], [-sine, cosine]])
    return result
