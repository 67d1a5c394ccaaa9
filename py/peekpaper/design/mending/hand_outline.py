"""A closed outline as a finger meant it: smooth between its corners, closed where it began.

Corners are the sharp turns of what Douglas and Peucker (1973) leave of the line. Between them it is blurred,
and what that shrinks is put back (twicing, Tukey 1977, from memory), as far as it strays no further than a
finger shakes.
"""

from itertools import pairwise

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, Polygon

from peekpaper.geometry.overlay import polygons_of, valid
from peekpaper.geometry.vectors import norms, unit
from peekpaper.refusal import Refusal

_SHAKE = 0.04
"""How far a finger strays, as a share of how far what it draws reaches (from memory)."""
_MOST_SHAKE_MM = 1.0
"""A finger strays no further than this, however large what it draws (from memory)."""
_CORNER_COS = 0.6
"""A turn of more than 53 degrees was meant as a corner (from memory)."""
_NEAR = 3.0
"""How many shakes away a corner's sides are looked at."""
_FINE = 2.0
"""So many points are laid on the length of a finger's shake."""
_REACHES = (1, 2, 4, 8, 16, 32)
"""Of how many points the mean is taken, one after the other while that strays little."""
_LEAST_MM2 = 0.05
"""A smaller outline was a touch, not drawn."""


def meant_outline(drawn: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return the closed outline (m, 2) in mm, its last point not repeated, that a hand's line (n, 2) meant.

    Raises Refusal where the line encloses nothing.
    """
    within = polygons_of(valid(Polygon(drawn))) if len(drawn) > 2 else []
    # Where the end overshoots the beginning, or the line crosses itself, what is encloses most was meant.
    meant = max(within, key=lambda part: float(part.area), default=Polygon())
    if meant.area < _LEAST_MM2:
        raise Refusal("outline-encloses-nothing")
    ring = shapely.get_coordinates(meant.exterior)
    shake = min(_MOST_SHAKE_MM, _SHAKE * float(np.ptp(ring, axis=0).max()))
    smooth = np.concatenate([_smoothed(stretch, shake) for stretch in _stretches(ring, shake)])
    outline = shapely.simplify(Polygon(smooth), shake / 40)
    return shapely.get_coordinates(outline.exterior)[:-1] if outline.is_valid else ring[:-1]


def _stretches(ring: NDArray[np.float64], shake: float) -> list[NDArray[np.float64]]:
    """Return the stretches of a closed ring from corner to corner, or one that closes if it has none."""
    corners = _corners(ring, shake)
    if not len(corners):
        return [ring]
    turned = np.concatenate([ring[corners[0] : -1], ring[: corners[0] + 1]])
    ends = [*(corners - corners[0]).tolist(), len(turned) - 1]
    return [turned[start : end + 1] for start, end in pairwise(ends)]


def _corners(ring: NDArray[np.float64], shake: float) -> NDArray[np.int64]:
    """Return which points of a closed ring are corners."""
    # From its outermost point on, lest the beginning is taken for a corner.
    first = int(np.argmax(norms(ring - ring.mean(axis=0))))
    turned = np.concatenate([ring[first:-1], ring[: first + 1]])
    rough = shapely.get_coordinates(shapely.simplify(LineString(turned), 2 * shake))[:-1]
    sharp = rough[_turns_sharply(np.roll(rough, 1, axis=0), rough, np.roll(rough, -1, axis=0))]
    # A round turns as much from far to far, a corner from near to near.
    outline = LineString(ring)
    along = shapely.line_locate_point(outline, shapely.points(sharp))
    before, after = (
        shapely.get_coordinates(
            shapely.line_interpolate_point(outline, np.mod(along + reach, outline.length))
        )
        for reach in (-_NEAR * shake, _NEAR * shake)
    )
    sharp = sharp[_turns_sharply(before, sharp, after)]
    return np.flatnonzero((ring[:-1, None] == sharp[None]).all(axis=2).any(axis=1))


def _turns_sharply(
    before: NDArray[np.float64], at: NDArray[np.float64], after: NDArray[np.float64]
) -> NDArray[np.bool_]:
    turned: NDArray[np.bool_] = (unit(at - before) * unit(after - at)).sum(axis=1) < _CORNER_COS
    return turned


def _smoothed(line: NDArray[np.float64], shake: float) -> NDArray[np.float64]:
    """Return a line's points without the last, smoothed as far as they stray no further than a shake."""
    closes = bool((line[0] == line[-1]).all())
    count = max(round(LineString(line).length / shake * _FINE), 8)
    evenly = np.arange(count if closes else count + 1) / count
    points = shapely.get_coordinates(
        shapely.line_interpolate_point(LineString(line), evenly, normalized=True)
    )
    smooth = points
    for reach in _REACHES:
        once = _blurred(points, reach, closes)
        # What one blur shrinks, the other shows and takes back.
        smoother = 2 * once - _blurred(once, reach, closes)
        if norms(smoother - points).max() > shake:
            break
        smooth = smoother
    return smooth if closes else smooth[:-1]


def _blurred(points: NDArray[np.float64], reach: int, closes: bool) -> NDArray[np.float64]:
    """Return points (n, 2) each as the mean of those about it, weighted by a bell curve; ends stay."""
    reach = min(reach, (len(points) - 1) // 3)
    away = np.arange(-3 * reach, 3 * reach + 1)
    weights = np.exp(-0.5 * (away / max(reach, 1)) ** 2)
    before, after = points[-3 * reach :][: 3 * reach], points[: 3 * reach]
    if not closes:
        before = 2 * points[0] - points[3 * reach : 0 : -1]
        after = 2 * points[-1] - points[-2 : -2 - 3 * reach : -1]
    run = np.concatenate([before, points, after])
    return np.stack([np.convolve(axis, weights / weights.sum(), "valid") for axis in run.T], axis=1)
