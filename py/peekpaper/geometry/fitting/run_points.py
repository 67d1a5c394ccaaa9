"""The points of stretches laid end to end, so that all of them can be worked on at once."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from peekpaper.geometry.fitting.stretches import Stretch
from peekpaper.geometry.outline import Floats, Indices
from peekpaper.geometry.polyline import points_at
from peekpaper.geometry.vectors import norms, unit

_STEP_MM = 0.15
"""Edges are sampled at least twice and this often, so that curves keep to chords as well as to corners."""

_WINDOW_MM = 1.0
"""How far to both sides the direction of an outline is judged: single points may lie a little aside."""

_MOST_OF_RUN = 0.25
"""A tangent looks along at most a quarter of its run to each side, so that it does not tell of the next
corner."""
_STEPS = 6
"""Points to each side that a tangent is fitted to."""


@dataclass(frozen=True, slots=True, eq=False)
class RunPoints:
    """Samples along stretches: points (n, 2), how far along they lie (n), and which of them are corners.

    `along` grows through all stretches and leaves a gap between them. `nodes` are the indices of the samples
    that are points of the outlines themselves, in order. `starts` and `ends` are the first and last sample of
    each stretch.
    """

    points: Floats
    along: Floats
    nodes: Indices
    starts: Indices
    ends: Indices

    def tangents(self, middle: Indices, starts: Indices, ends: Indices) -> Floats:
        """Return unit tangents, shape (k, 2), at samples inside runs from sample to sample.

        Each is the least squares direction of points at equal steps to both sides, which is exact on arcs.
        """
        here = self.along[middle]
        room = np.minimum(here - self.along[starts], self.along[ends] - here)
        reach = np.minimum(
            np.minimum(_WINDOW_MM, _MOST_OF_RUN * (self.along[ends] - self.along[starts])), room
        )
        offsets = np.arange(1, _STEPS + 1) / _STEPS
        ahead, behind = (self._at(here[:, None] + sign * reach[:, None] * offsets) for sign in (1, -1))
        return unit(np.einsum("k,nkd->nd", offsets, ahead - behind))

    def end_tangents(self, ends: Indices, others: Indices) -> Floats:
        """Return unit tangents at the ends of runs, pointing towards their other ends.

        Each is that of the least squares parabola from the end through points at equal steps.
        """
        span = self.along[others] - self.along[ends]
        reach = np.sign(span) * np.minimum(_WINDOW_MM, _MOST_OF_RUN * np.abs(span))
        offsets = np.arange(1, _STEPS + 1) / _STEPS
        ahead = self._at(self.along[ends][:, None] + reach[:, None] * offsets) - self.points[ends][:, None]
        powers = np.stack([offsets, offsets**2], axis=1)
        first = np.linalg.pinv(powers)[0]
        return unit(np.einsum("k,nkd->nd", first, ahead))

    def _at(self, along: Floats) -> Floats:
        return points_at(along, self.along, self.points)


def run_points(parts: Sequence[Stretch]) -> RunPoints:
    """Return the samples of stretches, each edge in equal steps."""
    corners = np.vstack([part.points for part in parts])
    sizes = np.array([len(part.points) for part in parts])
    last = np.cumsum(sizes) - 1
    steps = np.diff(corners, axis=0, append=corners[-1:])
    lengths = norms(steps)
    counts = np.maximum(np.ceil(lengths / _STEP_MM).astype(np.intp), 2)
    # A stretch of one edge is a straight line and needs no looking at.
    counts[last[sizes == 2] - 1] = 2
    counts[last] = 1
    nodes = np.cumsum(counts) - counts
    edge = np.repeat(np.arange(len(counts)), counts)
    share = (np.arange(len(edge)) - nodes[edge]) / counts[edge]
    points = corners[edge] + share[:, None] * steps[edge]
    # Between stretches `along` leaves a gap of its own, whatever lies between them.
    lengths[last] = 1.0
    along = (np.cumsum(lengths) - lengths)[edge] + share * lengths[edge]
    ends = nodes[last]
    return RunPoints(points, along, nodes, np.append(0, ends[:-1] + 1), ends)
