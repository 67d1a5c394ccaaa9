"""Dividing a card that is larger than the mat: along seams, again and again, until each part fits."""

import math
from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.design.design import Design, MatSize
from peekpaper.design.division.division import SPARE_MM, CardPart, Division, Joint
from peekpaper.design.division.seam import seam_through
from peekpaper.geometry.areas import as_area, geometries, holes_of
from peekpaper.geometry.grid import one_grown
from peekpaper.geometry.overlay import difference, intersection, union, union_all
from peekpaper.geometry.polyline import as_lines

_LAP_MM = 10.0
"""How far parts overlap on card without openings; bars up to this wide are whole in both (from memory)."""
_MORE = 3
"""Where openings leave no seam for the fewest parts, so many more are tried."""
_LEAST_MM2 = 1.0
"""What of a part lies so little on its own side is not of it."""
_MOST_IN_A_ROW = 12
"""More parts in a row nobody joins (from memory)."""
_TOUCHING_MM = 0.02
"""Edges so near are in one place."""
_CRUMB_MM2 = 100.0
"""A smaller piece that the part on top leaves beside it goes to that part (from memory)."""

Size = tuple[float, float]


def division_of(design: Design, mat: MatSize) -> Division | None:
    """Return a card in the parts that it is to be cut in, None where it is whole or can't be divided."""
    if design.joint is None or mat.holds(design.width_mm, design.height_mm):
        return None
    most = (mat.width_mm - 2 * mat.rim_mm, mat.height_mm - 2 * mat.rim_mm)
    return divided(design.card, [bit.area for bit in design.loose_bits], most, design.joint)


def divided(card: MultiPolygon, bits: Sequence[Polygon], most: Size, joint: Joint) -> Division | None:
    """Return a card in mm in parts of at most a width and height, either way up; None where it can't be.

    Every opening is whole in one part, or in both that overlap there; with a tab so are bars along the seam.
    `bits` are the loose bits in the card's openings, in order of their numbers. It can't be where an opening
    is larger than a part may be.
    """
    ways_up = sorted({most, most[::-1]}, key=lambda size: (_fewest(card, size), size != most))
    for size in ways_up:
        areas = _parts(card, size, joint)
        if areas is not None:
            return Division(joint, tuple(_numbered(areas, bits, joint)))
    return None


def _fewest(area: MultiPolygon, size: Size) -> int:
    left, top, right, bottom = area.bounds
    return _count(right - left, size[0]) * _count(bottom - top, size[1])


def _count(length: float, most: float) -> int:
    """Return how many parts of at most a length it takes to cover another; a huge number if none do."""
    if length <= most + 1e-6:
        return 1
    return math.ceil((length - _LAP_MM) / (most - _LAP_MM)) if most > 2 * _LAP_MM else 1_000_000


def _reach(count: int, most: float) -> float:
    """Return how far so many parts reach that overlap."""
    return count * most - (count - 1) * _LAP_MM


def _parts(area: MultiPolygon, size: Size, joint: Joint) -> list[MultiPolygon] | None:
    """Return the parts of an area, those on top first, or None where it can't be divided."""
    counts = np.array([_count(upper - lower, most) for lower, upper, most in _spans(area, size)])
    if counts.max() == 1:
        return [area]
    if counts.max() > _MOST_IN_A_ROW:
        return None
    axis = int(np.argmax(counts))
    lower, upper, most = _spans(area, size)[axis]
    seen = _swapped(area) if axis else area
    for count in range(counts[axis], counts[axis] + _MORE):
        first = count // 2
        low = upper - _reach(count - first, most) + _LAP_MM / 2
        high = lower + _reach(first, most) - _LAP_MM / 2
        seam = seam_through(seen, max(low, lower + _LAP_MM), min(high, upper - _LAP_MM))
        if seam is not None:
            sides = [side for side in _sides(seen, seam, joint) if not side.is_empty]
            if any(_span(side) > upper - lower - _LAP_MM for side in sides):
                continue
            turned = [_swapped(side) if axis else side for side in sides]
            divided = [_parts(side, size, joint) for side in turned]
            if all(parts is not None for parts in divided):
                return [part for parts in divided if parts is not None for part in parts]
    return None


def _spans(area: MultiPolygon, size: Size) -> list[tuple[float, float, float]]:
    """Return for each axis where an area begins and ends, and how long a part may be."""
    left, top, right, bottom = area.bounds
    return [(left, right, size[0]), (top, bottom, size[1])]


def _span(area: MultiPolygon) -> float:
    left, _, right, _ = area.bounds
    return right - left


def _swapped(area: MultiPolygon) -> MultiPolygon:
    """Return an area with x and y swapped."""
    swapped: MultiPolygon = shapely.transform(area, lambda points: points[:, ::-1])
    return swapped


def _sides(area: MultiPolygon, seam: LineString, joint: Joint) -> tuple[MultiPolygon, MultiPolygon]:
    """Return what lies left of a seam, which goes on top, and what lies right of it.

    The left one has all bars along the seam, and ends beyond them, squarely across what leads away. The other
    has a tab under it, or begins where it ends.
    """
    nodes = shapely.get_coordinates(seam)
    out = area.bounds[0] - _LAP_MM
    cell = shapely.make_valid(Polygon([(out, nodes[0, 1]), *nodes, (out, nodes[-1, 1])]))
    band = one_grown(seam, _LAP_MM / 2, cap_style="flat")
    own = intersection(area, cell)
    others = difference(area, cell)
    on_top = _held_by(intersection(area, union(cell, band)), own)
    if joint is Joint.TAB:
        within = one_grown(intersection(area, one_grown(band, 1.0)), -SPARE_MM)
        tab = intersection(intersection(own, band), within)
        return on_top, _held_by(union(others, tab), others)
    rest = as_area(difference(area, on_top))
    crumbs = [part for part in rest.geoms if part.area < _CRUMB_MM2 and part.dwithin(on_top, 1e-6)]
    below = as_area(difference(rest, union_all(crumbs))) if crumbs else rest
    return (as_area(union_all([on_top, *crumbs])) if crumbs else on_top), below


def _held_by(area: BaseGeometry, own: BaseGeometry) -> MultiPolygon:
    """Return the pieces of an area that lie on its own side for more than a touch."""
    pieces = geometries(list(as_area(area).geoms))
    shared = shapely.area(intersection(pieces, own))
    return MultiPolygon(list(pieces[shared > np.minimum(_LEAST_MM2, shapely.area(pieces) / 2)]))


def _numbered(areas: Sequence[MultiPolygon], bits: Sequence[Polygon], joint: Joint) -> Iterator[CardPart]:
    """Yield parts with their numbers; each lies on top of those that come after it."""
    of_bits = _parts_of_bits(areas, bits)
    reach = -SPARE_MM / 2 if joint is Joint.TAB else _TOUCHING_MM
    for place, area in enumerate(areas):
        above = as_area(union_all(areas[:place])) if place else MultiPolygon()
        below = as_area(union_all(areas[place + 1 :])) if place + 1 < len(areas) else MultiPolygon()
        inner = one_grown(below, reach) if not below.is_empty else below
        within = one_grown(area, -SPARE_MM / 2)
        yield CardPart(
            place + 1,
            area,
            as_area(intersection(area, above)),
            as_lines(intersection(above.boundary, within)),
            as_lines(difference(intersection(area.boundary, inner), above)),
            tuple(bit for bit, part in enumerate(of_bits, start=1) if part == place),
        )


def _parts_of_bits(areas: Sequence[MultiPolygon], bits: Sequence[Polygon]) -> list[int]:
    """Return for each loose bit the first part that has the opening in which it lies."""
    found = []
    openings = [geometries(holes_of(area)) for area in areas]
    for bit in bits:
        inside = bit.representative_point()
        holding = [part for part, holes in enumerate(openings) if shapely.contains(holes, inside).any()]
        found.append(holding[0] if holding else int(np.argmin(shapely.distance(areas, inside))))
    return found
