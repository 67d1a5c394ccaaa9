"""Calls on papers: suggestions, and pictures of papers."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from peekpaper.desk.context import Arguments, Context, bytes_of
from peekpaper.desk.step import Step, result, step
from peekpaper.pipeline import chosen_colourway

if TYPE_CHECKING:
    from peekpaper.papers.suggest import Suggestion


def suggest(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with a spread of papers over the openings, and why; on the way, with what there is so far."""
    from peekpaper.papers.suggest import suggestions

    project = context.project(arguments)
    last: Suggestion | None = None
    for suggestion in suggestions(
        context.pipeline.as_it_looks(project),
        project.shelf,
        chosen_colourway(project),
        int(arguments["count"]),
        int(arguments["seed"]),
    ):
        if last is not None:
            yield step("progress", _suggested(last))
        last = suggestion
    if last is not None:
        yield result(_suggested(last))


def likeness(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer `{"groups": [[group by opening] by degree of likeness], "usual": degree}`, openings in order."""
    found = context.pipeline.likeness(context.project(arguments))
    yield result({"groups": [list(groups) for groups in found.groups], "usual": found.usual})


def motifs(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer `{"motifs": [[opening, ...], ...]}`: the motifs that are found, without the person's own."""
    found = context.pipeline.found_motifs(context.project(arguments))
    yield result({"motifs": [list(motif.openings) for motif in found]})


def _suggested(suggestion: "Suggestion") -> dict[str, object]:
    return {
        "papers": {str(number): paper for number, paper in suggestion.papers.items()},
        "reasons": [reason.told() for reason in suggestion.reasons],
        "unmet": [unmet.told() for unmet in suggestion.unmet],
    }


def photo_papers(context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the papers of the shelf that suit a photo, and why each does."""
    from peekpaper.papers.photo import papers_for_photo
    from peekpaper.pixels import rgba_array

    photo = rgba_array(bytes_of(arguments, "pixels", buffers), arguments["width"], arguments["height"])
    found = papers_for_photo(context.project(arguments).shelf, photo, int(arguments["count"]))
    yield result({"papers": [{"paper": one.paper, "reason": one.reason.told()} for one in found]})


def square_picture(_context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the part of a photo between four corners, upright, and the plain colour it comes to.

    The corners are px, clockwise from the paper's top left; `width_mm` and `height_mm` the paper's real size.
    """
    from peekpaper.papers.main_colours import plain_colour
    from peekpaper.papers.picture import square_up, squared_size
    from peekpaper.pixels import rgba_array

    photo = rgba_array(bytes_of(arguments, "pixels", buffers), arguments["width"], arguments["height"])
    corners = [(float(x), float(y)) for x, y in arguments["corners"]]
    width, height = squared_size(corners, float(arguments["width_mm"]), float(arguments["height_mm"]))
    squared = square_up(photo, corners, width, height)
    yield result(
        {"pixels": {"buffer": 0}, "width": width, "height": height, "colour": plain_colour(squared)},
        (squared.tobytes(),),
    )
