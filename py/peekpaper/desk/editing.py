"""Calls that change a project by the package's own rules: its shelf and its colourways."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from functools import partial
from typing import Any

from peekpaper.design.design import Design, Reading
from peekpaper.desk.context import Arguments, Context, words_in
from peekpaper.desk.given_papers import with_given_papers
from peekpaper.desk.mending import mend_edits
from peekpaper.desk.stashing import restock, stock, take_from_stash
from peekpaper.desk.step import Step, result
from peekpaper.papers.paper import Colourway, Paper, Scrap
from peekpaper.project.carrying import carried
from peekpaper.project.codec import decode, encode
from peekpaper.project.colourways import (
    add_colourway,
    duplicate_colourway,
    remove_colourway,
    rename_colourway,
    swap_paper,
)
from peekpaper.project.document import to_document
from peekpaper.project.project import Project
from peekpaper.project.shelf_file import shelf_from_json
from peekpaper.project.shelving import (
    add_shelf,
    adopt_colourway,
    duplicate_paper,
    put_paper,
    put_scraps,
    remove_paper,
    uses_of,
)
from peekpaper.refusal import Refusal
from peekpaper.words.words import Language

Edit = Callable[[Project, Mapping[str, Any]], Project]

EDITS: dict[str, Edit] = {
    "put_paper": lambda project, to: put_paper(project, decode(Paper, to["paper"], "shelf.papers[0]")),
    "duplicate_paper": lambda project, to: duplicate_paper(project, to["paper"], to["name"]),
    "remove_paper": lambda project, to: remove_paper(project, to["paper"]),
    "put_scraps": lambda project, to: put_scraps(
        project, to["paper"], [decode(Scrap, one, "shelf.scraps[0]") for one in to["scraps"]]
    ),
    "stock": stock,
    "restock": restock,
    "take_from_stash": take_from_stash,
    "add_shelf": lambda project, to: add_shelf(project, shelf_from_json(to["text"])),
    "add_colourway": lambda project, to: add_colourway(project, to["name"]),
    "duplicate_colourway": lambda project, to: duplicate_colourway(project, to["colourway"], to["name"]),
    "adopt_colourway": lambda project, to: adopt_colourway(
        project,
        decode(Colourway, to["colourway"], "colourways[0]"),
        [decode(Paper, paper, "shelf.papers[0]") for paper in to["papers"]],
    ),
    "rename_colourway": lambda project, to: rename_colourway(project, to["colourway"], to["name"]),
    "remove_colourway": lambda project, to: remove_colourway(project, to["colourway"]),
    "swap_paper": lambda project, to: swap_paper(project, to["colourway"], to["old"], to["new"]),
}


def edit(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the project after one edit, without its source, which no edit changes.

    Raises Mismatch for one that would leave the bounds of what a project may hold, and KeyError for one that
    is neither in EDITS nor looks at the design too: `read_again` and those of `mend_edits`.
    """
    edits: dict[str, Edit] = {
        **EDITS,
        **mend_edits(context.pipeline),
        "read_again": partial(_read_again, context.pipeline.design, words_in(arguments)),
    }
    project = edits[arguments["edit"]](context.project(arguments), arguments["to"])
    decode(Project, encode(project))
    document = {name: part for name, part in to_document(project).items() if name != "source"}
    yield result({"project": document})


def _read_again(
    design_of: Callable[[Project], Design], words: Language, project: Project, to: Mapping[str, Any]
) -> Project:
    """Return the project with its file read another way, and papers for the colours in its openings.

    What lies where an opening lay before keeps its decisions.
    """
    wanted = decode(Reading, to, "reading")
    read = replace(project, reading=replace(project.reading, **{name: getattr(wanted, name) for name in to}))
    design = design_of(read)
    with suppress(Refusal):  # read the former way it may have been no design
        read = carried(read, design_of(project), design)
    return with_given_papers(read, design, words)


def uses(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the colourways that use a paper, and in how many openings."""
    yield result(
        {
            "uses": [
                {"colourway": use.colourway, "openings": use.openings}
                for use in uses_of(context.project(arguments), arguments["paper"])
            ]
        }
    )
