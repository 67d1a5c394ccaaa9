"""`ink FILE`: all painted area of a file as JSON."""

import argparse
import json
from pathlib import Path

from peekpaper.commands.brought import brought
from peekpaper.commands.options import add_language, size
from peekpaper.commands.pictures import add_picture_options, design_file
from peekpaper.drawing.ink import ink
from peekpaper.drawing.read import read_drawing
from peekpaper.sources.read import read_source


def add_parser(commands: "argparse._SubParsersAction[argparse.ArgumentParser]") -> None:
    """Add this subcommand to the parser of the headless command."""
    parser = commands.add_parser("ink", help="print all painted area of a design file or picture")
    parser.add_argument("file", type=Path)
    add_language(parser)
    add_picture_options(parser, size)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> None:
    """Print the page's size and the ink, in CSS px, as JSON with WKT in it."""
    data = design_file(brought(options.file)[1], options)
    drawing = read_drawing(read_source(data, options.page).encode())
    print(json.dumps({"width": drawing.width, "height": drawing.height, "ink": ink(drawing).wkt}))
