"""Dividing a card that is larger than the mat: along seams, again and again, until each part fits."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.breathing import Breathing
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
_SPARE_MM = 20.0
"""Edge to edge, a stretch so wide along the seam goes to one part with what would only hang beside it."""
_UNEVEN = 0.6
"""So much larger or smaller than an even share a part may become (from memory)."""
_LEAST_MM2 = 1.0
"""What of a part lies so little on its own side is not of it."""
_MOST_IN_A_ROW = 6
"""More parts in a row nobody joins (from memory)."""
_TOUCHING_MM = 0.02
"""Edges so near are in one place."""
Size = tuple[float, float]


def division_of(design: Design, mat: MatSize) -> Breathing[Division | None]:
    """Return a card in the parts that it is to be cut in, None where it is whole or can't be divided.

    Breathes after each seam.
    """
    if design.joint is None or mat.holds(design.width_mm, design.height_mm):
        return None
    most = (mat.width_mm - 2 * mat.rim_mm, mat.height_mm - 2 * mat.rim_mm)
    bits = [bit.area for bit in design.loose_bits]
    return (yield from divided(design.card, bits, most, design.joint))


def divided(
    card: MultiPolygon, bits: Sequence[Polygon], most: Size, joint: Joint
) -> Breathing[Division | None]:
    """Return a card in mm in parts of at most a width and height, either way up; None where it can't be.

    With a tab every opening that is no larger than a part may be is whole in one, or in two that overlap
    there, and so are bars along the seam. `bits` are the loose bits in the card's openings, in order of their
    numbers. It can't be where it would take more parts than anyone joins. Breathes after each seam.
    """
    rooms = [_Room(size, _LAP_MM if joint is Joint.TAB else _SPARE_MM, joint) for size in {most, most[::-1]}]
    room = min(rooms, key=lambda each: (each.fewest(card), each.size != most))
    if max(room.counts(card)) > _MOST_IN_A_ROW:
        return None
    parts = yield from _parts(card, room)
    return Division(joint, tuple(_numbered(parts, bits, joint)))


@dataclass(frozen=True, slots=True)
class _Room:
    """How large parts may be, how far they overlap, or grow into one another, and how they are joined."""

    size: Size
    overlap: float
    joint: Joint

    def counts(self, area: MultiPolygon) -> list[int]:
        """Return how many parts it takes across and down; far too many where none do."""
        return [self._count(upper - lower, most) for lower, upper, most in self.spans(area)]

    def fewest(self, area: MultiPolygon) -> int:
        """Return how many parts it takes."""
        return math.prod(self.counts(area))

    def spans(self, area: MultiPolygon) -> list[tuple[float, float, float]]:
        """Return for each axis where an area begins and ends, and how long a part may be."""
        left, top, right, bottom = area.bounds
        return [(left, right, self.size[0]), (top, bottom, self.size[1])]

    def reach(self, count: int, most: float) -> float:
        """Return how far so many parts reach that overlap."""
        return count * most - (count - 1) * self.overlap

    def _count(self, length: float, most: float) -> int:
        if length <= most + 1e-6:
            return 1
        if most <= 3 * self.overlap:
            return _MOST_IN_A_ROW + 1
        return math.ceil((length - self.overlap) / (most - self.overlap))


def _parts(area: MultiPolygon, room: _Room) -> Breathing[list[MultiPolygon]]:
    """Return the parts of an area, those on top first."""
    counts = room.counts(area)
    if max(counts) == 1:
        return [area]
    axis = int(np.argmax(counts))
    seen = _swapped(area) if axis else area
    sides = _sides(seen, _seam(seen, room.spans(area)[axis], counts[axis], room), room.joint)
    yield
    parts: list[MultiPolygon] = []
    for side in sides:
        if not side.is_empty:
            parts += yield from _parts(_swapped(side) if axis else side, room)
    return parts


def _seam(area: MultiPolygon, span: tuple[float, float, float], fewest: int, room: _Room) -> LineString:
    """Return a seam after about half of the parts that an area takes across."""
    lower, upper, most = span
    avoided = [hole for hole in holes_of(area) if hole.bounds[2] - hole.bounds[0] < most - room.overlap]
    # Where openings leave no way they are crossed: backed they hold as well.
    ways = [(count, avoided) for count in range(fewest, fewest + _MORE)]
    for count, openings in (*ways, (fewest, [])):
        first = count // 2
        low = upper - room.reach(count - first, most) + room.overlap / 2
        high = lower + room.reach(first, most) - room.overlap / 2
        seam = seam_through(area, openings, max(low, lower + room.overlap), min(high, upper - room.overlap))
        if seam is not None:
            return seam
    middle = (low + high) / 2
    return LineString([(middle, area.bounds[1] - _LAP_MM), (middle, area.bounds[3] + _LAP_MM)])


def _swapped(area: MultiPolygon) -> MultiPolygon:
    """Return an area with x and y swapped."""
    swapped: MultiPolygon = shapely.transform(area, lambda points: points[:, ::-1])
    return swapped


def _sides(area: MultiPolygon, seam: LineString, joint: Joint) -> tuple[MultiPolygon, MultiPolygon]:
    """Return what lies left of a seam, which goes on top, and what lies right of it.

    The left one has all bars along the seam, and ends beyond them, squarely across what leads away. The other
    has a tab under it, or begins where it ends; what would only hang beside that goes to the left one too.
    """
    nodes = shapely.get_coordinates(seam)
    out = area.bounds[0] - _LAP_MM
    cell = shapely.make_valid(Polygon([(out, nodes[0, 1]), *nodes, (out, nodes[-1, 1])]))
    band = one_grown(seam, _LAP_MM / 2, cap_style="flat")
    own, others = intersection(area, cell), difference(area, cell)
    near = union(cell, band)
    on_top, loose = _held_by(intersection(area, near), own)
    if joint is Joint.TAB:
        within = one_grown(intersection(area, one_grown(band, 1.0)), -SPARE_MM)
        tab = intersection(intersection(own, band), within)
        return on_top, _held_by(union(others, tab), others)[0]
    beside = one_grown(seam, _SPARE_MM / 2, cap_style="flat")
    rest = list(as_area(union_all([difference(area, near), loose])).geoms)
    hanging = [part for part in rest if beside.covers(part)]
    kept = [part for part in rest if not beside.covers(part)]
    return as_area(union_all([on_top, *hanging])), MultiPolygon(kept)


def _held_by(area: BaseGeometry, own: BaseGeometry) -> tuple[MultiPolygon, MultiPolygon]:
    """Return the pieces of an area that lie on its own side for more than a touch, and the others."""
    pieces = geometries(list(as_area(area).geoms))
    shared = shapely.area(intersection(pieces, own))
    held = shared > np.minimum(_LEAST_MM2, shapely.area(pieces) / 2)
    return MultiPolygon(list(pieces[held])), MultiPolygon(list(pieces[~held]))


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
