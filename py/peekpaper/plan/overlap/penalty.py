"""Which sample points are near which other bodies, and the energy of bodies that come too close.

The list of near points is kept while bodies move less than a skin's breadth (Verlet 1967), so that most
evaluations touch only the few points that matter.
"""

from dataclasses import dataclass

import numpy as np

from peekpaper.geometry.elementary import cosines_and_sines, inner_product
from peekpaper.geometry.polyline import rows_of
from peekpaper.geometry.vectors import norms
from peekpaper.plan.shapes.sample_points import Distances, Facing, Floats, Indices, SamplePoints


@dataclass(frozen=True, slots=True)
class Frame:
    """The part of a trim that pieces may cover, and the spacing between them, in mm."""

    left: float
    top: float
    right: float
    bottom: float
    spacing: float


@dataclass(frozen=True, slots=True)
class PenaltyModel:
    """What moves where: bodies, the distances between them, the frame that holds them.

    `freedom` (n, 3) scales how far each coordinate of a pose may move: zero holds it. Contacts are kept while
    bodies come no more than `skin_mm` nearer.
    """

    bodies: SamplePoints
    distances: Distances
    frame: Frame
    freedom: Floats
    skin_mm: float


@dataclass(frozen=True, slots=True)
class Contacts:
    """Pairs of a sample point and another body that is near it, for bodies at `poses`."""

    point: Indices
    other: Indices
    poses: Floats

    def are_stale(self, model: PenaltyModel, poses: Floats) -> bool:
        """Tell whether bodies moved so far that near points may be missing."""
        moved = norms(poses[:, :2] - self.poses[:, :2])
        moved += np.abs(poses[:, 2] - self.poses[:, 2]) * model.bodies.radius
        return bool(2 * moved.max() > model.skin_mm)


def find_contacts(model: PenaltyModel, poses: Floats) -> Contacts:
    """Return all pairs of a point and another body that are nearer than the spacing and a skin."""
    bodies = model.bodies
    facing = cosines_and_sines(poses[:, 2])
    x, y = bodies.points(poses, facing)
    left, top, right, bottom = bodies.bounds(x, y)
    reach = model.frame.spacing + model.skin_mm
    near = (
        (left[:, None] < right[None, :] + reach)
        & (right[:, None] > left[None, :] - reach)
        & (top[:, None] < bottom[None, :] + reach)
        & (bottom[:, None] > top[None, :] - reach)
    )
    np.fill_diagonal(near, False)
    body, other = np.nonzero(near)
    pair, nth = rows_of(bodies.count[body])
    point, other = bodies.start[body[pair]] + nth, other[pair]
    px, py = x[point], y[point]
    boxed = (
        (px > left[other] - reach)
        & (px < right[other] + reach)
        & (py > top[other] - reach)
        & (py < bottom[other] + reach)
    )
    point, other = point[boxed], other[boxed]
    distance = _distances(model.distances, poses, facing, (x[point], y[point]), other)[0]
    close = distance < reach
    return Contacts(point[close], other[close], poses.copy())


def _distances(
    distances: Distances, poses: Floats, facing: Facing, points: tuple[Floats, Floats], other: Indices
) -> tuple[Floats, Floats, Floats]:
    """Return the distances of points to other bodies, and their slopes in the trim's frame."""
    cosine, sine = facing[0][other], facing[1][other]
    dx, dy = points[0] - poses[other, 0], points[1] - poses[other, 1]
    distance, along, across = distances.distances_and_slopes(
        other, cosine * dx + sine * dy, cosine * dy - sine * dx
    )
    return distance, cosine * along - sine * across, sine * along + cosine * across


@dataclass(frozen=True, slots=True)
class Penalty:
    """How hard bodies press: energy, its gradient (n, 3), how deep (mm) contacts are,
    and which points are `outside` the frame how far.
    """

    energy: float
    gradient: Floats
    contacts: Contacts
    contact_depth: Floats
    outside: Indices
    outside_depth: Floats

    def depths(self, bodies: SamplePoints) -> Floats:
        """Return how deep (mm) any two bodies overlap, spacing included (n, n); the frame on the diagonal."""
        n = len(bodies)
        deepest = np.zeros(n * n)
        hit = np.nonzero(self.contact_depth)[0]
        pair = bodies.owner[self.contacts.point[hit]] * n + self.contacts.other[hit]
        np.maximum.at(deepest, pair, self.contact_depth[hit])
        table = deepest.reshape(n, n)
        table = np.maximum(table, table.T)
        past_frame = np.zeros(n)
        np.maximum.at(past_frame, bodies.owner[self.outside], self.outside_depth)
        np.fill_diagonal(table, past_frame)
        return table


def penalty_at(model: PenaltyModel, contacts: Contacts, weights: Floats, poses: Floats) -> Penalty:
    """Return the energy of bodies at `poses`: the weighted sum of half the squares of all depths.

    A point's depth is how far it is inside the spacing round another body, or past the frame. `weights`
    (n, n) scales the contacts of pairs; walls count `weights[k, k]`.
    """
    bodies, frame = model.bodies, model.frame
    n = len(bodies)
    facing = cosines_and_sines(poses[:, 2])
    x, y = bodies.points(poses, facing)
    point, other = contacts.point, contacts.other
    distance, slope_x, slope_y = _distances(model.distances, poses, facing, (x[point], y[point]), other)
    depth = np.maximum(frame.spacing - distance, 0.0)
    hit = np.nonzero(depth)[0]
    p, o, d = point[hit], other[hit], depth[hit]
    owner = bodies.owner[p]
    force = weights[owner, o] * d
    energy = 0.5 * inner_product(force, d)
    fx, fy = -force * slope_x[hit], -force * slope_y[hit]
    wall_x = np.minimum(x - frame.left, 0.0) + np.maximum(x - frame.right, 0.0)
    wall_y = np.minimum(y - frame.top, 0.0) + np.maximum(y - frame.bottom, 0.0)
    out = np.nonzero((wall_x != 0) | (wall_y != 0))[0]
    out_owner = bodies.owner[out]
    wall_weight = weights[out_owner, out_owner]
    wx, wy = wall_x[out], wall_y[out]
    energy += 0.5 * inner_product(wall_weight, wx * wx + wy * wy)
    wx, wy = wx * wall_weight, wy * wall_weight

    points = np.concatenate([p, p, out])
    bodies_hit = np.concatenate([owner, o, out_owner])
    gx, gy = np.concatenate([fx, -fx, wx]), np.concatenate([fy, -fy, wy])
    torque = (x[points] - poses[bodies_hit, 0]) * gy - (y[points] - poses[bodies_hit, 1]) * gx
    gradient = np.empty((n, 3))
    gradient[:, 0] = np.bincount(bodies_hit, gx, n)
    gradient[:, 1] = np.bincount(bodies_hit, gy, n)
    gradient[:, 2] = np.bincount(bodies_hit, torque, n)
    outside_depth = np.maximum(np.abs(wall_x[out]), np.abs(wall_y[out]))
    return Penalty(energy, gradient, contacts, depth, out, outside_depth)
