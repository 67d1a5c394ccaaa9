"""Outlines cut where they have corners, so that what lies between can be drawn with one stroke."""

from dataclasses import dataclass

import numpy as np

from peekpaper.sheets.outline import Floats

_FLATTENED_MM = 0.03
"""A chord that would need a higher arc than this over it is a straight edge: curves are flattened finer."""

_CORNER = np.radians(50.0)
"""A sharper turn is a corner, however short its edges."""


@dataclass(frozen=True, slots=True, eq=False)
class Stretch:
    """A part of a ring between two corners: its points and the unit tangents at its ends, both inwards."""

    owner: int
    points: Floats
    start_tangent: Floats
    end_tangent: Floats


def cleaned(ring: Floats) -> Floats:
    """Return the ring open, without repeated points and without points on a straight line."""
    points = np.asarray(ring, dtype=np.float64)[:-1]
    points = points[np.hypot(*(points - np.roll(points, 1, axis=0)).T) > 1e-7]
    while len(points) > 3:
        before, after = points - np.roll(points, 1, axis=0), np.roll(points, -1, axis=0) - points
        height = np.abs(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0])
        height /= np.maximum(np.hypot(*(before + after).T), 1e-12)
        flat = (height < 1e-5) & (np.einsum("nd,nd->n", before, after) > 0)
        flat[1::2] &= ~np.roll(flat, 1)[1::2]
        flat[::2] &= ~np.roll(flat, 1)[::2]
        if not flat.any():
            break
        points = points[~flat]
    open_ring: Floats = points
    return open_ring


def stretches(points: Floats, owner: int) -> list[Stretch]:
    """Cut a cleaned ring at its corners and at the ends of its straight edges."""
    count = len(points)
    edges = np.roll(points, -1, axis=0) - points
    lengths = np.hypot(*edges.T)
    units = edges / lengths[:, None]
    before = np.roll(units, 1, axis=0)
    turns = np.arctan2(
        before[:, 0] * units[:, 1] - before[:, 1] * units[:, 0], np.einsum("nd,nd->n", before, units)
    )
    turns = np.abs(turns)
    # The arc over a chord of length l that turns by t from chord to chord rises l / 2 * tan(t / 4).
    end_turns = np.minimum(turns, np.roll(turns, -1))
    straight = lengths / 2 * np.tan(end_turns / 4) > _FLATTENED_MM
    shorter = np.minimum(lengths, np.roll(lengths, 1))
    corner = (turns > _CORNER) | (shorter / 2 * np.tan(turns / 4) > _FLATTENED_MM)
    breaks = np.flatnonzero(corner | straight | np.roll(straight, 1))
    if not len(breaks):
        return [_smooth_ring(points, units, owner)]
    found = []
    for start, following in zip(breaks, np.append(breaks[1:], breaks[0] + count), strict=True):
        end = following if following > start else following + count
        indices = np.arange(start, end + 1) % count
        run = points[indices]
        before_run, after_run = indices[0] - 1, indices[-1]
        leaves_edge = straight[before_run] and not corner[indices[0]]
        meets_edge = straight[after_run] and not corner[after_run]
        opening = units[before_run] if leaves_edge else _end_tangent(run)
        closing = -units[after_run] if meets_edge else _end_tangent(run[::-1])
        found.append(Stretch(owner, run, opening, closing))
    return found


def _smooth_ring(points: Floats, units: Floats, owner: int) -> Stretch:
    """Return a ring without corners as one stretch from its first point round to it again."""
    tangent = units[0] + units[-1]
    tangent = tangent / np.hypot(*tangent)
    return Stretch(owner, np.vstack([points, points[:1]]), tangent, -tangent)


def _end_tangent(run: Floats) -> Floats:
    """Return the unit tangent at the start of a run of points: that of the parabola through three points."""
    first = run[1] - run[0]
    length = np.hypot(*first)
    tangent = first / length
    if len(run) > 2:
        second = run[2] - run[1]
        next_length = np.hypot(*second)
        tangent = tangent + (tangent - second / next_length) * length / (length + next_length)
        tangent = tangent / np.hypot(*tangent)
    return np.asarray(tangent)
