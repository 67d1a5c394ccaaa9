"""The area of a stroke: the line's width, its joins and its caps (SVG 2, chapter 13.5 to 13.7)."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.drawing.areas.valid_areas import NOTHING, join, make_polygons
from peekpaper.drawing.drawing import Area
from peekpaper.drawing.outlines.matrix import Points
from peekpaper.drawing.outlines.path import Polyline

_RUN = 48
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


@dataclass(frozen=True, slots=True, eq=False)
class Band:
    """The two edges of a smooth stretch of stroke, and the corners where it starts and ends.

    A corner is empty where none is. The joins have it as a node, so that the band must have it too: rounding
    would part them else.
    """

    near: Points
    far: Points
    start: Points
    end: Points

    @property
    def outline(self) -> Points:
        """The band's outline, there along one side, and back along the other."""
        return np.concatenate((self.near, self.end, self.far[::-1], self.start))


def stroke_area(polylines: Sequence[Polyline], nib: Nib, tolerance: float) -> Area:
    """Return what a stroke along `polylines` covers, with its arcs within `tolerance` of truth.

    It is the union of a band along each smooth stretch, a join at each corner and a cap at each end.
    """
    plain = [polyline.points for polyline in polylines if _is_plain(polyline)]
    strokers = [_Stroker(polyline, nib, tolerance) for polyline in polylines if not _is_plain(polyline)]
    bands = [band for stroker in strokers for band in stroker.bands()]
    patches = [patch for stroker in strokers for patch in (*stroker.joins(), *stroker.caps())]
    parts = [*_plain_strokes(plain, nib, tolerance), *_simple_bands(bands), *make_polygons(patches)]
    return join(parts) if parts else NOTHING


def _is_plain(polyline: Polyline) -> bool:
    """Tell whether a line is a single segment, as most dashes are."""
    points = polyline.points
    return len(points) == 2 and not polyline.closed and points[0] != points[1]


def _plain_strokes(segments: Sequence[Points], nib: Nib, tolerance: float) -> list[Polygon]:
    """Return the strokes of single segments, all at once."""
    if not segments:
        return []
    starts, ends = np.array(segments).T
    ways = (ends - starts) / np.abs(ends - starts) * nib.width / 2
    corners = np.array([-1j, 1j])
    if nib.cap is Cap.ROUND:
        corners = np.exp(1j * math.pi * (_steps(_count_chords(math.pi, nib.width / 2, tolerance)) - 0.5))
    elif nib.cap is Cap.SQUARE:
        corners = np.array([1 - 1j, 1 + 1j])
    around = np.outer(ways, corners)
    outlines = np.concatenate((ends[:, None] + around, starts[:, None] - around), axis=1)
    rings = shapely.linearrings(np.stack((outlines.real, outlines.imag), axis=-1))
    return list(np.atleast_1d(np.asarray(shapely.polygons(rings))))


def _step(half: float, tolerance: float) -> float:
    """Return the angle of a chord that strays from its circle by `tolerance`."""
    return max(0.01, 2 * math.acos(1 - min(1.0, tolerance / half)))


def _count_chords(turn: float, half: float, tolerance: float) -> int:
    return max(2, math.ceil(abs(turn) / _step(half, tolerance)))


def _simple_bands(bands: Sequence[Band]) -> list[Polygon]:
    """Return bands as polygons; one that overlaps itself falls to the quadrilaterals of its chords."""
    polygons = make_polygons([band.outline for band in bands])
    valid = shapely.is_valid(polygons)
    quads = [quad for band, good in zip(bands, valid, strict=True) if not good for quad in _quads(band)]
    return [*(polygon for polygon, good in zip(polygons, valid, strict=True) if good), *make_polygons(quads)]


def _quads(band: Band) -> Iterator[Points]:
    for i in range(len(band.near) - 1):
        yield np.array([band.near[i], band.near[i + 1], band.far[i + 1], band.far[i]])


class _Stroker:
    """One subpath's stroke. `_turns` are the turns at the inner points; at last the one where it closes."""

    def __init__(self, polyline: Polyline, nib: Nib, tolerance: float) -> None:
        moved = np.concatenate(([True], polyline.points[1:] != polyline.points[:-1]))
        self._points = polyline.points[moved]
        # A joint that repeats a point may be marked at either of the two.
        self._joints = np.logical_or.reduceat(polyline.joints, np.flatnonzero(moved))
        self._closed = polyline.closed and len(self._points) > 2
        self._nib = nib
        self._half = nib.width / 2
        self._step = _step(self._half, tolerance)
        chords = np.diff(self._points)
        lengths = np.abs(chords)
        self._ways = chords / lengths
        after = np.roll(self._ways, -1) if self._closed else self._ways[1:]
        self._turns = np.angle(after / self._ways[: len(after)])
        self._corners = self._find_corners(lengths)

    def _find_corners(self, lengths: NDArray[np.float64]) -> NDArray[np.bool_]:
        """Tell where a band can't just bend: its outer edge would stray, or its inner edge fold back."""
        turns = np.abs(self._turns)
        count = len(turns)
        shortest = np.minimum(lengths[:count], np.roll(lengths, -1)[:count])
        # A bend takes this much from the inner edge of both chords, which may bend at their other ends too.
        folds = self._half * np.tan(np.minimum(turns, 3.0) / 2) > 0.45 * shortest
        limit = np.where(self._joints[1 : count + 1], self._bend_at_joints(), self._step)
        return (folds | (turns > limit)) & (turns > 1e-9)

    def _bend_at_joints(self) -> float:
        """Return the turn up to which the mitered bend of a band is as good as the join."""
        if self._nib.join is Join.ROUND:
            return self._step
        if self._nib.join is Join.BEVEL:
            return 0.7 * self._step
        return min(3.0, 2 * math.acos(1 / max(1.0, self._nib.miter_limit)))

    def bands(self) -> Iterator[Band]:
        """Yield the bands between corners, cut into runs."""
        if not len(self._ways):
            return
        normals = 1j * self._ways * self._half
        bends = normals[: len(self._turns)] * (1 + 1j * np.tan(self._turns / 2))
        before, after = normals.copy(), normals.copy()
        smooth = np.flatnonzero(~self._corners)
        before[smooth] = bends[smooth]
        after[(smooth + 1) % len(normals)] = bends[smooth]
        for low, high in self._runs():
            offsets = np.concatenate((after[low:high], before[high - 1 : high]))
            middle = self._points[low : high + 1]
            start, end = self._corner(low), self._corner(high)
            yield Band(middle + offsets, middle - offsets, start, end)

    def _corner(self, index: int) -> Points:
        """Return the point `index` where it is a corner, else nothing; a closed line ends where it starts."""
        turn = index - 1 if index > 0 or self._closed else len(self._corners)
        return self._points[index : index + 1][: int(turn < len(self._corners) and self._corners[turn])]

    def _runs(self) -> Iterator[tuple[int, int]]:
        low, count = 0, len(self._ways)
        stops = [*(np.flatnonzero(self._corners[: count - 1]) + 1), count]
        for stop in stops:
            for start in range(low, int(stop), _RUN):
                yield start, min(start + _RUN, int(stop))
            low = int(stop)

    def joins(self) -> Iterator[Points]:
        """Yield the join at each corner; inside a curve it is round, whatever the style."""
        for i in np.flatnonzero(self._corners):
            before, turn = complex(self._ways[i]), float(self._turns[i])
            point = complex(self._points[i + 1])
            outward = before * (-1j if turn > 0 else 1j)
            if not self._joints[i + 1]:
                # Where a curve is tighter than the nib is wide, the nib's inner end sweeps over an area too.
                yield self._sector(point, -outward, turn)
            if not self._joints[i + 1] or self._nib.join is Join.ROUND:
                yield self._sector(point, outward, turn)
                continue
            after = before * complex(math.cos(turn), math.sin(turn))
            tip = self._tip(point, outward, turn)
            if tip or abs(turn) < math.pi - 1e-9:
                last = after * (-1j if turn > 0 else 1j)
                yield np.array([point, point + outward * self._half, *tip, point + last * self._half])

    def _tip(self, point: complex, outward: complex, turn: float) -> list[complex]:
        """Return the points between the outer edges of the two strokes at a corner, none for a bevel."""
        if self._nib.join is Join.BEVEL:
            return []
        cosine, sine = math.cos(abs(turn) / 2), math.sin(abs(turn) / 2)
        middle = outward * complex(cosine, math.copysign(sine, turn))
        if self._nib.miter_limit * cosine >= 1:
            return [point + middle * self._half / cosine]
        if self._nib.join is Join.MITER_CLIP:
            return self._clipped_tip(point, middle, turn)
        return []

    def _clipped_tip(self, point: complex, middle: complex, turn: float) -> list[complex]:
        """Return the two points where the line across a miter at half its limit cuts the outer edges."""
        cosine, sine = math.cos(abs(turn) / 2), math.sin(abs(turn) / 2)
        reach = self._nib.miter_limit * self._half
        # From the end of the edge, at `half * cosine` along the middle, the edge runs on in the direction
        # (sine, -cosine) seen from the middle.
        if reach <= self._half * cosine or sine == 0:
            return []
        spread = (self._half * sine - (reach - self._half * cosine) * cosine / sine) * math.copysign(1, turn)
        tip = point + middle * reach
        return [tip - 1j * middle * spread, tip + 1j * middle * spread]

    def caps(self) -> Iterator[Points]:
        """Yield the caps of an open line; one without length is a disc or upright square (SVG 2, 13.5.4)."""
        if self._closed:
            return
        if not len(self._ways):
            yield from self._dot(complex(self._points[0]))
            return
        ends = ((self._points[0], -self._ways[0]), (self._points[-1], self._ways[-1]))
        for point, way in ends:
            side, ahead = 1j * way * self._half, way * self._half
            if self._nib.cap is Cap.ROUND:
                yield self._sector(complex(point), complex(-1j * way), math.pi)
            elif self._nib.cap is Cap.SQUARE:
                yield point + np.array([-side, ahead - side, ahead + side, side])

    def _dot(self, point: complex) -> Iterator[Points]:
        if self._nib.cap is Cap.ROUND:
            yield self._sector(point, 1 + 0j, math.tau)
        elif self._nib.cap is Cap.SQUARE:
            yield np.array([point + self._half * corner for corner in (-1 - 1j, 1 - 1j, 1 + 1j, -1 + 1j)])

    def _sector(self, point: complex, way: complex, turn: float) -> Points:
        """Return the part of a disc from the direction `way` over the angle `turn`."""
        count = max(2, math.ceil(abs(turn) / self._step))
        arc = point + self._half * way * np.exp(1j * turn * _steps(count))
        return np.concatenate((arc, (point,))) if abs(turn) < math.pi - 1e-9 else arc


@lru_cache(maxsize=64)
def _steps(count: int) -> NDArray[np.float64]:
    """Return the way from 0 to 1 in so many steps."""
    return np.linspace(0, 1, count + 1)
