"""Papers for the colours that a file itself puts in its openings."""

from dataclasses import replace

from peekpaper.design.design import Design
from peekpaper.papers.colour_words import colour_words
from peekpaper.papers.paper import Paper
from peekpaper.pipeline import chosen_colourway
from peekpaper.project.colourways import fresh_id
from peekpaper.project.project import Project
from peekpaper.project.shelving import put_paper
from peekpaper.words.words import Language


def with_given_papers(project: Project, design: Design, words: Language) -> Project:
    """Return the project with each open opening that has a colour in the file given a plain paper of it.

    A plain paper of that colour on the shelf is taken, else one is put there. Openings that have a paper
    keep it. `words` name the papers.
    """
    papers = dict(chosen_colourway(project).papers)
    for opening in design.openings:
        colour = opening.given_colour
        if colour is not None and opening.number not in papers:
            project, papers[opening.number] = _with_paper(project, colour, words)
    chosen = replace(chosen_colourway(project), papers=papers)
    colourways = tuple(chosen if one.id == chosen.id else one for one in project.colourways)
    return replace(project, colourways=colourways)


def _with_paper(project: Project, colour: str, words: Language) -> tuple[Project, str]:
    """Return the project with a plain paper of a colour on its shelf, and that paper's id."""
    for paper in project.shelf.papers:
        if paper.colour == colour and paper.pattern is None and paper.picture is None:
            return project, paper.id
    name = words.say(colour_words(colour))
    paper = Paper(fresh_id("p", (one.id for one in project.shelf.papers)), name[0].upper() + name[1:], colour)
    return put_paper(project, paper), paper.id
