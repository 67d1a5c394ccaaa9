"""Giving each node of a graph one of a few colours so that neighbours clash as little as can be.

First each node in turn, the most hemmed in one next (DSATUR: Brélaz, "New methods to color the vertices of a
graph", Communications of the ACM 22, 1979), then moves of clashing nodes with a memory against going in
circles (tabu search: Hertz and de Werra, "Using tabu search techniques for graph coloring", Computing 39,
1987).
"""

import heapq
import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import chain
from random import Random

import numpy as np
from numpy.typing import NDArray

_TENURE = 7
_TINY = 1e-9
_BARS = 1.0
"""What a colour must cost a node to count as hemming it in."""
_STEPS_PER_NODE = 10
_STEPS_AT_LEAST = 2000


@dataclass(frozen=True, slots=True)
class ColouringTask:
    """A graph to colour.

    `neighbours` lists each node's neighbours (both ways; a neighbour named twice counts twice). `clash` is
    the symmetric matrix of what two colours cost side by side, 0 for none. `dislike` is nodes by colours:
    what a colour costs a node by itself, infinite where it must not have it; small against clashes.
    `weights` tells how much of a colour each node takes, for an even spread.
    """

    neighbours: Sequence[Sequence[int]]
    clash: NDArray[np.float64]
    dislike: NDArray[np.float64]
    weights: Sequence[float]


def colour_graph(task: ColouringTask, chance: Random, most_steps: int = 12_000) -> NDArray[np.intp]:
    """Return a colour for each node, with no clash wherever the search finds it so.

    `most_steps` bounds the moves after each node has its first colour (0: none).
    The same task and the same state of `chance` give the same colours.
    """
    colours = _colour_in_turn(task, chance)
    return _settle_clashes(task, colours, chance, most_steps)


def clashes(task: ColouringTask, colours: NDArray[np.intp]) -> NDArray[np.float64]:
    """Return what each node's colour costs with those of its neighbours."""
    clash = task.clash.tolist()
    given = colours.tolist()
    pairs = enumerate(task.neighbours)
    return np.array(
        [math.fsum(clash[given[node]][given[other]] for other in around) for node, around in pairs]
    )


def _colour_in_turn(task: ColouringTask, chance: Random) -> NDArray[np.intp]:
    """Colour the most hemmed in node first, each with the least used colour among those that cost least."""
    # Plain lists: a palette is so short that arrays of it cost more time than they save.
    nodes, kinds = task.dislike.shape
    costs: list[list[float]] = task.dislike.tolist()
    barred = [sum(cost >= _BARS for cost in row) for row in costs]
    clashing = _clashing_colours(task.clash)
    mean = math.fsum(task.weights) / max(nodes, 1)
    used = [chance.random() * mean for _ in range(kinds)]
    colours = [-1] * nodes
    queue = [(-barred[node], -len(task.neighbours[node]), node) for node in range(nodes)]
    heapq.heapify(queue)
    while queue:
        _barred, _degree, node = heapq.heappop(queue)
        if colours[node] >= 0:
            continue
        bearable = min(costs[node]) + _TINY
        colour = min((used[kind], kind) for kind, cost in enumerate(costs[node]) if cost <= bearable)[1]
        colours[node] = colour
        used[colour] += task.weights[node]
        for other in task.neighbours[node]:
            if colours[other] >= 0:
                continue
            row = costs[other]
            before = barred[other]
            for kind, cost in clashing[colour]:
                barred[other] += row[kind] < _BARS <= row[kind] + cost
                row[kind] += cost
            if barred[other] > before:
                heapq.heappush(queue, (-barred[other], -len(task.neighbours[other]), other))
    return np.array(colours, dtype=np.intp)


def _clashing_colours(clash: NDArray[np.float64]) -> list[list[tuple[int, float]]]:
    """Return, for each colour, those that cost something beside it, and what."""
    return [[(kind, cost) for kind, cost in enumerate(row) if cost] for row in clash.tolist()]


def _settle_clashes(
    task: ColouringTask, colours: NDArray[np.intp], chance: Random, most_steps: int
) -> NDArray[np.intp]:
    """Move clashing nodes to other colours until none clashes or the steps are used up."""
    nodes, kinds = task.dislike.shape
    degrees = [len(around) for around in task.neighbours]
    ends = np.fromiter(chain.from_iterable(task.neighbours), dtype=np.intp, count=sum(degrees))
    table = np.zeros((nodes, kinds))
    np.add.at(table, np.repeat(np.arange(nodes), degrees), task.clash[colours[ends]])
    now = table[np.arange(nodes), colours]
    barred_until = np.zeros((nodes, kinds), dtype=np.intp)
    cost = best_cost = now.sum()
    best = colours.copy()
    steps = min(most_steps, max(_STEPS_AT_LEAST, _STEPS_PER_NODE * nodes)) if kinds > 1 else 0
    for step in range(steps):
        clashing = (now > _TINY).nonzero()[0]
        if len(clashing) == 0:
            break
        total = table[clashing] + task.dislike[clashing]
        own = np.arange(len(clashing)), colours[clashing]
        change = total - total[own][:, None]
        change[own] = np.inf
        change[(barred_until[clashing] > step) & (2 * change + cost > best_cost - _TINY)] = np.inf
        place = _pick_least(change, chance)
        if place is None:
            break
        node, colour = clashing[place[0]], place[1]
        old = colours[node]
        colours[node] = colour
        now[node] = table[node, colour]
        barred_until[node, old] = step + _TENURE + len(clashing) + int(chance.random() * _TENURE)
        difference = task.clash[colour] - task.clash[old]
        for other in task.neighbours[node]:
            table[other] += difference
            now[other] = table[other, colours[other]]
        cost = now.sum()
        if cost < best_cost - _TINY:
            best, best_cost = colours.copy(), cost
    return best


def _pick_least(change: NDArray[np.float64], chance: Random) -> tuple[int, int] | None:
    least = change.min()
    if not np.isfinite(least):
        return None
    ties = (change <= least + _TINY).ravel().nonzero()[0]
    row, column = divmod(int(ties[int(chance.random() * len(ties))]), change.shape[1])
    return row, column
