"""Options on pictures of designs, and the design's file that such a picture becomes."""

import re
from argparse import ArgumentParser, Namespace
from collections.abc import Callable

from peekpaper.refusal import Refusal
from peekpaper.tracing.choices import Card, Corner, TracingChoices
from peekpaper.tracing.picture_file import is_picture, picture_svg

_COLOUR = re.compile(r"#[0-9a-fA-F]{6}")


def add_picture_options(parser: ArgumentParser, size: Callable[[str], tuple[float, float]]) -> None:
    """Add the options on which page is meant and how a picture is traced; `size` reads two lengths."""
    parser.add_argument("--page", type=int, default=1, metavar="NUMBER", help="of a PDF file (1)")
    group = parser.add_argument_group("pictures")
    group.add_argument(
        "--picture-card", metavar="WHAT", help="dark, light, opaque, or a colour such as #7a3b12"
    )
    group.add_argument(
        "--picture-threshold",
        type=float,
        metavar="SHARE",
        help="how much of that a px must have, 0 to 1 (0.5)",
    )
    group.add_argument(
        "--picture-corners",
        metavar="X,Y,...",
        help="px of a sheet's four corners, clockwise from the top left",
    )
    group.add_argument("--picture-size", type=size, metavar="SIZE", help="of that sheet, such as 8x10in")


def design_file(data: bytes, arguments: Namespace) -> bytes:
    """Return a design's file as it is, and a picture as the design's file that the options make of it.

    Raises Refusal for a picture that shows no design, and for options that tell nothing.
    """
    return picture_svg(data, _choices(arguments)).encode() if is_picture(data) else data


def _choices(arguments: Namespace) -> TracingChoices:
    card, told = None, arguments.picture_card
    is_colour = told is not None and _COLOUR.fullmatch(told) is not None
    if is_colour:
        card = Card.COLOUR
    elif told is not None:
        if told not in {Card.DARK, Card.LIGHT, Card.OPAQUE}:
            raise Refusal("no-card-colour", text=told[:20])
        card = Card(told)
    width, height = arguments.picture_size or (None, None)
    return TracingChoices(
        card=card,
        colour=told if is_colour else "#000000",
        threshold=arguments.picture_threshold,
        corners=None if arguments.picture_corners is None else corners_in(arguments.picture_corners),
        width_mm=width,
        height_mm=height,
    )


def corners_in(text: str) -> tuple[Corner, Corner, Corner, Corner]:
    """Return the four corners (px) in an option. Raises Refusal where it tells no four."""
    try:
        x0, y0, x1, y1, x2, y2, x3, y3 = (float(part) for part in text.split(","))
    except ValueError:
        raise Refusal("no-corners", text=text[:40]) from None
    return (x0, y0), (x1, y1), (x2, y2), (x3, y3)
