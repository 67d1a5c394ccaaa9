"""The same geometry asked of two builds of shapely: inputs made once, answers given wherever this file runs.

It uses shapely and numpy alone, so that it runs under CPython and in the browser's Python alike.
"""

import json
import math
import random
from collections.abc import Callable, Iterator

import numpy as np
import shapely
from shapely import Geometry, MultiPolygon, Point, Polygon, STRtree

CASES_PER_KIND = 45


def star(dice: random.Random, x: float, y: float, size: float) -> Polygon:
    """A polygon around a point, its corners at uneven distances: mostly valid, never convex."""
    corners = dice.randint(5, 60)
    turns = sorted(dice.uniform(0, 2 * math.pi) for _ in range(corners))
    spans = [size * dice.uniform(0.35, 1) for _ in range(corners)]
    return Polygon([(x + r * math.cos(a), y + r * math.sin(a)) for a, r in zip(turns, spans, strict=True)])


def crossed(dice: random.Random) -> Polygon:
    """A ring through random points: it crosses itself many times."""
    return Polygon([(dice.uniform(0, 50), dice.uniform(0, 50)) for _ in range(dice.randint(5, 14))])


def stars(dice: random.Random, count: int) -> list[Geometry]:
    return [star(dice, dice.uniform(0, 60), dice.uniform(0, 60), dice.uniform(2, 15)) for _ in range(count)]


def card(dice: random.Random) -> Geometry:
    """A sheet with openings, as the tool meets it."""
    openings = [star(dice, 12 * i + 8, 12 * j + 8, 5) for i in range(5) for j in range(4)]
    return shapely.difference(shapely.box(0, 0, 66, 52), shapely.union_all(shapely.make_valid(openings)))


INPUTS: dict[str, Callable[[random.Random], list[Geometry]]] = {
    "buffer": lambda dice: stars(dice, 1),
    "inset": lambda dice: stars(dice, 1),
    "union": lambda dice: stars(dice, dice.randint(2, 40)),
    "difference": lambda dice: stars(dice, 2),
    "triangles": lambda dice: [card(dice)],
    "make_valid": lambda dice: [crossed(dice)],
    "tree": lambda dice: stars(dice, 50),
    "voronoi": lambda dice: stars(dice, 1),
}


def made_inputs(seed: int) -> str:
    """Return the cases as JSON: kind and the geometries in hexadecimal WKB."""
    dice = random.Random(seed)
    cases = [
        [kind, [shapely.to_wkb(geometry, hex=True) for geometry in make(dice)]]
        for kind, make in INPUTS.items()
        for _ in range(CASES_PER_KIND)
    ]
    return json.dumps(cases)


def answers(inputs: str) -> Iterator[dict[str, object]]:
    """Answer the cases: each with its kind, geometries (WKB) and numbers that must agree exactly."""
    for kind, texts in json.loads(inputs):
        geometries = [shapely.from_wkb(text) for text in texts]
        found, numbers = ANSWERS[kind](geometries)
        yield {"kind": kind, "wkb": [shapely.to_wkb(one, hex=True) for one in found], "numbers": numbers}


Answer = tuple[list[Geometry], list[int]]


def _buffer(geometries: list[Geometry]) -> Answer:
    (one,) = geometries
    styles = [("round", 3.0), ("mitre", 2.0), ("bevel", 1.0)]
    return [shapely.buffer(one, reach, join_style=style, quad_segs=16) for style, reach in styles], []


def _inset(geometries: list[Geometry]) -> Answer:
    return [shapely.buffer(geometries[0], -0.7, quad_segs=16)], []


def _union(geometries: list[Geometry]) -> Answer:
    return [shapely.union_all(shapely.make_valid(geometries))], []


def _difference(geometries: list[Geometry]) -> Answer:
    one, other = shapely.make_valid(geometries)
    return [shapely.difference(one, other), shapely.intersection(one, other)], []


def _triangles(geometries: list[Geometry]) -> Answer:
    made = shapely.constrained_delaunay_triangles(geometries[0])
    return [MultiPolygon(list(made.geoms))], [shapely.get_num_geometries(made).item()]


def _make_valid(geometries: list[Geometry]) -> Answer:
    whole = shapely.make_valid(geometries[0], method="structure", keep_collapsed=False)
    return [shapely.make_valid(geometries[0]), whole], [int(shapely.is_valid(geometries[0]))]


def _tree(geometries: list[Geometry]) -> Answer:
    tree = STRtree(geometries)
    pairs = tree.query(geometries, predicate="intersects")
    spots = [Point(x, y) for x in range(0, 60, 10) for y in range(0, 60, 10)]
    near = tree.query_nearest(spots)
    ordered = pairs[:, np.lexsort(pairs)]
    return [], [*ordered.ravel().tolist(), *near[:, np.lexsort(near)].ravel().tolist()]


def _voronoi(geometries: list[Geometry]) -> Answer:
    cells = shapely.voronoi_polygons(geometries[0])
    return [shapely.union_all(cells)], [shapely.get_num_geometries(cells).item()]


ANSWERS: dict[str, Callable[[list[Geometry]], Answer]] = {
    "buffer": _buffer,
    "inset": _inset,
    "union": _union,
    "difference": _difference,
    "triangles": _triangles,
    "make_valid": _make_valid,
    "tree": _tree,
    "voronoi": _voronoi,
}
