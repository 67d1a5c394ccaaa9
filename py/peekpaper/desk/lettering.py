"""Calls on words in a design: which are not drawn in their own typeface, and the project with them drawn."""

from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import asdict, replace
from typing import TYPE_CHECKING

from peekpaper.desk.context import Arguments, Context, bytes_of
from peekpaper.desk.step import Step, needs, result
from peekpaper.drawing.file.decode import decode_svg
from peekpaper.project.carrying import carried
from peekpaper.project.document import to_document
from peekpaper.refusal import Refusal

if TYPE_CHECKING:
    from peekpaper.sources.lettering.draw import Words


def words(context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the words, of a project or a design's file, that are not drawn in the file's typeface."""
    from peekpaper.sources.lettering.draw import words_without_own

    if "file" in arguments:
        svg = decode_svg(bytes_of(arguments, "file", buffers))
    else:
        svg = context.project(arguments).source.svg
    yield result({"words": _told(words_without_own(svg))})


def letter(context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the project with words drawn, and with those that are not in their own typeface.

    What lies where an opening lay before keeps its decisions.
    """
    from peekpaper.sources.lettering.draw import words_without_own

    project = context.project(arguments)
    yield from parts_for(arguments)
    svg = lettered(project.source.svg, arguments, buffers)
    changed = replace(project, source=replace(project.source, svg=svg))
    with suppress(Refusal):  # without its words it may have been no design
        changed = carried(changed, context.pipeline.design(project), context.pipeline.design(changed))
    document = {name: part for name, part in to_document(changed).items() if name != "source"}
    yield result({"project": document, "svg": svg, "words": _told(words_without_own(svg))})


def parts_for(arguments: Arguments) -> Iterator[Step]:
    """Yield the steps that ask for what drawing words takes, where a call is about that."""
    if arguments.get("typefaces") or arguments.get("stand_in"):
        yield needs("lettering")
    if arguments.get("stand_in"):
        yield needs("letters")


def lettered(svg: str, arguments: Arguments, buffers: Sequence[bytes]) -> str:
    """Return a design's file with the typefaces of a call put to its words.

    Raises Refusal for a typeface that can't be read.
    """
    given = arguments.get("typefaces") or []
    if not given and not arguments.get("stand_in"):
        return svg
    from peekpaper.sources.lettering.draw import with_outlines
    from peekpaper.sources.lettering.typeface import read_typeface, stand_in

    added = [read_typeface(bytes(buffers[place["buffer"]])) for place in given]
    return with_outlines(svg, added, stand_in() if arguments.get("stand_in") else None)


def _told(found: "Sequence[Words]") -> list[dict[str, str]]:
    return [asdict(one) for one in found]
