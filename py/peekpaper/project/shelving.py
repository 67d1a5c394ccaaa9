"""The shelf of a project: papers put, moved, duplicated and removed, and another shelf's added."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from peekpaper.papers.paper import Colourway, Paper, Scrap, Shelf
from peekpaper.plan.plan import trim_is_of
from peekpaper.project.colourways import fresh_id, put_colourway
from peekpaper.project.project import Project
from peekpaper.project.shelf_sound import refuse_unsound_paper, refuse_unsound_scrap
from peekpaper.refusal import Refusal


@dataclass(frozen=True, slots=True)
class Use:
    """In how many openings of a colourway, by its name, a paper is used."""

    colourway: str
    openings: int


def uses_of(project: Project, paper: str) -> tuple[Use, ...]:
    """Return in which colourways a paper is used and how often, in the colourways' order."""
    counts = (
        (colourway.name, sum(given == paper for given in colourway.papers.values()))
        for colourway in project.colourways
    )
    return tuple(Use(name, count) for name, count in counts if count)


def put_paper(project: Project, paper: Paper) -> Project:
    """Return the project with a paper in place of the one with its id, else last on the shelf.

    Raises Refusal for a paper that can't be.
    """
    refuse_unsound_paper(paper)
    papers = project.shelf.papers
    if all(one.id != paper.id for one in papers):
        return _with_papers(project, (*papers, paper))
    return _with_papers(project, tuple(paper if one.id == paper.id else one for one in papers))


def duplicate_paper(project: Project, paper: str, name: str) -> Project:
    """Return the project with a copy of a paper beside it, under another name."""
    papers = project.shelf.papers
    place = papers.index(_paper(project, paper)) + 1
    copy = replace(papers[place - 1], id=fresh_id("p", (one.id for one in papers)), name=name, stash=None)
    return _with_papers(project, (*papers[:place], copy, *papers[place:]))


def remove_paper(project: Project, paper: str) -> Project:
    """Return the project without a paper: its openings stay open, its scraps and laid trims go with it."""
    _paper(project, paper)
    whole_back = project.backing.whole_back
    return replace(
        project,
        shelf=Shelf(
            tuple(one for one in project.shelf.papers if one.id != paper),
            tuple(scrap for scrap in project.shelf.scraps if scrap.paper != paper),
        ),
        colourways=tuple(_without(colourway, paper) for colourway in project.colourways),
        backing=replace(
            project.backing,
            whole_back=None if whole_back is not None and whole_back.paper == paper else whole_back,
        ),
        plan=replace(
            project.plan,
            trim_pins=tuple(pin for pin in project.plan.trim_pins if pin.paper != paper),
            piece_pins=tuple(pin for pin in project.plan.piece_pins if not trim_is_of(pin.trim, paper)),
        ),
        page=replace(
            project.page, background=None if project.page.background == paper else project.page.background
        ),
    )


def put_scraps(project: Project, paper: str, cuts: Sequence[Scrap]) -> Project:
    """Return the project with these as the only scraps of a paper, whatever ids and papers they name.

    A scrap that is there already keeps its id. Raises Refusal if there is no such paper, or for no size.
    """
    _paper(project, paper)
    others = [scrap for scrap in project.shelf.scraps if scrap.paper != paper]
    before = [scrap for scrap in project.shelf.scraps if scrap.paper == paper]
    taken = {scrap.id for scrap in project.shelf.scraps}
    for cut in cuts:
        twin = next((one for one in before if replace(cut, id=one.id, paper=one.paper) == one), None)
        if twin is not None:
            before.remove(twin)
        scrap = twin or replace(cut, id=fresh_id("s", taken), paper=paper)
        refuse_unsound_scrap(scrap)
        taken.add(scrap.id)
        others.append(scrap)
    return replace(project, shelf=replace(project.shelf, scraps=tuple(others)))


def add_shelf(project: Project, shelf: Shelf) -> Project:
    """Return the project with another shelf's papers and scraps behind its own.

    A paper that is here already is not added twice; one whose id means another paper here gets a new id.
    """
    joined, _ = join_shelves(project.shelf, shelf)
    return replace(project, shelf=joined)


def join_shelves(here: Shelf, other: Shelf) -> tuple[Shelf, Mapping[str, str]]:
    """Return a shelf with another's papers and scraps behind its own, and their new ids by the old."""
    papers = list(here.papers)
    scraps = list(here.scraps)
    ids: dict[str, str] = {}
    for paper in other.papers:
        refuse_unsound_paper(paper)
        twin = next((one for one in papers if _is_twin(one, paper)), None)
        if twin is None:
            taken = {one.id for one in papers}
            twin = replace(paper, id=fresh_id("p", taken)) if paper.id in taken else paper
            papers.append(twin)
        ids[paper.id] = twin.id
    for scrap in _new_scraps(other, here, ids):
        taken = {one.id for one in scraps}
        scraps.append(replace(scrap, id=fresh_id("s", taken)) if scrap.id in taken else scrap)
    return Shelf(tuple(papers), tuple(scraps)), ids


def adopt_colourway(project: Project, colourway: Colourway, papers: Sequence[Paper]) -> Project:
    """Return the project with a colourway that somebody else made for the same design, chosen.

    Of the other's `papers` those that it uses come to the shelf, unless they are there; an opening whose
    paper did not come along stays open.
    """
    used = set(colourway.papers.values())
    shelf, ids = join_shelves(project.shelf, Shelf(tuple(paper for paper in papers if paper.id in used)))
    given = {number: ids[paper] for number, paper in colourway.papers.items() if paper in ids}
    return put_colourway(replace(project, shelf=shelf), replace(colourway, papers=given, locked=()))


def _is_twin(one: Paper, other: Paper) -> bool:
    same_in_stash = one.stash is not None and one.stash == other.stash
    return same_in_stash or replace(one, id="", stash=None) == replace(other, id="", stash=None)


def _new_scraps(shelf: Shelf, here: Shelf, ids: dict[str, str]) -> Iterator[Scrap]:
    for scrap in shelf.scraps:
        refuse_unsound_scrap(scrap)
        own = replace(scrap, paper=ids[scrap.paper])
        if own not in here.scraps:
            yield own


def _paper(project: Project, paper: str) -> Paper:
    for one in project.shelf.papers:
        if one.id == paper:
            return one
    raise Refusal("paper-gone")


def _with_papers(project: Project, papers: tuple[Paper, ...]) -> Project:
    return replace(project, shelf=replace(project.shelf, papers=papers))


def _without(colourway: Colourway, paper: str) -> Colourway:
    papers = {number: given for number, given in colourway.papers.items() if given != paper}
    return replace(colourway, papers=papers)
