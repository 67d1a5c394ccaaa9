"""Openings that lie near one another, for how near others around them lie.

Bars join openings to a tree of the least widths; it is cut wherever a bar is much wider than the bars of the
tree close by (minimum spanning tree with inconsistent edges removed: Zahn, "Graph-theoretical methods for
detecting and describing Gestalt clusters", IEEE Transactions on Computers C-20, 1971, from memory; Kruskal
1956 for the tree). So a flower of thin bars comes off a field of wide ones, each at its own scale.
"""

from collections.abc import Sequence
from dataclasses import dataclass

_MUCH_WIDER = 2.0
"""A bar this many times as wide as those close by on its narrower side parts what it joins: Zahn's factor."""
_STEPS = 3
"""So many bars away is close by."""
_MOST_CLOSE_BY = 24
"""More bars than this tell nothing new of how wide those close by are."""
_MOST_ROUNDS = 12
"""Each cut shows others; after so many rounds hardly any is left."""


@dataclass(frozen=True, slots=True)
class Link:
    """A bar of `width` mm between two openings, by their places."""

    width: float
    first: int
    second: int


def near_ones(count: int, links: Sequence[Link]) -> list[int]:
    """Return a group for each of `count` openings, by the place of its first: those near together."""
    tree = _spanning_tree(count, links)
    for _ in range(_MOST_ROUNDS):
        kept = _consistent(count, tree)
        if len(kept) == len(tree):
            break
        tree = kept
    return joined_ones(count, tree)


def joined_ones(count: int, links: Sequence[Link]) -> list[int]:
    """Return a group for each of `count` openings, by the place of its first: those that links join."""
    sets = _Sets(count)
    for link in links:
        sets.join(link.first, link.second)
    return [sets.find(place) for place in range(count)]


class _Sets:
    """Disjoint sets, each known by its least place."""

    def __init__(self, count: int) -> None:
        self._above = list(range(count))

    def find(self, place: int) -> int:
        while self._above[place] != place:
            self._above[place] = self._above[self._above[place]]
            place = self._above[place]
        return place

    def join(self, one: int, other: int) -> bool:
        """Make the sets of two one; return whether they were two."""
        low, high = sorted((self.find(one), self.find(other)))
        self._above[high] = low
        return low != high


def _spanning_tree(count: int, links: Sequence[Link]) -> list[Link]:
    sets = _Sets(count)
    by_width = sorted(links, key=lambda link: (link.width, link.first, link.second))
    return [link for link in by_width if sets.join(link.first, link.second)]


def _consistent(count: int, tree: Sequence[Link]) -> list[Link]:
    """Return the links of a tree that are not much wider than those close by; the narrowest come first."""
    around: list[list[Link]] = [[] for _ in range(count)]
    for link in tree:
        around[link.first].append(link)
        around[link.second].append(link)
    return [
        link
        for link in tree
        if not any(
            widths and link.width > _MUCH_WIDER * sum(widths) / len(widths)
            for widths in (_close_by(around, link, link.first), _close_by(around, link, link.second))
        )
    ]


def _close_by(around: Sequence[Sequence[Link]], across: Link, end: int) -> list[float]:
    """Return the widths of the links close by, on the side of one end of a link."""
    widths: list[float] = []
    reached = [(end, across)]
    for _ in range(_STEPS):
        further = []
        for place, came_by in reached:
            for link in around[place]:
                if link is came_by:
                    continue
                widths.append(link.width)
                further.append((link.second if link.first == place else link.first, link))
                if len(widths) == _MOST_CLOSE_BY:
                    return widths
        reached = further
    return widths
