"""Outlines of few straight sides, led through corridors as far as the eye can see."""

from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.geometry.grid import to_grid
from peekpaper.geometry.polyline import rows_of

_MOST_GATES = 250
"""Gates to a run: fewer runs keep fewer nodes, longer ones take more steps in turn (from memory)."""

Complexes = NDArray[np.complex128]


def minimum_link_areas(
    points: NDArray[np.float64],
    ring: NDArray[np.int64],
    inside: NDArray[np.float64],
    outside: NDArray[np.float64],
) -> list[Polygon]:
    """Return areas of few nodes whose outlines stay inside corridors around closed rings.

    `points` (n, 2) are the rings' nodes in a row, each ring's first again at its end, with the area on the
    positive side (to the left where y points up); `ring` (n) tells the ring. At each node the corridor is as
    wide as a gate across the outline, so far `inside` (n) and `outside` (n) it in mm. From each node a
    straight side goes through as many gates as it can, for all rings at once: a minimum-link path, greedily
    through the cone of what can be seen (Imai and Iri, "Polygonal approximations of a curve", 1988; Suri, "A
    linear time algorithm for minimum link paths inside a simple polygon", 1986; both from memory).
    Areas may come out invalid where gates cross. Nodes lie on the grid.
    """
    line = np.ascontiguousarray(points).view(np.complex128).ravel()
    begins = np.flatnonzero(np.append(True, ring[1:] != ring[:-1]))
    ends = np.append(begins[1:], len(ring)) - 1
    across = _inward(line, begins, ends)
    left, right = line + across * inside, line - across * outside
    starts, stops = _runs(begins, ends)
    # A run begins and ends in the middle of its gate, where the next one goes on.
    for bound in (starts, stops):
        left[bound] = right[bound] = (left[bound] + right[bound]) / 2
    at, nodes = _walk(left, right, starts, stops - starts)
    order = np.argsort(at, kind="stable")
    cuts = np.searchsorted(at[order], [*begins, len(ring)]).tolist()
    # Lengths and products of complex numbers differ from machine to machine in the last bit.
    coordinates = to_grid(nodes[order].view(np.float64).reshape(-1, 2))
    return [_area(coordinates[first:last]) for first, last in pairwise(cuts)]


def _inward(line: Complexes, begins: NDArray[np.int64], ends: NDArray[np.int64]) -> Complexes:
    """Return unit vectors (n) that point into the areas of closed rings at their nodes."""
    before, after = np.arange(len(line)) - 1, np.arange(len(line)) + 1
    before[begins], after[ends] = ends - 1, begins + 1
    return 1j * _unit(_unit(line - line[before]) + _unit(line[after] - line))


def _unit(vectors: Complexes) -> Complexes:
    units: Complexes = vectors / np.maximum(np.abs(vectors), 1e-12)
    return units


def _runs(begins: NDArray[np.int64], ends: NDArray[np.int64]) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """Return where runs of at most so many gates start and stop, the longest run first."""
    counts = -(-(ends - begins) // _MOST_GATES)
    ring, nth = rows_of(counts)
    length = ends - begins
    starts = begins[ring] + nth * length[ring] // counts[ring]
    stops = begins[ring] + (nth + 1) * length[ring] // counts[ring]
    longest_first = np.argsort(starts - stops, kind="stable")
    return starts[longest_first], stops[longest_first]


def _walk(
    left: Complexes, right: Complexes, starts: NDArray[np.int64], lengths: NDArray[np.int64]
) -> tuple[NDArray[np.int64], Complexes]:
    """Return the nodes of runs through gates, and for each the gate it lies at.

    Run k goes from the point gate `starts[k]` through the next `lengths[k]` gates, the last a point too. Runs
    take their steps together.
    """
    at, nodes = [starts], [left[starts]]
    eye = left[starts]
    low, high = right[starts + 1] - eye, left[starts + 1] - eye
    for step in range(2, int(lengths.max(initial=0)) + 1):
        going = int(np.searchsorted(-lengths, -step, side="right"))
        eye, low, high, gate = eye[:going], low[:going], high[:going], starts[:going] + step
        to_right, to_left = right[gate] - eye, left[gate] - eye
        turns_left = _cross(high, to_right) > 0
        hidden = turns_left | (_cross(low, to_left) < 0) | (_dot(low + high, to_right + to_left) <= 0)
        lost = np.flatnonzero(hidden)
        ray = np.where(turns_left, high, low)[lost]
        low = np.where(_cross(low, to_right) > 0, to_right, low)
        high = np.where(_cross(high, to_left) < 0, to_left, high)
        if len(lost):
            onward = gate[lost]
            eye[lost] = _crossing(eye[lost], ray, left[onward - 1], right[onward - 1])
            low[lost], high[lost] = right[onward] - eye[lost], left[onward] - eye[lost]
            at.append(onward - 1)
            nodes.append(eye[lost])
    return np.concatenate(at), np.concatenate(nodes)


def _crossing(eye: Complexes, ray: Complexes, left: Complexes, right: Complexes) -> Complexes:
    """Return where rays cross gates, or the gate's nearer end where they pass it by."""
    gate = left - right
    turn = _cross(ray, gate)
    share = _cross(eye - right, ray) / np.where(np.abs(turn) < 1e-300, -np.inf, -turn)
    crossing: Complexes = right + gate * np.clip(share, 0, 1)
    return crossing


def _cross(one: Complexes, other: Complexes) -> NDArray[np.float64]:
    product: NDArray[np.float64] = (one.conj() * other).imag
    return product


def _dot(one: Complexes, other: Complexes) -> NDArray[np.float64]:
    product: NDArray[np.float64] = (one.conj() * other).real
    return product


def _area(nodes: NDArray[np.float64]) -> Polygon:
    return Polygon(nodes) if len(nodes) > 2 else Polygon()
