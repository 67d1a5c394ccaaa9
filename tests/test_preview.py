"""The true preview: each opening shows the very bit of pattern that is glued behind it."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity, box

from peekpaper.backing.backing import Piece
from peekpaper.plan.plan import PlacedPiece, Plan, SheetPlacement, Trim
from peekpaper.preview import Affine, pattern_to_design, preview

OUTLINE = box(40, 60, 52, 70)


def mapped(affine: Affine, x: float, y: float) -> tuple[float, float]:
    a, b, c, d, e, f = affine
    return a * x + c * y + e, b * x + d * y + f


def placed(turn: float, x: float, y: float) -> PlacedPiece:
    outline = affinity.translate(affinity.rotate(OUTLINE, turn, origin=(0, 0)), x, y)
    return PlacedPiece(7, turn, x, y, outline)


def a_trim(piece: PlacedPiece, trim: str = "p1-1", scrap: str | None = None) -> Trim:
    return Trim(trim, "p1", 50.8, 76.2, scrap, (piece,), 1, 0.0, 0.0, False)


def a_plan(*trims: Trim) -> Plan:
    return Plan(trims, (), (), (), 0.0, 0.0, 0, True, ())


@given(st.floats(0, 360), st.floats(-99, 99), st.floats(-99, 99), st.floats(0, 200), st.floats(0, 200))
def test_the_piece_as_it_lies_in_the_trim_comes_to_lie_behind_its_opening(
    turn: float, x: float, y: float, left: float, top: float
) -> None:
    piece = placed(turn, x, y)
    affine = pattern_to_design(a_trim(piece), piece, SheetPlacement(1, left, top, False))
    on_sheet = affinity.translate(piece.outline, left, top)
    in_design = affinity.affine_transform(on_sheet, [affine[i] for i in (0, 2, 1, 3, 4, 5)])
    assert in_design.symmetric_difference(OUTLINE).area < 1e-6


@given(st.floats(0, 360), st.floats(-99, 99), st.floats(-99, 99), st.booleans())
def test_a_pattern_keeps_its_size_and_is_never_mirrored(
    turn: float, x: float, y: float, turned: bool
) -> None:
    piece = placed(turn, x, y)
    a, b, c, d, _, _ = pattern_to_design(a_trim(piece), piece, SheetPlacement(1, 3, 4, turned))
    assert a * d - b * c == pytest.approx(1)
    assert math.hypot(a, b) == pytest.approx(1)


def test_a_trim_cut_sideways_from_its_sheet_shows_the_pattern_sideways() -> None:
    piece = placed(0, -40, -60)
    affine = pattern_to_design(a_trim(piece), piece, SheetPlacement(1, 10, 20, True))
    # On the sheet the trim's top left corner is at its top right: the trim is 76.2 mm wide there.
    assert mapped(affine, 10 + 76.2, 20) == pytest.approx((40, 60))
    assert mapped(affine, 10, 20) == pytest.approx((40, 60 + 76.2))


def test_an_unturned_piece_shows_the_pattern_from_its_place_in_the_trim() -> None:
    piece = placed(0, -37, -56)
    affine = pattern_to_design(a_trim(piece), piece, SheetPlacement(1, 0, 0, False))
    assert affine == pytest.approx((1, 0, 0, 1, 37, 56))
    assert mapped(affine, 3, 4) == pytest.approx((40, 60))


def test_moving_a_piece_in_its_trim_moves_the_pattern_the_other_way_behind_the_opening() -> None:
    before = pattern_to_design(a_trim(placed(0, 0, 0)), placed(0, 0, 0), SheetPlacement(1, 0, 0, False))
    after = pattern_to_design(a_trim(placed(0, 5, 0)), placed(0, 5, 0), SheetPlacement(1, 0, 0, False))
    assert np.subtract(after, before) == pytest.approx((0, 0, 0, 0, -5, 0))


def test_every_opening_of_a_shared_piece_shows_the_same_run_of_pattern() -> None:
    piece = Piece(7, (7, 8), "p1", OUTLINE, 1.0, 2.0, None)
    shown = preview(a_plan(a_trim(placed(30, 1, 2))), [piece])
    assert set(shown) == {7, 8}
    assert shown[7] == shown[8]


def test_a_trim_from_a_scrap_shows_the_pattern_from_the_scraps_corner() -> None:
    piece = Piece(7, (7,), "p1", OUTLINE, 1.0, 2.0, None)
    there = placed(30, 1, 2)
    shown = preview(a_plan(a_trim(there, scrap="s1")), [piece])
    assert shown[7] == pattern_to_design(a_trim(there), there, SheetPlacement(1, 0, 0, False))
