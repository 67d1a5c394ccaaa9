"""Cut lines: closed contours, nested, whose outermost is the card's outline and whose next are openings."""

from collections.abc import Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Point, Polygon

from peekpaper.design.content import Content, as_area
from peekpaper.design.readings.card_ink import CardInk, Mended
from peekpaper.drawing.drawing import Contour

_GAP = 0.002
"""The widest gap that is closed, and the widest distance of a doubled line, as a share of the drawing's
diagonal (from memory)."""


def read_cut_lines(content: Content) -> CardInk:
    """Return the area between contours of even and odd depth as the card.

    Gaps of up to 0.2 % of the drawing's diagonal are closed, lines drawn twice count once.
    """
    lines = [contour for contour in content.contours if contour.line.length > 0]
    if not lines:
        return CardInk(MultiPolygon())
    left, top, right, bottom = shapely.total_bounds(np.array([contour.line for contour in lines]))
    gap = _GAP * float(np.hypot(right - left, bottom - top))
    mended: list[Mended] = []
    areas: list[Polygon | MultiPolygon] = []
    for line in _closed_lines(lines, gap, mended):
        areas.extend(_area_of(line, mended))
    kept = _without_doubles(areas, gap, mended)
    return CardInk(_nested(kept), mended=tuple(mended))


def _closed_lines(contours: Sequence[Contour], gap: float, mended: list[Mended]) -> list[LineString]:
    """Return closed lines: the closed contours, and open ones joined end to end across small gaps."""
    closed: list[LineString] = []
    loose: list[NDArray[np.float64]] = []
    for contour in contours:
        nodes = shapely.get_coordinates(contour.line)
        if contour.closed or (nodes[0] == nodes[-1]).all():
            closed.append(contour.line)
        else:
            loose.append(nodes)
    for chain in _chained(loose, gap):
        line = LineString(chain)
        space = float(np.hypot(*(chain[0] - chain[-1])))
        if space > gap or len(chain) < 3:
            mended.append(Mended("open", line))
            continue
        if space > 0.05 * gap:
            mended.append(Mended("gap", Point(chain[0])))
        closed.append(line)
    return closed


def _chained(lines: list[NDArray[np.float64]], gap: float) -> list[NDArray[np.float64]]:
    """Return the lines joined where an end lies within `gap` of another's, nearest first."""
    if not lines:
        return []
    ends = np.array([point for line in lines for point in (line[0], line[-1])])
    tree = shapely.STRtree(shapely.points(ends))
    one, other = tree.query(shapely.points(ends), predicate="dwithin", distance=gap)
    pairs = np.stack([one, other], axis=1)[one < other]
    distances = np.hypot(*(ends[pairs[:, 0]] - ends[pairs[:, 1]]).T)
    partner = np.full(len(ends), -1)
    for a, b in pairs[np.argsort(distances, kind="stable")]:
        if partner[a] < 0 and partner[b] < 0:
            partner[a], partner[b] = b, a
    return [_walked(lines, partner, start) for start in _starts(partner)]


def _starts(partner: NDArray[np.int64]) -> list[int]:
    """Return one end per chain: a free end where it has one, any end of a closed chain."""
    seen = np.zeros(len(partner) // 2, bool)
    starts: list[int] = []
    for end in [*np.flatnonzero(partner < 0), *range(len(partner))]:
        if seen[end // 2]:
            continue
        starts.append(int(end))
        here = int(end)
        while here >= 0 and not seen[here // 2]:
            seen[here // 2] = True
            here = int(partner[here ^ 1])
    return starts


def _walked(lines: list[NDArray[np.float64]], partner: NDArray[np.int64], start: int) -> NDArray[np.float64]:
    pieces: list[NDArray[np.float64]] = []
    seen: set[int] = set()
    here = start
    while here >= 0 and here // 2 not in seen:
        seen.add(here // 2)
        line = lines[here // 2]
        pieces.append(line if here % 2 == 0 else line[::-1])
        here = int(partner[here ^ 1])
    return np.concatenate(pieces)


def _area_of(line: LineString, mended: list[Mended]) -> list[Polygon]:
    """Return the area that a closed line goes around, even-odd where it crosses itself."""
    nodes = shapely.get_coordinates(line)
    if len(nodes) < 3:
        return []
    area = Polygon(nodes)
    if area.is_valid:
        return [area] if area.area > 0 else []
    repaired = as_area(shapely.make_valid(area, method="linework"))
    if not repaired.is_empty:
        mended.append(Mended("crossing", line))
    return list(repaired.geoms)


def _without_doubles(
    areas: Sequence[Polygon | MultiPolygon], gap: float, mended: list[Mended]
) -> list[Polygon]:
    """Return the areas without those whose outline runs along that of an earlier one."""
    polygons = np.array([part for area in areas for part in shapely.get_parts(area)], dtype=object)
    if len(polygons) == 0:
        return []
    tree = shapely.STRtree(shapely.centroid(polygons))
    later, earlier = tree.query(shapely.centroid(polygons), predicate="dwithin", distance=gap)
    near = (earlier < later) & (
        np.abs(shapely.area(polygons[later]) - shapely.area(polygons[earlier]))
        <= (gap * shapely.length(polygons[later]))
    )
    later, earlier = later[near], earlier[near]
    outlines = shapely.boundary(polygons)
    same = shapely.hausdorff_distance(outlines[later], outlines[earlier]) <= gap
    doubled = np.unique(later[same])
    mended.extend(Mended("doubled", outlines[index]) for index in doubled)
    return [polygon for index, polygon in enumerate(polygons) if index not in set(doubled.tolist())]


def _nested(polygons: Sequence[Polygon]) -> MultiPolygon:
    """Return the area at odd depth, the outermost polygons being at depth one.

    A polygon lies in a larger one that covers at least half of it, so that touching and slightly crossing
    contours nest as they are meant.
    """
    if not polygons:
        return MultiPolygon()
    areas = np.array(polygons, dtype=object)
    sizes = shapely.area(areas)
    tree = shapely.STRtree(areas)
    inner, outer = tree.query(areas, predicate="intersects")
    larger = (sizes[outer] > sizes[inner]) | ((sizes[outer] == sizes[inner]) & (outer < inner))
    inner, outer = inner[larger], outer[larger]
    shared = shapely.area(shapely.intersection(areas[inner], areas[outer]))
    held = shared >= 0.5 * sizes[inner]
    depth = np.bincount(inner[held], minlength=len(areas))
    card: shapely.Geometry = MultiPolygon()
    for level in range(int(depth.max()) + 1):
        layer = shapely.union_all(areas[depth == level])
        card = shapely.union(card, layer) if level % 2 == 0 else shapely.difference(card, layer)
    return as_area(card)
