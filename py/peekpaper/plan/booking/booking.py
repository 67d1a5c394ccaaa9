"""Booking: what a plan takes leaves the stash, what is left of begun sheets comes back as scraps; and back.

Paper is neither lost nor invented: the area of the sheets and scraps that leave is that of the trims, of the
scraps that come back and of the waste.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Annotated

from peekpaper.bounds import Many, Name, Some, Tag, Whole, Within
from peekpaper.papers.paper import Paper, Scrap, Shelf
from peekpaper.plan.booking.left_over import EPSILON, Rectangle, area_of, left_over
from peekpaper.plan.plan import Plan, Trim
from peekpaper.refusal import Refusal

Area = Annotated[float, Within(0, 1e12)]


@dataclass(frozen=True, slots=True)
class Taken:
    """What a booking took of one paper of the stash, and what it gave back.

    `sheets` left it; the count fell by `counted`, which is less where fewer were told. `used` are the
    scraps that left, `left` those that came. `trims_mm2` is the trims' area, `waste_mm2` what is of no use.
    """

    paper: Tag
    name: Name
    sheets: Whole
    counted: Whole
    used: Many[Scrap]
    left: Many[Scrap]
    trims_mm2: Area
    waste_mm2: Area


@dataclass(frozen=True, slots=True)
class Booking:
    """What was cut at once for a project, `when` in ms since 1970 (UTC); `undone` where it was taken back.

    `name` and `colourway` are what project and colourway were called.
    """

    id: Tag
    when: Annotated[float, Within(0, 1e15)]
    project: Tag
    name: Name
    colourway: Name
    taken: Some[Taken]
    undone: bool


@dataclass(frozen=True, slots=True)
class History:
    """All that was cut from a stash, the first first."""

    bookings: Some[Booking]


@dataclass(frozen=True, slots=True)
class Booked:
    """The stash after a plan was booked, and what was taken of each of its papers."""

    stash: Shelf
    taken: tuple[Taken, ...]


@dataclass(frozen=True, slots=True)
class WholeSheet:
    """A rectangle that takes a sheet of its own, such as the whole-back; `paper` is the id in the project."""

    paper: str
    width_mm: float
    height_mm: float


@dataclass(frozen=True, slots=True)
class Cutting:
    """What is to be cut: a plan of a project with this shelf, and the whole-back where there is one.

    `least_mm` is the least side of a left-over rectangle that is worth keeping.
    """

    shelf: Shelf
    plan: Plan
    whole: WholeSheet | None
    least_mm: float


def booked(stash: Shelf, cutting: Cutting, new_id: Callable[[], str]) -> Booked:
    """Return the stash after what is cut left it and what is left came back.

    Only papers that came from the stash are booked, and none that is printed: of those there is always more.
    Raises Refusal where a scrap that the plan uses is in the stash no more.
    """
    taken = []
    for paper in cutting.shelf.papers:
        held = next((one for one in stash.papers if one.id == paper.stash), None)
        if held is None or held.is_printed:
            continue
        one = _taken(held, stash.scraps, cutting, paper.id, new_id)
        if one is not None:
            stash = _after(stash, one)
            taken.append(one)
    return Booked(stash, tuple(taken))


def taken_back(stash: Shelf, taken: Sequence[Taken], new_id: Callable[[], str]) -> Shelf:
    """Return the stash as if a booking had not been: its sheets and scraps are back, its left-overs gone.

    A paper that the stash no longer holds stays away. Raises Refusal where a left-over was used or changed
    since: the sheet that it is of is not whole any more.
    """
    for one in taken:
        if not any(paper.id == one.paper for paper in stash.papers):
            continue
        held = {scrap.id: scrap for scrap in stash.scraps}
        if any(held.get(scrap.id) != scrap for scrap in one.left):
            raise Refusal("left-over-gone", paper=one.name)
        gone = {scrap.id for scrap in one.left}
        papers = tuple(
            _with_sheets(paper, one.counted) if paper.id == one.paper else paper for paper in stash.papers
        )
        scraps = [scrap for scrap in stash.scraps if scrap.id not in gone]
        ids = {scrap.id for scrap in scraps}
        scraps += [replace(scrap, id=new_id()) if scrap.id in ids else scrap for scrap in one.used]
        stash = Shelf(papers, tuple(scraps))
    return stash


def _after(stash: Shelf, taken: Taken) -> Shelf:
    used = {scrap.id for scrap in taken.used}
    return Shelf(
        tuple(
            _with_sheets(paper, -taken.counted) if paper.id == taken.paper else paper
            for paper in stash.papers
        ),
        (*(scrap for scrap in stash.scraps if scrap.id not in used), *taken.left),
    )


def _with_sheets(paper: Paper, more: int) -> Paper:
    return paper if paper.sheets is None else replace(paper, sheets=paper.sheets + more)


def _taken(
    paper: Paper, scraps: Sequence[Scrap], cutting: Cutting, own_id: str, new_id: Callable[[], str]
) -> Taken | None:
    """Return what is taken of a paper of the stash, `own_id` in the project; None where nothing is."""
    trims = [trim for trim in cutting.plan.trims if trim.paper == own_id]
    used = _scraps_used(paper, trims, cutting.shelf, scraps)
    sheet = (0.0, 0.0, paper.sheet_width_mm, paper.sheet_height_mm)
    begun = [(sheet, on_sheet) for on_sheet in taken_from_sheets(trims).values()]
    if cutting.whole is not None and cutting.whole.paper == own_id:
        begun.append((sheet, [_within(sheet, cutting.whole.width_mm, cutting.whole.height_mm)]))
    sheets = len(begun)
    for trim, scrap in used:
        if not scrap.outline:
            room = (0.0, 0.0, scrap.width_mm, scrap.height_mm)
            begun.append((room, [_within(room, trim.width_mm, trim.height_mm)]))
    if not begun and not used:
        return None
    # A scrap that is no rectangle is taken whole: what its pieces leave of it is of no use.
    shaped = math.fsum(scrap.area_mm2 for _, scrap in used if scrap.outline)
    left = tuple(
        Scrap(new_id(), paper.id, round(x1 - x0, 6), round(y1 - y0, 6))
        for room, cut in begun
        for x0, y0, x1, y1 in left_over(room, cut, cutting.least_mm)
    )
    came = math.fsum(area_of(room) for room, _ in begun)
    went = math.fsum(area_of(rectangle) for _, cut in begun for rectangle in cut)
    kept = math.fsum(scrap.area_mm2 for scrap in left)
    return Taken(
        paper=paper.id,
        name=paper.name,
        sheets=sheets,
        counted=min(sheets, paper.sheets or 0),
        used=tuple(scrap for _, scrap in used),
        left=left,
        trims_mm2=went + shaped,
        waste_mm2=max(0.0, came - went - kept),
    )


def taken_from_sheets(trims: Iterable[Trim]) -> Mapping[int, list[Rectangle]]:
    """Return where trims are cut from sheets, as they lie on the upright sheet, by the sheet's number."""
    sheets: dict[int, list[Rectangle]] = {}
    for trim in trims:
        at = trim.cut_from
        if at is not None:
            wide, high = (trim.height_mm, trim.width_mm) if at.turned else (trim.width_mm, trim.height_mm)
            sheets.setdefault(at.sheet, []).append((at.x_mm, at.y_mm, at.x_mm + wide, at.y_mm + high))
    return sheets


def left_of_sheets(paper: Paper, plan: Plan, least_mm: float) -> Iterator[tuple[int, Rectangle]]:
    """Yield what is left of each sheet of a paper that a plan begins: the sheet's number, and where on it."""
    sheet = (0.0, 0.0, paper.sheet_width_mm, paper.sheet_height_mm)
    taken = taken_from_sheets(trim for trim in plan.trims if trim.paper == paper.id)
    for number, on_sheet in sorted(taken.items()):
        for rectangle in left_over(sheet, on_sheet, least_mm):
            yield number, rectangle


def _within(room: Rectangle, width_mm: float, height_mm: float) -> Rectangle:
    """Return where a rectangle is cut from a sheet or scrap, upright or turned; all where it is larger."""
    _, _, wide, high = room
    for width, height in ((width_mm, height_mm), (height_mm, width_mm)):
        if width <= wide + EPSILON and height <= high + EPSILON:
            return (0.0, 0.0, min(width, wide), min(height, high))
    return room


def _scraps_used(
    paper: Paper, trims: Iterable[Trim], shelf: Shelf, scraps: Iterable[Scrap]
) -> list[tuple[Trim, Scrap]]:
    """Return the trims from scraps, each with a scrap of the stash of the size that the project knows."""
    at_hand = [scrap for scrap in scraps if scrap.paper == paper.id]
    known = {scrap.id: scrap for scrap in shelf.scraps}
    used = []
    for trim in trims:
        if trim.scrap is None:
            continue
        wanted = known[trim.scrap]
        found = next(_like(at_hand, wanted), None)
        if found is None:
            raise Refusal(
                "scrap-gone", paper=paper.name, width_mm=wanted.width_mm, height_mm=wanted.height_mm
            )
        at_hand.remove(found)
        used.append((trim, found))
    return used


def _like(scraps: Sequence[Scrap], wanted: Scrap) -> Iterator[Scrap]:
    """Yield the scraps of the same size and outline, the very one first."""
    alike = [scrap for scrap in scraps if replace(wanted, id=scrap.id, paper=scrap.paper) == scrap]
    yield from sorted(alike, key=lambda scrap: scrap.id != wanted.id)
