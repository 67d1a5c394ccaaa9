"""The pieces as they lie behind the card, before their hidden edges are made easy to cut."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np
import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.backing.backing import BackingChoices, Mode
from peekpaper.backing.kept import BackingBench
from peekpaper.backing.outlines.fitted import Fitted, fitted_pieces
from peekpaper.backing.outlines.room import drawn_in, outline_of, rooms
from peekpaper.backing.reuse import kept_or_made
from peekpaper.backing.sharing import Sharing, shared_pieces, spanned, torn_apart
from peekpaper.backing.smallest import (
    Closest,
    Narrow,
    SmallestSize,
    closest_places,
    narrows,
    smallest_of,
    uniform_lip,
)
from peekpaper.backing.zones.borders import Crossings
from peekpaper.backing.zones.laying import lay_sites, site_step
from peekpaper.backing.zones.sites import Sites
from peekpaper.backing.zones.zones import OPEN, zones
from peekpaper.design.design import Design

Areas = Mapping[int, Polygon | MultiPolygon]


@dataclass(frozen=True, slots=True)
class Layout:
    """Who shares a piece, and for each piece its core (its openings), its room and its fitted outline.

    `lip_mm` is the lip that pieces get where there is room: the wanted one, or the uniform one. `narrows` are
    the narrowest places of the design, `uniform_lip_mm` the largest lip that fits at all, `smallest` the size
    at which every lip is as wide as the least.
    """

    sharing: Sharing
    cores: Mapping[int, MultiPolygon]
    rooms: Areas
    outlines: Mapping[int, Polygon]
    lip_mm: float
    narrows: tuple[Narrow, ...]
    uniform_lip_mm: float
    smallest: SmallestSize


def lay_out(
    design: Design, choices: BackingChoices, papers: Mapping[int, str], bench: BackingBench
) -> Layout:
    """Return the pieces of a design with their fitted (or uniform) outlines.

    `papers` gives the paper's id of each opening to be backed. Openings that were to share a piece which
    would come out in parts get pieces of their own.
    """
    openings = {opening.number: opening.area for opening in design.openings}
    backed = {number: area for number, area in openings.items() if number in papers}
    sharing = shared_pieces(openings, papers, choices)
    while True:
        places = tuple(narrows(_closest(design, sharing, bench), choices))
        uniform = min(uniform_lip(places), choices.lip_mm)
        lip_mm = choices.lip_mm if choices.mode is Mode.FITTED else uniform
        space = _rooms(design, sharing, choices, bench)
        cores = {
            piece: shapely.multipolygons([backed[number] for number in numbers])
            for piece, numbers in sharing.pieces.items()
        }
        fitted = _fitted(cores, sharing.spans_mm, space, lip_mm, bench)
        torn = {
            piece: _parts(one.area, {number: backed[number] for number in sharing.pieces[piece]})
            for piece, one in fitted.items()
            if one.outline is None
        }
        if not torn:
            outlines = {piece: one.outline for piece, one in fitted.items() if one.outline is not None}
            smallest = _smallest(design, choices, papers, sharing, places)
            return Layout(sharing, cores, space, outlines, lip_mm, places, uniform, smallest)
        sharing = torn_apart(sharing, torn)
        choices = _kept_apart(choices, torn)


def _kept_apart(choices: BackingChoices, torn: Mapping[int, Sequence[tuple[int, ...]]]) -> BackingChoices:
    """Return the choices with what came out in parts kept apart, at other sizes too."""
    pairs = (pair for groups in torn.values() for pair in combinations((min(group) for group in groups), 2))
    return replace(choices, split=(*choices.split, *pairs))


def _smallest(
    design: Design,
    choices: BackingChoices,
    papers: Mapping[int, str],
    sharing: Sharing,
    places: Sequence[Narrow],
) -> SmallestSize:
    limit_mm = choices.shared_bar_mm
    openings = {opening.number: opening.area for opening in design.openings}

    def places_at(scale: float) -> Sequence[Narrow]:
        if limit_mm is None or scale == 1:
            return places
        shared = shared_pieces(openings, papers, replace(choices, shared_bar_mm=limit_mm / scale))
        if shared.pieces == sharing.pieces:
            return places
        return narrows(closest_places(design, shared.piece_of), choices)

    return smallest_of(places_at, design.width_mm, choices)


def _closest(design: Design, sharing: Sharing, bench: BackingBench) -> Closest:
    pieces = sharing.piece_of
    inputs = (design.openings, design.card, tuple(pieces.items()))
    return bench.closest.get(inputs, lambda: closest_places(design, pieces))


def _fitted(
    cores: Mapping[int, MultiPolygon],
    spans_mm: Mapping[int, float],
    space: Areas,
    lip_mm: float,
    bench: BackingBench,
) -> dict[int, Fitted]:
    numbers = list(cores)

    def make(fresh: list[int]) -> list[Fitted]:
        inner = {numbers[place]: cores[numbers[place]] for place in fresh}
        wide = {piece: spanned(core, spans_mm[piece]) for piece, core in inner.items()}
        return fitted_pieces(inner, wide, space, lip_mm)

    wkbs = shapely.to_wkb(np.array([(cores[piece], space[piece]) for piece in numbers], dtype=object))
    keys = [(*wkb, spans_mm[piece], lip_mm) for piece, wkb in zip(numbers, wkbs, strict=True)]
    bench.fitted = kept_or_made(keys, bench.fitted, make)
    return dict(zip(numbers, bench.fitted.values(), strict=True))


def _rooms(design: Design, sharing: Sharing, choices: BackingChoices, bench: BackingBench) -> Areas:
    if not sharing.pieces:
        return {}
    openings = [opening.area for opening in design.openings]
    piece_of = sharing.piece_of
    owners = tuple(piece_of.get(opening.number, OPEN) for opening in design.openings)
    outline = bench.outline.get((design.card,), lambda: outline_of(design.card))

    def lay() -> Sites:
        bench.crossings = Crossings()
        return lay_sites(openings, outline, site_step(openings))

    sites = bench.sites.get((design.openings, design.card), lay)

    def divide() -> Areas:
        divided, bench.crossings = zones(sites, owners, bench.crossings)
        return divided

    areas = bench.zones.get((sites, owners), divide)
    opened = [opening.area for opening in design.openings if opening.number not in piece_of]
    distances = (choices.gap_mm, choices.clearance_mm, choices.edge_margin_mm)

    def make() -> Areas:
        bench.drawn_in = drawn_in(areas.values(), choices.gap_mm, bench.drawn_in)
        left = dict(zip(areas, bench.drawn_in.values(), strict=True))
        return rooms(left, outline, opened, choices)

    return bench.rooms.get((sites, owners, *distances), make)


def _parts(area: Polygon | MultiPolygon, openings: Mapping[int, Polygon]) -> list[tuple[int, ...]]:
    """Return which openings hang together in an area of several parts; each alone where it is in one."""
    parts = list(area.geoms) if isinstance(area, MultiPolygon) else []
    groups = [
        tuple(number for number, opening in openings.items() if part.contains(opening.representative_point()))
        for part in parts
    ]
    together = [group for group in groups if group]
    return together if len(together) > 1 else [(number,) for number in openings]
