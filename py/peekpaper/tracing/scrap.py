"""The outline of a left-over in a photo, measured by something of known size that lies beside it.

What differs from the ground is parted from it by a threshold (`light.split`). The four sides of what is
known are fitted by total least squares; their corners give the projective map to mm (`geometry.projective`).
What a lens bends is left as it is.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.geometry.overlay import polygons_of
from peekpaper.geometry.projective import Corner, projected, projection, refuse_bad_corners
from peekpaper.refusal import Refusal
from peekpaper.tracing.contours import zero_rings
from peekpaper.tracing.light import split

CARD_MM = (85.6, 53.98)
"""Width and height of a card of size ID-1 (ISO/IEC 7810)."""
MOST_POINTS = 240
"""How many points an outline has at most: as many as a torn edge of a sheet needs for 0.2 mm (by trial)."""

_LEAST_SHARE = 0.002
"""What part of the photo a thing must take to be a left-over or a card, not dust."""
_MOST_THINGS = 8
"""How many of the largest things in a photo are looked at."""
_INWARDS_PX = 4.0
"""How far within its edge a thing has its own colour, whatever smoothing and lens mix in."""
_MOST_CHANGE = 0.05
"""How much of its area a thing may gain or lose by its own level; more, and that breaks its pattern up."""
_RIM_SHARE = 0.02
"""How wide the rim is that shows the ground alone, as a part of the photo's sides."""
_SIDE_FROM, _SIDE_TO = 0.15, 0.85
"""What part of a side is straight whatever its corners are: those of a card are round, 3.18 mm of 53.98."""
_STRAIGHT = 0.006
"""How far the sides of a card may stray from straight, as a part of the root of its area."""
_LEAST_SINE = 0.3
"""Of the angle between two sides of a card that meet: seen from lower than that, it tells no size."""
_STRAY_MM = 0.15
"""How far an outline may stray from what was seen when points are left out of it."""

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class FoundScrap:
    """A left-over in a photo, in px: its `outline`, and the `corners` of what is known beside it.

    The corners go clockwise from the upper left; None where nothing in the photo has four straight sides.
    """

    outline: tuple[Corner, ...]
    corners: tuple[Corner, ...] | None


@dataclass(frozen=True, slots=True)
class MeasuredScrap:
    """A left-over in mm: the box around it, and its outline in that box."""

    width_mm: float
    height_mm: float
    outline: tuple[Corner, ...]


def find_scrap(photo: NDArray[np.uint8], known_mm: tuple[float, float]) -> FoundScrap:
    """Return the largest thing in an RGBA photo, and where in it a rectangle of known size (mm) lies.

    Raises Refusal where nothing differs from the ground, or where the thing reaches past the photo.
    """
    height, width = photo.shape[:2]
    unlike = _unlikeness(photo)
    smooth = _smoothed(unlike)
    least = _LEAST_SHARE * width * height
    rings = _rings_above(smooth, split(smooth, 0.0, float(smooth.max())), least)
    rough = sorted(rings, key=lambda ring: -Polygon(ring).area)[:_MOST_THINGS]
    if not rough:
        raise Refusal("scrap-photo-nothing")
    things = [_at_half(unlike, ring) for ring in rough]
    known = _most_like(things, known_mm)
    others = [ring for ring in things if known is None or ring is not known[0]]
    if not others:
        raise Refusal("scrap-photo-one-thing")
    scrap = others[0]
    if scrap.min() < 1 or scrap[:, 0].max() > width - 1 or scrap[:, 1].max() > height - 1:
        raise Refusal("scrap-photo-cut-off")
    corners = None if known is None else known[1]
    px_per_mm = 2.0 if corners is None else float(np.sqrt(Polygon(corners).area / np.prod(known_mm)))
    return FoundScrap(_simplified(scrap, _STRAY_MM * px_per_mm), corners)


def measured_scrap(
    outline: Sequence[Corner], corners: Sequence[Corner], known_mm: tuple[float, float]
) -> MeasuredScrap:
    """Return an outline in a photo (px) in mm, by the corners (px) of a rectangle of known size.

    Across is along the upper side of what is known, whichever of its sides that is.

    Raises Refusal for corners that enclose nothing, and for an outline that does or crosses itself.
    """
    if min(known_mm) <= 0:
        raise Refusal("pictured-paper-without-size")
    if len(outline) < 3:
        raise Refusal("scrap-outline")
    points = np.array([*outline, *corners], dtype=np.float64)
    reach = int(np.ceil(np.abs(points).max(initial=1.0)))
    refuse_bad_corners(corners, reach, reach)
    across, down = _ways(corners)
    wide, high = sorted(known_mm, reverse=across >= down)
    matrix = projection(corners, [(0, 0), (wide, 0), (wide, high), (0, high)])
    far = np.column_stack([np.array(outline), np.ones(len(outline))]) @ matrix[2]
    if far.min() <= 0:
        raise Refusal("scrap-outline")
    places = projected(np.array(outline), matrix)
    places -= places.min(axis=0)
    if not Polygon(places).is_valid:
        raise Refusal("scrap-outline")
    places = np.round(places, 2)
    size = places.max(axis=0)
    return MeasuredScrap(float(size[0]), float(size[1]), tuple(map(tuple, places.tolist())))


def _unlikeness(photo: NDArray[np.uint8]) -> Floats:
    """Return how far each px is from the ground, which may be lit from one side: a plane through the rim."""
    colours = photo[..., :3].astype(np.float32)
    height, width = colours.shape[:2]
    rim = max(2, round(_RIM_SHARE * min(height, width)))
    is_rim = np.ones((height, width), bool)
    is_rim[rim:-rim, rim:-rim] = False
    row, column = np.nonzero(is_rim)
    step = max(1, len(row) // 20_000)
    row, column = row[::step], column[::step]
    seen = colours[row, column].astype(np.float64)
    terms = np.column_stack([np.ones(len(row)), column / width, row / height])
    kept = np.ones(len(row), bool)
    for _ in range(4):
        plane = np.linalg.solve(terms[kept].T @ terms[kept], terms[kept].T @ seen[kept])
        away = np.abs(seen - terms @ plane).max(axis=1)
        kept = away <= 3 * np.median(away) + 1
    across, down = np.arange(width) / width, np.arange(height)[:, None] / height
    squares = np.zeros((height, width), np.float32)
    for channel in range(3):
        ground = plane[0, channel] + plane[1, channel] * across + plane[2, channel] * down
        squares += (colours[..., channel] - ground.astype(np.float32)) ** 2
    return np.sqrt(squares).astype(np.float64)


def _smoothed(values: Floats) -> Floats:
    """Return values averaged with their neighbours by weights 1, 2, 1 both ways: grain is no outline."""
    edged = np.pad(values, 1, mode="edge")
    edged = (edged[:-2] + 2 * edged[1:-1] + edged[2:]) / 4
    smooth: Floats = (edged[:, :-2] + 2 * edged[:, 1:-1] + edged[:, 2:]) / 4
    return smooth


def _rings_above(values: Floats, level: float, least_area: float) -> list[Floats]:
    """Return the rings around what lies above a level that enclose so many px2 at least, in px."""
    height, width = values.shape
    # One px more all around closes the rings of what reaches past the photo.
    field = np.full((height + 2, width + 2), -1.0, np.float32)
    field[1:-1, 1:-1] = values - level
    rings = zero_rings(field)
    if len(rings.heads) == 0:
        return []
    large = rings.chosen(rings.areas() >= least_area)
    # np.split would make one empty ring of none.
    return [ring - 1.0 for ring in np.split(large.points, large.heads[1:]) if len(ring)]


def _at_half(unlike: Floats, ring: Floats) -> Floats:
    """Return the ring where px are half ground and half the thing itself, which is where its edge lies.

    The level for all things lies off the middle between ground and any one of them. Where a thing's own level
    breaks it up, the ring stays as it is.
    """
    area = Polygon(ring).buffer(0)
    within = shapely.get_coordinates(area.buffer(-_INWARDS_PX).boundary)
    if len(within) == 0:
        return ring
    column, row = within.astype(np.intp).T
    level = (float(np.median(unlike[row, column])) + float(np.median(unlike))) / 2
    for own in _rings_above(unlike, level, (1 - _MOST_CHANGE) * area.area):
        if Polygon(own).buffer(0).symmetric_difference(area).area <= _MOST_CHANGE * area.area:
            return own
    return ring


def _most_like(
    things: Sequence[Floats], known_mm: tuple[float, float]
) -> tuple[Floats, tuple[Corner, ...]] | None:
    """Return the thing of four straight sides that is nearest the known proportions, and its corners."""
    wanted = np.log(max(known_mm) / min(known_mm))
    best: tuple[float, Floats, tuple[Corner, ...]] | None = None
    for ring in things:
        corners = _four_sides(ring)
        if corners is None:
            continue
        ways = _ways(corners)
        off = abs(np.log(max(ways) / min(ways)) - wanted)
        if best is None or off < best[0]:
            best = off, ring, corners
    return None if best is None else best[1:]


def _ways(corners: Sequence[Corner]) -> tuple[float, float]:
    """Return how long four sides are together, across and down."""
    top, right, bottom, left = (math.dist(corners[at], corners[(at + 1) % 4]) for at in range(4))
    return top + bottom, right + left


def _four_sides(ring: Floats) -> tuple[Corner, ...] | None:
    """Return the corners in which four straight sides of a ring meet, clockwise from the upper left one.

    None where it has not four, each straight but near its ends.
    """
    rough = _rough_corners(ring)
    lines = []
    stray = _STRAIGHT * float(np.sqrt(Polygon(ring).area))
    for start, end in pairwise([*rough, rough[0]]):
        along = end - start
        length = float(np.hypot(*along))
        if length == 0:
            return None
        along = along / length
        part = (ring - start) @ along / length
        off = (ring - start) @ np.array([-along[1], along[0]])
        side = ring[(part > _SIDE_FROM) & (part < _SIDE_TO) & (np.abs(off) < 0.06 * length)]
        if len(side) < 8:
            return None
        middle = side.mean(axis=0)
        x, y = (side - middle).T
        turn = math.atan2(2 * float(x @ y), float(x @ x - y @ y)) / 2
        along = np.array([math.cos(turn), math.sin(turn)])
        if np.abs(along[0] * y - along[1] * x).max() > max(stray, 1.0):
            return None
        lines.append((middle, along))
    if any(abs(_cross(lines[at - 1][1], lines[at][1])) < _LEAST_SINE for at in range(4)):
        return None
    corners = [_crossing(lines[at - 1], lines[at]) for at in range(4)]
    if abs(Polygon(corners).area / Polygon(ring).area - 1) > 0.03:
        return None
    first = min(range(4), key=lambda at: corners[at][0] + corners[at][1])
    return tuple(corners[first:] + corners[:first])


def _rough_corners(ring: Floats) -> list[Floats]:
    """Return about where a ring of four sides has its corners, clockwise on screen.

    Two are the points that lie furthest apart, the others those furthest to either side of their line.
    """
    hull = shapely.get_coordinates(Polygon(ring).convex_hull)[:-1]
    apart = ((hull[:, None] - hull[None]) ** 2).sum(axis=2)
    first, third = (hull[at] for at in np.unravel_index(int(apart.argmax()), apart.shape))
    along = third - first
    off = (hull - first) @ np.array([-along[1], along[0]])
    # y points down: what lies to the left of the way from first to third comes between them clockwise.
    return [first, hull[int(off.argmin())], third, hull[int(off.argmax())]]


def _crossing(one: tuple[Floats, Floats], other: tuple[Floats, Floats]) -> Corner:
    (start, along), (there, way) = one, other
    x, y = start + _cross(there - start, way) / _cross(along, way) * along
    return float(x), float(y)


def _cross(one: Floats, other: Floats) -> float:
    return float(one[0] * other[1] - one[1] * other[0])


def _simplified(ring: Floats, stray: float) -> tuple[Corner, ...]:
    """Return a ring with fewer points, none of it further than that away (Douglas and Peucker 1973)."""
    area = Polygon(ring).buffer(0)
    while True:
        kept = shapely.get_coordinates(_largest(_largest(area).simplify(stray)).exterior)[:-1]
        if len(kept) <= MOST_POINTS:
            return tuple((float(x), float(y)) for x, y in np.round(kept, 2))
        stray *= 1.3


def _largest(area: BaseGeometry) -> Polygon:
    return max(polygons_of(area), key=lambda part: float(part.area))
