"""Every finding of a design mended at once, in an order that does not undo itself.

First goes what is too small to be cut, then what is loose or apart is held, then what is too thin gets its
width. Bars that hold something are wide enough from the start, and wider card only brings parts nearer. All
is looked at again until nothing is left to do.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiPolygon, Polygon

from peekpaper.breathing import Breathing, telling
from peekpaper.design.design import Design, Left, Limits
from peekpaper.design.left import WIDTHS, are_left, area_left, is_left_anywhere
from peekpaper.design.mending.apply import apply_mends
from peekpaper.design.mending.effect import placing_of, whole_card
from peekpaper.design.mending.holding import holding
from peekpaper.design.mending.kept_alike import kept_alike
from peekpaper.design.mending.mends import (
    AddBar,
    Change,
    DropSpecks,
    Fate,
    FillOpening,
    Mend,
    SettleBit,
    Thicken,
)
from peekpaper.design.mending.surroundings import Surroundings
from peekpaper.design.mending.thin import thin_lines
from peekpaper.design.mending.touching import touching_lines
from peekpaper.design.placing import Placing
from peekpaper.geometry.areas import geometries, holes_of
from peekpaper.geometry.overlay import difference, union_all

SPARE_MM = 0.06
"""How much wider than the limit new card is made, so that no rounding makes it thin again."""
SPECK_MM2 = 1.0
"""Card and openings smaller than this no blade cuts clean (from memory)."""
_LOOK_MM = 0.015
"""Card so much wider than the limit is looked at too, as the look is that coarse; then it is measured."""
_ROUNDS = 5
"""A wider bar may leave another too thin; after five rounds what is left stays as it is (from memory)."""
_TRIES = 2
"""What is held in an opening may close it; then it is tried again without."""
_BACKED_MM2 = 25.0
"""An opening of this size is never closed by wider bars."""
_LEFT = 0.1
"""An opening of which less than this share would be left counts as closed (from memory)."""
_SLIM_MM = 0.8
"""Only openings whose area over their outline, half a slit's width, is less can be closed so."""
_STRAY_MM = 0.03
"""Middle lines are drawn with corners that stray by no more than this from them."""
_LEAST_LINE_MM = 0.3
"""A shorter piece of a middle line beside what is left as it is belongs to that."""


@dataclass(frozen=True, slots=True)
class Found:
    """A change and the code of the finding that it answers."""

    finding: str
    change: Change


def mend_all(design: Design, limits: Limits) -> tuple[Found, ...]:
    """Return the changes in px, in their order, after which a check finds as little as can be had.

    Empty where there is nothing to do, so also for a design that has been mended.
    """
    *_, found = mendings(design, limits)
    return found


def mendings(design: Design, limits: Limits) -> Iterator[tuple[Found, ...]]:
    """Yield the changes found so far, at last all that `mend_all` returns."""
    backed = [opening.area for opening in design.openings if opening.area.area > _BACKED_MM2]
    emptied: list[Polygon] = []
    for _ in range(_TRIES):
        for so_far in _mended(design, limits, emptied):
            yield so_far.found
        closed = _closed(backed, so_far.card, limits)
        if not closed:
            break
        emptied += closed
    yield (*so_far.found, *_remnants(design, so_far.card))


@dataclass(frozen=True, slots=True)
class _SoFar:
    """The changes so far, and the card in mm with most of them."""

    found: tuple[Found, ...]
    card: MultiPolygon


def _mended(design: Design, limits: Limits, emptied: Sequence[Polygon]) -> Iterator[_SoFar]:
    """Yield the changes so far, at last all and the card after them; bits in the openings `emptied` go."""
    placing = placing_of(design)
    width = limits.bar_mm + SPARE_MM
    found: tuple[Found, ...] = ()
    card = whole_card(design)
    for _ in range(_ROUNDS):
        before = len(found)
        found = (*found, *_specks(card, placing), *_dropped(card, emptied, placing, design.left))
        card = _after(card, found[before:], placing)
        yield _SoFar(found, card)
        held = yield from telling(_held(card, width, placing, design.left), _SoFar(found, card))
        found = (*found, *held)
        card = _after(card, held, placing)
        yield _SoFar(found, card)
        widening = widened(card, limits.bar_mm, placing, design.left)
        wider = yield from telling(widening, _SoFar(found, card))
        found = (*found, *wider)
        card = _after(card, wider, placing)
        yield _SoFar(found, card)
        if len(found) == before:
            break


def _closed(openings: Sequence[Polygon], card: MultiPolygon, limits: Limits) -> list[Polygon]:
    """Return the openings of which next to nothing is left in a card that can be backed."""
    left = Surroundings(card).beside(openings)
    parts, opening = shapely.get_parts(left, return_index=True)
    sizes = shapely.area(parts)
    sizes[sizes < limits.opening_mm2] = 0
    left_over = np.bincount(opening, sizes, len(openings))
    return [one for one, size in zip(openings, left_over, strict=True) if size < _LEFT * one.area]


def _remnants(design: Design, card: MultiPolygon) -> Iterator[Found]:
    """Yield what fills openings too small to cut that wider bars left of larger ones."""
    holes = geometries(holes_of(card))
    small = holes[shapely.area(holes) < SPECK_MM2]
    larger = geometries([each.area for each in design.openings if each.area.area >= SPECK_MM2])
    inside = geometries([hole.representative_point() for hole in small])
    _, left = shapely.STRtree(inside).query(larger, predicate="contains")
    for place in placing_of(design).px_places(shapely.get_coordinates(inside[np.unique(left)])):
        yield Found("thin-bars", FillOpening(place))


def _dropped(
    card: MultiPolygon, emptied: Sequence[Polygon], placing: Placing, left: Sequence[Left]
) -> list[Found]:
    """Return what lets go the bits of a card that lie in openings and are not glued by hand."""
    if not emptied:
        return []
    inside = geometries([part.representative_point() for part in card.geoms])
    _, which = shapely.STRtree(inside).query(geometries(list(emptied)), predicate="contains")
    parts = geometries(card.geoms)
    held = np.isin(np.arange(len(parts)), which) & (shapely.area(parts) < shapely.area(parts).max())
    held &= ~are_left(left, "loose-bit", list(parts))
    places = placing.px_places(shapely.get_coordinates(inside[held]))
    return [Found("loose-bit", SettleBit(place, Fate.DROP)) for place in places]


def added_to(mends: tuple[Mend, ...], found: Sequence[Found]) -> tuple[Mend, ...]:
    """Return mends with further ones at the end, with ids of their own (m1, m2, ...)."""
    last = max((int(mend.id[1:]) for mend in mends if mend.id[1:].isdecimal()), default=0)
    fresh = enumerate(found, start=last + 1)
    return (*mends, *(Mend(f"m{number}", each.change, each.finding) for number, each in fresh))


def _after(card: MultiPolygon, found: Sequence[Found], placing: Placing) -> MultiPolygon:
    if not found:
        return card
    return apply_mends(card, [Mend("", each.change) for each in found], placing).area


def _specks(card: MultiPolygon, placing: Placing) -> list[Found]:
    if len(without_specks(card).geoms) == len(card.geoms):
        return []
    return [Found("specks", DropSpecks(SPECK_MM2 / placing.mm_per_px**2))]


def without_specks(card: MultiPolygon) -> MultiPolygon:
    """Return a card in mm without the parts that are too small to cut, but for the largest of all."""
    parts = geometries(card.geoms)
    sizes = shapely.area(parts)
    return MultiPolygon(list(parts[sizes >= min(SPECK_MM2, sizes.max(initial=0.0))]))


def _held(card: MultiPolygon, width: float, placing: Placing, left: Sequence[Left]) -> Breathing[list[Found]]:
    parts = list(card.geoms)
    largest = int(np.argmax(shapely.area(geometries(parts))))
    stays = are_left(left, "loose-bit", parts) | are_left(left, "separate-parts", parts)
    apart = [part for part in range(len(parts)) if part != largest and not stays[part]]
    if not apart:
        return []
    found: list[Found] = []
    for held in (yield from holding(parts, apart, width)):
        for line in held.bars:
            if line.length < width / 4:
                found.append(Found("separate-parts", _dot(shapely.get_coordinates(line)[0], width, placing)))
                continue
            change = AddBar(placing.px_places(shapely.get_coordinates(line)), placing.px_length(width))
            found.append(Found("loose-bit", change))
    return found


def widened(
    card: MultiPolygon, limit: float, placing: Placing, left: Sequence[Left]
) -> Breathing[list[Found]]:
    """Return what gives touching edges and thin card in mm their width, alike openings staying alike.

    What is left as it is stays so.
    """
    if is_left_anywhere(left, WIDTHS):
        return []
    found = yield from _wider(card, limit, placing, area_left(left, WIDTHS))
    yield
    if not found:
        return []
    after = _after(card, found, placing)
    yield
    alike = yield from kept_alike(card, after, placing)
    return [*found, *(Found("thin-bars", change) for change in alike)]


def _wider(card: MultiPolygon, limit: float, placing: Placing, left: MultiPolygon) -> Breathing[list[Found]]:
    width = limit + SPARE_MM
    touching = _beyond(left, touching_lines(card))
    yield
    found = [
        Found("touching-edges", _dot(line.interpolate(0.5, normalized=True).coords[0], width, placing))
        for line in touching[shapely.length(touching) < width / 2]
    ]
    thin = yield from thin_lines(card, limit + _LOOK_MM)
    for finding, lines in (
        ("touching-edges", touching[shapely.length(touching) >= width / 2]),
        ("thin-bars", _beyond(left, thin)),
    ):
        yield
        shapely.prepare(card)
        strokes = shapely.buffer(lines, limit / 2)
        kept = shapely.simplify(lines[~shapely.covers(card, strokes)], _STRAY_MM)
        for line in geometries(kept):
            change = Thicken(placing.px_places(shapely.get_coordinates(line)), placing.px_length(width))
            found.append(Found(finding, change))
    yield
    return _sparing(card, found, placing)


def _beyond(left: MultiPolygon, lines: NDArray[np.object_]) -> NDArray[np.object_]:
    """Return the parts of lines that lie beyond what is left as it is, but for the shortest."""
    if left.is_empty or not len(lines):
        return lines
    shapely.prepare(left)
    beside = shapely.intersects(left, lines)
    beyond = shapely.get_parts(difference(lines[beside], left))
    return geometries([*lines[~beside], *beyond[shapely.length(beyond) > _LEAST_LINE_MM]])


def _sparing(card: MultiPolygon, found: list[Found], placing: Placing) -> list[Found]:
    """Return changes but for those that would close an opening which can be backed: rather a thin bar."""
    holes = geometries(holes_of(card))
    sizes = shapely.area(holes)
    slim = holes[(sizes > _BACKED_MM2) & (sizes < _SLIM_MM * shapely.length(holes))]
    if not len(slim) or not found:
        return found
    wider = [each.change for each in found if isinstance(each.change, Thicken)]
    lines = geometries([LineString(placing.places(change.line)) for change in wider])
    widths = np.array([change.width for change in wider])
    strokes = shapely.buffer(lines, widths * placing.mm_per_px / 2)
    hole, stroke = shapely.STRtree(strokes).query(slim, predicate="intersects")
    closing: set[int] = set()
    for number in np.unique(hole).tolist():
        near = stroke[hole == number]
        left = difference(slim[number], union_all(strokes[near]))
        if left.area < _LEFT * slim[number].area:
            closing |= set(near.tolist())
    return [each for place, each in enumerate(found) if place not in closing]


def _dot(place: Sequence[float], width: float, placing: Placing) -> Thicken:
    """Return a round of card where edges touch."""
    short = np.array(place) + np.array([(-width / 8, 0), (width / 8, 0)])
    return Thicken(placing.px_places(short), placing.px_length(width))
