"""What a person laid by hand, checked for contradictions before the solver fills in the rest."""

from collections.abc import Iterable, Mapping, Sequence
from itertools import combinations

from shapely import Polygon, box

from peekpaper.geometry.overlay import intersection
from peekpaper.papers.paper import Direction, Paper, Scrap, Shelf
from peekpaper.plan.plan import PiecePin, PieceToPlace, PlanChoices, TrimPin, trim_is_of
from peekpaper.plan.shapes.turns import is_allowed, placed
from peekpaper.plan.trims.sizes import EPSILON, largest_trims
from peekpaper.refusal import Refusal

TOLERANCE_MM = 0.01
"""How much pins may miss what they keep to: places are kept with two decimals."""


def piece_pins_that_hold(
    pieces: Sequence[PieceToPlace], choices: PlanChoices
) -> list[tuple[PiecePin, PieceToPlace]]:
    """Return the pins of pieces that are there and still have the paper of the trim they were laid in.

    Pins of other pieces are left over from an earlier state of the work and count no more.
    """
    pieces_of = {piece.number: piece for piece in pieces}
    return [
        (pin, pieces_of[pin.piece])
        for pin in choices.piece_pins
        if pin.piece in pieces_of and trim_is_of(pin.trim, pieces_of[pin.piece].paper)
    ]


def refuse_contradictory_pins(pieces: Sequence[PieceToPlace], shelf: Shelf, choices: PlanChoices) -> None:
    """Raise Refusal where what is laid by hand overlaps, sticks out, or goes against a paper's direction."""
    papers = {paper.id: paper for paper in shelf.papers}
    trim_pins = [pin for pin in choices.trim_pins if pin.paper in papers]
    scraps = list(shelf.scraps)
    for trim_pin in trim_pins:
        _refuse_trim_pin(trim_pin, papers[trim_pin.paper], choices)
        scrap = scrap_for(trim_pin, scraps)
        if scrap is None:
            _refuse_larger_than_sheet(trim_pin, papers[trim_pin.paper])
        scraps = [other for other in scraps if other is not scrap]
    for one, other in combinations(trim_pins, 2):
        if one.trim == other.trim:
            raise Refusal("trim-pinned-twice", trim=one.trim)
        if one.mat == other.mat and intersection(_outline(one), _outline(other)).area > 1e-6:
            raise Refusal("trims-pinned-over", trim=one.trim, other=other.trim)
    held = piece_pins_that_hold(pieces, choices)
    sizes = {pin.trim: (pin.width_mm, pin.height_mm) for pin in trim_pins}
    for pin, piece in held:
        _refuse_piece_pin(pin, piece, papers, sizes, choices)
    for (one_pin, one_piece), (other_pin, other_piece) in combinations(held, 2):
        if one_piece.number == other_piece.number:
            raise Refusal("piece-pinned-twice", piece=one_piece.number)
        if one_pin.trim != other_pin.trim:
            continue
        distance = _placed(one_pin, one_piece).distance(_placed(other_pin, other_piece))
        overlap = intersection(_placed(one_pin, one_piece), _placed(other_pin, other_piece)).area
        if distance < choices.spacing_mm - TOLERANCE_MM or overlap > TOLERANCE_MM:
            raise Refusal("pieces-pinned-close", piece=one_piece.number, other=other_piece.number)


def scrap_for(pin: TrimPin, scraps: Iterable[Scrap]) -> Scrap | None:
    """Return the smallest scrap that a pinned trim is, whichever way it lies, or can be cut from upright."""
    fitting = [scrap for scrap in scraps if scrap.paper == pin.paper and _is_in(pin, scrap)]
    return min(fitting, key=lambda scrap: scrap.area_mm2, default=None)


def _is_in(pin: TrimPin, scrap: Scrap) -> bool:
    sides = sorted((scrap.width_mm, scrap.height_mm))
    pinned = sorted((pin.width_mm, pin.height_mm))
    is_whole = all(abs(a - b) < EPSILON for a, b in zip(sides, pinned, strict=True))
    if scrap.outline:
        return is_whole and abs(pin.width_mm - scrap.width_mm) < EPSILON
    return is_whole or (
        pin.width_mm <= scrap.width_mm + EPSILON and pin.height_mm <= scrap.height_mm + EPSILON
    )


def _refuse_larger_than_sheet(pin: TrimPin, paper: Paper) -> None:
    sheets = [paper.room_mm]
    if paper.turns_on_sheet:
        sheets.append((paper.room_mm[1], paper.room_mm[0]))
    if not any(pin.width_mm <= wide + 1e-6 and pin.height_mm <= high + 1e-6 for wide, high in sheets):
        raise Refusal("pinned-trim-larger", trim=pin.trim, paper=paper.name)


def _refuse_trim_pin(pin: TrimPin, paper: Paper, choices: PlanChoices) -> None:
    if pin.turned and paper.direction is not Direction.ANY:
        raise Refusal("pinned-trim-turned", trim=pin.trim, paper=paper.name)
    if pin.width_mm <= 2 * choices.margin_mm or pin.height_mm <= 2 * choices.margin_mm:
        raise Refusal("pinned-trim-smaller", trim=pin.trim)
    for at in (pin.x_mm, pin.y_mm):
        lines = at / choices.mat_grid_mm
        if abs(lines - round(lines)) * choices.mat_grid_mm > TOLERANCE_MM:
            raise Refusal("pinned-trim-off-grid", trim=pin.trim)
    rim = choices.mat_rim_mm - TOLERANCE_MM
    usable = box(rim, rim, choices.mat_width_mm - rim, choices.mat_height_mm - rim)
    if pin.mat < 1 or not usable.covers(_outline(pin)):
        raise Refusal("pinned-trim-off-mat", trim=pin.trim)


def _refuse_piece_pin(
    pin: PiecePin,
    piece: PieceToPlace,
    papers: Mapping[str, Paper],
    sizes: Mapping[str, tuple[float, float]],
    choices: PlanChoices,
) -> None:
    paper = papers[piece.paper]
    if not is_allowed(pin.turn_deg, paper.direction):
        raise Refusal("pinned-piece-turned", piece=piece.number, paper=paper.name)
    boxes = [sizes[pin.trim]] if pin.trim in sizes else largest_trims(paper, choices)
    margin = choices.margin_mm - TOLERANCE_MM
    outline = _placed(pin, piece)
    if not any(box(margin, margin, wide - margin, high - margin).covers(outline) for wide, high in boxes):
        raise Refusal("pinned-piece-outside", piece=piece.number, trim=pin.trim)


def _outline(pin: TrimPin) -> Polygon:
    width, height = (pin.height_mm, pin.width_mm) if pin.turned else (pin.width_mm, pin.height_mm)
    return box(pin.x_mm, pin.y_mm, pin.x_mm + width, pin.y_mm + height)


def _placed(pin: PiecePin, piece: PieceToPlace) -> Polygon:
    return placed(piece.outline, pin.turn_deg, pin.x_mm, pin.y_mm)
