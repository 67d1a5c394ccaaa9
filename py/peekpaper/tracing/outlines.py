"""Rings of px as outlines of few lines and curves."""

from collections.abc import Iterator

import numpy as np

from peekpaper.geometry.fitting.curves import fit_stretches
from peekpaper.geometry.fitting.stretches import Stretch
from peekpaper.geometry.outline import Floats, Outline
from peekpaper.tracing.contours import Rings
from peekpaper.tracing.corners import Ring, at_equal_steps, with_corners

_PX_PER_MM = 10.0
"""Curves are fitted as if px were those of a scan at 254 px per inch: the fit judges directions over a mm."""
_LEAST_TOLERANCE, _MOST_TOLERANCE = 0.4, 1.2
"""How far an outline may leave the ring, in px: more where the ring is rough."""
_ROUGH = 3.0
"""The tolerance is so many times what points typically lie aside."""
_SKIPPED = 2
"""Points beside a corner that the picture's softness rounds."""
_JOININGS = 3
"""After so many rounds hardly any neighbouring curves become one (measured)."""
_AVERAGED = 3
"""So many points become one where a stretch has many: it is fitted sooner, and grain evens out."""
_MANY = 8 * _AVERAGED
"""Points of a stretch that has many."""
_WINDOW = 6
"""Points to each side that the direction of a smooth ring is taken from."""


def outlines_of(rings: Rings) -> list[Outline]:
    """Return an outline for each ring, in px: straight between corners where the ring is, else cubics."""
    if not len(rings.heads):
        return []
    even, heads = at_equal_steps(rings.points, rings.heads)
    tolerance = float(np.clip(_ROUGH * _roughness(even, heads), _LEAST_TOLERANCE, _MOST_TOLERANCE))
    parts = [
        part
        for owner, ring in enumerate(with_corners(even, heads))
        for part in _stretches(ring, owner, tolerance)
    ]
    fitted = fit_stretches(parts, len(heads), tolerance / _PX_PER_MM, _JOININGS)
    return [Outline(outline.cubics * _PX_PER_MM, outline.straight) for outline in fitted]


def _roughness(points: Floats, heads: np.ndarray) -> float:
    """Return by how much points typically lie beside the middle of their neighbours, in px."""
    aside = points[1:-1] - (points[:-2] + points[2:]) / 2
    inner = np.ones(len(points), dtype=bool)
    inner[heads] = inner[heads - 1] = False
    return float(np.median(np.hypot(*aside[inner[1:-1]].T))) if inner[1:-1].any() else 0.0


def _stretches(ring: Ring, owner: int, tolerance: float) -> Iterator[Stretch]:
    points, count, free = ring.points, len(ring.points), np.zeros(2)
    if not len(ring.corners):
        behind, ahead = points[-_WINDOW:].mean(axis=0), points[1 : _WINDOW + 1].mean(axis=0)
        tangent = (ahead - behind) / max(float(np.hypot(*(ahead - behind))), 1e-12)
        around = np.vstack([points[:1], _thinned(points[1:]), points[:1]])
        yield Stretch(owner, around / _PX_PER_MM, tangent, -tangent)
        return
    following = np.append(ring.corners[1:], ring.corners[0] + count)
    for start, end, first, last in zip(
        ring.corners, following, ring.places, np.roll(ring.places, -1, axis=0), strict=True
    ):
        between = points[np.arange(start + _SKIPPED, end - _SKIPPED + 1) % count]
        if len(ring.corners) > 1 and _is_straight(between, first, last, tolerance):
            between = between[:0]
        yield Stretch(owner, np.vstack([first, _thinned(between), last]) / _PX_PER_MM, free, free)


def _is_straight(points: Floats, first: Floats, last: Floats, tolerance: float) -> bool:
    """Tell whether points lie along the straight line from first to last."""
    along = last - first
    length = float(np.hypot(*along))
    if not len(points):
        return True
    if length < 1e-9:
        return False
    away = points - first
    aside = np.abs(away[:, 0] * along[1] - away[:, 1] * along[0]) / length
    return bool(aside.max() <= tolerance and aside.mean() <= tolerance / 2)


def _thinned(points: Floats) -> Floats:
    """Return points with each few in their middle, where there are many."""
    if len(points) < _MANY:
        return points
    groups = len(points) // _AVERAGED
    spare = len(points) - groups * _AVERAGED
    inner = points[spare // 2 : spare // 2 + groups * _AVERAGED]
    middles: Floats = inner.reshape(groups, _AVERAGED, 2).mean(axis=1)
    return middles
