"""The order in which pieces are glued.

Common practice, no published source: work on the back, from the far edge towards yourself, so that nobody
reaches over wet glue; within a band that a hand can rest below, one paper after another, so that one pile is
open at a time; or, as the person wishes, one motif after another, from the far edge, too; and never two
pieces in a row whose lips nearly touch, so that the first can set.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from peekpaper.backing.backing import Backing, Piece
from peekpaper.design.design import Design
from peekpaper.design.motifs.motif import Motif
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
    """Steps of one paper in one band or motif; `band` counts from 1 at the far edge, of `bands`.

    `motif` is the number of the motif that is glued here, counted from 1, None where none is; `motif_name` is
    what the person calls it, "" where nobody named it.
    """

    paper: str
    band: int
    bands: int
    steps: tuple[GlueStep, ...]
    motif: int | None = None
    motif_name: str = ""


def glue_up(
    project: Project, design: Design, backing: Backing, motifs: Sequence[Motif] = ()
) -> tuple[GlueGroup, ...]:
    """Return all pieces in gluing order, grouped by band and paper; papers come in the shelf's order.

    With `motifs` they are grouped by motif and paper: a piece goes with the motif of its first opening.
    """
    pieces, papers = backing.pieces, project.shelf.papers
    others = interchangeable(design, backing, papers, project.backing.least_lip_mm)
    neighbours = _neighbours(pieces)
    in_order = sorted(pieces, key=_place_from_behind)
    bands = max(1, round(design.height_mm / BAND_MM))
    rank = {paper.id: index for index, paper in enumerate(papers)}
    motif_of = _motifs_of(in_order, motifs)
    turn_of = {number: turn for turn, number in enumerate(dict.fromkeys(motif_of.values()))}
    members: dict[tuple[int, int, str], list[Piece]] = {}
    for piece in in_order:
        band = min(bands, 1 + int(piece.outline.centroid.y / design.height_mm * bands))
        section = turn_of[motif_of[piece.number]] if motifs else band
        members.setdefault((section, rank.get(piece.paper, len(rank)), piece.paper), []).append(piece)
    groups = []
    done: list[int] = []
    for (section, _, paper), waiting in sorted(members.items()):
        number = motif_of.get(waiting[0].number)
        name = motifs[number - 1].name if number else ""
        steps = []
        while waiting:
            apart = [piece for piece in waiting if not done or done[-1] not in neighbours[piece.number]]
            piece = (apart or waiting)[0]
            waiting.remove(piece)
            done.append(piece.number)
            steps.append(
                GlueStep(len(done), piece.number, piece.openings, others[piece.number], lets_set=not apart)
            )
        place = (1, 1) if motifs else (section, bands)
        groups.append(GlueGroup(paper, *place, tuple(steps), number or None, name))
    return tuple(groups)


def _motifs_of(pieces: Sequence[Piece], motifs: Sequence[Motif]) -> dict[int, int]:
    """Return the number of each piece's motif, counted from 1, by the piece's; 0 where it is in none."""
    number_of = {number: place for place, motif in enumerate(motifs, 1) for number in motif.openings}
    return {piece.number: number_of.get(piece.openings[0], 0) for piece in pieces} if motifs else {}


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
