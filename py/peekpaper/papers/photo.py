"""The papers on the shelf that suit a photo."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from peekpaper.message import Message, message
from peekpaper.papers.colour import TELLS_APART, difference
from peekpaper.papers.colour_words import colour_words
from peekpaper.papers.main_colours import MainColour, main_colours
from peekpaper.papers.paper import Paper, Shelf
from peekpaper.refusal import Refusal

_CLOSE = 25.0


@dataclass(frozen=True, slots=True)
class PhotoPaper:
    """A paper's id and why it suits the photo."""

    paper: str
    reason: Message


def papers_for_photo(shelf: Shelf, picture: NDArray[np.uint8], count: int) -> tuple[PhotoPaper, ...]:
    """Return up to `count` different papers of the shelf that pick up the photo's main colours.

    `picture` is RGBA. The photo's commonest colours choose first, each the nearest paper by CIEDE2000 that
    is left. Raises Refusal where the shelf is empty, and where the picture is see-through all over.
    """
    if not shelf.papers:
        raise Refusal("no-paper-for-a-photo")
    if count < 1:
        raise Refusal("papers-to-find")
    colours = main_colours(picture, count)
    if not colours:
        raise Refusal("picture-see-through")
    left = list(shelf.papers)
    found: list[PhotoPaper] = []
    for colour in colours[: len(left)]:
        paper = min(left, key=lambda paper: difference(paper.colour, colour.colour))
        left.remove(paper)
        found.append(PhotoPaper(paper.id, _reason(paper, colour)))
    return tuple(found)


def _reason(paper: Paper, colour: MainColour) -> Message:
    apart = difference(paper.colour, colour.colour)
    nearness = "matches" if apart < TELLS_APART else "close" if apart < _CLOSE else "nearest"
    return message(
        f"photo-reason.{nearness}",
        paper=paper.name,
        colour=colour_words(colour.colour),
        percent=max(1, round(100 * colour.share)),
    )
