"""Measures pieces against the definition of the ideal lip, by plain distances and without zones."""

from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from peekpaper.backing.backing import Backing, BackingChoices
from peekpaper.design.design import Design

STEP_MM = 0.25
TOLERATED_MM = 0.01


@dataclass(frozen=True)
class Lips:
    """The ideal and the achieved lip in mm, at points every quarter of a millimetre along backed edges."""

    ideal: NDArray[np.float64]
    achieved: NDArray[np.float64]

    def ratios(self, least_mm: float = 0.02) -> NDArray[np.float64]:
        """Achieved over ideal, where there is room for a lip that a person could see."""
        room = self.ideal > least_mm
        return self.achieved[room] / self.ideal[room]


def lips(design: Design, backing: Backing, choices: BackingChoices) -> Lips:
    areas = {opening.number: opening.area for opening in design.openings}
    numbers = list(areas)
    tree = shapely.STRtree(list(areas.values()))
    backed = {number for piece in backing.pieces for number in piece.openings}
    outside = outline(design).boundary
    shapely.prepare(outside)
    ideal, achieved = [], []
    for piece in backing.pieces:
        for number in piece.openings:
            ring = areas[number].exterior
            points = shapely.line_interpolate_point(ring, np.arange(0, ring.length, STEP_MM))
            lip = np.minimum(choices.lip_mm, shapely.distance(outside, points) - choices.edge_margin_mm)
            reach = 2 * choices.lip_mm + choices.gap_mm + choices.clearance_mm
            for near in tree.query(areas[number], predicate="dwithin", distance=reach):
                other = numbers[near]
                if other in piece.openings:
                    continue
                width = shapely.distance(points, areas[other])
                room = (width - choices.gap_mm) / 2 if other in backed else width - choices.clearance_mm
                lip = np.minimum(lip, room)
            ideal.append(lip)
            achieved.append(shapely.distance(points, piece.outline.exterior))
    empty = [np.empty(0)]
    return Lips(np.concatenate(ideal or empty), np.concatenate(achieved or empty))


def broken_promises(design: Design, backing: Backing, choices: BackingChoices) -> list[str]:
    """What a backing must never do, in words; bars too narrow for any lip are no break."""
    return [
        *_bad_outlines(design, backing),
        *_too_close(design, backing, choices),
        *_out_of_place(design, backing, choices),
    ]


def has_bump_where_it_begins(outline: Polygon) -> bool:
    """Tell whether the outline turns to and fro by more than 3 degrees around its first node."""
    nodes = shapely.get_coordinates(outline.exterior)[:-1] @ (1, 1j)
    sides = np.roll(nodes, -1) - nodes
    turns = np.degrees(np.angle(sides / np.roll(sides, 1)))
    around = turns[[-2, -1, 0, 1, 2]]
    to_and_fro = (around[:-1] * around[1:] < 0) & (np.minimum(*np.abs([around[:-1], around[1:]])) > 3)
    return bool((to_and_fro[:-1] & to_and_fro[1:]).any())


def _bad_outlines(design: Design, backing: Backing) -> list[str]:
    areas = {opening.number: opening.area for opening in design.openings}
    broken = []
    for piece in backing.pieces:
        if not piece.outline.is_valid or piece.outline.interiors:
            broken.append(f"piece {piece.number} is no plain outline")
        broken += [
            f"piece {piece.number} bares opening {number}"
            for number in piece.openings
            if not piece.outline.covers(areas[number])
        ]
    return broken


def _too_close(design: Design, backing: Backing, choices: BackingChoices) -> list[str]:
    areas = {opening.number: opening.area for opening in design.openings}
    outlines = np.array([piece.outline for piece in backing.pieces], dtype=object)
    broken = []
    pairs = shapely.STRtree(outlines).query(outlines, predicate="dwithin", distance=choices.gap_mm).T
    for one, other in pairs[pairs[:, 0] < pairs[:, 1]]:
        first, second = backing.pieces[one], backing.pieces[other]
        bar = min(areas[a].distance(areas[b]) for a in first.openings for b in second.openings)
        apart = first.outline.distance(second.outline)
        if apart < min(choices.gap_mm, bar) - TOLERATED_MM:
            broken.append(f"pieces {first.number} and {second.number} are {apart} apart, the bar {bar}")
        if first.outline.intersection(second.outline).area > 1e-4:
            broken.append(f"pieces {first.number} and {second.number} overlap")
    return broken


def _out_of_place(design: Design, backing: Backing, choices: BackingChoices) -> list[str]:
    areas = {opening.number: opening.area for opening in design.openings}
    backed = {number for piece in backing.pieces for number in piece.openings}
    edge = outline(design).boundary
    broken = []
    for piece in backing.pieces:
        core = shapely.MultiPolygon([areas[number] for number in piece.openings])
        for number, area in areas.items():
            wanted = min(choices.clearance_mm, core.distance(area)) - TOLERATED_MM
            if number not in backed and piece.outline.distance(area) < wanted:
                broken.append(f"piece {piece.number} peeps out at opening {number}")
        if piece.outline.distance(edge) < min(choices.edge_margin_mm, core.distance(edge)) - TOLERATED_MM:
            broken.append(f"piece {piece.number} reaches the outside")
    return broken


def outline(design: Design) -> Polygon:
    return shapely.union_all([Polygon(part.exterior) for part in design.card.geoms])
