"""A plan as it is kept with its project, so that another day starts from it instead of seeking it anew.

It tells where pieces and trims lie, not their outlines: those follow from the backing. `basis` tells what the
plan was made from, so that one of other pieces, papers or choices is never taken for it.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from peekpaper.bounds import Amount, Degrees, Many, Millimetres, Name, Number, Some, Tag
from peekpaper.papers.paper import Shelf
from peekpaper.plan.assemble import warnings_on_sheets
from peekpaper.plan.plan import (
    Mat,
    PaperRounds,
    PieceToPlace,
    PlacedPiece,
    Plan,
    SheetPlacement,
    Trim,
)
from peekpaper.plan.shapes.turns import placed
from peekpaper.plan.trims.sizes import EPSILON

PLACE_DECIMALS = 3
"""A micrometre, where cutting machines step by some hundredths of a millimetre (from memory)."""
TURN_DECIMALS = 4
"""About a micrometre at a foot from where a piece is turned about."""


@dataclass(frozen=True, slots=True)
class KeptPiece:
    """Where a piece lies in its trim (see `PlacedPiece`)."""

    number: Number
    turn_deg: Degrees
    x_mm: Millimetres
    y_mm: Millimetres


@dataclass(frozen=True, slots=True)
class KeptTrim:
    """A trim and where it lies (see `Trim`)."""

    id: Name
    paper: Tag
    width_mm: Millimetres
    height_mm: Millimetres
    scrap: Tag | None
    pieces: Many[KeptPiece]
    mat: Number
    x_mm: Millimetres
    y_mm: Millimetres
    turned: bool
    cut_from: SheetPlacement | None
    printed_at: SheetPlacement | None


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """A plan's trims and the figures that don't follow from them; `basis` names what it was made from."""

    basis: Tag
    trims: Some[KeptTrim]
    mats: Some[Mat]
    sheets: Mapping[str, int]
    cut_length_mm: Amount
    rounds: Some[PaperRounds]


def keep_plan(plan: Plan, basis: str) -> KeptPlan:
    """Return a plan as it is kept."""
    trims = tuple(
        KeptTrim(
            trim.id,
            trim.paper,
            trim.width_mm,
            trim.height_mm,
            trim.scrap,
            tuple(KeptPiece(one.number, one.turn_deg, one.x_mm, one.y_mm) for one in trim.pieces),
            trim.mat,
            trim.x_mm,
            trim.y_mm,
            trim.turned,
            trim.cut_from,
            trim.printed_at,
        )
        for trim in plan.trims
    )
    return KeptPlan(basis, trims, plan.mats, dict(plan.sheets), plan.cut_length_mm, plan.rounds)


def coarse(kept: KeptPlan) -> KeptPlan:
    """Return the same with the places of pieces rounded to what no blade tells, in half the bytes."""
    return replace(
        kept, trims=tuple(replace(trim, pieces=tuple(map(_coarse, trim.pieces))) for trim in kept.trims)
    )


def _coarse(piece: KeptPiece) -> KeptPiece:
    return KeptPiece(
        piece.number,
        round(piece.turn_deg, TURN_DECIMALS),
        round(piece.x_mm, PLACE_DECIMALS),
        round(piece.y_mm, PLACE_DECIMALS),
    )


def restored(kept: KeptPlan, basis: str, pieces: Sequence[PieceToPlace], shelf: Shelf) -> Plan | None:
    """Return the plan that was kept, its time still to be told, or None where it is not of these pieces.

    `basis` is what a plan would be made from now.
    """
    by_number = {piece.number: piece for piece in pieces}
    laid = [(one.number, trim.paper) for trim in kept.trims for one in trim.pieces]
    wanted = [(piece.number, piece.paper) for piece in pieces]
    if kept.basis != basis or sorted(laid) != sorted(wanted):
        return None
    trims = tuple(_trim(trim, by_number) for trim in kept.trims)
    if not all(_holds_its_pieces(trim) for trim in trims):
        return None
    areas: dict[str, float] = {}
    for trim in trims:
        areas[trim.paper] = areas.get(trim.paper, 0.0) + trim.width_mm * trim.height_mm
    return Plan(
        trims=trims,
        mats=kept.mats,
        paper_area_mm2=tuple(areas.items()),
        sheets=tuple(kept.sheets.items()),
        cut_length_mm=kept.cut_length_mm,
        seconds=0.0,
        rounds=kept.rounds,
        complete=True,
        warnings=tuple(warnings_on_sheets(shelf.papers, kept.sheets)),
    )


def _trim(trim: KeptTrim, pieces: Mapping[int, PieceToPlace]) -> Trim:
    return Trim(
        trim.id,
        trim.paper,
        trim.width_mm,
        trim.height_mm,
        trim.scrap,
        tuple(_piece(one, pieces[one.number]) for one in trim.pieces),
        trim.mat,
        trim.x_mm,
        trim.y_mm,
        trim.turned,
        trim.cut_from,
        trim.printed_at,
    )


def _piece(one: KeptPiece, piece: PieceToPlace) -> PlacedPiece:
    outline = placed(piece.outline, one.turn_deg, one.x_mm, one.y_mm)
    return PlacedPiece(one.number, one.turn_deg, one.x_mm, one.y_mm, outline)


def _holds_its_pieces(trim: Trim) -> bool:
    """Tell whether the pieces lie within the trim: those of an earlier version of Peekpaper may be others."""
    bounds = [piece.outline.bounds for piece in trim.pieces]
    return all(
        left >= -EPSILON
        and top >= -EPSILON
        and right <= trim.width_mm + EPSILON
        and bottom <= trim.height_mm + EPSILON
        for left, top, right, bottom in bounds
    )
