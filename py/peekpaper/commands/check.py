"""The `check` command: what to know of a design before the first cut, as JSON."""

import json
from argparse import ArgumentParser, Namespace
from dataclasses import replace
from typing import Any

from shapely import MultiPolygon

from peekpaper.backing.backing import Backing
from peekpaper.backing.make import make_backing
from peekpaper.commands.backing_json import backing_json
from peekpaper.commands.brought import brought
from peekpaper.commands.options import add_backing_options, project_of, with_mends, write_card
from peekpaper.commands.parts_json import parts_json
from peekpaper.design.design import Design
from peekpaper.pipeline import Pipeline
from peekpaper.project.codec import encode
from peekpaper.words.words import Language, read_words


def add_parser(subparsers: Any) -> None:
    """Add the command to the parser of `python -m peekpaper`."""
    parser: ArgumentParser = subparsers.add_parser("check", help="print card, openings and warnings")
    add_backing_options(parser)
    parser.set_defaults(run=run)


def run(arguments: Namespace) -> None:
    """Print the checked design, with the lips it gets if every opening is backed.

    Raises Refusal for a file that is no design.
    """
    pipeline = Pipeline()
    asked = project_of(brought(arguments.file), arguments)
    project = with_mends(asked, pipeline, arguments)
    design = pipeline.design(project)
    everywhere = {opening.number: "" for opening in design.openings}
    each_its_own = replace(project.backing, shared_bar_mm=None, joined=(), simple_shapes=())
    backing = make_backing(design, each_its_own, everywhere)
    write_card(project, pipeline, arguments)
    told = {
        **design_json(design, backing, read_words(arguments.language)),
        "motifs": encode(pipeline.motifs(project)),
        "mends": encode(project.mends),
    }
    print(json.dumps(told, allow_nan=False))


def design_json(design: Design, backing: Backing, words: Language) -> dict[str, Any]:
    """Return a design as the value that `check` prints; lengths in mm, shapes as WKT.

    `backing` is that of every opening, each with a piece of its own; `words` word the warnings.
    """
    return {
        "width_mm": design.width_mm,
        "height_mm": design.height_mm,
        "card": design.card.wkt,
        "openings": [
            {
                "id": opening.number,
                "wkt": opening.area.wkt,
                "area_mm2": opening.area.area,
                "alike": opening.alike,
                "same_shape": opening.same_shape,
                "given_colour": opening.given_colour,
            }
            for opening in design.openings
        ],
        "bars": {"narrowest_mm": min((bar.width_mm for bar in design.bars), default=None)},
        **backing_json(backing, words),
        "loose_bits": MultiPolygon([bit.area for bit in design.loose_bits]).wkt,
        "parts": parts_json(design),
        "habits": list(design.habits),
        "size_is_a_guess": design.size_is_a_guess,
        "warnings": [
            {
                "code": warning.code,
                "message": words.say(warning.message),
                "at": [warning.at.x, warning.at.y],
                "severity": warning.severity,
            }
            for warning in (*design.warnings, *backing.warnings)
        ],
    }
