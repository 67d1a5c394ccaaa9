"""The fitted outline of a piece: its openings with the widest lip that fits, everywhere."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import MultiPolygon, Polygon

from peekpaper.backing.outlines.slit import without_holes
from peekpaper.geometry.areas import holding, polygonal
from peekpaper.geometry.grid import grown
from peekpaper.geometry.overlay import intersection, union

Areas = Mapping[int, Polygon | MultiPolygon]

_QUARTER_SEGMENTS = 8
"""Chords of a quarter circle: 0.5 % of the lip off at most, 1 - cos(pi / 32)."""
# A little more than wanted, so that arcs drawn with few nodes never fall short of it.
_MORE, _MORE_MM = 0.02, 0.04
_HAIR_MM = 2e-6
"""Two steps of the grid: so far rounding moves a coordinate at most."""
_SHORTER = (1.0, 0.5, 0.25, 0.0)
"""Shares of the lip, tried in turn until what a piece covers hangs together."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """What a piece may cover, and its outline; None where a shared piece would come out in parts."""

    area: Polygon | MultiPolygon
    outline: Polygon | None


def fitted_pieces(
    cores: Mapping[int, MultiPolygon], spanned: Areas, rooms: Areas, lip_mm: float
) -> list[Fitted]:
    """Return the pieces behind openings, with as much of the lip as their rooms allow.

    A core is what the piece must cover, room or not; `spanned` is the core and the bars that it spans.
    """
    areas = fitted_areas(cores, spanned, rooms, lip_mm)
    single = {piece: area for piece, area in areas.items() if len(cores[piece].geoms) == 1}
    outlines = outlines_of_single(single, {piece: cores[piece].geoms[0] for piece in single}, rooms, lip_mm)
    return [
        Fitted(
            area,
            outlines[piece] if piece in outlines else outline_of_several(area, cores[piece], rooms[piece]),
        )
        for piece, area in areas.items()
    ]


def fitted_areas(
    cores: Areas, spanned: Areas, rooms: Areas, lip_mm: float
) -> dict[int, Polygon | MultiPolygon]:
    """Return for each piece what it spans grown by the lip, as far as its room allows.

    A core is what the piece must cover, room or not; `spanned` is the core and the bars that it spans.
    """
    numbers = list(cores)
    core = covered([cores[number] for number in numbers])
    wide = np.array([spanned[number] for number in numbers], dtype=object)
    room = np.array([rooms[number] for number in numbers], dtype=object)
    reach = lip_mm + min(lip_mm * _MORE, _MORE_MM)
    around = grown(wide, reach, _QUARTER_SEGMENTS)
    areas = union(intersection(around, room), core)
    return {number: polygonal(area) for number, area in zip(numbers, areas, strict=True)}


def outlines_of_single(
    areas: Areas, cores: Mapping[int, Polygon], rooms: Areas, lip_mm: float
) -> dict[int, Polygon]:
    """Return the outlines of pieces behind one opening each, without holes, from their fitted areas.

    Where a piece would surround what it must not cover and no slit gets there, its lip is made shorter.
    """
    outlines = {piece: holding(area, cores[piece]) for piece, area in areas.items()}
    holed = [piece for piece, outline in outlines.items() if outline.interiors]
    closer: Areas = areas
    for share in _SHORTER:
        if not holed:
            break
        if share < 1:
            left = {piece: cores[piece] for piece in holed}
            closer = fitted_areas(left, left, rooms, lip_mm * share)
        whole = {
            piece: without_holes(holding(closer[piece], cores[piece]), cores[piece], rooms[piece])
            for piece in holed
        }
        outlines.update((piece, outline) for piece, outline in whole.items() if outline is not None)
        holed = [piece for piece, outline in whole.items() if outline is None]
    return outlines | {piece: cores[piece] for piece in holed}


def outline_of_several(
    area: Polygon | MultiPolygon, core: MultiPolygon, room: Polygon | MultiPolygon
) -> Polygon | None:
    """Return the outline of a shared piece from its fitted area, or None where it would come out in parts."""
    part = holding(area, core)
    return without_holes(part, core, room) if part.covers(core) else None


def covered(areas: Iterable[Polygon | MultiPolygon]) -> NDArray[np.object_]:
    """Return areas grown by a hair: what covers these covers the areas, however coordinates round."""
    return grown(np.array(list(areas), dtype=object), _HAIR_MM, 1, join_style="mitre")


def total_nodes(outlines: Iterable[Polygon]) -> int:
    """Return how many nodes the outlines have together, the start of each counted once."""
    counts = shapely.get_num_coordinates(np.array(list(outlines), dtype=object))
    return int((counts - 1).sum())
