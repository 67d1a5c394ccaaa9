"""The card as triangles between the edges of its openings: who is nearest to whom across the card."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.geometry.delaunay import as_complex, delaunay, delaunay_with, looked_up
from peekpaper.geometry.grid import to_grid
from peekpaper.geometry.pairs import side_names
from peekpaper.geometry.vectors import norms, triangle_areas

OUTSIDE = 0
"""The ring number of the card's outside; openings count from 1."""

_ROUNDS = 20
"""Halving ends sooner but at the sharpest of corners; rounds after the first cost little."""

_BREEDING = 4
"""So many rounds in a row that leave ever more edges missing never end: a corner is too sharp, or edges all
but lie on one another (of 25 cards looked at none that ended had even one such round)."""


_ROUNDING = 1e-7
"""Triangles whose area is another than the card's by no more than this share cover it."""


@dataclass(frozen=True, slots=True, eq=False)
class CardTriangulation:
    """A constrained Delaunay triangulation of the card between its densified edges.

    `points` (n, 2) are the densified edges' nodes in mm. `ring` (n) tells whose edge a point is on:
    OUTSIDE, or k for the k-th of the openings given; a point where edges touch counts for one of them.
    `loop` (n) tells which of the card's rings that is, counted part by part, each part's exterior first, and
    `along` (n) how far along all these rings, one after the other, a point lies, in mm. `triangles` (m, 3)
    index `points`; together they cover the card without overlap, and every densified edge is a side of one.
    """

    points: NDArray[np.float64]
    ring: NDArray[np.int64]
    loop: NDArray[np.int64]
    along: NDArray[np.float64]
    triangles: NDArray[np.int64]

    @property
    def corners(self) -> NDArray[np.float64]:
        """The triangles' corner points (m, 3, 2) in mm."""
        return self.points[self.triangles]

    @property
    def corner_rings(self) -> NDArray[np.int64]:
        """The rings that the triangles' corners lie on (m, 3)."""
        return self.ring[self.triangles]


def triangulate_card(card: MultiPolygon, openings: Sequence[Polygon], step_mm: float) -> CardTriangulation:
    """Densify the card's edges to at most `step_mm` and triangulate the card between them.

    `openings` are the card's interior rings as areas; they need not come in the card's order. Raises
    ValueError where an interior ring of the card is not among them.

    An unconstrained Delaunay triangulation of the nodes is taken and edges that it misses are halved until
    it has them all (conforming Delaunay refinement: Shewchuk, Lecture Notes on Delaunay Mesh
    Generation, 2012, chapter 6). Where sharp corners keep that from ending, the constrained triangulation
    of GEOS, exact but several times slower, takes over. Edges that all but coincide can lead both astray;
    then the nodes are put on a grid, and what still can't be told apart there is left out.
    """
    if card.is_empty:
        return CardTriangulation(
            np.empty((0, 2)),
            np.empty(0, np.int64),
            np.empty(0, np.int64),
            np.empty(0),
            np.empty((0, 3), np.int64),
        )
    rings, numbers = _numbered_rings(card, openings)
    refined, has_edges = _refined(card, _densified(rings, numbers, step_mm))
    if has_edges and _uncovered(card, refined) <= _ROUNDING:
        return refined
    exact = _exact(rings, numbers, card, step_mm)
    if exact is not None and _uncovered(card, exact) <= _ROUNDING:
        return exact
    snapped, _ = _refined(
        card, _densified([shapely.transform(ring, to_grid) for ring in rings], numbers, step_mm)
    )
    if exact is not None and _uncovered(card, exact) <= _uncovered(card, snapped):
        return exact
    return snapped


def _refined(card: MultiPolygon, edges: "_Edges") -> tuple[CardTriangulation, bool]:
    """Return the triangles within a card, and whether all edges could be made sides of them."""
    first, ends = edges.indexed()
    points = edges.starts[first]
    triangles = delaunay(points)
    counts: list[int] = []
    # Where GEOS finds no triangle at all there is nothing to go on from.
    for _ in range(_ROUNDS if len(triangles) else 0):
        missing = _missing(ends, triangles, len(points))
        counts.append(int(np.count_nonzero(missing)))
        if not missing.any():
            return edges.triangulation(first, _inside(card, points, triangles)), True
        if _breeds(counts):
            break
        halved = edges.halved(missing)
        first_halved, ends = halved.indexed()
        before, after = points, halved.starts[first_halved]
        is_new = np.isin(as_complex(after), as_complex(before), invert=True)
        # An edge may be too short to have a middle.
        if not is_new.any():
            break
        edges, first, points = halved, first_halved, after
        triangles = delaunay_with(points, np.flatnonzero(~is_new)[triangles], is_new)
    return edges.triangulation(first, _inside(card, points, triangles)), False


def _breeds(counts: Sequence[int]) -> bool:
    """Tell whether the last of rounds left ever more edges missing."""
    last = counts[-_BREEDING - 1 :]
    return len(last) > _BREEDING and all(one < other for one, other in pairwise(last))


@dataclass(frozen=True, slots=True, eq=False)
class _Edges:
    """The sides of closed rings: `starts` and `ends` (k, 2), `ring`, `loop` and `along` (k) of the starts."""

    starts: NDArray[np.float64]
    ends: NDArray[np.float64]
    ring: NDArray[np.int64]
    loop: NDArray[np.int64]
    along: NDArray[np.float64]

    def triangulation(self, first: NDArray[np.int64], triangles: NDArray[np.int64]) -> CardTriangulation:
        """Return the triangulation of which these are the edges; those in `first` start at its points."""
        return CardTriangulation(
            self.starts[first], self.ring[first], self.loop[first], self.along[first], triangles
        )

    def indexed(self) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
        """Return an edge that starts at each distinct point, in sorted order, and edges as point pairs."""
        points = as_complex(self.starts)
        unique, first = np.unique(points, return_index=True)
        pairs = [np.searchsorted(unique, points), np.searchsorted(unique, as_complex(self.ends))]
        return first, np.stack(pairs, axis=1).astype(np.int64)

    def halved(self, which: NDArray[np.bool_]) -> "_Edges":
        """Return the edges with those in `which` cut at their middles."""
        middles = (self.starts[which] + self.ends[which]) / 2
        ends = self.ends.copy()
        ends[which] = middles
        halves = norms(middles - self.starts[which])
        return _Edges(
            np.concatenate([self.starts, middles]),
            np.concatenate([ends, self.ends[which]]),
            np.concatenate([self.ring, self.ring[which]]),
            np.concatenate([self.loop, self.loop[which]]),
            np.concatenate([self.along, self.along[which] + halves]),
        )


def _numbered_rings(
    card: MultiPolygon, openings: Sequence[Polygon]
) -> tuple[list[shapely.LinearRing], list[int]]:
    by_nodes = {_nodes_key(opening.exterior): number for number, opening in enumerate(openings, start=1)}
    rings: list[shapely.LinearRing] = []
    numbers: list[int] = []
    for part in card.geoms:
        rings.append(part.exterior)
        numbers.append(OUTSIDE)
        for interior in part.interiors:
            key = _nodes_key(interior)
            if key not in by_nodes:
                raise ValueError("the card has an interior ring that is not among the openings")
            rings.append(interior)
            numbers.append(by_nodes[key])
    return rings, numbers


def _nodes_key(ring: shapely.LinearRing) -> bytes:
    """Return a key of the ring's nodes that does not depend on its start and direction."""
    return np.unique(as_complex(shapely.get_coordinates(ring))).tobytes()


def _densified(rings: Sequence[shapely.LinearRing], numbers: Sequence[int], step_mm: float) -> _Edges:
    dense = shapely.segmentize(np.array(rings, dtype=object), step_mm)
    nodes, index = shapely.get_coordinates(dense, return_index=True)
    lengths = norms(np.diff(nodes, axis=0)) * (index[1:] == index[:-1])
    kept = np.flatnonzero(lengths > 0)
    along = np.cumsum(lengths) - lengths
    loop = index[:-1][kept].astype(np.int64)
    return _Edges(nodes[:-1][kept], nodes[1:][kept], np.asarray(numbers, np.int64)[loop], loop, along[kept])


def _missing(edges: NDArray[np.int64], triangles: NDArray[np.int64], count: int) -> NDArray[np.bool_]:
    sides = triangles[:, [0, 1, 1, 2, 2, 0]].reshape(-1, 2)
    wanted, names = side_names(edges, count), np.sort(side_names(sides, count))
    missing: NDArray[np.bool_] = names[np.minimum(np.searchsorted(names, wanted), len(names) - 1)] != wanted
    return missing


def _inside(
    card: MultiPolygon, points: NDArray[np.float64], triangles: NDArray[np.int64]
) -> NDArray[np.int64]:
    corners = points[triangles]
    middles = corners.mean(axis=1)
    shapely.prepare(card)
    inside: NDArray[np.bool_] = shapely.contains_xy(card, middles[:, 0], middles[:, 1])
    return triangles[inside & (triangle_areas(corners) > 0)]


def _uncovered(card: MultiPolygon, triangulation: CardTriangulation) -> float:
    """Return by what share of the card's area that of the triangles is another."""
    return float(abs(triangle_areas(triangulation.corners).sum() - card.area) / card.area)


def _exact(
    rings: Sequence[shapely.LinearRing], numbers: Sequence[int], card: MultiPolygon, step_mm: float
) -> CardTriangulation | None:
    """Return the constrained triangulation, None where GEOS stops."""
    edges = _densified(rings, numbers, step_mm)
    first, _ = edges.indexed()
    points = edges.starts[first]
    parts = shapely.segmentize(np.array(card.geoms), step_mm)
    try:
        collections = shapely.constrained_delaunay_triangles(parts)
    except shapely.GEOSException:
        return None
    corners = shapely.get_coordinates(collections).reshape(-1, 4, 2)[:, :3]
    triangles = looked_up(points, corners)
    return edges.triangulation(first, triangles[triangle_areas(points[triangles]) > 0])
