"""Which openings share one piece of paper."""

from collections.abc import Iterable, Mapping

import numpy as np
from shapely import Polygon

from peekpaper.backing.backing import BackingChoices
from peekpaper.backing.nearest import near_pairs


def shared_groups(
    openings: Mapping[int, Polygon], papers: Mapping[int, str], choices: BackingChoices
) -> dict[int, int]:
    """Return for each opening the number of its piece: the least number among those that share it.

    Openings of one paper are joined across bars narrower than the limit, narrowest bars first, then the
    person's own pairs; never so that a pair to be kept apart would end up in one piece.
    """
    groups = _Groups(openings, choices.split)
    wanted = [(first, second) for _, first, second in sorted(_narrow_bars(openings, papers, choices))]
    for first, second in (*wanted, *choices.joined):
        if first in openings and second in openings and papers[first] == papers[second]:
            groups.join(first, second)
    return groups.numbers()


def _narrow_bars(
    openings: Mapping[int, Polygon], papers: Mapping[int, str], choices: BackingChoices
) -> Iterable[tuple[float, int, int]]:
    if choices.shared_bar_mm is None:
        return
    numbers, areas = list(openings), list(openings.values())
    pairs, distances = near_pairs(areas, areas, choices.shared_bar_mm)
    for (one, other), distance in zip(pairs.tolist(), distances.tolist(), strict=True):
        first, second = numbers[one], numbers[other]
        if first < second and distance < choices.shared_bar_mm and papers[first] == papers[second]:
            yield distance, first, second


class _Groups:
    """Disjoint sets of opening numbers that refuse to bring together what is to stay apart."""

    def __init__(self, numbers: Iterable[int], apart: Iterable[tuple[int, int]]) -> None:
        self._members = {number: {number} for number in numbers}
        self._apart = [frozenset(pair) for pair in apart]

    def join(self, first: int, second: int) -> None:
        one, other = self._members[first], self._members[second]
        both = one | other
        if one is other or any(pair <= both for pair in self._apart if len(pair) == 2):
            return
        for number in both:
            self._members[number] = both

    def numbers(self) -> dict[int, int]:
        return {number: min(members) for number, members in self._members.items()}


def members(groups: Mapping[int, int]) -> dict[int, tuple[int, ...]]:
    """Return the openings of each piece, by the piece's number."""
    pieces = np.unique(list(groups.values())).tolist()
    return {piece: tuple(sorted(n for n, group in groups.items() if group == piece)) for piece in pieces}
