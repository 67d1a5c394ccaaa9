"""The `stories` command: palettes of a project's papers about one of them or about a photo, as JSON."""

import json
from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from peekpaper.commands.brought import read_file
from peekpaper.commands.options import add_language
from peekpaper.papers.main_colours import main_colours
from peekpaper.papers.paper import Paper
from peekpaper.papers.stories.story import leading_colour, stories
from peekpaper.project.document import from_json
from peekpaper.refusal import Refusal
from peekpaper.tracing.picture_file import decoded

_COUNT = 5


def add_parser(subparsers: Any) -> None:
    """Add the command to the parser of `python -m peekpaper`."""
    parser: ArgumentParser = subparsers.add_parser("stories", help="find palettes among a project's papers")
    parser.add_argument("file", type=Path, metavar="PROJECT.json")
    about = parser.add_mutually_exclusive_group(required=True)
    about.add_argument("--paper", metavar="NAME", help="about this paper")
    about.add_argument("--photo", type=Path, metavar="PHOTO", help="about the leading colour of a photo")
    parser.add_argument(
        "--papers", type=int, default=_COUNT, metavar="N", help=f"so many papers each ({_COUNT})"
    )
    add_language(parser)
    parser.set_defaults(run=run)


def run(arguments: Namespace) -> None:
    """Print the palettes by kind, each as names of papers in its order.

    Raises Refusal for what is no project or no picture, and for a name that no paper has.
    """
    papers = from_json(read_file(arguments.file).decode("utf-8", "replace")).shelf.papers
    if arguments.paper is not None:
        colour = paper_named(papers, arguments.paper).colour
    else:
        colours = main_colours(decoded(read_file(arguments.photo))[0], _COUNT)
        if not colours:
            raise Refusal("picture-see-through")
        colour = leading_colour([one.colour for one in colours])
    names = {paper.id: paper.name for paper in papers}
    found = stories(papers, colour, arguments.papers)
    told = {str(story.kind): [names[id_] for id_ in story.papers] for story in found}
    print(json.dumps({"colour": colour, "stories": told}, ensure_ascii=False))


def paper_named(papers: Sequence[Paper], name: str) -> Paper:
    """Return the first paper of that name, whatever its capitals. Raises Refusal where none has it."""
    for paper in papers:
        if paper.name.casefold() == name.casefold():
            return paper
    raise Refusal("no-paper-so-named", name=name)
