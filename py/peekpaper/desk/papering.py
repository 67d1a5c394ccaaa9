"""Calls on papers: suggestions, and pictures of papers."""

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from peekpaper.desk.context import Arguments, Context, bytes_of
from peekpaper.desk.stashing import stash_of
from peekpaper.desk.step import Step, result, step
from peekpaper.pipeline import chosen_colourway
from peekpaper.project.codec import decode
from peekpaper.refusal import Refusal

if TYPE_CHECKING:
    from peekpaper.papers.suggest import Suggestion


def suggest(context: Context, arguments: Arguments, _buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with a spread of papers over the openings, and why; on the way, with what there is so far."""
    from peekpaper.papers.suggest import Wish, suggestions

    project = context.project(arguments)
    wish = decode(Wish, arguments["wish"])
    last: Suggestion | None = None
    pipeline = context.pipeline
    motifs = pipeline.motifs(project) if wish.by_motif else ()
    for suggestion in suggestions(
        pipeline.as_it_looks(project), project.shelf, chosen_colourway(project), wish, motifs
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


def colour_stories(context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with palettes about a paper or a photo, over the shelf and what the stash has at hand besides.

    `paper` is the id of one on the shelf; without it the photo's leading colour counts. Papers come as
    `{"shelf": id or null, "stash": id or null}`.
    """
    from peekpaper.papers.main_colours import main_colours
    from peekpaper.papers.stash import is_used_up, with_papers
    from peekpaper.papers.stories.story import leading_colour, stories
    from peekpaper.pixels import rgba_array

    shelf, stash = context.project(arguments).shelf, stash_of(arguments)
    left = [paper.id for paper in stash.papers if not is_used_up(paper, stash.scraps)]
    papers = {paper.id: paper for paper in with_papers(shelf, stash, left).papers}
    if arguments["paper"] is not None:
        colours = [papers[arguments["paper"]].colour]
    else:
        photo = rgba_array(bytes_of(arguments, "pixels", buffers), arguments["width"], arguments["height"])
        colours = [main.colour for main in main_colours(photo, int(arguments["count"]))]
    if not colours:
        raise Refusal("picture-see-through")
    here = {paper.id for paper in shelf.papers}
    told = [
        {
            "kind": story.kind.value,
            "papers": [
                {"shelf": id_ if id_ in here else None, "stash": papers[id_].stash} for id_ in story.papers
            ],
        }
        for story in stories(tuple(papers.values()), leading_colour(colours), int(arguments["count"]))
    ]
    yield result({"stories": told})


def square_picture(_context: Context, arguments: Arguments, buffers: Sequence[bytes]) -> Iterator[Step]:
    """Answer with the part of a photo between four corners, upright, its plain colour and likely direction.

    The corners are px, clockwise from the paper's top left; `width_mm` and `height_mm` the paper's real size.
    """
    from peekpaper.papers.main_colours import plain_colour
    from peekpaper.papers.pattern_direction import guessed_direction
    from peekpaper.papers.picture import square_up, squared_size
    from peekpaper.pixels import rgba_array

    photo = rgba_array(bytes_of(arguments, "pixels", buffers), arguments["width"], arguments["height"])
    corners = [(float(x), float(y)) for x, y in arguments["corners"]]
    width, height = squared_size(corners, float(arguments["width_mm"]), float(arguments["height_mm"]))
    squared = square_up(photo, corners, width, height)
    yield result(
        {
            "pixels": {"buffer": 0},
            "width": width,
            "height": height,
            "colour": plain_colour(squared),
            "direction": guessed_direction(squared),
        },
        (squared.tobytes(),),
    )
