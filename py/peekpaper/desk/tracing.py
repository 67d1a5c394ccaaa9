"""Calls on pictures: what would be card in one, the design's file that it becomes, left-overs in photos."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from peekpaper.desk.context import Arguments, Context, bytes_of
from peekpaper.desk.step import Step, result, step
from peekpaper.project.codec import decode

if TYPE_CHECKING:
    from peekpaper.tracing.choices import TracingChoices

_STEPS = 5
"""That tracing a picture takes."""


def _choices(arguments: Arguments, width: int) -> "TracingChoices":
    """Return the choices for a picture of that width; their corners are px of a copy as wide as is told."""
    from peekpaper.tracing.choices import TracingChoices

    choices = decode(TracingChoices, arguments["choices"])
    if choices.corners is None:
        return choices
    scale = width / float(arguments["copy_width"])
    first, second, third, fourth = ((x * scale, y * scale) for x, y in choices.corners)
    return replace(choices, corners=(first, second, third, fourth))


def look_at_picture(context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with what choices would make of a small copy of a picture: its px that are card, and counts."""
    looking = context.looking(
        bytes_of(arguments, "pixels", buffers), int(arguments["width"]), int(arguments["height"])
    )
    seen = looking.seen(_choices(arguments, int(arguments["width"])))
    yield result(
        {
            "card": seen.card,
            "threshold": seen.threshold,
            "openings": seen.openings,
            "parts": seen.parts,
            "dropped": seen.dropped,
            "is_card": {"buffer": 0},
        },
        (seen.is_card.tobytes(),),
    )


def picture_in(_context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the largest picture that the file of a drawing holds, where it holds any."""
    from peekpaper.drawing.file.decode import decode_svg
    from peekpaper.tracing.embedded import largest_picture

    found = largest_picture(decode_svg(bytes_of(arguments, "file", buffers)))
    yield result({"found": found is not None}, () if found is None else (found,))


def trace_picture(_context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Show how far it is; answer with the file of the design in a picture."""
    from peekpaper.pixels import rgba_array
    from peekpaper.tracing.trace import svg_of, trace

    picture = rgba_array(
        bytes_of(arguments, "pixels", buffers), int(arguments["width"]), int(arguments["height"])
    )
    for done, tracing in enumerate(trace(picture, _choices(arguments, picture.shape[1])), start=1):
        if tracing is None:
            yield step("progress", {"done": done, "total": _STEPS})
        else:
            yield result({"svg": svg_of(tracing), "dropped": tracing.dropped})


def find_scrap(_context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the outline of a left-over in a photo, and the corners of what is known beside it, in px.

    `known_mm` is the size of that; the corners are null where nothing in the photo looks like it.
    """
    from peekpaper.pixels import rgba_array
    from peekpaper.tracing.scrap import find_scrap

    photo = rgba_array(bytes_of(arguments, "pixels", buffers), arguments["width"], arguments["height"])
    wide, high = arguments["known_mm"]
    found = find_scrap(photo, (float(wide), float(high)))
    yield result({"outline": found.outline, "corners": found.corners})


def measure_scrap(_context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with a left-over in mm, its outline and the box around it, of places in px by `find_scrap`."""
    from peekpaper.tracing.scrap import measured_scrap

    outline, corners = ([(float(x), float(y)) for x, y in arguments[name]] for name in ("outline", "corners"))
    wide, high = arguments["known_mm"]
    found = measured_scrap(outline, corners, (float(wide), float(high)))
    yield result({"width_mm": found.width_mm, "height_mm": found.height_mm, "outline": found.outline})
