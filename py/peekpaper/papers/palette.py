"""Choosing a few papers of the shelf that are easy to tell apart."""

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

import numpy as np
from numpy.typing import NDArray

from peekpaper.papers.colour import TELLS_APART, differences
from peekpaper.papers.paper import Paper

_LIKED_ENOUGH = 30.0
_WHIM = 15.0


@dataclass(frozen=True, slots=True)
class Palette:
    """A few papers out of `choice`, and the symmetric matrix of their CIEDE2000 differences."""

    papers: tuple[Paper, ...]
    choice: int
    apart: NDArray[np.float64]

    @property
    def least_apart(self) -> float:
        """The difference of the two papers hardest to tell apart; infinite for fewer than two."""
        count = len(self.papers)
        return float(min((self.apart[i, j] for i in range(count) for j in range(i)), default=np.inf))


def choose_palette(papers: Sequence[Paper], kept: Sequence[str], count: int, chance: Random) -> Palette:
    """Return `count` of `papers` (fewer where there are fewer), each easy to tell from the others.

    The papers with the ids in `kept` are in it first, even where they are more than `count`. Each next
    one is told apart from those already chosen, differences beyond what the eye needs left to `chance`.
    """
    apart = differences([paper.colour for paper in papers])
    chosen = [place for place, paper in enumerate(papers) if paper.id in kept]
    left = [place for place in range(len(papers)) if place not in chosen]
    while left and len(chosen) < count:
        place = max(left, key=lambda place: _liking(apart[place, chosen], chance))
        chosen.append(place)
        left.remove(place)
    return Palette(tuple(papers[place] for place in chosen), len(papers), apart[np.ix_(chosen, chosen)])


def palette_of(papers: Sequence[Paper], choice: int) -> Palette:
    """Return papers that were chosen out of so many as a palette, in their order."""
    return Palette(tuple(papers), choice, differences([paper.colour for paper in papers]))


def _liking(apart: NDArray[np.float64], chance: Random) -> float:
    """Return how welcome a paper is with such differences from those chosen; too alike never by chance."""
    least = float(min(apart, default=_LIKED_ENOUGH))
    whim = chance.random() * _WHIM
    return least - 2 * _LIKED_ENOUGH if least < TELLS_APART else min(least, _LIKED_ENOUGH) + whim
