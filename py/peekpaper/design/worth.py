"""How much sense a reading makes, by what would be left of its card once it is cut."""

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon

from peekpaper.design.parts import inside_others
from peekpaper.design.sheet.hairlines import hairline_width, is_line
from peekpaper.geometry.areas import geometries, holes_of

SEVERAL = 3
"""So many separate shapes and more are no accident of a drawing (from memory)."""
_DUST = 5e-5
"""Parts and openings under this share of the drawing's box tell nothing of its habit (from memory)."""


def worth(area: MultiPolygon) -> int:
    """Return how many openings a card holds, less what would come apart: loose bits and separate parts.

    A line around next to nothing counts as far less.
    """
    if area.is_empty:
        return -SEVERAL
    openings, separate, loose = count(area)
    widest = max(area.geoms, key=lambda part: shapely.box(*part.bounds).area)
    thin = openings < SEVERAL and is_line(widest, hairline_width(*area.bounds))
    return openings - max(0, separate + loose - 1) - 2 * SEVERAL * thin


def comes_apart(area: MultiPolygon) -> bool:
    """Tell that an area comes in far more parts beside one another than it has openings."""
    openings, separate, _ = count(area)
    return separate - 1 - openings >= SEVERAL


def parts_of(area: MultiPolygon) -> tuple[MultiPolygon, MultiPolygon]:
    """Return the parts of a card that are held together, and those that fall out, but for dust."""
    parts = parts_over_dust(area)
    loose = inside_others(parts)
    return MultiPolygon(parts[~loose].tolist()), MultiPolygon(parts[loose].tolist())


def separate_parts(area: MultiPolygon) -> float:
    """Return how many parts are held together, small ones beside large ones counting for less.

    That is the number of equal parts whose sizes would be as hard to foretell: the exponential of Shannon's
    entropy (Hill, Diversity and evenness, 1973; from memory).
    """
    held, _ = parts_of(area)
    return _equal_parts(shapely.area(geometries(held.geoms)))


def loose_parts(area: MultiPolygon) -> float:
    """Return how many bits fall out, small ones beside the card counting for less.

    That is the geometric mean of their number, and of that of equal parts (see `separate_parts`) which they
    make beside all that is held together: a pupil in an eye is no great loss, a picture in dots is one.
    """
    held, loose = parts_of(area)
    if not loose.geoms:
        return 0.0
    equal = _equal_parts(np.append(shapely.area(geometries(loose.geoms)), held.area))
    return float(np.sqrt(len(loose.geoms) * (equal - 1)))


def _equal_parts(sizes: NDArray[np.float64]) -> float:
    shares = sizes / sizes.sum()
    return float(np.exp(-(shares * np.log(shares)).sum()))


def parts_over_dust(area: MultiPolygon) -> NDArray[np.object_]:
    """Return the parts of an area, but for dust."""
    parts = geometries(area.geoms)
    over_dust: NDArray[np.object_] = parts[shapely.area(parts) > _least(area)]
    return over_dust


def _least(area: MultiPolygon) -> float:
    left, top, right, bottom = area.bounds
    return _DUST * (right - left) * (bottom - top)


def count(area: MultiPolygon) -> tuple[int, int, int]:
    """Return how many openings, separate parts and loose bits a card has, but for dust."""
    held, loose = parts_of(area)
    openings = geometries(holes_of(held))
    return int((shapely.area(openings) > _least(area)).sum()), len(held.geoms), len(loose.geoms)
