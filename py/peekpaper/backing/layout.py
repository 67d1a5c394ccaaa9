"""The pieces as they lie behind the card, before their hidden edges are made easy to cut."""

from collections.abc import Mapping
from dataclasses import dataclass

import shapely
from shapely import MultiPolygon, Polygon

from peekpaper.backing.backing import BackingChoices, Mode
from peekpaper.backing.fitted import fitted_areas, outline_of_one, outline_of_several
from peekpaper.backing.kept import BackingBench
from peekpaper.backing.laying import lay_sites
from peekpaper.backing.room import drawn_in, outline_of, rooms
from peekpaper.backing.sharing import Sharing, shared_pieces, spanned, torn_apart
from peekpaper.backing.smallest import Narrow, narrows, uniform_lip
from peekpaper.backing.zones import OPEN, zones
from peekpaper.design.design import Design

Areas = Mapping[int, Polygon | MultiPolygon]


@dataclass(frozen=True, slots=True)
class Layout:
    """Who shares a piece, and for each piece its core (its openings), its room and its fitted outline.

    `narrows` are the narrowest places of the design, `uniform_lip_mm` the largest lip that fits at all.
    """

    sharing: Sharing
    cores: Mapping[int, MultiPolygon]
    rooms: Areas
    outlines: Mapping[int, Polygon]
    narrows: tuple[Narrow, ...]
    uniform_lip_mm: float


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
        places = tuple(narrows(design, sharing.piece_of, choices))
        uniform = min(uniform_lip(places), choices.lip_mm)
        lip_mm = choices.lip_mm if choices.mode is Mode.FITTED else uniform
        space = _rooms(design, sharing, choices, bench)
        cores = {
            piece: shapely.multipolygons([backed[number] for number in numbers])
            for piece, numbers in sharing.pieces.items()
        }
        wide = {piece: spanned(core, sharing.spans_mm[piece]) for piece, core in cores.items()}
        areas = fitted_areas(cores, wide, space, lip_mm) if cores else {}
        outlines: dict[int, Polygon] = {}
        torn: dict[int, list[tuple[int, ...]]] = {}
        for piece, area in areas.items():
            outline = (
                outline_of_one(area, cores[piece].geoms[0], space[piece], lip_mm)
                if len(sharing.pieces[piece]) == 1
                else outline_of_several(area, cores[piece], space[piece])
            )
            if outline is None:
                torn[piece] = _parts(area, {number: backed[number] for number in sharing.pieces[piece]})
            else:
                outlines[piece] = outline
        if not torn:
            return Layout(sharing, cores, space, outlines, places, uniform)
        sharing = torn_apart(sharing, torn)


def _rooms(design: Design, sharing: Sharing, choices: BackingChoices, bench: BackingBench) -> Areas:
    if not sharing.pieces:
        return {}
    openings = [opening.area for opening in design.openings]
    piece_of = sharing.piece_of
    owners = tuple(piece_of.get(opening.number, OPEN) for opening in design.openings)
    outline = bench.outline.get((design.card,), lambda: outline_of(design.card))
    sites = bench.sites.get((design.openings, design.card), lambda: lay_sites(openings, outline))
    areas = bench.zones.get((sites, owners), lambda: zones(sites, owners))
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
