"""Whether the parts of a project fit one another, beyond each being of the right kind."""

import re

from peekpaper.project.project import PageLayout, Project
from peekpaper.project.shelf_sound import refuse_unsound_shelf
from peekpaper.refusal import Refusal

UNITS = ("in", "mm")
_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")


def refuse_unsound(project: Project) -> None:
    """Raise Refusal where the project names what it does not have, or gives a size that can't be.

    Lengths that one step alone uses (lips, spacings, limits) are refused by that step.
    """
    refuse_unsound_shelf(project.shelf)
    _refuse_unsound_colourways(project)
    _refuse_unsound_page(project.page)
    for colour in (project.look.card_colour, project.look.behind_colour):
        if not _COLOUR.fullmatch(colour):
            raise Refusal("no-colour", colour=colour[:20])
    if project.speed.mm_per_second <= 0 or project.speed.seconds_per_piece < 0:
        raise Refusal("cutting-too-fast")
    if project.units not in UNITS:
        raise Refusal("no-unit", unit=project.units[:20])


def _refuse_unsound_colourways(project: Project) -> None:
    at_hand = {paper.id for paper in project.shelf.papers}
    seen: set[str] = set()
    for colourway in project.colourways:
        if colourway.id in seen:
            raise Refusal("twin-colourways", tag=colourway.id[:40])
        seen.add(colourway.id)
        for number, paper in colourway.papers.items():
            if paper not in at_hand:
                raise Refusal("unknown-paper-given", colourway=colourway.name[:40], opening=number)


def _refuse_unsound_page(page: PageLayout) -> None:
    if page.width_mm <= 0 or page.height_mm <= 0:
        raise Refusal("page-layout-without-size")
    for block in page.blocks:
        if block.width_mm <= 0 or block.height_mm <= 0 or block.mat_mm < 0:
            raise Refusal("block-without-size")
