"""Calls that change a project by the package's own rules: its shelf and its colourways."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

from peekpaper.desk.context import Arguments, Context
from peekpaper.desk.given_papers import with_given_papers
from peekpaper.desk.step import Step, result
from peekpaper.papers.paper import Paper
from peekpaper.project.codec import decode
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
    duplicate_paper,
    put_paper,
    put_scraps,
    remove_paper,
    uses_of,
)

Edit = Callable[[Project, Mapping[str, Any]], Project]

EDITS: dict[str, Edit] = {
    "put_paper": lambda project, to: put_paper(project, decode(Paper, to["paper"])),
    "duplicate_paper": lambda project, to: duplicate_paper(project, to["paper"], to["name"]),
    "remove_paper": lambda project, to: remove_paper(project, to["paper"]),
    "put_scraps": lambda project, to: put_scraps(
        project, to["paper"], [(float(width), float(height)) for width, height in to["sizes"]]
    ),
    "add_shelf": lambda project, to: add_shelf(project, shelf_from_json(to["text"])),
    "add_colourway": lambda project, to: add_colourway(project, to["name"]),
    "duplicate_colourway": lambda project, to: duplicate_colourway(project, to["colourway"], to["name"]),
    "rename_colourway": lambda project, to: rename_colourway(project, to["colourway"], to["name"]),
    "remove_colourway": lambda project, to: remove_colourway(project, to["colourway"]),
    "swap_paper": lambda project, to: swap_paper(project, to["colourway"], to["old"], to["new"]),
}


def edit(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the project after one edit, without its source, which no edit changes.

    The edit `give_colours` looks at the project's design; all others are in EDITS. Raises KeyError for an
    unknown one.
    """
    project = context.project(arguments)
    if arguments["edit"] == "give_colours":
        project = with_given_papers(project, context.pipeline.design(project))
    else:
        project = EDITS[arguments["edit"]](project, arguments["to"])
    document = {name: part for name, part in to_document(project).items() if name != "source"}
    yield result({"project": document})


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
