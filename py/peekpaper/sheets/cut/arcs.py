"""Outlines as lines and circular arcs, for formats and machines that know no Béziers.

Each cubic becomes pairs of arcs that meet it and one another without a kink (biarcs: K. M. Bolton, "Biarc
curves", Computer-Aided Design 7 (1975); both arcs' tangents of the same length).
"""

from collections.abc import Sequence

import numpy as np

from peekpaper.geometry.outline import Floats, Outline, bezier_points
from peekpaper.geometry.vectors import cross, dot, norms, unit

TOLERANCE_MM = 0.003
"""How far arcs may leave the Béziers, which themselves keep most of the 0.02 mm that is promised."""

_FLAT_MM = 0.002
"""An arc that rises less is a line: readers fail at its centre, which lies far away."""

_PROBES = np.linspace(0.06, 0.94, 12)
"""Where along a cubic its distance from the arcs is taken, as parameters: all over, short of the ends where
it is none."""
_MOST_HALVINGS = 12
"""After so many halvings 4096 arcs stand for one cubic: what is still off there is no curve."""


def bulged(outlines: Sequence[Outline], tolerance: float = TOLERANCE_MM) -> list[Floats]:
    """Return each outline as a closed polyline, rows of x, y and bulge, shape (k, 3).

    The bulge is that of the drawing exchange format: the tangent of a quarter of the angle of the arc from
    this point to the next, positive where x turns towards y, 0 for a straight line. The last arc leads to
    the first point.
    """
    if not outlines:
        return []
    cubics = np.concatenate([outline.cubics for outline in outlines])
    straight = np.concatenate([outline.straight for outline in outlines])
    place, step = np.arange(len(cubics), dtype=np.float64), np.ones(len(cubics))
    rows, places = [_lines(cubics[straight])], [place[straight]]
    cubics, place, step = cubics[~straight], place[~straight], step[~straight]
    for halving in range(_MOST_HALVINGS + 1):
        pairs, errors = _biarcs(cubics)
        good = (errors <= tolerance) | (halving == _MOST_HALVINGS)
        rows.append(pairs[good].reshape(-1, 3))
        places.append((place[good, None] + step[good, None] * (0, 0.5)).ravel())
        cubics, place, step = _halves(cubics[~good]), place[~good], step[~good] / 2
        place, step = np.concatenate([place, place + step]), np.concatenate([step, step])
        if not len(cubics):
            break
    all_places = np.concatenate(places)
    order = np.argsort(all_places, kind="stable")
    ends = np.cumsum([len(outline.cubics) for outline in outlines])[:-1]
    return np.split(np.concatenate(rows)[order], np.searchsorted(all_places[order], ends))


def _lines(cubics: Floats) -> Floats:
    return np.column_stack([cubics[:, 0], np.zeros(len(cubics))])


def _halves(cubics: Floats) -> Floats:
    """Return the first halves of the cubics, then their second halves (de Casteljau)."""
    a, b, c, d = np.moveaxis(cubics, 1, 0)
    ab, bc, cd = (a + b) / 2, (b + c) / 2, (c + d) / 2
    abc, bcd = (ab + bc) / 2, (bc + cd) / 2
    middle = (abc + bcd) / 2
    return np.concatenate([np.stack([a, ab, abc, middle], axis=1), np.stack([middle, bcd, cd, d], axis=1)])


def _biarcs(cubics: Floats) -> tuple[Floats, Floats]:
    """Return two rows of x, y, bulge for each cubic, shape (n, 2, 3), and how far they leave it."""
    start, end = cubics[:, 0], cubics[:, 3]
    leaving, arriving = _tangents(cubics)
    across = end - start
    both = leaving + arriving
    spread = 2 * (1 - dot(leaving, arriving))
    along, length = dot(across, both), dot(across, across)
    turning = spread > 1e-9
    root = np.sqrt(np.maximum(along**2 + spread * length, 0))
    handle = np.where(
        turning,
        (root - along) / np.where(turning, spread, 1),
        length / np.where(np.abs(along) > 1e-12, 2 * along, np.inf),
    )[:, None]
    joint = (start + end + handle * (leaving - arriving)) / 2
    first, second = joint - start, end - joint
    at_joint = end - start - handle * both
    first_bulge = _bulge(leaving, first)
    second_bulge = -_bulge(-arriving, -second)
    pairs = np.stack([np.column_stack([start, first_bulge]), np.column_stack([joint, second_bulge])], axis=1)
    return pairs, _errors(cubics, joint, at_joint, (leaving, first), (-arriving, -second))


def _tangents(cubics: Floats) -> tuple[Floats, Floats]:
    """Return the unit tangents at both ends, in the direction of travel."""
    steps = np.diff(cubics, axis=1)
    chord = cubics[:, 3] - cubics[:, 0]
    leaving = np.where(dot(steps[:, 0], steps[:, 0])[:, None] > 1e-16, steps[:, 0], chord)
    arriving = np.where(dot(steps[:, 2], steps[:, 2])[:, None] > 1e-16, steps[:, 2], chord)
    return unit(leaving), unit(arriving)


def _bulge(tangent: Floats, chord: Floats) -> Floats:
    """Return the bulge of the arc that leaves along `tangent` and spans `chord`, 0 where none can be seen."""
    bulge = np.tan(np.arctan2(cross(tangent, chord), dot(tangent, chord)) / 2)
    rise = np.abs(bulge) * norms(chord) / 2
    return np.where(rise > _FLAT_MM, bulge, 0.0)


def _errors(
    cubics: Floats,
    joint: Floats,
    at_joint: Floats,
    first: tuple[Floats, Floats],
    second: tuple[Floats, Floats],
) -> Floats:
    """Return the greatest distance of points on each cubic from its pair of arcs.

    `first` and `second` are tangent and chord of the arcs, each seen from its end of the cubic.
    """
    count = len(cubics)
    if not count:
        return np.zeros(0)
    probes = np.tile(_PROBES, count)
    points = bezier_points(np.repeat(cubics, len(_PROBES), axis=0), probes).reshape(count, -1, 2)
    before = dot(points - joint[:, None], at_joint[:, None]) < 0
    from_first = _distance(points - cubics[:, None, 0], *first)
    from_second = _distance(points - cubics[:, None, 3], *second)
    errors: Floats = np.where(before, from_first, from_second).max(axis=1)
    return errors


def _distance(offsets: Floats, tangent: Floats, chord: Floats) -> Floats:
    """Return the distance of points, offset from an arc's end, from its circle (exact down to a line)."""
    normal = np.stack([-tangent[:, 1], tangent[:, 0]], axis=1)
    curvature = (2 * dot(normal, chord) / np.maximum(dot(chord, chord), 1e-300))[:, None]
    excess = curvature * dot(offsets, offsets) - 2 * dot(normal[:, None], offsets)
    distance: Floats = np.abs(excess / (1 + np.sqrt(np.maximum(1 + curvature * excess, 0))))
    return distance
