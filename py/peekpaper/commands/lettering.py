"""Options on the typefaces of words in a design."""

from argparse import ArgumentParser, Namespace
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from peekpaper.refusal import Refusal
from peekpaper.sources.glance import has_text


def add_lettering_options(parser: ArgumentParser) -> None:
    """Add the options on what words are drawn in whose typeface the file does not hold."""
    group = parser.add_argument_group("words")
    group.add_argument(
        "--typeface",
        type=Path,
        action="append",
        default=[],
        metavar="FILE",
        help="a font file (TrueType, OpenType, WOFF) for words in the design; may be given several times",
    )
    group.add_argument(
        "--stand-in", action="store_true", help="draw words whose typeface is missing in another, Arimo"
    )


def lettered(svg: str, arguments: Namespace, came_along: Sequence[bytes] = ()) -> str:
    """Return the text of an SVG file with outlines for its words, as the options say.

    Font files that `came_along` with it serve where they can be read. Raises Refusal for one of the options
    that can't be.
    """
    if not (arguments.typeface or arguments.stand_in or came_along) or not has_text(svg):
        return svg
    from peekpaper.sources.lettering.draw import with_outlines
    from peekpaper.sources.lettering.typeface import read_typeface, stand_in

    added = [read_typeface(_bytes(path)) for path in arguments.typeface]
    for data in came_along:
        with suppress(Refusal):
            added.append(read_typeface(data))
    return with_outlines(svg, added, stand_in() if arguments.stand_in else None)


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise Refusal("unreadable-file", path=str(path), reason=str(error.strerror or error)) from None
