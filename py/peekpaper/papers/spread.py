"""Spreading a palette over sets of alike openings, which are parted only where neighbours ask for it."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from random import Random
from types import MappingProxyType

import numpy as np
from numpy.typing import NDArray

from peekpaper.design.design import Design
from peekpaper.papers.alike_sets import AlikeSet, alike_sets
from peekpaper.papers.colour import TELLS_APART
from peekpaper.papers.colouring import ColouringTask, clashes, colour_graph
from peekpaper.papers.neighbours import Neighbours
from peekpaper.papers.palette import Palette
from peekpaper.papers.sheet_sizes import openings_that_fit

_SAME = 1000.0
_TOO_SMALL = 100.0
_UNWISHED = 0.5
_OFF_ITS_PLACE = 3.0
"""What a paper costs for each place that it is off its own: more than papers hard to tell apart do."""
_STEPS_FOR_ADVICE = 1000
_STEPS_FOR_SETS = 500
_STEPS_FOR_OPENINGS = 12_000
_MOST_ROUNDS = 6


@dataclass(frozen=True, slots=True)
class Given:
    """A set of alike openings and the id of the paper that it is given."""

    alike: AlikeSet
    paper: str


Against = Mapping[int, Mapping[str, float]]
"""How many places off its own each paper is in an opening, by the opening's number and the paper's id."""


def spread_papers(
    design: Design,
    neighbours: Neighbours,
    palette: Palette,
    locked: Mapping[int, str | None],
    chance: Random,
    *,
    against: Against = MappingProxyType({}),
) -> Iterator[tuple[Given, ...]]:
    """Yield papers of the palette for all openings that are not `locked`; the last spread is the one sought.

    The ones before it are what there is so far, for whoever stops waiting. A set of alike openings stays
    whole unless parting it keeps neighbours from sharing a paper, or from papers that are hard to tell apart.
    `locked` maps openings to papers, or to None where they stay open. Openings are in their order.
    """
    board = _Board(design, neighbours, palette, locked, against=against)
    sets = alike_sets(design, neighbours, locked)
    spread = sets, board.colours_of(sets, chance, _STEPS_FOR_SETS)
    if board.clashes_of(*spread).any():
        yield _given(palette, *spread)
        for further in _parted(board, *spread, chance):
            spread = further
            yield _given(palette, *spread)
    yield _given(palette, spread[0], board.with_all_used(*spread))


def _given(palette: Palette, sets: Sequence[AlikeSet], colours: NDArray[np.intp]) -> tuple[Given, ...]:
    chosen = [palette.papers[colour].id for colour in colours]
    return tuple(
        sorted(map(Given, sets, chosen[: len(sets)]), key=lambda given: given.alike.openings),
    )


def _parted(
    board: "_Board", sets: list[AlikeSet], colours: NDArray[np.intp], chance: Random
) -> Iterator[tuple[list[AlikeSet], NDArray[np.intp]]]:
    """Yield the sets, parted where that helps, and their colours; the last are the ones sought.

    What parting all of them can't help is borne. Where it takes too many rounds to find which ones to part,
    all are.
    """
    singles = [part for alike in sets for part in alike.parted()]
    best = board.colours_of(singles, chance)
    yield singles, best
    bearable = _bearable(board.clashes_of(singles, best))
    for _ in range(_MOST_ROUNDS):
        parting = board.parting(sets, colours, bearable)
        if not parting:
            break
        sets = [part for alike in sets for part in (alike.parted() if alike in parting else (alike,))]
        colours = board.colours_of(sets, chance, _STEPS_FOR_SETS)
        yield sets, colours
    else:
        sets, colours = singles, best
    yield sets, board.matched(sets, colours)


def _bearable(clashing: NDArray[np.float64]) -> float:
    """Return the most that two papers side by side may clash, when that is the best there is."""
    worst = clashing.max(initial=0)
    if worst == 0:
        return 0.0
    return _SAME / 2 if worst < _SAME / 2 else float("inf")


class _Board:
    """What stays the same while sets are parted: who lies beside whom, and which papers get on."""

    def __init__(
        self,
        design: Design,
        neighbours: Neighbours,
        palette: Palette,
        locked: Mapping[int, str | None],
        *,
        against: Against,
    ) -> None:
        places = {paper.id: place for place, paper in enumerate(palette.papers)}
        self._neighbours = {number: sorted(others) for number, others in neighbours.items()}
        self._places = places
        self._against = {
            number: _OFF_ITS_PLACE * np.array([off.get(paper.id, 0.0) for paper in palette.papers])
            for number, off in against.items()
        }
        self._last: tuple[Sequence[AlikeSet], ColouringTask] | None = None
        self._locked = {number: places[paper] for number, paper in locked.items() if paper is not None}
        self._clash = _clash(palette)
        self._area = {opening.number: opening.area.area for opening in design.openings}
        fitting = openings_that_fit(design.openings, palette.papers)
        self._too_small = {
            opening.number: ~fits
            for opening, fits in zip(design.openings, fitting, strict=True)
            if not fits.all()
        }

    def colours_of(
        self, sets: Sequence[AlikeSet], chance: Random, most_steps: int = _STEPS_FOR_OPENINGS
    ) -> NDArray[np.intp]:
        """Return a place in the palette for each set, then for each locked opening."""
        return colour_graph(self._task(sets), chance, most_steps)

    def clashes_of(self, sets: Sequence[AlikeSet], colours: NDArray[np.intp]) -> NDArray[np.float64]:
        """Return what each set's paper costs beside its neighbours' papers."""
        return clashes(self._task(sets), colours)[: len(sets)]

    def parting(self, sets: Sequence[AlikeSet], colours: NDArray[np.intp], bearable: float) -> set[AlikeSet]:
        """Return the sets to part so that fewer clash more than is bearable, none where that is so already.

        Of two that clash one is enough; where neither can be parted it is their neighbours' turn, then all.
        """
        around = self._task(sets).neighbours
        rivals = {
            place: [other for other in others if self._clash[colours[place], colours[other]] > bearable]
            for place, others in enumerate(around)
        }
        clashing = [place for place in rivals if rivals[place]]
        if not clashing:
            return set()
        partable = {place for place, alike in enumerate(sets) if len(alike.openings) > 1}
        chosen: set[int] = set()
        for place in sorted(partable.intersection(clashing), key=lambda place: (-len(rivals[place]), place)):
            if not chosen.issuperset(rivals[place]):
                chosen.add(place)
        chosen = chosen or partable.intersection(other for place in clashing for other in around[place])
        return {sets[place] for place in chosen or partable}

    def matched(self, sets: Sequence[AlikeSet], colours: NDArray[np.intp]) -> NDArray[np.intp]:
        """Return the colours with each set given the one that most of its group have, where none minds."""
        task = self._task(sets)
        colours = colours.copy()
        groups: dict[int, list[int]] = {}
        for place, alike in enumerate(sets):
            groups.setdefault(alike.group, []).append(place)
        for places in groups.values():
            common = int(np.bincount(colours[places], minlength=len(self._clash)).argmax())
            for place in places:
                around = colours[list(task.neighbours[place])]
                worse = self._clash[common, around].sum() > self._clash[colours[place], around].sum()
                if not worse and task.dislike[place, common] <= task.dislike[place, colours[place]]:
                    colours[place] = common
        return colours

    def with_all_used(self, sets: Sequence[AlikeSet], colours: NDArray[np.intp]) -> NDArray[np.intp]:
        """Return the colours with papers that none has given to sets that can change without harm."""
        task = self._task(sets)
        colours = colours.copy()
        for unused in sorted(set(range(len(self._clash))) - set(colours.tolist())):
            use = np.bincount(colours, minlength=len(self._clash))
            able = [
                place
                for place in range(len(sets))
                if use[colours[place]] > 1
                and task.dislike[place, unused] == 0
                and not self._clash[unused, colours[list(task.neighbours[place])]].any()
            ]
            if able:
                colours[max(able, key=lambda place: use[colours[place]])] = unused
        return colours

    def _task(self, sets: Sequence[AlikeSet]) -> ColouringTask:
        if self._last is None or self._last[0] is not sets:
            self._last = (sets, self._new_task(sets))
        return self._last[1]

    def _new_task(self, sets: Sequence[AlikeSet]) -> ColouringTask:
        members = [*(alike.openings for alike in sets), *((number,) for number in self._locked)]
        node_of = {number: node for node, openings in enumerate(members) for number in openings}
        around = [
            [node_of[other] for number in openings for other in self._neighbours[number] if other in node_of]
            for openings in members
        ]
        dislike = np.array(
            [
                *(self._dislike_of(alike) for alike in sets),
                *(self._only(place) for place in self._locked.values()),
            ]
        )
        areas = [math.fsum(self._area[number] for number in openings) for openings in members]
        return ColouringTask(around, self._clash, dislike, areas)

    def _dislike_of(self, alike: AlikeSet) -> NDArray[np.float64]:
        cost = np.full(len(self._clash), 0.0 if alike.wish is None else _UNWISHED)
        if alike.wish is not None:
            cost[self._places[alike.wish]] = 0.0
        too_small = [self._too_small[number] for number in alike.openings if number in self._too_small]
        if too_small:
            cost[np.any(too_small, axis=0)] += _TOO_SMALL
        off = [self._against[number] for number in alike.openings if number in self._against]
        return cost + np.mean(off, axis=0) if off else cost

    def _only(self, place: int) -> NDArray[np.float64]:
        cost = np.full(len(self._clash), np.inf)
        cost[place] = 0.0
        return cost


def _clash(palette: Palette) -> NDArray[np.float64]:
    """Return what two papers cost side by side: 1 to 2 where they are hard to tell apart."""
    apart = palette.apart
    clash = np.where(apart < TELLS_APART, 2 - apart / TELLS_APART, 0.0)
    np.fill_diagonal(clash, _SAME)
    return clash


def fewest_papers(neighbours: Neighbours, least: int, most: int) -> int | None:
    """Return with how few papers no neighbours share one, from `least` up; None if it takes over `most`.

    The search is short: a spread with fewer may exist.
    """
    numbers = sorted(neighbours)
    places = {number: place for place, number in enumerate(numbers)}
    around = [[places[other] for other in sorted(neighbours[number])] for number in numbers]
    for count in range(least, most + 1):
        task = ColouringTask(around, np.eye(count), np.zeros((len(numbers), count)), [1.0] * len(numbers))
        if not clashes(task, colour_graph(task, Random(1), _STEPS_FOR_ADVICE)).any():
            return count
    return None
