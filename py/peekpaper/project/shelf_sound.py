"""Whether papers, scraps and shelves are such as can be: sizes, counts, colours, and no two with one id."""

import re
from collections.abc import Iterable

from peekpaper.papers.paper import Paper, Scrap, Shelf
from peekpaper.refusal import Refusal

_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")


def refuse_unsound_paper(paper: Paper) -> None:
    """Raise Refusal where a paper has no size, a count or price below zero, or a colour that is none."""
    name = paper.name[:40]
    if paper.sheet_width_mm <= 0 or paper.sheet_height_mm <= 0:
        raise Refusal(f"The sheet of “{name}” has no size: give it a width and a height.")
    if paper.picture_width_mm is not None and paper.picture_width_mm <= 0:
        raise Refusal(f"The picture of “{name}” has no size: tell how wide it really is.")
    if paper.sheets is not None and paper.sheets < 0:
        raise Refusal(f"There can't be fewer than no sheets of “{name}”: give the number of sheets.")
    if paper.price is not None and paper.price < 0:
        raise Refusal(f"The price of “{name}” can't be less than nothing: give it anew or leave it out.")
    if min(paper.room_mm) <= 0:
        raise Refusal(f"The page of “{name}” has no room to print on: give it a larger sheet or less margin.")
    if not _COLOUR.fullmatch(paper.colour):
        raise Refusal(f"The colour of “{name}” is no colour: write it like #2f3b4a.")


def refuse_unsound_scrap(scrap: Scrap) -> None:
    """Raise Refusal where a scrap has no size."""
    if scrap.width_mm <= 0 or scrap.height_mm <= 0:
        raise Refusal("A scrap has no size: give it a width and a height.")


def refuse_unsound_shelf(shelf: Shelf) -> None:
    """Raise Refusal where a paper or scrap is unsound, two share an id, or a scrap is of no paper here."""
    for paper in shelf.papers:
        refuse_unsound_paper(paper)
    for scrap in shelf.scraps:
        refuse_unsound_scrap(scrap)
    _refuse_twins((paper.id for paper in shelf.papers), "papers")
    _refuse_twins((scrap.id for scrap in shelf.scraps), "scraps")
    papers = {paper.id for paper in shelf.papers}
    if any(scrap.paper not in papers for scrap in shelf.scraps):
        raise Refusal("A scrap is of a paper that is not on the shelf: add the paper or remove the scrap.")


def _refuse_twins(ids: Iterable[str], things: str) -> None:
    seen: set[str] = set()
    for id_ in ids:
        if id_ in seen:
            raise Refusal(f"Two {things} share the name tag “{id_[:40]}”: remove one of them.")
        seen.add(id_)
