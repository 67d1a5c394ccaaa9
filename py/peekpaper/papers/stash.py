"""The stash, one shelf for all projects: how projects' own shelves keep in step with it, and its order.

The papers and scraps of a stash have ids of their own; a paper on a project's shelf names in `stash` the one
that it came from. A project keeps whole papers nevertheless, so that it opens where that stash is not.
"""

import math
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum

from peekpaper.papers.colour import lab_of
from peekpaper.papers.paper import Paper, Scrap, Shelf

_GREY_CHROMA = 8.0
"""Chroma (CIELAB) below which the eye names no hue (from memory)."""


@dataclass(frozen=True, slots=True)
class LaidIn:
    """A stash after papers of a project were laid in, and by those papers' ids where they are in it."""

    stash: Shelf
    links: Mapping[str, str]


class ColourOrder(StrEnum):
    """Orders by colour: from light to dark, or around the colour wheel, greys last."""

    LIGHT = "light"
    WHEEL = "wheel"


def is_used_up(paper: Paper, scraps: Iterable[Scrap]) -> bool:
    """Tell whether neither a sheet nor a scrap of a paper is left."""
    return paper.sheets == 0 and all(scrap.paper != paper.id for scrap in scraps)


def runs_low(paper: Paper) -> bool:
    """Tell whether at most one sheet of a paper is left, where sheets are counted."""
    return paper.sheets is not None and paper.sheets <= 1


def first_shelf(stash: Shelf) -> Shelf:
    """Return the shelf of a new project: all of the stash that is not used up."""
    left = [paper.id for paper in stash.papers if not is_used_up(paper, stash.scraps)]
    return with_papers(Shelf(), stash, left)


def with_papers(shelf: Shelf, stash: Shelf, papers: Collection[str]) -> Shelf:
    """Return a project's shelf with papers of the stash, by their ids there, behind its own, none twice."""
    linked = {paper.stash for paper in shelf.papers}
    taken = {paper.id for paper in shelf.papers}
    added = []
    for paper in stash.papers:
        if paper.id in papers and paper.id not in linked:
            own = _fresh("p", taken)
            taken.add(own)
            added.append(replace(paper, id=own, stash=paper.id))
    return restocked(replace(shelf, papers=(*shelf.papers, *added)), stash)


def restocked(shelf: Shelf, stash: Shelf) -> Shelf:
    """Return a project's shelf with its papers as they are in the stash by now, and their scraps.

    What the stash does not hold stays as it is.
    """
    known = {paper.id: paper for paper in stash.papers}
    papers = tuple(
        replace(known[paper.stash], id=paper.id, stash=paper.stash) if paper.stash in known else paper
        for paper in shelf.papers
    )
    own = {paper.stash: paper.id for paper in reversed(papers) if paper.stash in known}
    drawn = {paper.id for paper in papers if paper.stash in known}
    kept = [scrap for scrap in shelf.scraps if scrap.paper not in drawn]
    taken = {scrap.id for scrap in kept}
    for scrap in stash.scraps:
        if scrap.paper in own:
            id_ = _fresh("s", taken) if scrap.id in taken else scrap.id
            taken.add(id_)
            kept.append(replace(scrap, id=id_, paper=own[scrap.paper]))
    return Shelf(papers, tuple(kept))


def laid_in(stash: Shelf, shelf: Shelf, papers: Collection[str], new_id: Callable[[], str]) -> LaidIn:
    """Return the stash with some papers of a shelf as they are there, scraps too.

    A paper that came from the stash takes its own place in it, also where it had left; one that is the same
    as one in the stash is taken for that. `new_id` gives ids that no stash anywhere has.
    """
    held = {paper.id: paper for paper in stash.papers}
    scraps = list(stash.scraps)
    links: dict[str, str] = {}
    for paper in shelf.papers:
        if paper.id not in papers:
            continue
        twin = next((one.id for one in held.values() if _is_same(one, paper)), None)
        id_ = paper.stash or twin or new_id()
        links[paper.id] = id_
        held[id_] = replace(paper, id=id_, stash=None)
        scraps = [scrap for scrap in scraps if scrap.paper != id_]
        taken = {scrap.id for scrap in scraps}
        for scrap in shelf.scraps:
            if scrap.paper == paper.id:
                own = new_id() if scrap.id in taken else scrap.id
                taken.add(own)
                scraps.append(replace(scrap, id=own, paper=id_))
    return LaidIn(Shelf(tuple(held.values()), tuple(scraps)), links)


def touches_plan(before: Shelf, after: Shelf, used: Collection[str]) -> bool:
    """Tell whether a plan made from one shelf may be another from the other, for the used papers."""
    return any(_planned(before, paper) != _planned(after, paper) for paper in used)


def in_colour_order(papers: Iterable[Paper], order: ColourOrder) -> tuple[str, ...]:
    """Return the papers' ids in an order by colour: lightness, or hue angle of CIELAB (CIE 15:2004)."""
    key = _lightness if order is ColourOrder.LIGHT else _hue
    return tuple(paper.id for paper in sorted(papers, key=key))


def _planned(shelf: Shelf, paper: str) -> tuple[object, ...]:
    """Return what a plan goes by of a paper."""
    for one in shelf.papers:
        if one.id == paper:
            scraps = sorted((s.width_mm, s.height_mm, s.outline) for s in shelf.scraps if s.paper == paper)
            return (one.room_mm, one.direction, one.print_margin_mm, scraps)
    return ()


def _is_same(held: Paper, paper: Paper) -> bool:
    return replace(held, id="", stash=None) == replace(paper, id="", stash=None)


def _lightness(paper: Paper) -> float:
    return -lab_of(paper.colour)[0]


def _hue(paper: Paper) -> tuple[bool, float, float]:
    lightness, a, b = lab_of(paper.colour)
    is_grey = math.hypot(a, b) < _GREY_CHROMA
    return is_grey, 0.0 if is_grey else math.degrees(math.atan2(b, a)) % 360.0, -lightness


def _fresh(letter: str, taken: Collection[str]) -> str:
    return next(id_ for count in range(1, len(taken) + 2) if (id_ := f"{letter}{count}") not in taken)
