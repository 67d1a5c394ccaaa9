"""The `scrap` command: a left-over in a photo, measured by what lies beside it, as JSON."""

import json
from argparse import ArgumentParser, Namespace
from dataclasses import asdict
from pathlib import Path
from typing import Any

from peekpaper.commands.brought import read_file
from peekpaper.commands.options import add_language, size
from peekpaper.commands.pictures import corners_in
from peekpaper.refusal import Refusal
from peekpaper.tracing.picture_file import decoded
from peekpaper.tracing.scrap import CARD_MM, find_scrap, measured_scrap


def add_parser(subparsers: Any) -> None:
    """Add the command to the parser of `python -m peekpaper`."""
    parser: ArgumentParser = subparsers.add_parser("scrap", help="measure a left-over in a photo")
    parser.add_argument("file", type=Path)
    parser.add_argument(
        "--known",
        type=size,
        default=CARD_MM,
        metavar="SIZE",
        help="of what lies beside it (a card of ISO/IEC 7810 ID-1, 85.6x53.98mm)",
    )
    parser.add_argument(
        "--corners", metavar="X,Y,...", help="px of the four corners of that, clockwise from the top left"
    )
    add_language(parser)
    parser.set_defaults(run=run)


def run(arguments: Namespace) -> None:
    """Print the outline as a scrap of a project has it, in mm, and where in the photo it was found, in px.

    Raises Refusal for a photo that shows none, and where nothing in it looks like what is known.
    """
    photo, _ = decoded(read_file(arguments.file))
    found = find_scrap(photo, arguments.known)
    corners = found.corners if arguments.corners is None else corners_in(arguments.corners)
    if corners is None:
        raise Refusal("scrap-photo-no-card")
    scrap = measured_scrap(found.outline, corners, arguments.known)
    print(json.dumps({**asdict(scrap), "seen": {"outline": found.outline, "corners": corners}}))
