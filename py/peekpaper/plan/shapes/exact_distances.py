"""Exact signed distances to the outlines of shapes, for the last hundredths of a millimetre.

A point lies inside where a ray from it crosses the outline an odd number of times (Shimrat 1962, "Algorithm
112: Position of point relative to polygon").
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from peekpaper.geometry.elementary import hypot
from peekpaper.plan.shapes.sample_points import Floats, Indices
from peekpaper.plan.shapes.shape import Shape

POINTS_AT_ONCE = 4000
"""How many points are compared with all edges at once, which bounds the memory."""


@dataclass(frozen=True, slots=True)
class ExactDistances:
    """The edges of n shapes, padded to equally many: starts and steps (n, edges) along x and y.

    `turns_inside` is +1 where the inside lies to the right of the edges as they run on screen, else -1.
    """

    x: Floats
    y: Floats
    step_x: Floats
    step_y: Floats
    turns_inside: Floats

    def distances_and_slopes(self, shape: Indices, x: Floats, y: Floats) -> tuple[Floats, Floats, Floats]:
        """Return signed distances of points to their shapes, and how they change along x and y."""
        parts = [
            self._some(shape[first : first + POINTS_AT_ONCE], x[first : first + POINTS_AT_ONCE],
                       y[first : first + POINTS_AT_ONCE])
            for first in range(0, len(shape), POINTS_AT_ONCE)
        ]  # fmt: skip
        if not parts:
            empty = np.zeros(0)
            return empty, empty, empty
        distance, slope_x, slope_y = (np.concatenate(part) for part in zip(*parts, strict=True))
        return distance, slope_x, slope_y

    def _some(self, shape: Indices, x: Floats, y: Floats) -> tuple[Floats, Floats, Floats]:
        step_x, step_y = self.step_x[shape], self.step_y[shape]
        dx, dy = x[:, None] - self.x[shape], y[:, None] - self.y[shape]
        crosses = (dy >= 0) != (dy >= step_y)
        with np.errstate(divide="ignore", invalid="ignore"):
            before = dx < step_x * dy / step_y
        inside = np.count_nonzero(crosses & before, axis=1) % 2 == 1
        along = (dx * step_x + dy * step_y) / np.maximum(step_x**2 + step_y**2, 1e-12)
        np.clip(along, 0.0, 1.0, out=along)
        dx -= along * step_x
        dy -= along * step_y
        squares = dx * dx + dy * dy
        rows, nearest = np.arange(len(shape)), squares.argmin(axis=1)
        distance = np.sqrt(squares[rows, nearest])
        sign = np.where(inside, -1.0, 1.0)
        step_x, step_y = step_x[rows, nearest], step_y[rows, nearest]
        normal = self.turns_inside[shape] / np.maximum(hypot(step_x, step_y), 1e-12)
        on_edge = distance < 1e-7
        scale = sign / np.maximum(distance, 1e-7)
        slope_x = np.where(on_edge, step_y * normal, dx[rows, nearest] * scale)
        slope_y = np.where(on_edge, -step_x * normal, dy[rows, nearest] * scale)
        return sign * distance, slope_x, slope_y


def make_exact_distances(shapes: Sequence[Shape]) -> ExactDistances:
    """Return the edges of the shapes' outlines, ready to be asked for distances."""
    most = max(len(shape.outline) for shape in shapes) - 1
    starts = np.zeros((len(shapes), most, 2))
    steps = np.zeros((len(shapes), most, 2))
    turns = np.zeros(len(shapes))
    for number, shape in enumerate(shapes):
        ring = shape.outline
        starts[number] = ring[0]
        starts[number, : len(ring) - 1] = ring[:-1]
        steps[number, : len(ring) - 1] = np.diff(ring, axis=0)
        doubled_area = float(np.sum(ring[:-1, 0] * ring[1:, 1] - ring[1:, 0] * ring[:-1, 1]))
        turns[number] = 1.0 if doubled_area > 0 else -1.0
    return ExactDistances(starts[..., 0], starts[..., 1], steps[..., 0], steps[..., 1], turns)
