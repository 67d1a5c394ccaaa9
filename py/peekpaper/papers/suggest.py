"""A suggestion: papers for all openings, why, and what could not be had."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from random import Random

from peekpaper.design.design import Design
from peekpaper.message import Message
from peekpaper.papers import reasons
from peekpaper.papers.colour import TELLS_APART
from peekpaper.papers.neighbours import Neighbours, neighbours_of, side_by_side
from peekpaper.papers.palette import Palette, choose_palette
from peekpaper.papers.paper import Colourway, Paper, Shelf
from peekpaper.papers.sheet_sizes import openings_that_fit
from peekpaper.papers.spread import Given, fewest_papers, spread_papers
from peekpaper.refusal import Refusal

_MOST_ADVISED = 8


@dataclass(frozen=True, slots=True)
class Suggestion:
    """Papers for openings by number: all that were not locked open.

    `reasons` tell why, `unmet` what could not be had and what would help.
    """

    papers: Mapping[int, str]
    reasons: tuple[Message, ...]
    unmet: tuple[Message, ...]


def suggest(design: Design, shelf: Shelf, colourway: Colourway, count: int, seed: int) -> Suggestion:
    """Return the last of the `suggestions`."""
    *_, last = suggestions(design, shelf, colourway, count, seed)
    return last


def suggestions(
    design: Design, shelf: Shelf, colourway: Colourway, count: int, seed: int
) -> Iterator[Suggestion]:
    """Yield `count` papers of the shelf spread over the openings of the design, the last as they should be.

    Those before are what there is so far, and give no reasons.
    Alike openings get the same paper, unless that made neighbours (openings with one bar between them)
    share one or get papers less than a CIEDE2000 of `colour.TELLS_APART` apart, and another spread does
    not. Locked openings keep what they have, paper or none; openings that the check finds too small stay
    open where they were left so beside others with papers. The same `seed` gives the same suggestion.
    Raises Refusal where there is nothing to spread, or nothing to spread it over.
    """
    locked = _locked(design, shelf, colourway)
    too_small = _left_open_as_too_small(design, colourway)
    in_use = [paper for paper in locked.values() if paper is not None]
    papers = [paper for paper in shelf.papers if paper.id in in_use or _is_at_hand(paper, shelf)]
    _refuse_nothing(design, papers, count)
    chance = Random(seed)
    palette = choose_palette(papers, in_use, count, chance)
    neighbours = neighbours_of(design)
    kept = {number: paper for number, paper in locked.items() if paper is not None}
    given: tuple[Given, ...] = ()
    free: dict[int, str] = {}
    every: dict[int, str] = {}
    for given in spread_papers(design, neighbours, palette, {**dict.fromkeys(too_small), **locked}, chance):
        free = {number: one.paper for one in given for number in one.alike.openings}
        every = dict(sorted({**kept, **free}.items()))
        yield Suggestion(every, (), ())
    names = {paper.id: paper.name for paper in shelf.papers}
    yield Suggestion(
        every,
        (
            *reasons.reasons_for(given, palette, locked, _clear(neighbours, every), names),
            *reasons.on_too_small(too_small.difference(locked)),
        ),
        (
            *reasons.unmet_count(count, len(papers)),
            *_unmet_sizes(design, free, palette, names),
            *_unmet_neighbours(neighbours, every, kept, palette, names),
        ),
    )


def _locked(design: Design, shelf: Shelf, colourway: Colourway) -> dict[int, str | None]:
    """Return the papers of the locked openings that the design has, None for those left open."""
    known = {paper.id for paper in shelf.papers}
    numbers = {opening.number for opening in design.openings}
    papers = {number: colourway.papers.get(number) for number in colourway.locked if number in numbers}
    return {number: paper if paper in known else None for number, paper in sorted(papers.items())}


def _left_open_as_too_small(design: Design, colourway: Colourway) -> frozenset[int]:
    """Return the openings that the check finds too small and the person left open beside others."""
    return frozenset(
        opening.number
        for opening in design.openings
        if opening.is_small and colourway.papers and opening.number not in colourway.papers
    )


def _clear(neighbours: Neighbours, given: Mapping[int, str]) -> frozenset[int]:
    """Return the openings that share a paper with no neighbour."""
    return frozenset(
        number
        for number, paper in given.items()
        if all(given.get(other) != paper for other in neighbours[number])
    )


def _is_at_hand(paper: Paper, shelf: Shelf) -> bool:
    return paper.sheets != 0 or any(scrap.paper == paper.id for scrap in shelf.scraps)


def _refuse_nothing(design: Design, papers: list[Paper], count: int) -> None:
    if not papers:
        raise Refusal("no-paper-to-suggest")
    if count < 1:
        raise Refusal("papers-to-suggest")
    if not design.openings:
        raise Refusal("no-openings-to-suggest")


def _unmet_sizes(
    design: Design, given: Mapping[int, str], palette: Palette, names: reasons.Names
) -> tuple[Message, ...]:
    places = {paper.id: place for place, paper in enumerate(palette.papers)}
    fitting = openings_that_fit(design.openings, palette.papers)
    oversized: dict[str, list[int]] = {}
    for opening, fits in zip(design.openings, fitting, strict=True):
        paper = given.get(opening.number)
        if paper is not None and not fits[places[paper]]:
            oversized.setdefault(paper, []).append(opening.number)
    return tuple(reasons.unmet_sizes(oversized, names))


def _unmet_neighbours(
    neighbours: Neighbours,
    given: Mapping[int, str],
    locked: Mapping[int, str],
    palette: Palette,
    names: reasons.Names,
) -> tuple[Message, ...]:
    places = {paper.id: place for place, paper in enumerate(palette.papers)}
    shared: list[tuple[int, int]] = []
    near: dict[tuple[str, str], list[tuple[int, int]]] = {}
    for first, second in side_by_side(neighbours):
        if first not in given or second not in given or (first in locked and second in locked):
            continue
        papers = given[first], given[second]
        if papers[0] == papers[1]:
            shared.append((first, second))
        elif palette.apart[places[papers[0]], places[papers[1]]] < TELLS_APART:
            near.setdefault((min(papers), max(papers)), []).append((first, second))
    fewest = fewest_papers(neighbours, len(palette.papers) + 1, _MOST_ADVISED) if shared else None
    return (
        *reasons.unmet_sharing(shared, fewest),
        *reasons.unmet_nearness(near, names),
    )
