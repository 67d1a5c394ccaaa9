"""What the page shows of each step: plain values that become JSON, with geometry as SVG paths in mm."""

import math
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

import shapely
import shapely.affinity
from shapely import MultiLineString

from peekpaper.backing.backing import Backing, BackingChoices
from peekpaper.backing.simple.punches import parse_shape
from peekpaper.design.design import Design, DesignWarning
from peekpaper.design.division.division import Division
from peekpaper.design.possible import PossibleReading
from peekpaper.desk.paths import joined, label_place, numbers, outline, path, segment
from peekpaper.geometry.areas import as_area
from peekpaper.plan.plan import Plan, Trim
from peekpaper.project.codec import encode

View = dict[str, Any]


def design_view(design: Design) -> View:
    """Return the card, openings, bars and warnings for drawing."""
    areas = [opening.area for opening in design.openings]
    boxes = shapely.bounds(areas)
    return {
        "width_mm": design.width_mm,
        "height_mm": design.height_mm,
        "card": path(design.card),
        "loose_bits": [
            {
                "number": bit.number,
                "name": bit.name,
                "path": path(bit.area),
                "box": numbers(bit.area.bounds),
                "label": label_place(bit.area),
                "opening": bit.opening,
            }
            for bit in design.loose_bits
        ],
        "openings": [
            {
                "number": opening.number,
                "path": outline(opening.area),
                "box": numbers(box),
                "label": label_place(opening.area),
                "area_mm2": round(opening.area.area, 2),
                "alike": opening.alike,
                "same_shape": opening.same_shape,
                "given_colour": opening.given_colour,
            }
            for opening, box in zip(design.openings, boxes, strict=True)
        ],
        "bars": [
            {
                "first": bar.first,
                "second": bar.second,
                "width_mm": round(bar.width_mm, 3),
                "strip": outline(bar.strip),
                "across": segment(bar.narrowest),
            }
            for bar in design.bars
        ],
        "warnings": warnings_view(design.warnings),
        "habits": [str(habit) for habit in design.habits],
        "habit": str(design.habits[0]) if design.habits else None,
        "colours": list(design.colours),
        "mm_per_px": design.mm_per_px,
        "size_is_a_guess": design.size_is_a_guess,
        "usual_px_per_inch": list(design.usual_px_per_inch),
        "is_whole": design.is_whole,
        "division": None if design.division is None else _division_view(design.division),
    }


_SEAM_MM = 0.8
"""How wide a seam is drawn, so that it is seen among bars."""


def seams_path(seams: MultiLineString | None) -> str | None:
    """Return seams as strips that can be filled, None for none."""
    return None if seams is None else joined(as_area(seams.buffer(_SEAM_MM / 2, cap_style="flat")))


def _division_view(division: Division) -> View:
    """Return the parts of a card that is cut in several, and the seams between them."""
    return {
        "joint": str(division.joint),
        "parts": [
            {"number": part.number, "path": path(part.area), "box": numbers(part.area.bounds)}
            for part in division.parts
        ],
        "seams": seams_path(division.seams),
    }


_PICTURE = 100.0
"""The longer side of the picture of a reading."""
_COARSE = 0.1
"""How far a reading's picture may stray: a third of a pixel where it is 300 px large."""


def reading_view(possible: PossibleReading) -> View:
    """Return a way of reading the file with a coarse picture of its card."""
    left, top, right, bottom = possible.card.bounds
    scale = _PICTURE / max(right - left, bottom - top)
    moved = shapely.affinity.affine_transform(
        possible.card, [scale, 0, 0, scale, -left * scale, -top * scale]
    )
    return {
        "choice": {
            "habit": str(possible.habit),
            "card_colour": possible.card_colour,
            "opening_colour": possible.opening_colour,
            "to_page": possible.to_page,
            "card_number": possible.card_number,
        },
        "openings": possible.openings,
        "parts": possible.parts,
        "loose_bits": possible.loose_bits,
        "card": path(shapely.simplify(moved, _COARSE, preserve_topology=False)),
        "width": round((right - left) * scale, 2),
        "height": round((bottom - top) * scale, 2),
    }


def warnings_view(warnings: Sequence[DesignWarning]) -> list[View]:
    """Return warnings, each with its place and what to show there."""
    return [
        {
            "code": warning.code,
            "message": warning.message.told(),
            "at": numbers(shapely.get_coordinates(warning.at)),
            "where": joined(warning.where),
            "box": _box_at(warning),
            "severity": warning.severity,
            "action": warning.action,
        }
        for warning in warnings
    ]


def _box_at(warning: DesignWarning) -> list[float] | None:
    """Return the bounds of that part of what a warning shows which is at its place."""
    parts = shapely.get_parts(warning.where)
    if warning.where is None or len(parts) == 0:
        return None
    return numbers(shapely.bounds(parts[shapely.distance(parts, warning.at).argmin()]))


def backing_view(backing: Backing, choices: BackingChoices) -> View:
    """Return the pieces, offers and figures of a backing, and the simple shapes in the choices by name."""
    names = (*choices.punches, *(name for _, name in choices.simple_shapes))
    return {
        "pieces": [
            {
                "number": piece.number,
                "openings": list(piece.openings),
                "paper": piece.paper,
                "path": outline(piece.outline),
                "lip_min_mm": round(piece.lip_min_mm, 3),
                "lip_median_mm": round(piece.lip_median_mm, 3),
                "simple_shape": piece.simple_shape,
            }
            for piece in backing.pieces
        ],
        "whole_back": joined(backing.whole_back),
        "offers": [
            {
                "piece": offer.piece,
                "name": offer.name,
                "path": path(offer.outline),
                "shape": encode(offer.shape),
                "cut_in": offer.cut_in,
            }
            for offer in backing.offers
        ],
        "shapes": {name: encode(parse_shape(name)) for name in names},
        "pieces_saved_by_sharing": backing.pieces_saved_by_sharing,
        "fewer": None if backing.fewer is None else asdict(backing.fewer),
        "uniform_lip_mm": round(backing.uniform_lip_mm, 3),
        "smallest_width_mm": (
            round(backing.smallest_width_mm, 2) if math.isfinite(backing.smallest_width_mm) else None
        ),
        "smallest_set_by": [segment(line) for line in backing.smallest_set_by],
        "nodes_before": backing.nodes_before,
        "nodes_after": backing.nodes_after,
        "under_least_lip": list(backing.under_least_lip),
        "warnings": warnings_view(backing.warnings),
    }


def plan_view(plan: Plan) -> View:
    """Return the mats with their trims, the trims with their pieces, and the figures that matter."""
    return {
        "trims": [trim_view(trim) for trim in plan.trims],
        "mats": [
            {"number": mat.number, "width_mm": mat.width_mm, "height_mm": mat.height_mm} for mat in plan.mats
        ],
        "paper_area_mm2": dict(plan.paper_area_mm2),
        "sheets": dict(plan.sheets),
        "cut_length_mm": round(plan.cut_length_mm, 1),
        "seconds": round(plan.seconds, 1),
        "rounds": encode(plan.rounds),
        "complete": plan.complete,
        "warnings": [warning.told() for warning in plan.warnings],
    }


def trim_view(trim: Trim) -> View:
    """Return one trim with its pieces in the trim's own coordinates."""
    return {
        "id": trim.id,
        "paper": trim.paper,
        "width_mm": trim.width_mm,
        "height_mm": trim.height_mm,
        "scrap": trim.scrap,
        "outline": None if trim.outline is None else path(trim.outline),
        "sheet": trim.source.sheet if trim.source else None,
        "printed": trim.printed_at is not None,
        "mat": trim.mat,
        "x_mm": trim.x_mm,
        "y_mm": trim.y_mm,
        "turned": trim.turned,
        "pieces": [
            {
                "number": piece.number,
                "turn_deg": piece.turn_deg,
                "x_mm": piece.x_mm,
                "y_mm": piece.y_mm,
                "path": path(piece.outline),
            }
            for piece in trim.pieces
        ],
    }
