"""The papers on the shelf that suit a photo."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from peekpaper.papers.colour import TELLS_APART, difference
from peekpaper.papers.colour_words import colour_words
from peekpaper.papers.main_colours import MainColour, main_colours
from peekpaper.papers.paper import Paper, Shelf
from peekpaper.refusal import Refusal

_CLOSE = 25.0


@dataclass(frozen=True, slots=True)
class PhotoPaper:
    """A paper's id and the sentence that says why it suits the photo."""

    paper: str
    reason: str


def papers_for_photo(shelf: Shelf, picture: NDArray[np.uint8], count: int) -> tuple[PhotoPaper, ...]:
    """Return up to `count` different papers of the shelf that pick up the photo's main colours.

    `picture` is RGBA. The photo's commonest colours choose first, each the nearest paper by CIEDE2000 that
    is left. Raises Refusal where the shelf is empty, and where the picture is see-through all over.
    """
    if not shelf.papers:
        raise Refusal("There is no paper on the shelf to suit a photo: add a paper first.")
    if count < 1:
        raise Refusal("Say how many papers to find: one at least.")
    colours = main_colours(picture, count)
    if not colours:
        raise Refusal("This picture is see-through all over: take another one.")
    left = list(shelf.papers)
    found: list[PhotoPaper] = []
    for colour in colours[: len(left)]:
        paper = min(left, key=lambda paper: difference(paper.colour, colour.colour))
        left.remove(paper)
        found.append(PhotoPaper(paper.id, _reason(paper, colour)))
    return tuple(found)


def _reason(paper: Paper, colour: MainColour) -> str:
    apart = difference(paper.colour, colour.colour)
    if apart < TELLS_APART:
        verb = "matches"
    elif apart < _CLOSE:
        verb = "comes close to"
    else:
        verb = "is the nearest on the shelf to"
    share = f"{max(1, round(100 * colour.share))} %"
    return f"{paper.name} {verb} the {colour_words(colour.colour)} that takes up {share} of the photo."
