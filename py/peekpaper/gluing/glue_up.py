"""The order in which pieces are glued.

Common practice, no published source: work on the back, from the far edge towards yourself, so that nobody
reaches over wet glue; within a band that a hand can rest below, one paper after another, so that one pile is
open at a time; and never two pieces in a row whose lips nearly touch, so that the first can set.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from peekpaper.backing.backing import Backing, Piece
from peekpaper.design.design import Design
from peekpaper.gluing.interchangeable import interchangeable
from peekpaper.project.project import Project

BAND_MM = 90.0
"""About the breadth of a hand (from memory)."""

NEARLY_TOUCH_MM = 2.0
"""Lips nearer than this may share a smear of glue (from memory)."""

_ROW_MM = 15.0
"""Pieces whose middles differ less than this in height count as one row."""


@dataclass(frozen=True, slots=True)
class GlueStep:
    """One piece to glue: `order` counts from 1 through the whole glue-up.

    `interchangeable_with` numbers the pieces that may take its place. `lets_set` tells that the piece before
    it nearly touches it and no other was left, so the glue should set first.
    """

    order: int
    piece: int
    openings: tuple[int, ...]
    interchangeable_with: tuple[int, ...]
    lets_set: bool


@dataclass(frozen=True, slots=True)
class GlueGroup:
    """Steps of one paper in one band; `band` counts from 1 at the far edge, of `bands`."""

    paper: str
    band: int
    bands: int
    steps: tuple[GlueStep, ...]


def glue_up(project: Project, design: Design, backing: Backing) -> tuple[GlueGroup, ...]:
    """Return all pieces in gluing order, grouped by band and paper; papers come in the shelf's order."""
    pieces, papers = backing.pieces, project.shelf.papers
    others = interchangeable(design, backing, papers, project.backing.least_lip_mm)
    neighbours = _neighbours(pieces)
    bands = max(1, round(design.height_mm / BAND_MM))
    rank = {paper.id: index for index, paper in enumerate(papers)}
    members: dict[tuple[int, int, str], list[Piece]] = {}
    for piece in sorted(pieces, key=_place_from_behind):
        band = min(bands, 1 + int(piece.outline.centroid.y / design.height_mm * bands))
        members.setdefault((band, rank.get(piece.paper, len(rank)), piece.paper), []).append(piece)
    groups = []
    done: list[int] = []
    for (band, _, paper), waiting in sorted(members.items()):
        steps = []
        while waiting:
            apart = [piece for piece in waiting if not done or done[-1] not in neighbours[piece.number]]
            piece = (apart or waiting)[0]
            waiting.remove(piece)
            done.append(piece.number)
            steps.append(
                GlueStep(len(done), piece.number, piece.openings, others[piece.number], lets_set=not apart)
            )
        groups.append(GlueGroup(paper, band, bands, tuple(steps)))
    return tuple(groups)


def _place_from_behind(piece: Piece) -> tuple[int, float]:
    """Return row and place in it, as seen from behind: far rows first, each from left to right."""
    middle = piece.outline.centroid
    return round(middle.y / _ROW_MM), -middle.x


def _neighbours(pieces: Sequence[Piece]) -> dict[int, set[int]]:
    """Return the numbers of the pieces that nearly touch each piece."""
    found: dict[int, set[int]] = {piece.number: set() for piece in pieces}
    outlines = np.array([piece.outline for piece in pieces], dtype=object)
    for one, other in shapely.STRtree(outlines).query(outlines, "dwithin", NEARLY_TOUCH_MM).T:
        if one != other:
            found[pieces[one].number].add(pieces[other].number)
    return found
