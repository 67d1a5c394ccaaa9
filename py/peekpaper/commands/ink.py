"""`ink FILE`: all painted area of a file as JSON."""

import argparse
import json
from pathlib import Path

from peekpaper.commands.brought import brought
from peekpaper.commands.lettering import add_lettering_options, lettered
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
    add_lettering_options(parser)
    parser.set_defaults(run=run)


def run(options: argparse.Namespace) -> None:
    """Print the page's size and the ink, in CSS px, as JSON with WKT in it."""
    file = brought(options.file)
    svg = read_source(design_file(file.data, options), options.page)
    drawing = read_drawing(lettered(svg, options, file.typefaces).encode())
    print(json.dumps({"width": drawing.width, "height": drawing.height, "ink": ink(drawing).wkt}))
