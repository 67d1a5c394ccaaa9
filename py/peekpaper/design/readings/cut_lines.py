"""Cut lines: closed contours, nested, whose outermost is the card's outline and whose next are openings."""

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.design.readings.borders import borders_of, without_borders
from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.readings.chains import chained
from peekpaper.design.sheet.clean_lines import ROUNDING, clean_nodes, diagonal
from peekpaper.design.sheet.mended import Fault, Mended
from peekpaper.design.sheet.nesting import AT_ONCE
from peekpaper.drawing.drawing import Contour
from peekpaper.geometry.areas import as_area, geometries
from peekpaper.geometry.overlay import difference, intersection, union_all
from peekpaper.geometry.vectors import norms

GAP = 0.002
"""The widest gap that is closed, and the widest distance of a line drawn twice, as a share of the
drawing's diagonal (from memory)."""

_SAME = 0.05
"""An open line runs along another where it strays by no more than this share of its length (from memory)."""

MOST_CROSSINGS = 20_000
"""So many pairs of crossing contours are no cutting design; each takes some 0.1 ms to look at."""


def read_cut_lines(drawn: Sequence[Contour], colours: tuple[str, ...]) -> CardInk:
    """Return the area between contours of even and odd depth as the card.

    Gaps of up to 0.2 % of the drawing's diagonal are closed, lines drawn twice count once; both are reported,
    as are lines that stay open and those that cross themselves, where every other part counts.
    """
    contours = [contour for contour in drawn if contour.line.length > 0]
    if not contours:
        return CardInk(MultiPolygon())
    size = diagonal(np.array([contour.line for contour in contours], dtype=object))
    gap = GAP * size
    mended: list[Mended] = []
    polygons = [
        polygon
        for nodes in _closed(contours, gap, ROUNDING * size, mended)
        for polygon in _areas(nodes, mended)
    ]
    kept = _without_doubles(polygons, gap, mended)
    return CardInk(_nested(kept, mended), colours, mended=tuple(mended))


def _closed(
    contours: Sequence[Contour], gap: float, rounding: float, mended: list[Mended]
) -> Iterator[NDArray[np.float64]]:
    """Yield the nodes of closed contours, and of open ones joined end to end across small gaps."""
    open_lines: list[NDArray[np.float64]] = []
    for contour in contours:
        nodes = clean_nodes(contour.line, contour.closed, rounding)
        if contour.closed or norms(nodes[0] - nodes[-1]) <= rounding:
            yield nodes
        else:
            open_lines.append(nodes)
    for nodes in chained(drawn_once(open_lines, gap, mended), gap):
        space = float(norms(nodes[0] - nodes[-1]))
        if space > gap or len(nodes) < 3:
            mended.append(Mended(Fault.OPEN, LineString(nodes)))
            continue
        if space > 0.05 * gap:
            mended.append(Mended(Fault.GAP, Point(nodes[0])))
        yield nodes


def drawn_once(
    lines: Sequence[NDArray[np.float64]], gap: float, mended: list[Mended]
) -> list[NDArray[np.float64]]:
    """Return open lines without those that run along an earlier one."""
    if not lines:
        return []
    drawn = geometries([LineString(nodes) for nodes in lines])
    near = np.minimum(gap, _SAME * shapely.length(drawn))
    middles = shapely.line_interpolate_point(drawn, 0.5, normalized=True)
    later, earlier = shapely.STRtree(middles).query(middles, predicate="dwithin", distance=near)
    later, earlier = later[earlier < later], earlier[earlier < later]
    same = shapely.hausdorff_distance(drawn[later], drawn[earlier]) <= near[later]
    doubled = set(later[same].tolist())
    mended.extend(Mended(Fault.DOUBLED, drawn[index]) for index in sorted(doubled))
    return [nodes for index, nodes in enumerate(lines) if index not in doubled]


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


def _nested(polygons: Sequence[Polygon], mended: list[Mended]) -> MultiPolygon:
    """Return the area at odd depth, the outermost polygons being at depth one.

    A polygon lies in a larger one that covers at least half of it, so that contours which
    touch or cross a little nest as they are meant. Nothing is returned where they cross beyond measure: that
    is no cutting design.
    """
    areas = np.array(polygons, dtype=object)
    depth = _depths(areas) if polygons else None
    if depth is None:
        return MultiPolygon()
    layers = [union_all(areas[depth == level]) for level in range(int(depth.max()) + 1)]
    card = as_area(_layered(layers, 0)[1])
    borders = borders_of(card)
    is_sure = (borders.is_border & borders.is_plain | borders.is_held).all()
    return without_borders(card, borders, mended) if is_sure else card


def _depths(areas: NDArray[np.object_]) -> NDArray[np.int64] | None:
    """Return how many larger areas each lies in, None for areas that cross one another beyond measure."""
    sizes = shapely.area(areas)
    tree = shapely.STRtree(areas)
    shapely.prepare(areas)
    depth = np.zeros(len(areas), np.int64)
    crossings = 0
    for low in range(0, len(areas), AT_ONCE):
        chunk = areas[low : low + AT_ONCE]
        inner, outer = tree.query(chunk, predicate="intersects")
        inner = inner + low
        larger = (sizes[outer] > sizes[inner]) | ((sizes[outer] == sizes[inner]) & (outer < inner))
        inner, outer = inner[larger], outer[larger]
        within = shapely.covers(areas[outer], areas[inner])
        crossing_inner, crossing_outer = inner[~within], outer[~within]
        crossings += len(crossing_inner)
        if crossings > MOST_CROSSINGS:
            return None
        shared = shapely.area(intersection(areas[crossing_inner], areas[crossing_outer]))
        lies_in = crossing_inner[shared >= 0.5 * sizes[crossing_inner]]
        depth += np.bincount(np.concatenate([inner[within], lies_in]), minlength=len(areas))
    return depth


def _layered(layers: Sequence[BaseGeometry], first: int) -> tuple[BaseGeometry, BaseGeometry]:
    """Return what laying layers one on the other takes away from what is below, and what it adds.

    `layers` are in order, number `first` the lowest of them; those with even numbers are card, the others
    cut it away. Halves are put together, since one after the other takes a time that grows with the square.
    """
    if len(layers) == 1:
        return (MultiPolygon(), layers[0]) if first % 2 == 0 else (layers[0], MultiPolygon())
    half = len(layers) // 2
    taken, added = _layered(layers[:half], first)
    then_taken, then_added = _layered(layers[half:], first + half)
    return union_all([taken, then_taken]), union_all([difference(added, then_taken), then_added])
