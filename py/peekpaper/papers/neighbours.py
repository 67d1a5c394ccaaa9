"""Which openings lie side by side: those with a bar between them."""

from collections.abc import Iterable, Mapping

from peekpaper.design.design import Design

Neighbours = Mapping[int, frozenset[int]]


def neighbours_of(design: Design) -> Neighbours:
    """Return, for each opening's number, the numbers of the openings across one bar."""
    around: dict[int, set[int]] = {opening.number: set() for opening in design.openings}
    for bar in design.bars:
        if bar.second is not None and bar.first != bar.second:
            around[bar.first].add(bar.second)
            around[bar.second].add(bar.first)
    return {number: frozenset(others) for number, others in around.items()}


def side_by_side(neighbours: Neighbours) -> Iterable[tuple[int, int]]:
    """Yield each pair of neighbours once, the lesser number first, in order."""
    for number in sorted(neighbours):
        for other in sorted(neighbours[number]):
            if number < other:
                yield number, other
