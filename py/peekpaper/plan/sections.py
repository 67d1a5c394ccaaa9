"""Outlines cut at their corners: sections that are compared with the sections of other outlines."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.plan.bodies import Floats, Indices
from peekpaper.plan.corners import without_straight_nodes
from peekpaper.steady import directions, hypot

SAMPLES = 16
SLIGHT_TURN, STRONG_TURN = 0.01, 0.4
"""Least turn (radians) of a corner: of outlines with few nodes, and of ones with curves."""
FEW_NODES = 14


@dataclass(frozen=True, slots=True)
class Sections:
    """The sections of outlines that run with their inside on the left (y taken as pointing up), in arrays.

    Section k begins at a corner with the inner angle `angle[k]` (radians), is `length[k]` long and ends where
    section `after[k]` begins. `points` (n, SAMPLES, 2) are evenly spread from end to end; `forward` the same
    with the section's beginning at the origin and its end on the x axis, `backward` the other way about.
    `owner` is the number of the outline.
    """

    angle: Floats
    length: Floats
    points: Floats
    forward: Floats
    backward: Floats
    before: Indices
    after: Indices
    owner: Indices

    def __len__(self) -> int:
        return len(self.length)

    @property
    def bulge(self) -> Floats:
        """How far (mm) each section is from a straight line."""
        bulge: Floats = np.abs(self.forward[:, :, 1]).max(axis=1)
        return bulge


def make_sections(outlines: Sequence[Polygon]) -> Sections:
    """Return the sections of outlines and of their holes; rings with fewer than two corners have none."""
    angles, lengths, points, before, after, owners = [], [], [], [], [], []
    count = 0
    for owner, outline in enumerate(outlines):
        for nodes in _rings(outline):
            corners, angle = _corners(nodes)
            if len(corners) < 2:
                continue
            for place, corner in enumerate(corners.tolist()):
                run, length = _sampled(nodes, corner, int(corners[(place + 1) % len(corners)]))
                points.append(run)
                lengths.append(length)
                before.append(count + (place - 1) % len(corners))
                after.append(count + (place + 1) % len(corners))
                owners.append(owner)
            angles.append(angle[corners])
            count += len(corners)
    runs = np.array(points).reshape(-1, SAMPLES, 2)
    forward = _laid_along_axis(runs)
    return Sections(
        np.concatenate(angles) if angles else np.zeros(0),
        np.array(lengths),
        runs,
        forward,
        _laid_along_axis(runs[:, ::-1]),
        np.array(before, np.intp),
        np.array(after, np.intp),
        np.array(owners, np.intp),
    )


def _rings(outline: Polygon) -> Iterator[Floats]:
    for number, ring in enumerate((outline.exterior, *outline.interiors)):
        nodes = without_straight_nodes(shapely.get_coordinates(ring)[:-1])
        if len(nodes) >= 3:
            yield nodes if ring.is_ccw == (number == 0) else nodes[::-1]


def _corners(nodes: Floats) -> tuple[Indices, Floats]:
    """Return which nodes are corners, and the inner angle at every node."""
    step = np.roll(nodes, -1, axis=0) - nodes
    direction = directions(step[:, 0], step[:, 1])
    turn = (direction - np.roll(direction, 1) + np.pi) % (2 * np.pi) - np.pi
    slight = np.nonzero(np.abs(turn) > SLIGHT_TURN)[0]
    strong = np.nonzero(np.abs(turn) > STRONG_TURN)[0]
    return slight if len(slight) <= FEW_NODES else strong, np.pi - turn


def _sampled(nodes: Floats, first: int, last: int) -> tuple[Floats, float]:
    """Return points evenly spread along a ring from one node to another, and the length between."""
    count = (last - first - 1) % len(nodes) + 1
    run = nodes[(first + np.arange(count + 1)) % len(nodes)]
    along = np.concatenate([[0.0], np.cumsum(hypot(*np.diff(run, axis=0).T))])
    at = np.linspace(0.0, along[-1], SAMPLES)
    return np.column_stack([np.interp(at, along, run[:, axis]) for axis in (0, 1)]), float(along[-1])


def _laid_along_axis(runs: Floats) -> Floats:
    shifted = runs - runs[:, :1]
    chord = shifted[:, -1]
    size = np.maximum(hypot(chord[:, 0], chord[:, 1]), 1e-9)
    cosine, sine = chord[:, 0] / size, chord[:, 1] / size
    x, y = shifted[..., 0], shifted[..., 1]
    laid: Floats = np.stack(
        [cosine[:, None] * x + sine[:, None] * y, cosine[:, None] * y - sine[:, None] * x], axis=-1
    )
    return laid
