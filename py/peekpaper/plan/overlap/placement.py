"""Finds the best place for one body among all others: every place of a raster and every turn at once.

How hard the body would overlap others is a correlation of its pixels with the field of depths round the
others, computed with the fast Fourier transform.
"""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from peekpaper.geometry.elementary import cosines_and_sines, products
from peekpaper.geometry.polyline import rows_of
from peekpaper.plan.overlap.penalty import Frame
from peekpaper.plan.shapes.distance_field import DistanceFields
from peekpaper.plan.shapes.sample_points import Floats, Indices
from peekpaper.plan.shapes.shape import Shape

CELLS_ACROSS = 72
"""How many cells of the raster cover the side of a square trim (by trial)."""
LEAST_CELL_MM = 0.8
"""No finer than this: the descent that follows finds the rest of the way by itself."""
SAME_PLACE_CELLS = 1.5
"""A place nearer than this to where the body is counts as the same one."""
SAME_TURN = 0.2
"""Radians within which two turns count as the same."""
FRIENDLY_SIZES = sorted(
    2**a * 3**b * 5**c for a in range(10) for b in range(6) for c in range(4) if 2**a * 3**b * 5**c <= 1024
)
"""Products of 2, 3 and 5, for which the fast Fourier transform (Cooley and Tukey 1965) is fast."""


class Depths:
    """The field of depths of all bodies on a raster of the frame; of each body apart, to be weighted."""

    def __init__(self, pixel: Indices, owner: Indices, depth: Floats, cells: tuple[int, int]) -> None:
        self._pixel = pixel
        self._owner = owner
        self._depth = depth
        self._cells = cells

    def instead(self, body: int, other: "Depths") -> "Depths":
        """Return these depths with those of a body replaced by other ones."""
        kept = self._owner != body
        return Depths(
            np.concatenate([self._pixel[kept], other._pixel]),
            np.concatenate([self._owner[kept], other._owner]),
            np.concatenate([self._depth[kept], other._depth]),
            self._cells,
        )

    def round_others(self, body: int, weights: Floats) -> Floats:
        """Return the depths (rows, columns) round all bodies but one, weighted by what it has with each."""
        share = weights[body].copy()
        share[body] = 0.0
        field = np.bincount(self._pixel, self._depth * share[self._owner], self._cells[0] * self._cells[1])
        shaped: Floats = field.astype(np.float64).reshape(self._cells)
        return shaped


class PlacementSearch:
    """Rasters that hold frames up to a given size; the transforms of bodies at all turns are kept."""

    def __init__(
        self,
        shapes: Sequence[Shape],
        fields: DistanceFields,
        turns: Sequence[Sequence[float]],
        largest: Frame,
    ) -> None:
        self._shapes = shapes
        self._fields = fields
        self._turns = [np.radians(own) for own in turns]
        width, height = largest.right - largest.left, largest.bottom - largest.top
        self._cell = max(LEAST_CELL_MM, float(np.sqrt(width * height)) / CELLS_ACROSS)
        self._size = (_friendly(height / self._cell + 2), _friendly(width / self._cell + 2))
        self._transforms: dict[int, tuple[NDArray[np.complex64], Floats]] = {}

    def depths(self, poses: Floats, frame: Frame) -> Depths:
        """Return the field of depths of bodies at `poses` (n, 3; turns in radians)."""
        return self._depths(np.arange(len(poses)), poses, frame)

    def depths_after_move(self, depths: Depths, body: int, pose: Floats, frame: Frame) -> Depths:
        """Return the field of depths when one body has moved to `pose`."""
        return depths.instead(body, self._depths(np.array([body]), pose[None, :], frame))

    def _depths(self, bodies: Indices, poses: Floats, frame: Frame) -> Depths:
        cell, (rows, columns) = self._cell, self._size
        cosine, sine = cosines_and_sines(poses[:, 2])
        bounds = np.array([self._bounds(*turned) for turned in zip(bodies, cosine, sine, strict=True)])
        low = np.floor((bounds[:, :2] + poses[:, :2] - frame.spacing - (frame.left, frame.top)) / cell)
        high = np.ceil((bounds[:, 2:] + poses[:, :2] + frame.spacing - (frame.left, frame.top)) / cell)
        low = np.clip(low, 0, (columns, rows)).astype(np.intp)
        wide, tall = (np.clip(high, 0, (columns, rows)).astype(np.intp) - low).T.clip(0)
        owner, place = rows_of(wide * tall)
        row, column = np.divmod(place, np.maximum(wide[owner], 1))
        row, column = row + low[owner, 1], column + low[owner, 0]
        dx = frame.left + (column + 0.5) * cell - poses[owner, 0]
        dy = frame.top + (row + 0.5) * cell - poses[owner, 1]
        cosine, sine = cosine[owner], sine[owner]
        distance = self._fields.distances(bodies[owner], cosine * dx + sine * dy, cosine * dy - sine * dx)
        deep = distance < frame.spacing
        return Depths(
            (row * columns + column)[deep], bodies[owner[deep]], (frame.spacing - distance)[deep], self._size
        )

    def best_place(self, body: int, pose: Floats, field: Floats, frame: Frame) -> Floats:
        """Return the pose at which a body overlaps the field least, at its present turn or another.

        The pose itself is returned where the best place is the one that the body has.
        """
        spectrum = np.fft.rfft2(field.astype(np.float32))
        transforms, bounds = self._transforms_of(body)
        present, present_bounds = self._transform(body, np.array([pose[2]]))
        turns = np.append(self._turns[body], pose[2])
        bounds = np.concatenate([bounds, present_bounds])
        costs = np.fft.irfft2(
            products(np.concatenate([transforms, present]), spectrum), s=self._size, axes=(1, 2)
        )
        cell = self._cell
        sides = np.array([frame.right - frame.left, frame.bottom - frame.top])
        spare = sides - (bounds[:, 2:] - bounds[:, :2])
        best, best_cost = pose, np.inf
        for number, cost in enumerate(costs):
            if spare[number].min() < 0:
                continue
            columns, rows = np.ceil(spare[number] / cell - 1e-6).astype(np.intp) + 1
            window = cost[:rows, :columns]
            place = int(window.argmin())
            row, column = divmod(place, window.shape[1])
            if window[row, column] < best_cost - 1e-4:
                best_cost = window[row, column]
                corner = np.minimum(np.array([column, row]) * cell, spare[number])
                x, y = corner + np.array([frame.left, frame.top]) - bounds[number, :2]
                best = np.array([x, y, turns[number]])
        moved = np.abs(best[:2] - pose[:2]).max()
        turned = abs((best[2] - pose[2] + np.pi) % (2 * np.pi) - np.pi)
        return pose if moved < SAME_PLACE_CELLS * cell and turned < SAME_TURN else best

    def _bounds(self, body: int, cosine: float, sine: float) -> tuple[float, float, float, float]:
        x, y = self._shapes[body].outline.T
        u, v = cosine * x - sine * y, sine * x + cosine * y
        return u.min(), v.min(), u.max(), v.max()

    def _transforms_of(self, body: int) -> tuple[NDArray[np.complex64], Floats]:
        if body not in self._transforms:
            self._transforms[body] = self._transform(body, self._turns[body])
        return self._transforms[body]

    def _transform(self, body: int, turns: Floats) -> tuple[NDArray[np.complex64], Floats]:
        """Return the conjugate spectra (turns, rows, columns / 2 + 1) of a body's pixels, and its bounds."""
        cosine, sine = cosines_and_sines(turns)
        bounds = np.array([self._bounds(body, *turned) for turned in zip(cosine, sine, strict=True)])
        wide, tall = np.ceil((bounds[:, 2:] - bounds[:, :2]).max(axis=0) / self._cell).astype(np.intp)
        wide, tall = min(wide, self._size[1]), min(tall, self._size[0])
        x = bounds[:, 0, None] + (np.arange(wide) + 0.5) * self._cell
        y = bounds[:, 1, None] + (np.arange(tall) + 0.5) * self._cell
        cosine, sine = cosine[:, None, None], sine[:, None, None]
        u = cosine * x[:, None, :] + sine * y[:, :, None]
        v = cosine * y[:, :, None] - sine * x[:, None, :]
        distance = self._fields.distances(body, u, v)
        cover = np.zeros((len(turns), *self._size), np.float32)
        cover[:, :tall, :wide] = np.clip(0.5 - distance / self._cell, 0.0, 1.0)
        return np.conj(np.fft.rfft2(cover)).astype(np.complex64), bounds


def _friendly(size: float) -> int:
    """Return the least size at least `size` for which the transform is fast."""
    return next((number for number in FRIENDLY_SIZES if number >= size), int(np.ceil(size)))
