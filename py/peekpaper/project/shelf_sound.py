"""Whether papers, scraps and shelves are such as can be: sizes, counts, colours, and no two with one id."""

import re
from collections.abc import Iterable

from shapely import Polygon, box

from peekpaper.message import message
from peekpaper.papers.paper import Paper, Scrap, Shelf
from peekpaper.refusal import Refusal

_ROUNDING_MM = 0.01
"""Outlines are kept with two decimals."""
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")


def refuse_unsound_paper(paper: Paper) -> None:
    """Raise Refusal where a paper has no size, a count or price below zero, or a colour that is none."""
    name = paper.name[:40]
    if paper.sheet_width_mm <= 0 or paper.sheet_height_mm <= 0:
        raise Refusal("sheet-without-size", paper=name)
    if paper.picture_width_mm is not None and paper.picture_width_mm <= 0:
        raise Refusal("paper-picture-without-size", paper=name)
    if paper.sheets is not None and paper.sheets < 0:
        raise Refusal("sheets-below-zero", paper=name)
    if paper.price is not None and paper.price < 0:
        raise Refusal("price-below-zero", paper=name)
    if min(paper.room_mm) <= 0:
        raise Refusal("page-without-room", paper=name)
    if not _COLOUR.fullmatch(paper.colour):
        raise Refusal("paper-colour", paper=name)


def refuse_unsound_scrap(scrap: Scrap) -> None:
    """Raise Refusal where a scrap has no size, or an outline that crosses itself or leaves its box."""
    if scrap.width_mm <= 0 or scrap.height_mm <= 0:
        raise Refusal("scrap-without-size")
    if not scrap.outline:
        return
    outline = Polygon(scrap.outline) if len(scrap.outline) > 2 else Polygon()
    around = box(0, 0, scrap.width_mm, scrap.height_mm).buffer(_ROUNDING_MM)
    if outline.is_empty or not outline.is_valid or not around.covers(outline):
        raise Refusal("scrap-outline")


def refuse_unsound_shelf(shelf: Shelf) -> None:
    """Raise Refusal where a paper or scrap is unsound, two share an id, or a scrap is of no paper here."""
    for paper in shelf.papers:
        refuse_unsound_paper(paper)
    for scrap in shelf.scraps:
        refuse_unsound_scrap(scrap)
    _refuse_twins((paper.id for paper in shelf.papers), "things.papers")
    _refuse_twins((scrap.id for scrap in shelf.scraps), "things.scraps")
    papers = {paper.id for paper in shelf.papers}
    if any(scrap.paper not in papers for scrap in shelf.scraps):
        raise Refusal("scrap-without-paper")


def _refuse_twins(ids: Iterable[str], things: str) -> None:
    seen: set[str] = set()
    for id_ in ids:
        if id_ in seen:
            raise Refusal("twins", things=message(things), tag=id_[:40])
        seen.add(id_)
