"""What the tool would do about each finding: mends with what they change, for the person to take or leave."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString, MultiLineString, MultiPolygon, Point, Polygon
from shapely.geometry.base import BaseGeometry

from peekpaper.breathing import telling
from peekpaper.design.connected import connected
from peekpaper.design.design import Design, Limits, MatSize
from peekpaper.design.division.divide import division_of
from peekpaper.design.division.division import Joint
from peekpaper.design.left import are_left
from peekpaper.design.mending.apply import card_of
from peekpaper.design.mending.effect import placing_of, whole_card
from peekpaper.design.mending.holding import HeldPart, holding
from peekpaper.design.mending.mend_all import SPARE_MM, SPECK_MM2, widened, without_specks
from peekpaper.design.mending.mends import (
    AddBar,
    AddCard,
    Change,
    DivideCard,
    Fate,
    FillOpening,
    LeaveAsIs,
    SettleBit,
    Thicken,
)
from peekpaper.design.mending.surroundings import Surroundings
from peekpaper.design.placing import Placing
from peekpaper.geometry.areas import as_area, geometries
from peekpaper.geometry.grid import grown, one_grown
from peekpaper.geometry.overlay import union_all

_SPOT_MM = 0.5
"""How far the mark on a place that is left as it is reaches."""
_AT_ONCE = 400
"""So many strokes of wider card are looked at before a breath is taken."""
_STRAY_MM = 0.03
"""Corners that stray by less are left out of a picture."""


@dataclass(frozen=True, slots=True)
class Proposal:
    """One way to mend one finding: the changes in px, and the card in mm that they add and take away.

    `finding` is the code of the warning, `choice` the way to mend it (those that the tool
    prefers come first), `at` the place, `seams` where the card would be divided.
    """

    finding: str
    choice: str
    at: Point
    changes: tuple[Change, ...]
    added: MultiPolygon
    removed: MultiPolygon
    seams: MultiLineString | None = None


Proposals: TypeAlias = Iterator[Proposal | None]
"""Proposals, and None in between where they take long."""


def proposals(design: Design, limits: Limits, mat: MatSize) -> Proposals:
    """Yield proposals for the findings of a design as it is, those of one finding one after the other."""
    placing = placing_of(design)
    around = Surroundings(whole_card(design))
    yield from _loose(design, around, limits, placing)
    yield from _separate(design, around, limits, placing)
    yield from _small(design, placing)
    yield from _thin(design, around, limits, placing)
    yield from _larger(design, mat)


def _loose(design: Design, around: Surroundings, limits: Limits, placing: Placing) -> Proposals:
    parts = list(whole_card(design).geoms)
    glued = are_left(design.left, "loose-bit", parts)
    loose = [part for part in range(len(design.card.geoms), len(parts)) if not glued[part]]
    if not loose:
        return
    for held in (yield from telling(holding(parts, loose, limits.bar_mm + SPARE_MM), None)):
        bit = parts[held.part]
        at = bit.representative_point()
        (at_px,) = placing.px_places(np.array([[at.x, at.y]]))
        changes, added = _bars(held, around, limits, placing)
        nothing, area = MultiPolygon(), MultiPolygon([bit])
        hold = Proposal("loose-bit", "hold", at, changes, added, nothing)
        drop = Proposal("loose-bit", "drop", at, (SettleBit(at_px, Fate.DROP),), nothing, area)
        yield from _best_first(bit, hold, drop)
        yield Proposal("loose-bit", "glue", at, (SettleBit(at_px, Fate.GLUE),), nothing, nothing)


def _separate(design: Design, around: Surroundings, limits: Limits, placing: Placing) -> Proposals:
    parts = list(whole_card(design).geoms)
    sides = list(range(len(design.card.geoms)))
    if len(sides) < 2:
        return
    largest = max(sides, key=lambda part: parts[part].area)
    stays = are_left(design.left, "separate-parts", parts)
    apart = [part for part in sides if part != largest and not stays[part]]
    if not apart:
        return
    for held in (yield from telling(holding(parts[: len(sides)], apart, limits.bar_mm + SPARE_MM), None)):
        part = parts[held.part]
        at = part.representative_point()
        (at_px,) = placing.px_places(np.array([[at.x, at.y]]))
        changes, added = _bars(held, around, limits, placing)
        nothing, area = MultiPolygon(), MultiPolygon([part])
        join = Proposal("separate-parts", "join", at, changes, added, nothing)
        drop = Proposal("separate-parts", "drop", at, (SettleBit(at_px, Fate.DROP),), nothing, area)
        yield from _best_first(part, join, drop)
        yield _left_at("separate-parts", at, placing)


def _best_first(part: Polygon, keep: Proposal, drop: Proposal) -> Iterator[Proposal]:
    """Yield what keeps a part before what drops it, or the other way round where it is too small to cut."""
    yield from (drop, keep) if part.area < SPECK_MM2 else (keep, drop)


def _small(design: Design, placing: Placing) -> Proposals:
    small = [opening for opening in design.openings if opening.is_small]
    stays = are_left(design.left, "small-openings", [opening.area for opening in small])
    for opening, is_left in zip(small, stays, strict=True):
        if not is_left:
            at = opening.area.representative_point()
            (at_px,) = placing.px_places(np.array([[at.x, at.y]]))
            filled = MultiPolygon([opening.area])
            yield Proposal("small-openings", "fill", at, (FillOpening(at_px),), filled, MultiPolygon())
            yield _left_at("small-openings", at, placing)


def _thin(design: Design, around: Surroundings, limits: Limits, placing: Placing) -> Proposals:
    """Yield proposals for thin card and for edges that touch, one for each place."""
    # Where specks touch, nothing is thin: they go.
    card = without_specks(whole_card(design))
    found = yield from telling(widened(card, limits.bar_mm, placing, design.left), None)
    told = {warning.code: warning.where for warning in design.warnings}
    shapely.prepare(list(told.values()))
    for finding in dict.fromkeys(each.finding for each in found):
        changes = [each.change for each in found if each.finding == finding]
        shapes, change = shapely.get_parts(_widened_to(changes, placing), return_index=True)
        yield None
        near = shapely.STRtree(shapes).query(shapes, predicate="intersects")
        place = connected(len(changes), change[near].T)
        yield None
        for number in np.unique(place):
            together = np.flatnonzero(place == number)
            strokes = shapes[place[change] == number]
            beside: list[MultiPolygon] = []
            for some in np.split(strokes, range(_AT_ONCE, len(strokes), _AT_ONCE)):
                beside += around.beside(list(some))
                yield None
            added = as_area(union_all(beside))
            if added.is_empty:
                continue
            yield None
            area = as_area(union_all(strokes))
            at = max(added.geoms, key=lambda part: float(part.area)).representative_point()
            mends = tuple(changes[which] for which in together.tolist())
            answers = _answered(finding, area, told)
            yield Proposal(answers, "thicken", at, mends, added, MultiPolygon())
            yield Proposal(answers, "leave", at, (_leave(area, placing),), MultiPolygon(), MultiPolygon())


def _larger(design: Design, mat: MatSize) -> Proposals:
    """Yield proposals to divide a card that is larger than the mat and whole so far, if its size is known."""
    is_larger = any(warning.code == "larger-than-mat" for warning in design.warnings)
    if not is_larger or design.joint is not None or design.size_is_a_guess:
        return
    at, nothing = Point(design.width_mm / 2, design.height_mm / 2), MultiPolygon()
    for joint, choice in ((Joint.TAB, "divide"), (Joint.EDGE, "divide-on-back")):
        division = yield from telling(division_of(replace(design, joint=joint), mat), None)
        if division is not None:
            yield Proposal(
                "larger-than-mat", choice, at, (DivideCard(joint),), nothing, nothing, division.seams
            )


def _answered(finding: str, area: MultiPolygon, told: Mapping[str, BaseGeometry | None]) -> str:
    """Return the code of the warning that wider card answers: a neck's own where it is told of no bar."""
    necks, bars = told.get("thin-necks"), told.get(finding)
    is_neck = (
        necks is not None and necks.intersects(area) and not (bars is not None and bars.intersects(area))
    )
    return "thin-necks" if is_neck else finding


def _left_at(finding: str, at: Point, placing: Placing) -> Proposal:
    """Return the proposal to leave what was found at a place as it is."""
    spot = as_area(one_grown(at, _SPOT_MM, 2))
    return Proposal(finding, "leave", at, (_leave(spot, placing),), MultiPolygon(), MultiPolygon())


def _leave(area: MultiPolygon, placing: Placing) -> LeaveAsIs:
    rings = shapely.get_rings(shapely.get_parts(shapely.simplify(area, _STRAY_MM)))
    return LeaveAsIs(tuple(placing.px_places(shapely.get_coordinates(ring)[:-1]) for ring in rings))


def _widened_to(changes: Sequence[Change], placing: Placing) -> NDArray[np.object_]:
    """Return the card in mm that each of some changes makes sure of."""
    shapes = np.empty(len(changes), dtype=object)
    wider = [change for change in changes if isinstance(change, Thicken)]
    lines = geometries([LineString(placing.places(change.line)) for change in wider])
    widths = np.array([change.width for change in wider]) * placing.mm_per_px
    for width in np.unique(widths).tolist():
        lines[widths == width] = grown(lines[widths == width], width / 2, 8)
    is_wider = np.array([isinstance(change, Thicken) for change in changes], bool)
    shapes[is_wider] = lines
    shapes[~is_wider] = [card_of(change, placing) for change in changes if isinstance(change, AddCard)]
    return shapes


def _bars(
    held: HeldPart, around: Surroundings, limits: Limits, placing: Placing
) -> tuple[tuple[AddBar, ...], MultiPolygon]:
    """Return the bars that hold a part, and the card that they add."""
    width = limits.bar_mm + SPARE_MM
    lines = geometries(list(held.bars))
    added = around.beside(list(_strokes(lines, width)))
    changes = tuple(
        AddBar(placing.px_places(shapely.get_coordinates(line)), placing.px_length(width))
        for line in held.bars
    )
    return changes, as_area(union_all(added))


def _strokes(lines: NDArray[np.object_], width: float) -> NDArray[np.object_]:
    return grown(lines, width / 2, 8, cap_style="square")
