"""Which openings share one piece of paper."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.backing.backing import BackingChoices
from peekpaper.geometry.areas import polygonal
from peekpaper.geometry.grid import one_grown
from peekpaper.geometry.overlay import union

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
    """Return which openings share a piece; a piece has the least number of its openings.

    `papers` gives the papers of those that are backed. Openings of one paper are joined across bars
    narrower than the limit, narrowest bars first, then the person's own pairs; never so that a pair to be
    kept apart would end up in one piece.
    """
    groups = _Groups((number for number in openings if number in papers), choices.split)
    limit_mm = choices.shared_bar_mm
    bars = [] if limit_mm is None else _narrow_bars(openings, papers, limit_mm)
    for width_mm, first, second in (*bars, *_wanted(openings, papers, choices)):
        groups.join(first, second, width_mm)
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


def spanned(together: MultiPolygon, span_mm: float) -> Polygon | MultiPolygon:
    """Return openings joined across the bars between them (closing of mathematical morphology)."""
    if span_mm == 0:
        return together
    reach = span_mm / 2 * _MORE + _MORE_MM
    return polygonal(union(one_grown(one_grown(together, reach), -reach), together))


def _narrow_bars(
    openings: Mapping[int, Polygon], papers: Mapping[int, str], limit_mm: float
) -> list[tuple[float, int, int]]:
    """Return width and both openings of the bars under the limit between openings of one paper."""
    numbers, areas = list(openings), np.array(list(openings.values()), dtype=object)
    tree = shapely.STRtree(areas)
    pairs = tree.query(areas, predicate="dwithin", distance=limit_mm).T
    pairs = np.array(
        [
            pair
            for pair in pairs[pairs[:, 0] < pairs[:, 1]].tolist()
            if papers.get(numbers[pair[0]], 0) == papers.get(numbers[pair[1]])
        ],
        dtype=np.int64,
    ).reshape(-1, 2)
    lines = shapely.shortest_line(areas[pairs[:, 0]], areas[pairs[:, 1]])
    crossed = np.bincount(tree.query(lines, predicate="intersects")[0], minlength=len(pairs))
    return sorted(
        (float(line.length), numbers[one], numbers[other])
        for (one, other), line, count in zip(pairs.tolist(), lines, crossed, strict=True)
        if line.length < limit_mm and count <= 2
    )


def _wanted(
    openings: Mapping[int, Polygon], papers: Mapping[int, str], choices: BackingChoices
) -> list[tuple[float, int, int]]:
    return [
        (float(openings[first].distance(openings[second])), first, second)
        for first, second in choices.joined
        if {first, second} <= openings.keys() & papers.keys() and papers[first] == papers[second]
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
