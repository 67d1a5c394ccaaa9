"""From a drawing to a design: the card at its finished size, its openings, its bars, its warnings."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.breathing import telling
from peekpaper.design.bars.bars import bar_triangulation, find_bars
from peekpaper.design.check import check
from peekpaper.design.checks.inspected import Inspected, LeftOutArea
from peekpaper.design.design import Design, Habit, Left, Limits, LooseBit, MatSize, Opening, Reading
from peekpaper.design.division.divide import division_of
from peekpaper.design.habits import Sheet, interpret, page_of, sensible_habits
from peekpaper.design.mending.apply import MendedCard, apply_mends
from peekpaper.design.mending.frame import framed_bounds
from peekpaper.design.mending.mends import DivideCard, Mend
from peekpaper.design.openings.alike import group_alike
from peekpaper.design.openings.given_colours import given_colours
from peekpaper.design.openings.reading_order import reading_order
from peekpaper.design.parts import Parts, split_parts
from peekpaper.design.placing import Placing, place
from peekpaper.design.readings.apart import alone
from peekpaper.design.readings.card_ink import CardInk
from peekpaper.design.sheet.mended import Mended
from peekpaper.design.size import tolerance_for, usual_px_per_inch
from peekpaper.drawing.drawing import Drawing, LeftOutKind
from peekpaper.geometry.areas import as_area, geometries
from peekpaper.geometry.overlay import difference, union_all
from peekpaper.lengths import refuse_no_length
from peekpaper.refusal import Refusal

MAX_OPENINGS = 10_000
"""More can be neither cut nor backed, and would keep the page busy for minutes."""
_ROUNDING = 1e-9
"""By no more than this share of its size a card may lie beside the origin."""

__all__ = ["designs", "make_design", "tolerance_for"]


def make_design(
    drawing: Drawing,
    reading: Reading,
    limits: Limits,
    mends: Sequence[Mend] = (),
    mat: MatSize = MatSize(),
) -> Design:
    """Return the design that a drawing means under the person's decisions; `mat` is what it will be cut on.

    Raises Refusal where nothing in the drawing can be card, or mends leave none, and for sizes that can't be.
    """
    *_, whole = designs(Sheet(drawing), reading, limits, mends, mat)
    return whole


def designs(
    sheet: Sheet,
    reading: Reading,
    limits: Limits,
    mends: Sequence[Mend] = (),
    mat: MatSize = MatSize(),
) -> Iterator[Design]:
    """Yield what can be seen of the design first, then the whole: alike openings, bars and warnings too.

    What can be seen comes again wherever the caller may breathe or stop. A sheet that the caller keeps need
    not be read again for another size, other limits or other mends. Raises Refusal as `make_design`
    does, before the first.
    """
    refuse_no_length(limits.bar_mm, "distance.thin-bars")
    drawing = sheet.drawing
    read = _read(sheet, reading, mends)
    ink, placing, parts = read.ink, read.placing, read.parts
    areas = _in_order(parts)
    given = given_colours(areas, [(colour, placing.area(area)) for colour, area in ink.given])
    left, top, right, bottom = parts.card.bounds
    seen = Design(
        width_mm=right - left,
        height_mm=bottom - top,
        card=parts.card,
        openings=tuple(
            Opening(number, area, number, number, colour, area.area < limits.opening_mm2)
            for number, (area, colour) in enumerate(zip(areas, given, strict=True), start=1)
        ),
        bars=(),
        loose_bits=_numbered(parts.loose_bits, areas),
        warnings=(),
        habits=read.habits,
        colours=ink.colours,
        mm_per_px=placing.mm_per_px,
        origin_px=(placing.left_px, placing.top_px),
        lost_mends=read.lost_mends,
        left=read.left,
        size_is_a_guess=not drawing.has_physical_size
        and reading.width_mm is None
        and reading.height_mm is None,
        is_whole=False,
        usual_px_per_inch=usual_px_per_inch(drawing, max(right - left, bottom - top) / placing.mm_per_px),
        joint=next((one.change.joint for one in reversed(mends) if isinstance(one.change, DivideCard)), None),
    )
    yield seen
    triangulation = bar_triangulation(parts.card, areas)
    yield seen
    openings = _grouped(seen.openings)
    yield seen
    bars = find_bars(parts.card, areas, triangulation)
    division = yield from telling(division_of(seen, mat), seen)
    design = replace(seen, openings=openings, bars=bars, division=division, is_whole=True)
    yield seen
    inspected = Inspected(
        design=design,
        limits=limits,
        mat=mat,
        triangulation=triangulation,
        mended=tuple(Mended(mended.fault, placing.geometry(mended.where)) for mended in read.mended),
        lost=placing.area(read.lost),
        off_page=placing.area(_off_page(ink, drawing)),
        slivers=parts.slivers,
        left_out=tuple(LeftOutArea(kind.message, _spots(kind, placing)) for kind in drawing.left_out),
        notices=drawing.notices,
    )
    yield replace(design, warnings=check(inspected))


def _numbered(loose_bits: MultiPolygon, openings: Sequence[Polygon]) -> tuple[LooseBit, ...]:
    """Return loose bits in reading order, each with the number of the opening that it lies in."""
    bits = list(loose_bits.geoms)
    ordered = [bits[index] for index in reading_order(bits)]
    inside = geometries([bit.representative_point() for bit in ordered])
    _, holders = shapely.STRtree(openings).query_nearest(inside, all_matches=False)
    return tuple(
        LooseBit(number, area, holder + 1)
        for number, (area, holder) in enumerate(zip(ordered, holders.tolist(), strict=True), start=1)
    )


def _spots(kind: LeftOutKind, placing: Placing) -> MultiPolygon:
    boxes = np.array([shapely.box(*each) for each in kind.boxes], dtype=object)
    return placing.area(as_area(union_all(boxes)))


def numbered_openings(drawing: Drawing, reading: Reading) -> tuple[Polygon, ...]:
    """Return the openings' areas in mm in reading order: opening k comes as the k-th.

    Raises Refusal as `make_design` does, which numbers them the same.
    """
    return _in_order(_read(Sheet(drawing), reading, ()).parts)


@dataclass(frozen=True, slots=True)
class _Read:
    habits: tuple[Habit, ...]
    ink: CardInk
    mended: tuple[Mended, ...]
    lost: MultiPolygon
    placing: Placing
    parts: Parts
    lost_mends: tuple[str, ...]
    left: tuple[Left, ...]


def _read(sheet: Sheet, reading: Reading, mends: Sequence[Mend]) -> _Read:
    sheet = sheet.as_decided(reading)
    drawing, meant = sheet.drawing, interpret(sheet, reading)
    if meant is None:
        raise _nothing_to_cut(drawing)
    ink, content = meant.ink, meant.content
    if reading.card_number is not None:
        ink = alone(ink, reading.card_number)
    if ink.area.is_empty:
        raise Refusal("no-card" if reading.habit is None else "no-card-this-way")
    placing, parts = _placed(ink, drawing, reading, mends)
    card = MendedCard(MultiPolygon(), (), ())
    if mends:
        placing, parts, card = _mended(ink, placing, mends)
    if len(parts.openings) > MAX_OPENINGS:
        raise Refusal("too-many-openings", count=len(parts.openings), most=MAX_OPENINGS)
    faults = () if meant.habit is Habit.CUT_LINES else content.faults
    habits = (meant.habit, *(other for other in sensible_habits(content) if other is not meant.habit))
    mended = (*content.around, *ink.mended, *faults)
    return _Read(habits, ink, mended, sheet.lost(meant), placing, parts, card.lost, card.left)


def _nothing_to_cut(drawing: Drawing) -> Refusal:
    """Return why nothing of a drawing can be cut: what was left out of it, if that is why."""
    for kind in drawing.left_out:
        if kind.kind in _INSTEAD_OF_SHAPES:
            return Refusal("nothing-but-left-out", reason=kind.message)
    return Refusal("nothing-to-cut")


_INSTEAD_OF_SHAPES = {"text", "image", "external", "font-unit", "tangled", "unreadable", "pattern"}


def _off_page(ink: CardInk, drawing: Drawing) -> MultiPolygon:
    slack = 1e-6 * (drawing.width + drawing.height)
    return as_area(difference(ink.area, page_of(drawing).buffer(slack)))


def _in_order(parts: Parts) -> tuple[Polygon, ...]:
    return tuple(parts.openings[index] for index in reading_order(parts.openings))


def _placed(ink: CardInk, drawing: Drawing, reading: Reading, mends: Sequence[Mend]) -> tuple[Placing, Parts]:
    """Return the placing that brings the card's bounding box to its size and the origin, and the parts.

    Crumbs beside the card are only known at its size, so the box is taken again without them. Of the mends
    frames alone count for the size: no other may make the rest of the card larger or smaller.
    """
    changes = [mend.change for mend in mends]
    placing = place(framed_bounds(ink.area.bounds, changes), drawing, reading)
    placed = placing.area(ink.area)
    parts = split_parts(placed)
    if not parts.card.is_empty and parts.card.bounds != placed.bounds:
        bounds = placing.px_bounds(parts.card.bounds)
        placing = place(framed_bounds(bounds, changes), drawing, reading)
        parts = split_parts(placing.area(ink.area))
    if parts.card.is_empty:
        raise Refusal("finer-than-a-knife")
    return placing, parts


def _mended(ink: CardInk, placing: Placing, mends: Sequence[Mend]) -> tuple[Placing, Parts, MendedCard]:
    """Return the mended card and its parts, with its bounding box at the origin of the placing."""
    card = apply_mends(placing.area(ink.area), mends, placing)
    parts = split_parts(card.area)
    if parts.card.is_empty:
        raise Refusal("no-card-with-mends")
    left, top, _, _ = parts.card.bounds
    if (left, top) == (0.0, 0.0):
        return placing, parts, card
    placing = _moved(placing, left, top)
    card = apply_mends(placing.area(ink.area), mends, placing)
    parts = split_parts(card.area)
    if parts.card.is_empty:
        raise Refusal("no-card-with-mends")
    left, top, right, bottom = parts.card.bounds
    if max(abs(left), abs(top)) <= _ROUNDING * max(right - left, bottom - top):
        return placing, parts, card
    # A crumb beside the card hangs on to it now, or one fell off: moved as it is, it can't change again.
    card = _without_offset(card, left, top)
    return _moved(placing, left, top), split_parts(card.area), card


def _moved(placing: Placing, left: float, top: float) -> Placing:
    """Return the placing that brings to the origin what the given one brings to a place in mm."""
    return replace(
        placing,
        left_px=placing.left_px + left / placing.mm_per_px,
        top_px=placing.top_px + top / placing.mm_per_px,
    )


def _without_offset(card: MendedCard, left: float, top: float) -> MendedCard:
    """Return a mended card with a place in mm moved to the origin."""
    offset = Placing(1.0, left, top)
    stays = tuple(
        each if each.where is None else replace(each, where=offset.geometry(each.where)) for each in card.left
    )
    return MendedCard(offset.area(card.area), card.lost, stays)


def _grouped(openings: Sequence[Opening]) -> tuple[Opening, ...]:
    """Return the openings with the numbers of their groups."""
    alike = group_alike([opening.area for opening in openings])
    return tuple(
        replace(opening, alike=same_size, same_shape=any_size)
        for opening, same_size, any_size in zip(openings, alike.same_size, alike.any_size, strict=True)
    )
