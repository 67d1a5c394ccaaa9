"""Mends drawn by hand: a finger's line made a bar from edge to edge, and what can't be done said."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import ClassVar, TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Point
from shapely.geometry.base import BaseGeometry
from shapely.ops import substring

from peekpaper.design.design import Design, Limits
from peekpaper.design.mending.effect import Effect, effect_of, placing_of, whole_card
from peekpaper.design.mending.hand_outline import meant_outline
from peekpaper.design.mending.holding import hold_parts
from peekpaper.design.mending.mend_all import SPARE_MM
from peekpaper.design.mending.mends import (
    AddBar,
    AddFrame,
    Change,
    CutOpening,
    FillOpening,
    Length,
    Line,
    Place,
    RubOut,
    SettleBit,
    Thicken,
)
from peekpaper.design.mending.shapes import CutShape, placed_outline
from peekpaper.design.mending.units import in_px
from peekpaper.geometry.areas import geometries
from peekpaper.geometry.grid import one_grown
from peekpaper.geometry.overlay import difference, intersection, polygons_of
from peekpaper.geometry.vectors import norms, unit
from peekpaper.refusal import Refusal

_MOST_GAPS = 6
"""A bar that crosses more openings than this was not meant (from memory)."""
_STRAIGHT = 0.06
"""A finger's line that strays no more than this share of its length was meant straight (from memory)."""
_SNAP_MM = 4.0
"""How far an end that hangs in an opening may be from the edge that it was meant for (from memory)."""
_TURNS = 4
"""Each turn meets the edges more squarely; after four the line stands (from memory)."""
_CURVE_MM = 0.5
"""Detail of a drawn line that is the shake of a finger, not meant (from memory)."""
_LEAST_GAP_MM = 0.02
"""A gap or length of less is none, whatever the overlay says."""
_TAP_MM = 2.0
"""How far beside a bar a tap may lie that means it (from memory)."""
_OVER_MM = 0.02
"""A bar is cut out with so much of what is beside it that nothing stays."""


@dataclass(frozen=True, slots=True)
class DrawnShape:
    """A simple shape to cut out, drawn in mm from its middle to its edge."""

    kind: ClassVar[str] = "shape"
    shape: CutShape
    middle: Place
    edge: Place


@dataclass(frozen=True, slots=True)
class DrawnOutline:
    """An opening to cut along a line in mm, as a finger draws it: smoothed, and closed where it began."""

    kind: ClassVar[str] = "outline"
    line: Line


@dataclass(frozen=True, slots=True)
class TakenBar:
    """A bar between two openings to take out, tapped at a place in mm: the openings become one."""

    kind: ClassVar[str] = "take-bar"
    at: Place


@dataclass(frozen=True, slots=True)
class MovedBar:
    """A bar, in mm, as a hand laid it that moved one of its ends: it is not turned any more."""

    kind: ClassVar[str] = "moved-bar"
    line: Line
    width: Length


Drawn: TypeAlias = Change | DrawnShape | DrawnOutline | TakenBar | MovedBar
"""What a hand may ask for."""


def drawn(design: Design, asked: Drawn, limits: Limits) -> tuple[tuple[Change, ...], Effect]:
    """Return a change drawn by hand, in mm, as the mends in px that it becomes, and what they do.

    A bar is cut off at the outermost edges that it crosses, and turned to meet them squarely if it almost
    does. A frame that does not reach the card is joined to it by bars.
    Raises Refusal where there is nothing to change, or no card would be left.
    """
    if isinstance(asked, DrawnShape):
        change: Change = CutOpening(placed_outline(asked.shape, asked.middle, asked.edge))
    elif isinstance(asked, DrawnOutline):
        change = CutOpening(tuple(map(tuple, meant_outline(np.array(asked.line)).tolist())))
    elif isinstance(asked, TakenBar):
        change = _without_bar(design, Point(asked.at))
    elif isinstance(asked, MovedBar):
        change = _bar(_across(whole_card(design), LineString(asked.line), asked.width), asked.width)
    elif isinstance(asked, AddBar):
        change = _bar(_bar_line(whole_card(design), LineString(asked.line), asked.width), asked.width)
    else:
        change = asked
    if isinstance(change, RubOut):
        line = shapely.simplify(LineString(change.line), change.radius / 50)
        change = replace(change, line=tuple(map(tuple, shapely.get_coordinates(line).tolist())))
    mend = in_px(change, placing_of(design))
    mends: tuple[Change, ...] = (mend,)
    if isinstance(mend, AddFrame):
        mends = (mend, *_joined_to(mend, design, limits))
    effect = effect_of(design, mends)
    if effect.after.card.is_empty:
        raise Refusal("whole-card-gone")
    if effect.changed_mm2 < 1e-6 and not isinstance(change, SettleBit):
        raise _no_change(change)
    return mends, effect


def laid_over(asked: Drawn, one: Design, other: Design) -> Drawn:
    """Return what was drawn in mm of one design in mm of another one: mends may move the origin."""
    if not isinstance(asked, MovedBar | Thicken):
        return asked
    lines = placing_of(one).px_places(np.array(asked.line))
    return replace(asked, line=tuple(map(tuple, placing_of(other).places(lines).tolist())))


def _joined_to(frame: AddFrame, design: Design, limits: Limits) -> Iterator[AddBar]:
    """Yield the bars in px between a frame and the card inside it; what was loose before stays so."""
    after = effect_of(design, [frame]).after
    parts = [*after.card.geoms, *after.loose_bits.geoms]
    largest = max(range(len(parts)), key=lambda part: float(parts[part].area))
    loose = [bit.area.representative_point() for bit in design.loose_bits]
    apart = [
        part
        for part in range(len(parts))
        if part != largest and not any(parts[part].contains(point) for point in loose)
    ]
    placing, width = placing_of(design), limits.bar_mm + SPARE_MM
    for held in hold_parts(parts, apart, width):
        for line in held.bars:
            yield AddBar(placing.px_places(shapely.get_coordinates(line)), placing.px_length(width))


def _without_bar(design: Design, at: Point) -> CutOpening:
    """Return what cuts out the bar between two openings that lies at a place."""
    between = [bar.strip for bar in design.bars if bar.second is not None]
    if between:
        nearest = between[int(np.argmin(shapely.distance(geometries(between), at)))]
        if nearest.dwithin(at, _TAP_MM):
            part = min(shapely.get_parts(nearest), key=at.distance)
            around = one_grown(part, _OVER_MM, join_style="mitre")
            largest = max(polygons_of(around), key=lambda each: float(each.area))
            return CutOpening(tuple(map(tuple, shapely.get_coordinates(largest.exterior)[:-1].tolist())))
    raise Refusal("no-bar-here")


def _no_change(change: Change) -> Refusal:
    if isinstance(change, RubOut | CutOpening):
        return Refusal("no-card-here")
    if isinstance(change, FillOpening):
        return Refusal("no-opening-here")
    return Refusal("nothing-changes-here")


def _bar(line: LineString, width: float) -> AddBar:
    return AddBar(tuple(map(tuple, shapely.get_coordinates(line).tolist())), width)


def _bar_line(card: MultiPolygon, line: LineString, width: float) -> LineString:
    """Return the middle line of the bar that was meant by a finger's line in mm."""
    crossing = _across(card, _steadied(line), width)
    return _squared(card, crossing, width) if len(crossing.coords) == 2 else crossing


def _across(card: MultiPolygon, line: LineString, width: float) -> LineString:
    """Return a line in mm from the first edge of a card that it leaves to the last one that it comes to."""
    line = _hooked(card, line, max(_SNAP_MM, 2 * width))
    gaps = geometries(shapely.get_parts(difference(line, card)))
    gaps = gaps[shapely.length(gaps) > _LEAST_GAP_MM]
    for end in (Point(line.coords[0]), Point(line.coords[-1])):
        if not card.dwithin(end, _LEAST_GAP_MM):
            gaps = gaps[shapely.distance(gaps, end) > _LEAST_GAP_MM]
    if len(gaps) == 0:
        if card.covers(line):
            raise Refusal("bar-on-card")
        raise Refusal("bar-needs-ends")
    if len(gaps) > _MOST_GAPS:
        raise Refusal("bar-across-many", count=len(gaps), most=_MOST_GAPS)
    at = np.sort([line.project(Point(place)) for gap in gaps for place in (gap.coords[0], gap.coords[-1])])
    crossing = substring(line, float(at[0]), float(at[-1]))
    assert isinstance(crossing, LineString)
    return crossing


def _steadied(line: LineString) -> LineString:
    """Return a finger's line without its tremble: straight where it all but is, else a smooth curve."""
    nodes = shapely.get_coordinates(line)
    chord = LineString(nodes[[0, -1]])
    away = float(shapely.distance(chord, shapely.points(nodes)).max())
    if chord.length == 0:
        raise Refusal("bar-needs-ends")
    if away <= max(_STRAIGHT * chord.length, 0.3):
        return chord
    return LineString(_smooth(shapely.get_coordinates(shapely.simplify(line, _CURVE_MM))))


def _smooth(nodes: NDArray[np.float64]) -> NDArray[np.float64]:
    """Cut corners three times (Chaikin 1974); the ends stay."""
    for _ in range(3):
        first, second = nodes[:-1], nodes[1:]
        cut = np.stack([0.75 * first + 0.25 * second, 0.25 * first + 0.75 * second], axis=1).reshape(-1, 2)
        nodes = np.concatenate([nodes[:1], cut[1:-1], nodes[-1:]])
    return nodes


def _hooked(card: MultiPolygon, line: LineString, reach: float) -> LineString:
    """Return a line whose ends that hang in an opening go on to the nearest edge, if that is near."""
    nodes = shapely.get_coordinates(line)
    for end, before in ((0, 1), (-1, -2)):
        if card.dwithin(Point(nodes[end]), _LEAST_GAP_MM):
            continue
        onwards = nodes[end] - nodes[before]
        onwards = unit(onwards)
        hit = intersection(LineString([nodes[end], nodes[end] + reach * onwards]), card)
        target = hit if not hit.is_empty else card
        nearest = shapely.get_coordinates(shapely.shortest_line(Point(nodes[end]), target))[1]
        if norms(nearest - nodes[end]) <= reach:
            extra = nearest[None]
            nodes = np.concatenate([extra, nodes]) if end == 0 else np.concatenate([nodes, extra])
    straight = LineString(nodes[[0, -1]])
    near = shapely.distance(straight, shapely.points(nodes)).max() <= _STRAIGHT * straight.length
    return straight if near else LineString(nodes)


def _squared(card: MultiPolygon, line: LineString, width: float) -> LineString:
    """Return a straight line turned to meet both edges squarely, if its ends need not move far for that."""
    first, last = (Point(place) for place in line.coords)
    reach = min(max(1.5 * width, 1.0), line.length / 2)
    edge = card.boundary
    near: list[BaseGeometry] = [intersection(edge, end.buffer(reach)) for end in (first, last)]
    for _ in range(_TURNS):
        last = Point(shapely.shortest_line(first, near[1]).coords[1])
        first = Point(shapely.shortest_line(last, near[0]).coords[1])
    turned = LineString([first, last])
    ran = intersection(card, turned).length
    return turned if turned.length > _LEAST_GAP_MM and ran <= intersection(card, line).length + 0.05 else line
