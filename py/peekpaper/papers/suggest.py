"""A suggestion: papers for all openings, why, and what could not be had."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from random import Random

from peekpaper.design.design import Design
from peekpaper.design.motifs.motif import Motif
from peekpaper.message import Message
from peekpaper.papers import reasons
from peekpaper.papers.colour import TELLS_APART
from peekpaper.papers.neighbours import Neighbours, neighbours_of, side_by_side
from peekpaper.papers.palette import Palette, choose_palette, palette_of
from peekpaper.papers.paper import Colourway, Paper, Shelf
from peekpaper.papers.sheet_sizes import openings_that_fit
from peekpaper.papers.spread import Given, fewest_papers, spread_papers
from peekpaper.papers.stories.by_motif import by_motif
from peekpaper.papers.stories.rings import rings_of
from peekpaper.papers.stories.story import light_to_dark
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


@dataclass(frozen=True, slots=True)
class Wish:
    """What a suggestion is to be: `count` papers, the same for the same `seed`.

    `among` are the ids of the papers to choose from, in the person's order; none means all at hand. With a
    `ramp` they follow one another in that order from the middle of the card outwards, those at hand the
    lightest first. `by_motif` gives each kind of motif papers of its own; a ramp goes before that.
    """

    count: int
    seed: int
    among: tuple[str, ...] = ()
    ramp: bool = False
    by_motif: bool = False


def suggest(
    design: Design, shelf: Shelf, colourway: Colourway, wish: Wish, motifs: Sequence[Motif] = ()
) -> Suggestion:
    """Return the last of the `suggestions`."""
    *_, last = suggestions(design, shelf, colourway, wish, motifs)
    return last


def suggestions(
    design: Design, shelf: Shelf, colourway: Colourway, wish: Wish, motifs: Sequence[Motif] = ()
) -> Iterator[Suggestion]:
    """Yield papers of the shelf spread over the openings of the design as wished, the last as they should be.

    Those before are what there is so far, and give no reasons.
    Alike openings get the same paper, in a ramp those of one ring, by motif those of alike ones among
    `motifs`, which have each opening once, unless that made neighbours (openings with
    one bar between them) share one or get papers less than a CIEDE2000 of `colour.TELLS_APART` apart, and
    another spread does not. Locked openings keep what they have, paper or none; openings that the check
    finds too small stay open where they were left so beside others with papers.
    Raises Refusal where there is nothing to spread, or nothing to spread it over.
    """
    locked = _locked(design, shelf, colourway)
    too_small = _left_open_as_too_small(design, colourway)
    in_use = [paper for paper in locked.values() if paper is not None]
    papers = [paper for paper in shelf.papers if paper.id in in_use or _is_wished(paper, shelf, wish)]
    _refuse_nothing(design, papers, wish.count)
    chance = Random(wish.seed)
    neighbours = neighbours_of(design)
    palette = choose_palette(papers, in_use, wish.count, chance)
    off: Mapping[int, Mapping[str, float]] = {}
    spread_over = design
    if wish.ramp:
        palette, off, spread_over = _ramp(wish, design, papers, palette)
    elif wish.by_motif and motifs:
        told = by_motif(design, motifs, palette, chance)
        off, spread_over = told.against, told.design
    kept = {number: paper for number, paper in locked.items() if paper is not None}
    given: tuple[Given, ...] = ()
    free: dict[int, str] = {}
    every: dict[int, str] = {}
    stays = {**dict.fromkeys(too_small), **locked}
    for given in spread_papers(spread_over, neighbours, palette, stays, chance, against=off):
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
            *reasons.unmet_count(wish.count, len(papers)),
            *_unmet_sizes(design, free, palette, names),
            *_unmet_neighbours(neighbours, every, kept, palette, names),
        ),
    )


def _ramp(
    wish: Wish, design: Design, papers: Sequence[Paper], palette: Palette
) -> tuple[Palette, dict[int, dict[str, float]], Design]:
    """Return a palette in the order of a ramp, how far off its place each paper is by opening, and the rings.

    Papers that locked openings alone have lie beyond the ramp.
    """
    by_id = {paper.id: paper for paper in papers}
    chosen = [paper.id for paper in palette.papers]
    order = [id_ for id_ in wish.among if id_ in by_id] or light_to_dark(papers, chosen)
    order = order[: wish.count]
    others = [id_ for id_ in chosen if id_ not in order]
    last = len(order) - 1
    rings = rings_of(design)
    off = {
        number: {
            **{id_: abs(place - out * last) for place, id_ in enumerate(order)},
            **dict.fromkeys(others, float(len(order))),
        }
        for number, out in rings.outwards.items()
    }
    return palette_of([by_id[id_] for id_ in (*order, *others)], len(papers)), off, rings.design


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


def _is_wished(paper: Paper, shelf: Shelf, wish: Wish) -> bool:
    return paper.id in wish.among if wish.among else _is_at_hand(paper, shelf)


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
