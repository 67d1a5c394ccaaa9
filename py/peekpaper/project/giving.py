"""Giving papers to openings in the chosen colourway, leaving openings open, and locking them."""

from collections.abc import Iterable
from dataclasses import replace

import shapely

from peekpaper.design.design import Design
from peekpaper.papers.paper import Colourway
from peekpaper.project.project import Project
from peekpaper.refusal import Refusal

Outline = tuple[tuple[float, float], ...]


def give(project: Project, openings: Iterable[int], paper: str) -> Project:
    """Return the project with a paper given to openings. Raises Refusal if it is not on the shelf."""
    if all(one.id != paper for one in project.shelf.papers):
        raise Refusal("That paper is no longer on the shelf: pick another one.")
    colourway = _chosen(project)
    return _with(project, replace(colourway, papers={**colourway.papers, **dict.fromkeys(openings, paper)}))


def leave_open(project: Project, openings: Iterable[int]) -> Project:
    """Return the project with openings left open."""
    colourway, opened = _chosen(project), set(openings)
    papers = {number: paper for number, paper in colourway.papers.items() if number not in opened}
    return _with(project, replace(colourway, papers=papers))


def lock(project: Project, openings: Iterable[int]) -> Project:
    """Return the project with openings locked: a suggestion leaves them as they are."""
    colourway = _chosen(project)
    return _with(project, replace(colourway, locked=tuple(sorted({*colourway.locked, *openings}))))


def unlock(project: Project, openings: Iterable[int]) -> Project:
    """Return the project with openings free for suggestions."""
    colourway, freed = _chosen(project), set(openings)
    locked = tuple(number for number in colourway.locked if number not in freed)
    return _with(project, replace(colourway, locked=locked))


def all_alike(design: Design, openings: Iterable[int]) -> tuple[int, ...]:
    """Return the numbers of all openings alike to any of `openings`, those included."""
    wanted = set(openings)
    groups = {opening.alike for opening in design.openings if opening.number in wanted}
    return tuple(opening.number for opening in design.openings if opening.alike in groups)


def openings_inside(design: Design, outline: Outline) -> tuple[int, ...]:
    """Return the numbers of the openings whose middle lies in a drawn outline (mm), a box or a lasso.

    The outline closes itself and may cross itself; with fewer than three points nothing is inside.
    """
    if len(outline) < 3:
        return ()
    drawn = shapely.make_valid(shapely.Polygon(outline))
    middles = shapely.points([opening.area.representative_point().coords[0] for opening in design.openings])
    inside = shapely.intersects(drawn, middles)
    return tuple(opening.number for opening, is_in in zip(design.openings, inside, strict=True) if is_in)


def _chosen(project: Project) -> Colourway:
    for colourway in project.colourways:
        if colourway.id == project.colourway:
            return colourway
    raise Refusal("No colourway is chosen: choose one, or add one.")


def _with(project: Project, colourway: Colourway) -> Project:
    return replace(
        project,
        colourways=tuple(colourway if one.id == colourway.id else one for one in project.colourways),
    )
