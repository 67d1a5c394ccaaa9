"""Cut lines: closed contours, nested, whose outermost is the card's outline and whose next are openings."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.design.areas import as_area
from peekpaper.design.clean_lines import ROUNDING, clean_nodes, diagonal
from peekpaper.design.mended import Fault, Mended
from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.readings.chains import chained
from peekpaper.drawing.drawing import Contour
from peekpaper.steady import hypot

_GAP = 0.002
"""The widest gap that is closed, and the widest distance of a line drawn twice, as a share of the
drawing's diagonal (from memory)."""


def read_cut_lines(drawn: Sequence[Contour], colours: tuple[str, ...]) -> CardInk:
    """Return the area between contours of even and odd depth as the card.

    Gaps of up to 0.2 % of the drawing's diagonal are closed, lines drawn twice count once; both are reported,
    as are lines that stay open and those that cross themselves, where every other part counts.
    """
    contours = [contour for contour in drawn if contour.line.length > 0]
    if not contours:
        return CardInk(MultiPolygon())
    size = diagonal(np.array([contour.line for contour in contours], dtype=object))
    gap = _GAP * size
    mended: list[Mended] = []
    polygons = [
        polygon
        for nodes in _closed(contours, gap, ROUNDING * size, mended)
        for polygon in _areas(nodes, mended)
    ]
    kept = _without_doubles(polygons, gap, mended)
    return CardInk(_nested(kept), colours, mended=tuple(mended))


def _closed(
    contours: Sequence[Contour], gap: float, rounding: float, mended: list[Mended]
) -> Iterator[NDArray[np.float64]]:
    """Yield the nodes of closed contours, and of open ones joined end to end across small gaps."""
    open_lines: list[NDArray[np.float64]] = []
    for contour in contours:
        nodes = clean_nodes(contour.line, contour.closed, rounding)
        if contour.closed or hypot(*(nodes[0] - nodes[-1])) <= rounding:
            yield nodes
        else:
            open_lines.append(nodes)
    for nodes in chained(open_lines, gap):
        space = float(hypot(*(nodes[0] - nodes[-1])))
        if space > gap or len(nodes) < 3:
            mended.append(Mended(Fault.OPEN, LineString(nodes)))
            continue
        if space > 0.05 * gap:
            mended.append(Mended(Fault.GAP, Point(nodes[0])))
        yield nodes


def _areas(nodes: NDArray[np.float64], mended: list[Mended]) -> list[Polygon]:
    """Return the areas that a closed line goes around, every other one where it crosses itself."""
    if len(nodes) < 3:
        return []
    area = Polygon(nodes)
    if area.is_valid:
        return [area] if area.area > 0 else []
    repaired = as_area(shapely.make_valid(area, method="linework"))
    if not repaired.is_empty:
        mended.append(Mended(Fault.CROSSING, LineString(nodes)))
    return list(repaired.geoms)


def _without_doubles(polygons: Sequence[Polygon], gap: float, mended: list[Mended]) -> list[Polygon]:
    """Return the areas without those whose outline runs along that of an earlier one."""
    doubled = doubles(polygons, gap)
    mended.extend(Mended(Fault.DOUBLED, polygons[index].boundary) for index in sorted(doubled))
    return [polygon for index, polygon in enumerate(polygons) if index not in doubled]


def doubles(polygons: Sequence[Polygon], distance: float) -> set[int]:
    """Return the indices of polygons whose outline lies within `distance` of that of an earlier one."""
    areas = np.array(polygons, dtype=object)
    if len(areas) == 0:
        return set()
    centres = shapely.centroid(areas)
    later, earlier = shapely.STRtree(centres).query(centres, predicate="dwithin", distance=distance)
    sizes, lengths = shapely.area(areas), shapely.length(areas)
    near = (earlier < later) & (np.abs(sizes[later] - sizes[earlier]) <= distance * lengths[later])
    later, earlier = later[near], earlier[near]
    outlines = shapely.get_exterior_ring(areas)
    same = shapely.hausdorff_distance(outlines[later], outlines[earlier]) <= distance
    return set(later[same].tolist())


def _nested(polygons: Sequence[Polygon]) -> MultiPolygon:
    """Return the area at odd depth, the outermost polygons being at depth one.

    A polygon lies in a larger one that covers at least half of it, so that contours which touch or cross a
    little nest as they are meant.
    """
    if not polygons:
        return MultiPolygon()
    areas = np.array(polygons, dtype=object)
    sizes = shapely.area(areas)
    inner, outer = shapely.STRtree(areas).query(areas, predicate="intersects")
    larger = (sizes[outer] > sizes[inner]) | ((sizes[outer] == sizes[inner]) & (outer < inner))
    inner, outer = inner[larger], outer[larger]
    shared = shapely.area(shapely.intersection(areas[inner], areas[outer]))
    depth = np.bincount(inner[shared >= 0.5 * sizes[inner]], minlength=len(areas))
    card: BaseGeometry = MultiPolygon()
    for level in range(int(depth.max()) + 1):
        layer = shapely.union_all(areas[depth == level])
        card = shapely.union(card, layer) if level % 2 == 0 else shapely.difference(card, layer)
    return as_area(card)
