"""Faces: lines that cross, or that end on one another, share out card and openings by turns."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString

from peekpaper.design.readings.borders import borders_of, without_borders
from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.readings.chains import chained
from peekpaper.design.readings.cut_lines import GAP, MOST_CROSSINGS, drawn_once
from peekpaper.design.sheet.clean_lines import ROUNDING, clean_nodes, diagonal
from peekpaper.design.sheet.mended import Fault, Mended
from peekpaper.drawing.drawing import Contour
from peekpaper.geometry.areas import as_area, geometries
from peekpaper.geometry.crossings import cross_more_often
from peekpaper.geometry.elementary import hypot
from peekpaper.geometry.overlay import noded, union_all


def read_faces(drawn: Sequence[Contour], colours: tuple[str, ...]) -> CardInk | None:
    """Return every other face between lines as the card, None where no lines meet or most lead nowhere.

    Where an odd number of lines meet, the faces around cannot all take turns: the longest borders are cut and
    those that then lie within card, or within an opening, are not. So veins stay in their leaf, and a band
    is whole where it goes over or under another. That is the cut of most length through the faces, found as a
    spanning tree is, greedily (Kruskal 1956), which is exact where the faces can take turns. Ends that miss a
    line by no more than 0.2 % of the drawing's diagonal are brought to it; what is mended or left out is
    reported.
    """
    contours = [contour for contour in drawn if contour.line.length > 0]
    if not contours:
        return None
    size = diagonal(np.array([contour.line for contour in contours], dtype=object))
    mended: list[Mended] = []
    lines = _joined(contours, size, mended)
    if not lines or cross_more_often(lines, MOST_CROSSINGS):
        return None
    pieces = noded(geometries([LineString(nodes) for nodes in lines]), ROUNDING * size)
    if not _meet(pieces):
        return None
    faces, cuts, dangles, _ = shapely.polygonize_full(pieces)
    parts = shapely.get_parts(faces)
    if not len(parts):
        return None
    edges = _edges(parts)
    is_card = _by_turns(edges, len(parts))
    left = [*edges.within(is_card), *shapely.get_parts(geometries([cuts, dangles]))]
    if 2 * shapely.length(geometries(left)).sum() > shapely.length(pieces).sum():
        return None
    mended.extend(Mended(Fault.NOT_CUT, line) for line in left)
    card = as_area(union_all(parts[is_card]))
    borders = borders_of(card)
    if 2 * np.count_nonzero(borders.is_held) >= len(borders.is_held):
        card = without_borders(card, borders, mended)
    return CardInk(card, colours, mended=tuple(mended))


@dataclass(frozen=True, slots=True, eq=False)
class _Edges:
    """The straight pieces (n, 4) between faces, and the faces on both sides of each.

    A piece is given by both its ends; the face around all others has the number after the last.
    """

    pieces: NDArray[np.float64]
    sides: NDArray[np.int64]

    def within(self, is_card: NDArray[np.bool_]) -> NDArray[np.object_]:
        """Return the lines that have card on both sides, or on neither."""
        one, other = np.append(is_card, False)[self.sides].T
        pieces = self.pieces[one == other].reshape(-1, 2, 2)
        return geometries(shapely.get_parts(shapely.line_merge(shapely.multilinestrings(pieces))))


def _joined(contours: Sequence[Contour], size: float, mended: list[Mended]) -> list[NDArray[np.float64]]:
    """Return closed lines as they are and open ones once, their ends brought to what they all but meet."""
    gap, rounding = GAP * size, ROUNDING * size
    lines = [(clean_nodes(one.line, one.closed, rounding), one.closed) for one in contours]
    closed = [nodes for nodes, is_closed in lines if is_closed]
    chains = chained(drawn_once([nodes for nodes, is_closed in lines if not is_closed], gap, mended), gap)
    return [*closed, *_brought_together(chains, closed, gap, rounding, mended)]


def _brought_together(
    chains: Sequence[NDArray[np.float64]],
    closed: Sequence[NDArray[np.float64]],
    gap: float,
    rounding: float,
    mended: list[Mended],
) -> list[NDArray[np.float64]]:
    """Return open lines with each end at its nearest place on another line within `gap`, if there is one.

    It goes a little further, so that rounding does not part them again.
    """
    if not chains:
        return []
    every = geometries([LineString(nodes) for nodes in (*chains, *closed)])
    ends = np.array([end for nodes in chains for end in (nodes[0], nodes[-1])])
    points = geometries(shapely.points(ends))
    end, line = shapely.STRtree(every).query(points, predicate="dwithin", distance=gap)
    end, line = end[line != end // 2], line[line != end // 2]
    distances = shapely.distance(points[end], every[line])
    order = np.lexsort((distances, end))
    end, line, distances = end[order], line[order], distances[order]
    nearest = np.diff(end, prepend=-1) > 0
    joined = list(chains)
    for index, other, space in zip(end[nearest], line[nearest], distances[nearest], strict=True):
        if space <= rounding:
            continue
        place = every[other].interpolate(every[other].project(points[index]))
        beyond = (np.array(place.coords[0]) - ends[index]) * (1 + rounding / space)
        node = ends[index] + beyond
        chain = joined[index // 2]
        joined[index // 2] = np.vstack([chain, node] if index % 2 else [node, chain])
        mended.append(Mended(Fault.GAP, place))
    return joined


def _meet(pieces: NDArray[np.object_]) -> bool:
    """Tell whether more than two ends of lines meet anywhere."""
    ends = np.concatenate([shapely.get_coordinates(shapely.get_point(pieces, end)) for end in (0, -1)])
    return bool(np.unique(ends, axis=0, return_counts=True)[1].max(initial=0) > 2)


def _edges(faces: NDArray[np.object_]) -> _Edges:
    rings, face = shapely.get_rings(faces, return_index=True)
    nodes, ring = shapely.get_coordinates(rings, return_index=True)
    is_piece = ring[1:] == ring[:-1]
    starts, ends, owner = nodes[:-1][is_piece], nodes[1:][is_piece], face[ring[1:][is_piece]]
    turned = (starts[:, 0] > ends[:, 0]) | ((starts[:, 0] == ends[:, 0]) & (starts[:, 1] > ends[:, 1]))
    pieces = np.where(turned[:, None], np.hstack([ends, starts]), np.hstack([starts, ends]))
    order = np.lexsort((owner, *pieces.T))
    pieces, owner = pieces[order], owner[order]
    again = np.append((pieces[1:] == pieces[:-1]).all(axis=1), False)
    first = ~np.insert(again, 0, False)[:-1]
    other = np.where(again, np.roll(owner, -1), len(faces))
    return _Edges(pieces[first], np.stack([owner, other], axis=1)[first])


def _by_turns(edges: _Edges, count: int) -> NDArray[np.bool_]:
    """Return which of `count` faces are card where the longest borders part card from what is none."""
    sides, border = np.unique(np.sort(edges.sides, axis=1), axis=0, return_inverse=True)
    lengths = np.bincount(border.ravel(), weights=hypot(*(edges.pieces[:, 2:] - edges.pieces[:, :2]).T))
    # Each face points to one that it is tied to, unless that is itself, and tells whether they take turns.
    tied = list(range(count + 1))
    takes_turns = [False] * (count + 1)
    sizes = [1] * (count + 1)

    def root(face: int) -> tuple[int, bool]:
        turns = False
        while tied[face] != face:
            turns ^= takes_turns[face]
            face = tied[face]
        return face, turns

    for one, other in sides[np.argsort(-lengths, kind="stable")].tolist():
        (small, one_turns), (large, other_turns) = root(one), root(other)
        if small == large:
            continue
        if sizes[small] > sizes[large]:
            small, large = large, small
        tied[small], takes_turns[small] = large, one_turns == other_turns
        sizes[large] += sizes[small]
    outside = root(count)[1]
    return np.array([root(face)[1] != outside for face in range(count)])
