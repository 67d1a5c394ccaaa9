"""Which openings share one piece of paper."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.backing.areas import polygonal
from peekpaper.backing.backing import BackingChoices
from peekpaper.backing.nearest import near_pairs

_MORE, _MORE_MM = 1.05, 0.05


@dataclass(frozen=True, slots=True)
class Sharing:
    """The openings of each piece by the piece's number, and the widest bar that each piece spans, in mm."""

    pieces: Mapping[int, tuple[int, ...]]
    spans_mm: Mapping[int, float]

    @property
    def piece_of(self) -> dict[int, int]:
        """The number of each backed opening's piece."""
        return {opening: piece for piece, openings in self.pieces.items() for opening in openings}


def shared_pieces(
    openings: Mapping[int, Polygon], papers: Mapping[int, str], choices: BackingChoices
) -> Sharing:
    """Return which of the backed `openings` share a piece; a piece has the least number of its openings.

    Openings of one paper are joined across bars narrower than the limit, narrowest bars first, then the
    person's own pairs; never so that a pair to be kept apart would end up in one piece.
    """
    groups = _Groups(openings, choices.split)
    for width, first, second in (
        *_narrow_bars(openings, papers, choices),
        *_wanted(openings, papers, choices),
    ):
        groups.join(first, second, width)
    return groups.sharing()


def torn_apart(sharing: Sharing, parts: Mapping[int, Iterable[tuple[int, ...]]]) -> Sharing:
    """Return the sharing with the openings of some pieces parted as `parts` tells, by the piece's number."""
    pieces, spans = dict(sharing.pieces), dict(sharing.spans_mm)
    for piece, groups in parts.items():
        span = spans.pop(piece)
        del pieces[piece]
        for group in groups:
            pieces[min(group)] = tuple(sorted(group))
            spans[min(group)] = span if len(group) > 1 else 0.0
    return Sharing(dict(sorted(pieces.items())), spans)


def spanned(openings: Iterable[Polygon], span_mm: float) -> Polygon | MultiPolygon:
    """Return openings joined across the bars between them (closing of mathematical morphology)."""
    together = MultiPolygon(list(openings))
    if len(together.geoms) == 1:
        return together
    reach = span_mm / 2 * _MORE + _MORE_MM
    return polygonal(shapely.union(together.buffer(reach).buffer(-reach), together))


def _narrow_bars(
    openings: Mapping[int, Polygon], papers: Mapping[int, str], choices: BackingChoices
) -> list[tuple[float, int, int]]:
    if choices.shared_bar_mm is None:
        return []
    numbers, areas = list(openings), list(openings.values())
    pairs, distances = near_pairs(areas, areas, choices.shared_bar_mm)
    named = (
        (width, numbers[one], numbers[other]) for (one, other), width in zip(pairs, distances, strict=True)
    )
    return sorted(
        (float(width), first, second)
        for width, first, second in named
        if first < second and width < choices.shared_bar_mm and papers[first] == papers[second]
    )


def _wanted(
    openings: Mapping[int, Polygon], papers: Mapping[int, str], choices: BackingChoices
) -> list[tuple[float, int, int]]:
    return [
        (float(openings[first].distance(openings[second])), first, second)
        for first, second in choices.joined
        if first in openings and second in openings and papers[first] == papers[second]
    ]


class _Groups:
    """Disjoint sets of opening numbers that refuse to bring together what is to stay apart."""

    def __init__(self, numbers: Iterable[int], apart: Iterable[tuple[int, int]]) -> None:
        self._members = {number: {number} for number in numbers}
        self._spans = dict.fromkeys(self._members, 0.0)
        self._apart = [frozenset(pair) for pair in apart]

    def join(self, first: int, second: int, width_mm: float) -> None:
        one, other = self._members[first], self._members[second]
        both = one | other
        if any(pair <= both for pair in self._apart if len(pair) == 2):
            return
        span = max(width_mm, self._spans[first], self._spans[second])
        for number in both:
            self._members[number] = both
            self._spans[number] = span

    def sharing(self) -> Sharing:
        firsts = sorted({min(members) for members in self._members.values()})
        return Sharing(
            {first: tuple(sorted(self._members[first])) for first in firsts},
            {first: self._spans[first] for first in firsts},
        )
