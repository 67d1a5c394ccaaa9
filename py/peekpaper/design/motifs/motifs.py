"""The motifs of a design: those that are found, and those that a person made of them."""

from collections import Counter
from collections.abc import Iterable, Sequence

import numpy as np
import shapely
from shapely import Polygon

from peekpaper.design.design import Design
from peekpaper.design.motifs.halves import halves
from peekpaper.design.motifs.motif import Motif
from peekpaper.design.motifs.nearness import Link, near_ones
from peekpaper.design.motifs.rings import rings
from peekpaper.geometry.areas import geometries


def found_motifs(design: Design) -> tuple[Motif, ...]:
    """Return the motifs that a person would see in a design, each opening in one of them.

    Openings near together are a motif; where most of a design is one and lies in rings, each ring is, or each
    half of what one mirror lays on itself. Lone openings of one of several cards are one together.
    `alike` of the design's openings should be as they look to the eye.
    """
    openings = design.openings
    places = {opening.number: place for place, opening in enumerate(openings)}
    links = [
        Link(bar.width_mm, places[bar.first], places[bar.second])
        for bar in design.bars
        if bar.second is not None and bar.first != bar.second
    ]
    at_edge = {places[bar.first] for bar in design.bars if bar.second is None}
    motifs = [
        part
        for group in _near_groups(design, links)
        for part in (_parts_of(design, group, links, at_edge) if 2 * len(group) > len(openings) else [group])
    ]
    numbered = (tuple(sorted(openings[place].number for place in part)) for part in motifs)
    return tuple(Motif(openings=numbers) for numbers in sorted(numbered))


def _near_groups(design: Design, links: Sequence[Link]) -> Iterable[list[int]]:
    """Return the places of openings near together; lone ones of one of several cards are together."""
    near, cards = near_ones(len(design.openings), links), _cards(design)
    times = Counter(near)
    with_others = {card for card, group in zip(cards, near, strict=True) if times[group] > 1}
    is_one_card = len(set(cards)) == 1
    groups: dict[tuple[bool, int], list[int]] = {}
    for place, (card, group) in enumerate(zip(cards, near, strict=True)):
        by_nearness = is_one_card or card in with_others
        groups.setdefault((by_nearness, group if by_nearness else card), []).append(place)
    return groups.values()


def _cards(design: Design) -> list[int]:
    """Return for each opening which part of the card it is cut from."""
    parts = geometries([Polygon(part.exterior) for part in design.card.geoms])
    spots = geometries([opening.area.representative_point() for opening in design.openings])
    spot, around = shapely.STRtree(parts).query(spots, predicate="within")
    order = np.argsort(shapely.area(parts)[around], kind="stable")[::-1]
    cards = np.full(len(spots), -1)
    # The least part around an opening is written last.
    cards[spot[order]] = around[order]
    found: list[int] = cards.tolist()
    return found


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


def _parts_of(
    design: Design, group: Sequence[int], links: Iterable[Link], at_edge: Iterable[int]
) -> list[list[int]]:
    """Return the rings of a group of openings, by their places, or else its halves, or the group."""
    own = {place: at for at, place in enumerate(group)}
    beside: dict[int, list[int]] = {at: [] for at in own.values()}
    outermost = {own[place] for place in at_edge if place in own}
    among = []
    for link in links:
        if link.first in own and link.second in own:
            among.append(Link(link.width, own[link.first], own[link.second]))
        else:
            outermost.update(own[place] for place in (link.first, link.second) if place in own)
    for link in among:
        beside[link.first].append(link.second)
        beside[link.second].append(link.first)
    members = [design.openings[place] for place in group]
    parts = rings(members, beside, sorted(outermost))
    if len(parts) == 1:
        parts = halves(geometries([member.area for member in members]), among)
    return [[group[at] for at in part] for part in parts]
