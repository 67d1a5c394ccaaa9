"""Options that the commands share, and the project that they make of them."""

from argparse import ArgumentParser, ArgumentTypeError, Namespace
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any, TypeVar

from peekpaper.commands.brought import Brought
from peekpaper.commands.card_file import card_file
from peekpaper.commands.lettering import add_lettering_options, lettered
from peekpaper.commands.parcel import document_in, is_parcel
from peekpaper.commands.pictures import add_picture_options, design_file
from peekpaper.design.mending.mend_all import added_to
from peekpaper.lengths import parse_length, unit_of
from peekpaper.pipeline import Pipeline
from peekpaper.project.document import from_json, new_project, read_saved
from peekpaper.project.project import Project
from peekpaper.refusal import Refusal
from peekpaper.sources.read import read_source
from peekpaper.words.words import languages, read_words

Value = TypeVar("Value")


def length(text: str) -> float:
    """Return a length option in mm; argparse shows the sentence of a refusal."""
    return _value(parse_length, text)


def size(text: str) -> tuple[float, float]:
    """Return a size option such as `12x24in` or `210 x 297 mm` as width and height in mm."""
    return _value(_parse_size, text)


def step(text: str) -> float | None:
    """Return a trim step in mm, None for `free`."""
    return None if text.strip().lower() == "free" else length(text)


def _value(read: Callable[[str], Value], text: str) -> Value:
    try:
        return read(text)
    except Refusal as refusal:
        raise ArgumentTypeError(str(refusal)) from None


def _parse_size(text: str) -> tuple[float, float]:
    sides = text.lower().replace("×", "x").split("x")
    if len(sides) != 2:
        raise Refusal("no-size", text=text[:40])
    height = parse_length(sides[1])
    return parse_length(sides[0], unit_of(sides[1])), height


def add_language(parser: ArgumentParser) -> None:
    """Add the option on the language that messages and sheets are in."""
    parser.add_argument(
        "--language", choices=languages(), default="en", help="of messages and sheets, by its BCP 47 tag (en)"
    )


def add_backing_options(parser: ArgumentParser) -> None:
    """Add the options on size and backing; those that are left out keep what the project says."""
    parser.add_argument(
        "file",
        type=Path,
        help="a cutting design (SVG, DXF, PDF, picture, or a zip with one) or a project (JSON, or zip)",
    )
    add_language(parser)
    parser.add_argument("--width", type=length, metavar="LENGTH", help="finished width, such as 8in")
    parser.add_argument("--lip", type=length, metavar="LENGTH", help="wanted lip (3mm)")
    parser.add_argument("--least-lip", type=length, metavar="LENGTH", help="least lip (0.8mm)")
    parser.add_argument("--mend", choices=["all"], help="mend what the check finds before anything else")
    parser.add_argument(
        "--card", type=Path, metavar="FILE.svg", help="write the card, mended or not, as an SVG file"
    )
    parser.add_argument("--gap", type=length, metavar="LENGTH", help="gap between pieces (0.4mm)")
    add_picture_options(parser, size)
    add_lettering_options(parser)


def is_project(data: bytes) -> bool:
    """Tell whether a file is a zip or holds a JSON object, so a project and no design."""
    return is_parcel(data) or data.lstrip(b"\xef\xbb\xbf \t\r\n").startswith(b"{")


def layout_of(file: Brought) -> object:
    """Return what a project's file keeps of its plan, None for nothing. Raises Refusal as `project_of`."""
    return read_saved(_project_text(file)).layout if is_project(file.data) else None


def project_of(file: Brought, arguments: Namespace) -> Project:
    """Return the project in `file`, or a new one for the design in it, with the options' decisions.

    Raises Refusal for a file that can't be read.
    """
    name, data = file.name, file.data
    if is_project(data):
        project = from_json(_project_text(file))
    else:
        svg = lettered(read_source(design_file(data, arguments), arguments.page), arguments, file.typefaces)
        project = new_project(name, svg, read_words(arguments.language))
    if arguments.width is not None:
        project = replace(project, reading=replace(project.reading, width_mm=arguments.width, height_mm=None))
    wanted = {"lip_mm": arguments.lip, "least_lip_mm": arguments.least_lip, "gap_mm": arguments.gap}
    return replace(project, backing=replace(project.backing, **given(wanted)))


def with_mends(project: Project, pipeline: Pipeline, arguments: Namespace) -> Project:
    """Return the project with all that the check finds mended, where the options say so.

    Raises Refusal for a file that is no design.
    """
    if arguments.mend is None:
        return project
    return replace(project, mends=added_to(project.mends, pipeline.mend_all(project)))


def write_card(project: Project, pipeline: Pipeline, arguments: Namespace) -> None:
    """Write the project's card, where the options name a file for it. Raises OSError for the disk."""
    if arguments.card is not None:
        arguments.card.write_bytes(card_file(pipeline.design(project)))


def given(options: dict[str, Any]) -> dict[str, Any]:
    """Return the options that were given."""
    return {name: value for name, value in options.items() if value is not None}


def _project_text(file: Brought) -> str:
    return _text(document_in(file.data) if is_parcel(file.data) else file.data, file.name)


def _text(data: bytes, name: str) -> str:
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise Refusal("no-utf-8", name=name) from None
