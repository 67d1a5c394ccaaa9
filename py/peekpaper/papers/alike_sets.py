"""Sets of openings that are to have one paper: alike ones, parted where they lie side by side."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from random import Random

import numpy as np

from peekpaper.design.design import Design
from peekpaper.papers.colouring import ColouringTask, clashes, colour_graph
from peekpaper.papers.neighbours import Neighbours


@dataclass(frozen=True, slots=True)
class AlikeSet:
    """Alike openings that lie apart from one another, and so can have one paper.

    `group` is their alike number, `openings` those free to be given a paper, in order. `wish` is the
    paper that a locked one among them has, None without.
    """

    group: int
    openings: tuple[int, ...]
    wish: str | None

    def parted(self) -> "tuple[AlikeSet, ...]":
        """Return a set for each opening."""
        return tuple(AlikeSet(self.group, (number,), self.wish) for number in self.openings)


def alike_sets(design: Design, neighbours: Neighbours, locked: Mapping[int, str | None]) -> list[AlikeSet]:
    """Return the openings that are not `locked` in as few sets as neighbours allow, in order.

    `locked` maps the numbers of locked openings to their papers' ids (None where left open).
    """
    groups: dict[int, list[int]] = {}
    for opening in design.openings:
        groups.setdefault(opening.alike, []).append(opening.number)
    sets = [
        AlikeSet(group, free, _wish(members, locked))
        for group, openings in groups.items()
        for members in _apart(sorted(openings), neighbours)
        if (free := tuple(number for number in members if number not in locked))
    ]
    return sorted(sets, key=lambda alike: alike.openings)


def _wish(members: Iterable[int], locked: Mapping[int, str | None]) -> str | None:
    papers = Counter(paper for number in members if (paper := locked.get(number)) is not None)
    return papers.most_common(1)[0][0] if papers else None


def _apart(openings: Sequence[int], neighbours: Neighbours) -> list[list[int]]:
    """Return the openings in the fewest sets found in which none lies beside another."""
    places = {number: place for place, number in enumerate(openings)}
    around = [[places[other] for other in neighbours[number] if other in places] for number in openings]
    if not any(around):
        return [list(openings)]
    for count in range(2, len(openings)):
        task = ColouringTask(around, np.eye(count), np.zeros((len(openings), count)), [1.0] * len(openings))
        colours = colour_graph(task, Random(1), most_steps=0)
        if not clashes(task, colours).any():
            return [
                [number for number, mine in zip(openings, colours, strict=True) if mine == colour]
                for colour in range(count)
            ]
    return [[number] for number in openings]
