"""Which openings share one piece of paper."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.backing.backing import BackingChoices
from peekpaper.geometry.areas import geometries, polygonal
from peekpaper.geometry.grid import grown, one_grown
from peekpaper.geometry.overlay import union, union_all

_MORE, _MORE_MM = 1.05, 0.05
"""A little more than half the bar, so that round corners of few chords still close it."""

_QUARTER_SEGMENTS = 16
"""Chords of a quarter circle: 0.1 % of the reach off at most, 1 - cos(pi / 64)."""

NarrowBar: TypeAlias = tuple[float, int, int]
"""How wide in mm the bar between two openings is, and their numbers."""


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
    limit_mm = choices.shared_bar_mm
    bars = () if limit_mm is None else narrow_bars(openings, papers, limit_mm)
    return sharing_across(bars, openings, papers, choices)


def sharing_across(
    bars: Iterable[NarrowBar],
    openings: Mapping[int, Polygon],
    papers: Mapping[int, str],
    choices: BackingChoices,
) -> Sharing:
    """Return which openings share a piece across thin bars, narrowest first, and by the person's pairs."""
    groups = _Groups((number for number in openings if number in papers), choices.split)
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
    # Each is grown alone: GEOS takes many times as long to grow many at once where they overlap much.
    around = union_all(grown(shapely.get_parts(together), reach, _QUARTER_SEGMENTS))
    return polygonal(union(one_grown(around, -reach, _QUARTER_SEGMENTS), together))


def narrow_bars(
    openings: Mapping[int, Polygon], papers: Mapping[int, str], limit_mm: float
) -> list[NarrowBar]:
    """Return the bars under the limit between openings of one paper, the narrowest first."""
    numbers, areas = np.array(list(openings)), np.array(list(openings.values()), dtype=object)
    known = {paper: which for which, paper in enumerate(dict.fromkeys(papers.values()))}
    paper = np.array([known[papers[number]] if number in papers else -1 for number in openings])
    tree = shapely.STRtree(areas)
    shapely.prepare(areas)
    left, top, right, bottom = shapely.bounds(areas).T
    around = shapely.box(left - limit_mm, top - limit_mm, right + limit_mm, bottom + limit_mm)
    one, other = tree.query(geometries(around))
    alike = (one < other) & (paper[one] >= 0) & (paper[one] == paper[other])
    one, other = one[alike], other[alike]
    near = shapely.dwithin(areas[one], areas[other], limit_mm)
    one, other = one[near], other[near]
    lines = geometries(shapely.shortest_line(areas[one], areas[other]))
    widths = shapely.length(lines)
    line, met = tree.query(lines)
    # Which of many areas a line meets is soon told by the areas that are prepared.
    crossed = np.bincount(line[shapely.intersects(areas[met], lines[line])], minlength=len(lines))
    narrow = (widths < limit_mm) & (crossed <= 2)
    bars = zip(widths[narrow], numbers[one[narrow]], numbers[other[narrow]], strict=True)
    return sorted((float(width), int(first), int(second)) for width, first, second in bars)


def _wanted(
    openings: Mapping[int, Polygon], papers: Mapping[int, str], choices: BackingChoices
) -> list[tuple[float, int, int]]:
    return [
        (float(openings[first].distance(openings[second])), first, second)
        for first, second in choices.joined
        if {first, second} <= openings.keys() & papers.keys() and papers[first] == papers[second]
    ]


class _Groups:
    """Disjoint sets of opening numbers that refuse to bring together what is to stay apart.

    Of two sets the smaller one joins the larger, so that all takes next to linear time (after Galler and
    Fischer 1964, from memory).
    """

    def __init__(self, numbers: Iterable[int], apart: Iterable[tuple[int, int]]) -> None:
        self._members = {number: [number] for number in numbers}
        self._group = {number: number for number in self._members}
        self._spans = dict.fromkeys(self._members, 0.0)
        self._apart = [pair for pair in apart if set(pair) <= self._members.keys()]

    def join(self, first: int, second: int, width_mm: float) -> None:
        one, other = self._group[first], self._group[second]
        if len(self._members[one]) < len(self._members[other]):
            one, other = other, one
        if one != other:
            if any({self._group[each] for each in pair} == {one, other} for pair in self._apart):
                return
            joining = self._members.pop(other)
            self._members[one] += joining
            self._group.update(dict.fromkeys(joining, one))
        self._spans[one] = max(width_mm, self._spans[one], self._spans[other])

    def sharing(self) -> Sharing:
        groups = sorted((sorted(members), self._spans[one]) for one, members in self._members.items())
        return Sharing(
            {members[0]: tuple(members) for members, _ in groups},
            {members[0]: span for members, span in groups},
        )
