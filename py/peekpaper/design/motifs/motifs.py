"""The motifs of a design: those that are found, and those that a person made of them."""

from collections.abc import Iterable, Sequence

from peekpaper.design.design import Design
from peekpaper.design.motifs.motif import Motif
from peekpaper.design.motifs.nearness import Link, near_ones
from peekpaper.design.motifs.rings import rings


def found_motifs(design: Design) -> tuple[Motif, ...]:
    """Return the motifs that a person would see in a design, each opening in one of them.

    Openings near together are a motif; where most of a design is one and lies in rings, each ring is.
    `alike` of the design's openings should be as they look to the eye.
    """
    openings = design.openings
    places = {opening.number: place for place, opening in enumerate(openings)}
    links = [
        Link(bar.width_mm, places[bar.first], places[bar.second])
        for bar in design.bars
        if bar.second is not None and bar.first != bar.second
    ]
    groups: dict[int, list[int]] = {}
    for place, group in enumerate(near_ones(len(openings), links)):
        groups.setdefault(group, []).append(place)
    at_edge = {places[bar.first] for bar in design.bars if bar.second is None}
    motifs = [
        part
        for group in groups.values()
        for part in (_rings_of(design, group, links, at_edge) if 2 * len(group) > len(openings) else [group])
    ]
    numbered = (tuple(sorted(openings[place].number for place in part)) for part in motifs)
    return tuple(Motif(openings=numbers) for numbers in sorted(numbered))


def with_decided(found: Iterable[Motif], decided: Sequence[Motif], design: Design) -> tuple[Motif, ...]:
    """Return the person's own motifs and what they leave of those that were found, by their first openings.

    Of the person's own the openings count that the design has; an opening in several belongs to the first.
    """
    free = {opening.number for opening in design.openings}
    motifs = []
    for motif in (*decided, *found):
        openings = tuple(sorted(free.intersection(motif.openings)))
        free.difference_update(openings)
        if openings:
            motifs.append(Motif(motif.name, openings))
    return tuple(sorted(motifs, key=lambda motif: motif.openings))


def _rings_of(
    design: Design, group: Sequence[int], links: Iterable[Link], at_edge: Iterable[int]
) -> list[list[int]]:
    own = {place: at for at, place in enumerate(group)}
    beside: dict[int, list[int]] = {at: [] for at in own.values()}
    outermost = {own[place] for place in at_edge if place in own}
    for link in links:
        for one, other in ((link.first, link.second), (link.second, link.first)):
            if one in own and other in own:
                beside[own[one]].append(own[other])
            elif one in own:
                outermost.add(own[one])
    parts = rings([design.openings[place] for place in group], beside, sorted(outermost))
    return [[group[at] for at in part] for part in parts]
