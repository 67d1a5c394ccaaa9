"""Giving each node of a graph one of a few colours so that neighbours clash as little as can be.

First each node in turn, the most hemmed in one next (DSATUR: Brélaz, "New methods to color the vertices of a
graph", Communications of the ACM 22, 1979), then moves of clashing nodes with a memory against going in
circles (tabu search: Hertz and de Werra, "Using tabu search techniques for graph coloring", Computing 39,
1987).
"""

import heapq
from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

import numpy as np
from numpy.typing import NDArray

_TENURE = 7
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
    pairs = enumerate(task.neighbours)
    return np.array([task.clash[colours[node], colours[list(around)]].sum() for node, around in pairs])


def _colour_in_turn(task: ColouringTask, chance: Random) -> NDArray[np.intp]:
    """Colour the most hemmed in node first, each with the least used colour among those that cost least."""
    nodes, kinds = task.dislike.shape
    costs = task.dislike.copy()
    mean = sum(task.weights) / max(nodes, 1)
    used = np.array([chance.random() * mean for _ in range(kinds)])
    colours = np.full(nodes, -1, dtype=np.intp)
    queue = [(-_barred(costs[node]), -len(task.neighbours[node]), node) for node in range(nodes)]
    heapq.heapify(queue)
    while queue:
        barred, _degree, node = heapq.heappop(queue)
        if colours[node] >= 0 or -barred != _barred(costs[node]):
            continue
        row = costs[node]
        least = np.flatnonzero(row <= row.min() + 1e-9)
        colour = least[np.argmin(used[least])]
        colours[node] = colour
        used[colour] += task.weights[node]
        for other in task.neighbours[node]:
            if colours[other] < 0:
                costs[other] += task.clash[colour]
                heapq.heappush(queue, (-_barred(costs[other]), -len(task.neighbours[other]), other))
    return colours


def _barred(costs: NDArray[np.float64]) -> int:
    return int((costs >= 1).sum())


def _settle_clashes(
    task: ColouringTask, colours: NDArray[np.intp], chance: Random, most_steps: int
) -> NDArray[np.intp]:
    """Move clashing nodes to other colours until none clashes or the steps are used up."""
    nodes, kinds = task.dislike.shape
    every = np.arange(nodes)
    table = np.array([task.clash[:, colours[list(around)]].sum(axis=1) for around in task.neighbours])
    table = table.reshape(nodes, kinds)
    barred_until = np.zeros((nodes, kinds), dtype=np.intp)
    best, best_cost = colours.copy(), table[every, colours].sum()
    steps = min(most_steps, max(_STEPS_AT_LEAST, _STEPS_PER_NODE * nodes)) if kinds > 1 else 0
    for step in range(steps):
        now = table[every, colours]
        clashing = np.flatnonzero(now > 0)
        if len(clashing) == 0:
            break
        total = table[clashing] + task.dislike[clashing]
        own = np.arange(len(clashing)), colours[clashing]
        change = total - total[own][:, None]
        change[own] = np.inf
        change[(barred_until[clashing] > step) & (2 * change + now.sum() > best_cost - 1e-9)] = np.inf
        place = _pick_least(change, chance)
        if place is None:
            break
        node, colour = clashing[place[0]], place[1]
        old = colours[node]
        colours[node] = colour
        barred_until[node, old] = step + _TENURE + len(clashing) + int(chance.random() * _TENURE)
        for other in task.neighbours[node]:
            table[other] += task.clash[colour] - task.clash[old]
        cost = table[every, colours].sum()
        if cost < best_cost - 1e-9:
            best, best_cost = colours.copy(), cost
    return best


def _pick_least(change: NDArray[np.float64], chance: Random) -> tuple[int, int] | None:
    least = change.min()
    if not np.isfinite(least):
        return None
    ties = np.argwhere(change <= least + 1e-9)
    row, column = ties[int(chance.random() * len(ties))]
    return int(row), int(column)
