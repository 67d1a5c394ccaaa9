"""The card with its mends: each change made in turn, those whose place is gone told."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import groupby
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.design.design import Left
from peekpaper.design.mending.frame import frame_around
from peekpaper.design.mending.mends import (
    AddBar,
    AddCard,
    AddFrame,
    CutOpening,
    DivideCard,
    DropSpecks,
    Fate,
    FillOpening,
    FillSmall,
    LeaveAsIs,
    Mend,
    Outline,
    RubOut,
    SettleBit,
    Smooth,
    Thicken,
)
from peekpaper.design.mending.smoothing import smoothed, without_sharp_corners
from peekpaper.design.mending.surroundings import Surroundings
from peekpaper.design.mending.work import refuse_too_much
from peekpaper.design.placing import Placing
from peekpaper.geometry.affine import moved
from peekpaper.geometry.areas import as_area, geometries, holes_of
from peekpaper.geometry.grid import Cap, grown
from peekpaper.geometry.overlay import difference, intersection, symmetric_difference, union_all, valid
from peekpaper.geometry.polyline import run_on

_REACH_MM = 0.05
"""How far from card a bar's end may lie and still stand on it: what rounding and another reading may move."""
_LEAST_MM = 1e-9
"""A gap of less is a rounding error of the overlay."""
_SEGMENTS = 12
"""Segments of a quarter turn where strokes end round (mm wide, so flat to a thousandth of a millimetre)."""


@dataclass(frozen=True, slots=True)
class MendedCard:
    """The card in mm after its mends, the ids of those that found nothing, and what stays as it is."""

    area: MultiPolygon
    lost: tuple[str, ...]
    left: tuple[Left, ...]


@dataclass(frozen=True, slots=True)
class _Done:
    """What a run of mends of one kind made of the card, and which of them (n) did something."""

    area: MultiPolygon
    did: NDArray[np.bool_]


def apply_mends(area: MultiPolygon, mends: Sequence[Mend], placing: Placing) -> MendedCard:
    """Return a card in mm after its mends, which are in px of the drawing that `placing` brought to mm.

    A mend changes what the ones before it left. Where it finds no card, opening or loose bit to act on it
    does nothing and is told as lost. Raises Refusal for mends that ask for too much work.
    """
    refuse_too_much([mend.change for mend in mends])
    lost: list[str] = []
    left: list[Left] = []
    for kind, run in groupby(mends, key=lambda mend: type(mend.change)):
        some = list(run)
        act = _nothing_done if area.is_empty and kind in _ON_CARD else _KINDS[kind]
        done = act(area, [mend.change for mend in some], placing)
        area = done.area
        lost += [mend.id for mend, did in zip(some, done.did, strict=True) if not did]
        left += [
            each for mend, did in zip(some, done.did, strict=True) if did for each in _left_by(mend, placing)
        ]
    return MendedCard(area, tuple(lost), tuple(left))


def _left_by(mend: Mend, placing: Placing) -> Iterator[Left]:
    """Yield what a mend leaves as it is: bits that are glued by hand are no fault any more."""
    change = mend.change
    if isinstance(change, SettleBit) and change.fate is Fate.GLUE:
        yield Left("loose-bit", placing.place(change.at))
    elif isinstance(change, LeaveAsIs):
        within = placing.area(_within_outlines(change.outlines)) if change.outlines else None
        yield Left(mend.finding, within)


def _bars(area: MultiPolygon, bars: Sequence[AddBar], placing: Placing) -> _Done:
    """Add bars that end in card, or in one another, on both sides; beyond thin card nothing juts out."""
    lines, widths = _lines(bars, placing)
    shapely.prepare(area)
    strokes = _strokes(lines, widths, "flat")
    starts, ends = shapely.get_point(lines, 0), shapely.get_point(lines, -1)
    stand = [_standing(area, strokes, points) for points in (starts, ends)]
    did = stand[0] & stand[1]
    reached = _strokes(_lengthened(lines[did], widths[did]), widths[did], "flat")
    beside = Surroundings(area).beside(list(reached))
    added = [
        _within(line, stroke, out) for line, stroke, out in zip(lines[did], reached, beside, strict=True)
    ]
    return _Done(as_area(union_all([area, *added])), did)


def _standing(
    area: MultiPolygon, strokes: NDArray[np.object_], points: NDArray[np.object_]
) -> NDArray[np.bool_]:
    """Tell which bars' ends (n) stand on card, or on another of the bars."""
    stands: NDArray[np.bool_] = shapely.dwithin(area, points, _REACH_MM)
    end, bar = shapely.STRtree(strokes).query(points, predicate="dwithin", distance=_REACH_MM)
    stands[end[end != bar]] = True
    return stands


def _lengthened(lines: NDArray[np.object_], by: NDArray[np.float64]) -> NDArray[np.object_]:
    """Return lines run on straight at both ends, so that strokes meet slanting edges all across."""
    return geometries([run_on(line, float(reach)) for line, reach in zip(lines, by, strict=True)])


def _within(line: LineString, stroke: Polygon, beside: MultiPolygon) -> BaseGeometry:
    """Return a bar's stroke without what juts out beyond card into openings that its line does not cross.

    `beside` is what of the stroke is no card. What is left overlaps the card, for unions of areas that only
    share edges can go astray.
    """
    gaps = intersection(line, beside)
    if gaps.length < _LEAST_MM:
        # A bar all on card has nothing to cross; what it widens is meant.
        return stroke
    outside = geometries(list(beside.geoms))
    beyond = outside[~shapely.intersects(outside, gaps)]
    return difference(stroke, union_all(beyond)) if len(beyond) else stroke


def _thicker(area: MultiPolygon, changes: Sequence[Thicken], placing: Placing) -> _Done:
    lines, widths = _lines(changes, placing)
    shapely.prepare(area)
    did = np.asarray(shapely.dwithin(area, lines, _REACH_MM))
    strokes = _strokes(lines[did], widths[did], "round")
    return _Done(as_area(union_all([area, *strokes])), did)


def _carded(area: MultiPolygon, changes: Sequence[AddCard], placing: Placing) -> _Done:
    patches = geometries([card_of(change, placing) for change in changes])
    shapely.prepare(area)
    did = ~np.asarray(shapely.covers(area, patches))
    return _Done(as_area(union_all([area, *patches[did]])), did)


def card_of(change: AddCard, placing: Placing) -> MultiPolygon:
    """Return the card in mm that a change adds, where its outlines lie and at each turn."""
    own = _within_outlines(change.outlines)
    turned = [
        shapely.transform(own, partial(moved, matrix=np.array(turn).reshape(2, 3))) for turn in change.turns
    ]
    return placing.area(as_area(union_all([own, *turned])))


def _within_outlines(outlines: Sequence[Outline]) -> MultiPolygon:
    """Return the area within closed outlines, of which those inside others are holes."""
    within: BaseGeometry = MultiPolygon()
    for outline in outlines:
        within = symmetric_difference(within, as_area(valid(Polygon(outline))))
    return as_area(within)


def _rubbed(area: MultiPolygon, changes: Sequence[RubOut], placing: Placing) -> _Done:
    lines, radii = _lines(changes, placing)
    strokes = _strokes(lines, 2 * radii, "round")
    return _Done(as_area(difference(area, union_all(strokes))), _meet(area, strokes))


def _cut(area: MultiPolygon, changes: Sequence[CutOpening], placing: Placing) -> _Done:
    drawn = [valid(Polygon(placing.places(change.outline))) for change in changes]
    outlines = geometries([as_area(outline) for outline in drawn])
    return _Done(as_area(difference(area, union_all(outlines))), _meet(area, outlines))


def _meet(area: MultiPolygon, shapes: NDArray[np.object_]) -> NDArray[np.bool_]:
    shapely.prepare(area)
    return np.asarray(shapely.intersects(area, shapes))


def _filled(area: MultiPolygon, changes: Sequence[FillOpening], placing: Placing) -> _Done:
    holes = geometries(holes_of(area))
    places = geometries([placing.place(change.at) for change in changes])
    did = ~np.asarray(shapely.intersects(area, places))
    place, hole = shapely.STRtree(holes).query(places, predicate="within")
    largest_first = np.argsort(-shapely.area(holes[hole]), kind="stable")
    innermost = dict(zip(place[largest_first].tolist(), hole[largest_first].tolist(), strict=True))
    did &= np.isin(np.arange(len(places)), list(innermost))
    wanted = holes[[innermost[at] for at in np.flatnonzero(did).tolist()]]
    return _Done(as_area(union_all([area, *wanted])) if did.any() else area, did)


def _small_filled(area: MultiPolygon, changes: Sequence[FillSmall], placing: Placing) -> _Done:
    least = max(change.area for change in changes) * placing.mm_per_px**2
    small = [hole for hole in holes_of(area) if hole.area < least]
    filled = as_area(union_all([area, *small])) if small else area
    return _Done(filled, np.full(len(changes), bool(small)))


def _bits(area: MultiPolygon, changes: Sequence[SettleBit], placing: Placing) -> _Done:
    """Let dropped bits go; the largest part of the card is no bit."""
    parts = geometries(area.geoms)
    places = geometries([placing.place(change.at) for change in changes])
    bit, part = shapely.STRtree(parts).query(places, predicate="dwithin", distance=_REACH_MM)
    known = part != int(np.argmax(shapely.area(parts)))
    did = np.isin(np.arange(len(places)), bit[known])
    drop = [
        which
        for at, which in zip(bit[known].tolist(), part[known].tolist(), strict=True)
        if changes[at].fate is Fate.DROP
    ]
    return _Done(MultiPolygon(np.delete(parts, drop).tolist()), did)


def _nothing_done(area: MultiPolygon, changes: Sequence[Any], _placing: Placing) -> _Done:
    return _Done(area, np.zeros(len(changes), bool))


def _as_it_is(
    area: MultiPolygon, changes: Sequence[LeaveAsIs] | Sequence[DivideCard], _placing: Placing
) -> _Done:
    return _Done(area, np.ones(len(changes), bool))


def _without_specks(area: MultiPolygon, changes: Sequence[DropSpecks], placing: Placing) -> _Done:
    parts = geometries(area.geoms)
    sizes = shapely.area(parts)
    least = max(change.area for change in changes) * placing.mm_per_px**2
    kept = (sizes >= least) | (sizes == sizes.max())
    return _Done(MultiPolygon(parts[kept].tolist()), np.full(len(changes), not kept.all()))


def _smoothed(area: MultiPolygon, changes: Sequence[Smooth], placing: Placing) -> _Done:
    for change in changes:
        if change.tolerance > 0:
            area = smoothed(area, change.tolerance * placing.mm_per_px)
        if change.corner > 0:
            area = without_sharp_corners(area, change.corner * placing.mm_per_px)
    return _Done(area, np.ones(len(changes), bool))


def _framed(area: MultiPolygon, changes: Sequence[AddFrame], placing: Placing) -> _Done:
    for change in changes:
        area = frame_around(area, change, placing.mm_per_px)
    return _Done(area, np.ones(len(changes), bool))


def _lines(
    changes: Sequence[AddBar] | Sequence[Thicken] | Sequence[RubOut], placing: Placing
) -> tuple[NDArray[np.object_], NDArray[np.float64]]:
    """Return the lines (n) of changes in mm, and their widths or radii (n)."""
    lines = geometries([LineString(placing.places(change.line)) for change in changes])
    sizes = [change.radius if isinstance(change, RubOut) else change.width for change in changes]
    return lines, np.array(sizes) * placing.mm_per_px


def _strokes(lines: NDArray[np.object_], widths: NDArray[np.float64], cap: Cap) -> NDArray[np.object_]:
    """Return lines (n) drawn as wide as `widths` (n)."""
    strokes = np.empty(len(lines), dtype=object)
    for width in np.unique(widths).tolist():
        same = widths == width
        strokes[same] = grown(lines[same], width / 2, _SEGMENTS, cap_style=cap)
    return strokes


_KINDS: Mapping[type, Callable[[MultiPolygon, Sequence[Any], Placing], _Done]] = {
    AddBar: _bars,
    AddCard: _carded,
    Thicken: _thicker,
    RubOut: _rubbed,
    CutOpening: _cut,
    FillOpening: _filled,
    FillSmall: _small_filled,
    SettleBit: _bits,
    LeaveAsIs: _as_it_is,
    DivideCard: _as_it_is,
    DropSpecks: _without_specks,
    Smooth: _smoothed,
    AddFrame: _framed,
}
_ON_CARD = frozenset({SettleBit, DropSpecks, Smooth, AddFrame})
"""What asks for the size or the largest part of the card, so that it has no place where no card is left."""
