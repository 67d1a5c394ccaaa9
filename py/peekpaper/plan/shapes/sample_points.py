"""The shapes of one trim as movable bodies: sample points on their outlines, poses as arrays."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LinearRing

from peekpaper.geometry.polyline import divided
from peekpaper.geometry.vectors import norms
from peekpaper.plan.shapes.shape import Shape

Floats = NDArray[np.float64]
Indices = NDArray[np.intp]
Facing = tuple[Floats, Floats]
"""The cosines and sines of turns."""

SAMPLE_MM = 3.0
"""Edges longer than this get sample points in between."""


class Distances(Protocol):
    """Signed distances to shapes, each in its own frame."""

    def distances_and_slopes(self, shape: Indices, x: Floats, y: Floats) -> tuple[Floats, Floats, Floats]:
        """Return distances (mm, negative inside) of points to their shapes, and the change along x and y."""
        ...


@dataclass(frozen=True, slots=True)
class SamplePoints:
    """Sample points of n shapes on their outlines, shape by shape, each about its shape's origin.

    `owner` tells the shape of each point; points of shape k begin at `start[k]`, `count[k]` of them. `radius`
    is the farthest point's distance from the origin.
    """

    x: Floats
    y: Floats
    owner: Indices
    start: Indices
    count: Indices
    radius: Floats

    def __len__(self) -> int:
        return len(self.count)

    def points(self, poses: Floats, facing: Facing) -> tuple[Floats, Floats]:
        """Return the sample points in the trim for poses (n, 3): x, y in mm, turn in radians.

        `facing` holds the turns' cosines and sines.
        """
        cosine, sine = facing[0][self.owner], facing[1][self.owner]
        return (
            cosine * self.x - sine * self.y + poses[self.owner, 0],
            sine * self.x + cosine * self.y + poses[self.owner, 1],
        )

    def bounds(self, x: Floats, y: Floats) -> tuple[Floats, Floats, Floats, Floats]:
        """Return left, top, right, bottom of each body with its points at x, y."""
        return (
            np.minimum.reduceat(x, self.start),
            np.minimum.reduceat(y, self.start),
            np.maximum.reduceat(x, self.start),
            np.maximum.reduceat(y, self.start),
        )


def make_sample_points(shapes: Sequence[Shape], tolerance_mm: float) -> SamplePoints:
    """Return sample points of shapes: the nodes that are left at this tolerance, more on long edges."""
    outlines = [LinearRing(shape.outline).simplify(tolerance_mm) for shape in shapes]
    rings = [divided(shapely.get_coordinates(outline), SAMPLE_MM) for outline in outlines]
    counts = np.array([len(ring) for ring in rings], dtype=np.intp)
    points = np.concatenate(rings)
    return SamplePoints(
        points[:, 0].copy(),
        points[:, 1].copy(),
        np.repeat(np.arange(len(rings)), counts),
        np.concatenate([[0], np.cumsum(counts)[:-1]]).astype(np.intp),
        counts,
        np.array([float(norms(ring).max()) for ring in rings]),
    )
