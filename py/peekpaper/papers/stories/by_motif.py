"""Papers of its own for each kind of motif, so that a flower is told from its leaves."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from random import Random

import numpy as np

from peekpaper.design.design import Design
from peekpaper.design.motifs.motif import Motif
from peekpaper.papers.palette import Palette

_FEWEST = 2
"""Papers of a motif: side by side its openings need two."""
_ALIKE = 0.6
"""Motifs are alike where so many of their openings are, as a share of the larger one's (by trial)."""


@dataclass(frozen=True, slots=True)
class ByMotif:
    """A design in which openings are alike only within alike motifs, and how far off each paper is there.

    `against` has the ids of the papers that are not a motif's own, by its openings' numbers.
    """

    design: Design
    against: Mapping[int, Mapping[str, float]]


def by_motif(design: Design, motifs: Sequence[Motif], palette: Palette, chance: Random) -> ByMotif:
    """Return which papers of a palette each motif is to have; alike motifs have the same."""
    kind_of = motif_kinds(design, motifs)
    first_of: dict[tuple[int, int], int] = {}
    alike = {
        opening.number: first_of.setdefault((kind_of[opening.number], opening.alike), opening.number)
        for opening in design.openings
    }
    area: dict[int, float] = {}
    for opening in design.openings:
        kind = kind_of[opening.number]
        area[kind] = area.get(kind, 0.0) + opening.area.area
    kinds = sorted(area, key=lambda kind: (-area[kind], kind))
    own = dict(zip(kinds, _dealt(len(kinds), palette, chance), strict=True))
    off = {
        kind: {paper.id: 1.0 for place, paper in enumerate(palette.papers) if place not in own[kind]}
        for kind in kinds
    }
    openings = tuple(replace(opening, alike=alike[opening.number]) for opening in design.openings)
    return ByMotif(
        replace(design, openings=openings), {number: off[kind] for number, kind in kind_of.items()}
    )


def motif_kinds(design: Design, motifs: Sequence[Motif]) -> dict[int, int]:
    """Return for each opening's number the kind of its motif, the same for alike motifs."""
    alike = {opening.number: opening.alike for opening in design.openings}
    kind_of: dict[int, int] = {}
    heads: dict[int, list[tuple[int, Counter[int]]]] = {}
    for kind, motif in enumerate(motifs):
        held = Counter(alike[number] for number in motif.openings)
        near = {head: other for group in held for head, other in heads.get(group, ())}
        same = next((head for head, other in near.items() if _are_alike(held, other)), None)
        if same is None:
            for group in held:
                heads.setdefault(group, []).append((kind, held))
        kind_of |= dict.fromkeys(motif.openings, kind if same is None else same)
    return kind_of


def _are_alike(one: Counter[int], other: Counter[int]) -> bool:
    return (one & other).total() >= _ALIKE * max(one.total(), other.total())


def _dealt(kinds: int, palette: Palette, chance: Random) -> list[frozenset[int]]:
    """Return the places in the palette of each kind's papers: all are dealt, each kind's well apart."""
    count = len(palette.papers)
    size = max(_FEWEST, -(-count // max(kinds, 1)))
    if size >= count:
        return [frozenset(range(count))] * kinds
    order = list(range(count))
    chance.shuffle(order)
    dealt = Counter(dict.fromkeys(order, 0))
    hands = []
    for _ in range(kinds):
        hand: list[int] = []
        while len(hand) < size:
            left = [place for place in order if place not in hand]
            apart = {place: float(np.min(palette.apart[place, hand], initial=np.inf)) for place in left}
            hand.append(min(left, key=lambda place: (dealt[place], -apart[place])))
            dealt[hand[-1]] += 1
        hands.append(frozenset(hand))
    return hands
