"""Colouring graphs whose chromatic number is known.

The figures are those of any textbook of graph theory (for instance Diestel, "Graph Theory", chapter 5); the
queens' graphs are those of the second DIMACS challenge (1993), chromatic numbers 5 and 7.
"""

from collections.abc import Iterable
from itertools import combinations, product
from random import Random

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from peekpaper.papers.colouring import ColouringTask, clashes, colour_graph

Edges = list[tuple[int, int]]


def cycle(count: int) -> Edges:
    return [(node, (node + 1) % count) for node in range(count)]


def wheel(rim: int) -> Edges:
    return cycle(rim) + [(node, rim) for node in range(rim)]


def grid(width: int, height: int) -> Edges:
    across = [(y * width + x, y * width + x + 1) for y in range(height) for x in range(width - 1)]
    return across + [(node, node + width) for node in range(width * (height - 1))]


def complete(count: int) -> Edges:
    return list(combinations(range(count), 2))


def petersen() -> Edges:
    return cycle(5) + [(node, node + 5) for node in range(5)] + [(5 + n, 5 + (n + 2) % 5) for n in range(5)]


def mycielski(edges: Edges, nodes: int) -> Edges:
    """Mycielski's step: one more colour, still no triangle ("Sur le coloriage des graphes", 1955)."""
    twins = [edge for a, b in edges for edge in ((a, b + nodes), (b, a + nodes))]
    return edges + twins + [(node + nodes, 2 * nodes) for node in range(nodes)]


def queens(size: int) -> Edges:
    squares = list(product(range(size), repeat=2))
    return [
        (i, j)
        for (i, (a, b)), (j, (c, d)) in combinations(enumerate(squares), 2)
        if a == c or b == d or abs(a - c) == abs(b - d)
    ]


def triangulation(count: int, seed: int) -> Edges:
    points = np.random.default_rng(seed).random((count, 2))
    places = {tuple(point): place for place, point in enumerate(points)}
    edges = shapely.delaunay_triangles(shapely.MultiPoint(points), only_edges=True)
    return [tuple(places[point] for point in edge.coords) for edge in edges.geoms]  # type: ignore[misc]


KNOWN = {
    "an even cycle": (cycle(12), 2),
    "an odd cycle": (cycle(11), 3),
    "a wheel with an even rim": (wheel(8), 3),
    "a wheel with an odd rim": (wheel(9), 4),
    "a grid": (grid(9, 7), 2),
    "the complete graph of 4": (complete(4), 4),
    "the complete graph of 9": (complete(9), 9),
    "Petersen's graph": (petersen(), 3),
    "Grötzsch's graph": (mycielski(cycle(5), 5), 4),
    "Mycielski's next": (mycielski(mycielski(cycle(5), 5), 11), 5),
    "queens on 5 by 5": (queens(5), 5),
    "queens on 7 by 7": (queens(7), 7),
}


def task(edges: Iterable[tuple[int, int]], colours: int) -> ColouringTask:
    edges = list(edges)
    around: list[list[int]] = [[] for _ in range(max(map(max, edges)) + 1)]
    for first, second in edges:
        around[first].append(second)
        around[second].append(first)
    return ColouringTask(around, np.eye(colours), np.zeros((len(around), colours)), [1.0] * len(around))


def clashing(edges: Edges, colours: int, seed: int = 1) -> int:
    whole = task(edges, colours)
    return int((clashes(whole, colour_graph(whole, Random(seed))) > 0).sum())


@pytest.mark.parametrize("name", KNOWN)
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_with_as_many_colours_as_it_takes_no_neighbours_share_one(name: str, seed: int) -> None:
    edges, chromatic = KNOWN[name]
    assert clashing(edges, chromatic, seed) == 0


@pytest.mark.parametrize("name", KNOWN)
def test_with_one_colour_less_some_must_share_and_it_ends_all_the_same(name: str) -> None:
    edges, chromatic = KNOWN[name]
    assert clashing(edges, chromatic - 1) > 0


@pytest.mark.parametrize("count", [50, 400, 2000])
@pytest.mark.parametrize("seed", [1, 2, 3])
def test_four_colours_do_for_a_map(count: int, seed: int) -> None:
    # Appel and Haken, "Every planar map is four colorable", 1977.
    assert clashing(triangulation(count, seed), 4) == 0


def test_the_complete_graph_of_4_shares_least_with_three_colours() -> None:
    assert clashing(complete(4), 3) == 2


def test_the_same_seed_gives_the_same_colours() -> None:
    whole = task(queens(7), 7)
    assert colour_graph(whole, Random(5)).tolist() == colour_graph(whole, Random(5)).tolist()


@given(st.integers(2, 30).flatmap(lambda n: st.tuples(st.just(n), st.integers(1, 5), st.integers(0, 99))))
def test_a_colour_that_a_node_must_not_have_is_never_given(case: tuple[int, int, int]) -> None:
    nodes, colours, seed = case
    chance = np.random.default_rng(seed)
    edges = [(a, b) for a, b in combinations(range(nodes), 2) if chance.random() < 0.3] or [(0, 1)]
    plain = task(edges, colours)
    barred = chance.random((len(plain.neighbours), colours)) < 0.4
    barred[:, chance.integers(colours)] = False
    strict = ColouringTask(plain.neighbours, plain.clash, np.where(barred, np.inf, 0.0), plain.weights)
    given_colours = colour_graph(strict, Random(seed))
    assert not barred[np.arange(len(given_colours)), given_colours].any()


def test_colours_are_spread_evenly_where_nothing_else_decides() -> None:
    lonely = ColouringTask([[]] * 40, np.eye(4), np.zeros((40, 4)), [1.0] * 40)
    assert np.bincount(colour_graph(lonely, Random(1))).tolist() == [10, 10, 10, 10]
