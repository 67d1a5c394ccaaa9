"""Colourways of a project: added, duplicated, renamed, removed, and one paper swapped for another."""

from collections.abc import Iterable
from dataclasses import replace

from peekpaper.papers.paper import Colourway
from peekpaper.project.project import Project
from peekpaper.refusal import Refusal


def fresh_id(letter: str, taken: Iterable[str]) -> str:
    """Return the first of "c1", "c2", ... (with another letter for other things) that is not `taken`."""
    ids = set(taken)
    return next(id_ for count in range(1, len(ids) + 2) if (id_ := f"{letter}{count}") not in ids)


def add_colourway(project: Project, name: str) -> Project:
    """Return the project with an empty colourway at the end, chosen."""
    return _with_chosen(project, Colourway(_fresh_id(project), _named(name)), len(project.colourways))


def put_colourway(project: Project, colourway: Colourway) -> Project:
    """Return the project with a colourway from elsewhere at the end, under an id of its own, chosen."""
    own = replace(colourway, id=_fresh_id(project), name=_named(colourway.name))
    return _with_chosen(project, own, len(project.colourways))


def duplicate_colourway(project: Project, colourway: str, name: str) -> Project:
    """Return the project with a copy of a colourway beside it, chosen. Raises Refusal if there is none."""
    place = _place(project, colourway)
    copy = replace(project.colourways[place], id=_fresh_id(project), name=_named(name))
    return _with_chosen(project, copy, place + 1)


def rename_colourway(project: Project, colourway: str, name: str) -> Project:
    """Return the project with a colourway renamed. Raises Refusal for an empty name, or if there is none."""
    place = _place(project, colourway)
    return _with_one(project, place, replace(project.colourways[place], name=_named(name)))


def remove_colourway(project: Project, colourway: str) -> Project:
    """Return the project without a colourway; where it was chosen, the one beside it is.

    Raises Refusal if there is none, and for the last one.
    """
    place = _place(project, colourway)
    if len(project.colourways) == 1:
        raise Refusal("only-colourway")
    left = (*project.colourways[:place], *project.colourways[place + 1 :])
    chosen = left[min(place, len(left) - 1)].id if project.colourway == colourway else project.colourway
    return replace(project, colourways=left, colourway=chosen)


def swap_paper(project: Project, colourway: str, old: str, new: str) -> Project:
    """Return the project with every opening that has paper `old` in a colourway given paper `new`.

    Raises Refusal if there is no such colourway or paper.
    """
    place = _place(project, colourway)
    at_hand = {paper.id for paper in project.shelf.papers}
    if old not in at_hand or new not in at_hand:
        raise Refusal("paper-gone")
    before = project.colourways[place].papers
    papers = {number: new if paper == old else paper for number, paper in before.items()}
    return _with_one(project, place, replace(project.colourways[place], papers=papers))


def _fresh_id(project: Project) -> str:
    return fresh_id("c", (colourway.id for colourway in project.colourways))


def _named(name: str) -> str:
    if not name.strip():
        raise Refusal("colourway-without-name")
    return name.strip()


def _place(project: Project, colourway: str) -> int:
    for place, one in enumerate(project.colourways):
        if one.id == colourway:
            return place
    raise Refusal("colourway-gone")


def _with_chosen(project: Project, colourway: Colourway, place: int) -> Project:
    colourways = (*project.colourways[:place], colourway, *project.colourways[place:])
    return replace(project, colourways=colourways, colourway=colourway.id)


def _with_one(project: Project, place: int, colourway: Colourway) -> Project:
    return replace(
        project, colourways=(*project.colourways[:place], colourway, *project.colourways[place + 1 :])
    )
