"""Dragging: a piece or trim goes to the nearest place where it may lie."""

import math
from dataclasses import replace

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from made_pieces import SPEED, each, paper, petal, pieces_of, star, wave

from peekpaper.message import Message, message
from peekpaper.papers.paper import Direction, Shelf
from peekpaper.plan.hand.hindrance import piece_hindrance, trim_hindrance
from peekpaper.plan.hand.nearest import WantedPlacement, nearest_piece_placement, nearest_trim_placement
from peekpaper.plan.make import plans
from peekpaper.plan.mats.bin_packing import Placement
from peekpaper.plan.plan import PlacedPiece, PlanChoices, Trim

CHOICES = PlanChoices(rounds=each(3))
PIECES = pieces_of([star(5, 15, 7), petal(40, 12), wave(40, 6, 8), star(4, 12, 5)])
*_, PLAN = plans(PIECES, Shelf((paper(),)), CHOICES, SPEED, 0)
TRIM = PLAN.trims[0]


def is_free(placed: PlacedPiece, trim: Trim) -> bool:
    inside = shapely.box(3, 3, trim.width_mm - 3, trim.height_mm - 3).buffer(1e-3)
    others = [piece.outline for piece in trim.pieces if piece.number != placed.number]
    clear = all(placed.outline.distance(other) >= CHOICES.spacing_mm - 0.01 for other in others)
    return clear and inside.covers(placed.outline)


@settings(max_examples=40)
@given(st.integers(0, 3), st.floats(0, 360), st.floats(-20, 150), st.floats(-20, 150))
def test_a_dragged_piece_ends_up_clear_of_the_others(index: int, turn: float, x: float, y: float) -> None:
    placed = nearest_piece_placement(TRIM, PIECES[index], paper(), CHOICES, WantedPlacement(turn, x, y))
    assert placed is None or is_free(placed, TRIM)


def test_a_free_wanted_place_is_taken_as_it_is() -> None:
    large = Trim("p1-1", "p1", 200, 200, None, (), 1, 0, 0, False)
    placed = nearest_piece_placement(large, PIECES[0], paper(), CHOICES, WantedPlacement(33.0, 100.0, 90.0))
    assert placed is not None
    assert (placed.turn_deg, placed.x_mm, placed.y_mm) == pytest.approx((33.0, 100.0, 90.0))


def test_a_piece_pushed_over_another_snaps_beside_it_at_the_spacing() -> None:
    square = shapely.box(-10, -10, 10, 10)
    first, second = pieces_of([square, square])
    there = PlacedPiece(1, 0.0, 50.0, 50.0, shapely.box(40, 40, 60, 60))
    trim = Trim("p1-1", "p1", 100, 100, None, (there,), 1, 0, 0, False)
    placed = nearest_piece_placement(trim, second, paper(), CHOICES, WantedPlacement(0.0, 60.0, 50.0))
    assert placed is not None
    assert placed.x_mm == pytest.approx(50 + 20 + 1.5, abs=0.05)
    assert placed.y_mm == pytest.approx(50.0, abs=0.3)
    assert first.number != second.number


def test_a_piece_that_fits_nowhere_has_no_place() -> None:
    trim = Trim("p1-1", "p1", 20, 20, None, (), 1, 0, 0, False)
    assert (
        nearest_piece_placement(trim, PIECES[1], paper(), CHOICES, WantedPlacement(0.0, 10.0, 10.0)) is None
    )


def test_a_paper_with_direction_turns_a_dragged_piece_the_right_way_up() -> None:
    large = Trim("p1-1", "p1", 200, 200, None, (), 1, 0, 0, False)
    stock = paper(direction=Direction.TWO_WAY)
    placed = nearest_piece_placement(large, PIECES[0], stock, CHOICES, WantedPlacement(150.0, 100.0, 90.0))
    assert placed is not None
    assert placed.turn_deg == 180.0


def trim_at(name: str, x: float, y: float) -> Trim:
    return Trim(name, "p1", 50.8, 25.4, None, (), 1, x, y, False)


def test_a_dragged_trim_snaps_to_the_nearest_grid_lines() -> None:
    trim = trim_at("p1-1", 0, 0)
    placement = nearest_trim_placement([trim], trim, paper(), CHOICES, Placement(1, 30.0, 55.0, False))
    assert placement == Placement(1, 25.4, pytest.approx(50.8), False)


def test_a_dragged_trim_keeps_off_the_others() -> None:
    mover, other = trim_at("p1-1", 127.0, 127.0), trim_at("p1-2", 0, 0)
    placement = nearest_trim_placement(
        [mover, other], mover, paper(), CHOICES, Placement(1, 0.0, 12.7, False)
    )
    assert placement == Placement(1, 0.0, 25.4, False)


def test_a_trim_turns_only_where_its_paper_has_no_direction() -> None:
    trim = trim_at("p1-1", 0, 0)
    wanted = Placement(1, 0.0, 0.0, True)
    one_way = nearest_trim_placement([trim], trim, paper(direction=Direction.ONE_WAY), CHOICES, wanted)
    free = nearest_trim_placement([trim], trim, paper(), CHOICES, wanted)
    assert one_way is not None
    assert free is not None
    assert (one_way.turned, free.turned) == (False, True)


def why(trim: Trim, wanted: WantedPlacement) -> Message | None:
    piece = pieces_of([shapely.box(-10, -10, 10, 10)], first=2)[0]
    found = nearest_piece_placement(trim, piece, paper(), CHOICES, wanted)
    return piece_hindrance(trim, piece, CHOICES, wanted, found)


def test_a_piece_that_comes_to_lie_elsewhere_tells_what_is_in_its_way() -> None:
    there = PlacedPiece(1, 0.0, 50.0, 50.0, shapely.box(40, 40, 60, 60))
    trim = Trim("p1-1", "p1", 100, 100, None, (there,), 1, 0, 0, False)
    assert why(trim, WantedPlacement(0.0, 20.0, 20.0)) is None
    assert why(trim, WantedPlacement(0.0, 12.0, 20.0)) is None, "it slides a millimetre off the edge"
    assert why(trim, WantedPlacement(0.0, 130.0, 20.0)) == message("hand.piece-edge", piece=2, margin_mm=3.0)
    assert why(trim, WantedPlacement(0.0, 60.0, 50.0)) == message("hand.piece-pinned", pieces=(1,), count=1)
    small = replace(trim, width_mm=20, height_mm=20, pieces=())
    assert why(small, WantedPlacement(0.0, 10.0, 10.0)) == message("hand.piece-nowhere", piece=2)


def test_a_trim_that_comes_to_lie_elsewhere_tells_what_is_in_its_way() -> None:
    trim, pinned = trim_at("p1-1", 0, 0), trim_at("p1-2", 0, 0)

    def why_there(wanted: Placement) -> Message | None:
        found = nearest_trim_placement([pinned], trim, paper(), CHOICES, wanted)
        return trim_hindrance(trim, CHOICES, wanted, found)

    assert why_there(Placement(1, 101.6, 101.6, False)) is None
    assert why_there(Placement(1, 12.7, 0.0, False)) == message("hand.trim-pinned")
    assert why_there(Placement(1, 400.0, 101.6, False)) == message("hand.trim-edge")
    assert trim_hindrance(trim, CHOICES, Placement(2, 0, 0, False), None) == message(
        "hand.trim-nowhere", mat=2
    )


def test_a_full_mat_has_no_placement() -> None:
    trim = trim_at("p1-1", 0, 0)
    whole = Trim("p1-2", "p1", 304.8, 304.8, None, (), 1, 0, 0, False)
    assert nearest_trim_placement([trim, whole], trim, paper(), CHOICES, Placement(1, 0, 0, False)) is None


def test_places_found_are_no_farther_than_the_ones_a_fine_search_finds() -> None:
    wanted = WantedPlacement(0.0, TRIM.width_mm / 2, TRIM.height_mm / 2)
    small = pieces_of([shapely.box(-2, -2, 2, 2)], first=9)[0]
    placed = nearest_piece_placement(TRIM, small, paper(), CHOICES, wanted)
    outlines = shapely.union_all([piece.outline for piece in TRIM.pieces])
    best = math.inf
    for x in range(5, int(TRIM.width_mm) - 5):
        for y in range(5, int(TRIM.height_mm) - 5):
            if shapely.box(x - 2, y - 2, x + 2, y + 2).distance(outlines) >= CHOICES.spacing_mm:
                best = min(best, math.hypot(x - wanted.x_mm, y - wanted.y_mm))
    assert placed is not None
    assert math.hypot(placed.x_mm - wanted.x_mm, placed.y_mm - wanted.y_mm) <= best + 1.0
