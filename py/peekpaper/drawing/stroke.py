"""The area of a stroke: the line's width, its joins and its caps (SVG 2, chapter 13.5 to 13.7)."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

import numpy as np
import shapely
from numpy.typing import NDArray

from peekpaper.drawing.areas import NOTHING, join
from peekpaper.drawing.drawing import Area
from peekpaper.drawing.matrix import Points
from peekpaper.drawing.path import Polyline

_RUN = 24
"""Smooth chords are gathered into strips of at most so many."""


class Cap(StrEnum):
    """How the ends of an open line look."""

    BUTT = "butt"
    ROUND = "round"
    SQUARE = "square"


class Join(StrEnum):
    """How corners look; `arcs` falls back to `miter`, as SVG 2 allows."""

    MITER = "miter"
    MITER_CLIP = "miter-clip"
    ROUND = "round"
    BEVEL = "bevel"


@dataclass(frozen=True, slots=True)
class Nib:
    """What a stroke is drawn with; `width` in the units of the polylines."""

    width: float
    cap: Cap = Cap.BUTT
    join: Join = Join.MITER
    miter_limit: float = 4.0


def stroke_area(polylines: Sequence[Polyline], nib: Nib, tolerance: float) -> Area:
    """Return what a stroke along `polylines` covers, with its arcs within `tolerance` of truth.

    It is the union of a band along each smooth stretch, a join at each corner and a cap at each end.
    """
    parts = [part for polyline in polylines for part in _Stroker(polyline, nib, tolerance).parts()]
    return join(shapely.polygons([shapely.linearrings(_xy(part)) for part in parts])) if parts else NOTHING


def _xy(points: Points) -> NDArray[np.float64]:
    return np.column_stack((points.real, points.imag))


class _Stroker:
    """One subpath's stroke; all `parts` are simple outlines."""

    def __init__(self, polyline: Polyline, nib: Nib, tolerance: float) -> None:
        moved = np.concatenate(([True], polyline.points[1:] != polyline.points[:-1]))
        self._points = polyline.points[moved]
        self._nib = nib
        self._half = nib.width / 2
        self._fan = 2 * math.acos(max(0.0, 1 - min(1.0, tolerance / self._half))) or 0.01
        # A joint that repeats a point may be marked at either of the two.
        self._joints = np.logical_or.reduceat(polyline.joints, np.flatnonzero(moved))
        self._closed = polyline.closed and len(self._points) > 2

    def parts(self) -> Iterator[Points]:
        if len(self._points) < 2:
            yield from self._dot()
            return
        chords = np.diff(self._points)
        lengths = np.abs(chords)
        ways = chords / lengths
        # The turn at each inner point; for a closed line, last the one at its start.
        turns = np.angle(ways[1:] / ways[:-1])
        if self._closed:
            turns = np.append(turns, np.angle(ways[0] / ways[-1]))
        corners = self._is_corner(turns, lengths)
        for i in np.flatnonzero(corners):
            after = ways[(i + 1) % len(ways)]
            yield from self._join(int(i) + 1, complex(ways[i]), complex(after), float(turns[i]))
        yield from self._bands(ways, turns, corners)
        if not self._closed:
            yield from self._cap(complex(self._points[0]), complex(-ways[0]))
            yield from self._cap(complex(self._points[-1]), complex(ways[-1]))

    def _is_corner(self, turns: NDArray[np.float64], lengths: NDArray[np.float64]) -> NDArray[np.bool_]:
        """Tell where a band can't just bend: its outer edge would stray, or its inner edge fold."""
        after = np.append(lengths[1:], lengths[0]) if self._closed else lengths[1:]
        shortest = np.minimum(lengths[: len(turns)], after)
        with np.errstate(over="ignore", invalid="ignore"):
            folds = self._half * np.tan(np.minimum(np.abs(turns), 3.1) / 2) > 0.9 * shortest
        sharp = np.abs(turns) > np.where(self._at_joint(len(turns)), 1e-3, self._fan)
        return (sharp | folds) & (np.abs(turns) > 1e-12)

    def _at_joint(self, count: int) -> NDArray[np.bool_]:
        return self._joints[1 : count + 1]

    def _bands(
        self, ways: Points, turns: NDArray[np.float64], corners: NDArray[np.bool_]
    ) -> Iterator[Points]:
        """Yield the bands between corners, cut into runs; a run that overlaps itself falls to single chords."""
        count = len(ways)
        offsets_after = 1j * ways * self._half
        offsets_before = offsets_after.copy()
        smooth = ~corners
        turned = np.exp(0.5j * turns) / np.cos(turns / 2)
        after = (np.arange(len(turns)) + 1) % count
        bent = offsets_after[: len(turns)] * turned
        offsets_before[: len(turns)] = np.where(smooth, bent, offsets_after[: len(turns)])
        offsets_start = offsets_after.copy()
        offsets_start[after] = np.where(smooth, bent, offsets_after[after])
        breaks = [0]
        for i in range(1, count):
            if corners[i - 1] or i - breaks[-1] >= _RUN:
                breaks.append(i)
        breaks.append(count)
        starts, ends = self._points[:-1], self._points[1:]
        for low, high in zip(breaks, breaks[1:], strict=False):
            side = np.append(
                starts[low:high] + offsets_start[low:high], ends[high - 1] + offsets_before[high - 1]
            )
            other = np.append(
                starts[low:high] - offsets_start[low:high], ends[high - 1] - offsets_before[high - 1]
            )
            outline = np.concatenate((side, other[::-1]))
            if high - low == 1 or shapely.is_valid(shapely.Polygon(_xy(outline))):
                yield outline
                continue
            for i in range(low, high):
                yield np.array([
                    starts[i] + offsets_start[i], ends[i] + offsets_before[i],
                    ends[i] - offsets_before[i], starts[i] - offsets_start[i],
                ])  # fmt: skip

    def _join(self, index: int, before: complex, after: complex, turn: float) -> Iterator[Points]:
        point = complex(self._points[index])
        sign = -1 if turn > 0 else 1
        start, end = point + sign * 1j * before * self._half, point + sign * 1j * after * self._half
        if not self._joints[index] or self._nib.join is Join.ROUND:
            yield self._sector(point, sign * 1j * before, turn)
            return
        tip = [] if self._nib.join is Join.BEVEL else self._tip(point, before, turn, sign)
        outline = np.array([point, start, *tip, end])
        if abs(turn) < math.pi - 1e-9 or tip:
            yield outline

    def _tip(self, point: complex, before: complex, turn: float, sign: int) -> list[complex]:
        """Return the point or points between the two outer edges of a miter join."""
        ratio = 1 / max(1e-12, math.cos(turn / 2))
        outward = sign * 1j * before * complex(math.cos(turn / 2), math.sin(turn / 2))
        if ratio <= self._nib.miter_limit:
            return [point + outward * self._half * ratio]
        if self._nib.join is not Join.MITER_CLIP:
            return []
        # The clip line lies half the miter limit times the width from the corner, across the miter.
        reach = self._nib.miter_limit * self._half
        half_angle = abs(turn) / 2
        base = self._half * math.cos(half_angle)
        if reach <= base:
            return []
        along = before * outward.conjugate()
        slope = abs(along.imag) / max(1e-12, abs(along.real))
        spread = self._half * math.sin(half_angle) - (reach - base) * slope
        side = outward * 1j * (1 if (before / outward).imag < 0 else -1)
        return [point + outward * reach + side * spread, point + outward * reach - side * spread]

    def _cap(self, point: complex, way: complex) -> Iterator[Points]:
        if self._nib.cap is Cap.ROUND:
            yield self._sector(point, -1j * way, math.pi)
        elif self._nib.cap is Cap.SQUARE:
            side, ahead = 1j * way * self._half, way * self._half
            yield np.array([point - side, point - side + ahead, point + side + ahead, point + side])

    def _dot(self) -> Iterator[Points]:
        """Yield the caps of a subpath of no length: a disc, or a square along the axes (SVG 2, 13.5.4)."""
        point = complex(self._points[0])
        if self._nib.cap is Cap.ROUND:
            yield self._sector(point, 1 + 0j, math.tau)
        elif self._nib.cap is Cap.SQUARE:
            yield point + self._half * np.array([-1 - 1j, 1 - 1j, 1 + 1j, -1 + 1j])

    def _sector(self, point: complex, way: complex, turn: float) -> Points:
        count = max(2, math.ceil(abs(turn) / self._fan))
        arc = point + self._half * way * np.exp(1j * turn * np.linspace(0, 1, count + 1))
        return arc if abs(turn) > math.pi - 1e-9 else np.append(arc, point)
