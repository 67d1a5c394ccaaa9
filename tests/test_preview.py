"""The true preview: each opening shows the very bit of pattern that is glued behind it."""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import affinity, box

from peekpaper.backing.backing import Piece
from peekpaper.papers.paper import Direction, Paper, Shelf
from peekpaper.plan.mats import Spot
from peekpaper.plan.plan import PlacedPiece, Plan, PlanChoices, Trim
from peekpaper.preview import Affine, pattern_to_design, preview, sheet_spots

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
    affine = pattern_to_design(a_trim(piece), piece, Spot(1, left, top, False))
    on_sheet = affinity.translate(piece.outline, left, top)
    in_design = affinity.affine_transform(on_sheet, [affine[i] for i in (0, 2, 1, 3, 4, 5)])
    assert in_design.symmetric_difference(OUTLINE).area < 1e-6


@given(st.floats(0, 360), st.floats(-99, 99), st.floats(-99, 99), st.booleans())
def test_a_pattern_keeps_its_size_and_is_never_mirrored(
    turn: float, x: float, y: float, turned: bool
) -> None:
    piece = placed(turn, x, y)
    a, b, c, d, _, _ = pattern_to_design(a_trim(piece), piece, Spot(1, 3, 4, turned))
    assert a * d - b * c == pytest.approx(1)
    assert math.hypot(a, b) == pytest.approx(1)


def test_a_trim_cut_sideways_from_its_sheet_shows_the_pattern_sideways() -> None:
    piece = placed(0, -40, -60)
    affine = pattern_to_design(a_trim(piece), piece, Spot(1, 10, 20, True))
    # On the sheet the trim's top left corner is at its top right: the trim is 76.2 mm wide there.
    assert mapped(affine, 10 + 76.2, 20) == pytest.approx((40, 60))
    assert mapped(affine, 10, 20) == pytest.approx((40, 60 + 76.2))


def test_an_unturned_piece_shows_the_pattern_from_its_place_in_the_trim() -> None:
    piece = placed(0, -37, -56)
    affine = pattern_to_design(a_trim(piece), piece, Spot(1, 0, 0, False))
    assert affine == pytest.approx((1, 0, 0, 1, 37, 56))
    assert mapped(affine, 3, 4) == pytest.approx((40, 60))


def test_moving_a_piece_in_its_trim_moves_the_pattern_the_other_way_behind_the_opening() -> None:
    before = pattern_to_design(a_trim(placed(0, 0, 0)), placed(0, 0, 0), Spot(1, 0, 0, False))
    after = pattern_to_design(a_trim(placed(0, 5, 0)), placed(0, 5, 0), Spot(1, 0, 0, False))
    assert np.subtract(after, before) == pytest.approx((0, 0, 0, 0, -5, 0))


def test_every_opening_of_a_shared_piece_shows_the_same_run_of_pattern() -> None:
    piece = Piece(7, (7, 8), "p1", OUTLINE, 1.0, 2.0, None)
    shelf = Shelf((Paper("p1", "Oat", "#e9dfc9"),))
    shown = preview(a_plan(a_trim(placed(30, 1, 2))), [piece], shelf, PlanChoices())
    assert set(shown) == {7, 8}
    assert shown[7] == shown[8]


def test_trims_of_one_paper_are_cut_from_different_places() -> None:
    shelf = Shelf((Paper("p1", "Oat", "#e9dfc9"),))
    trims = [a_trim(placed(0, 0, 0), f"p1-{count}") for count in range(1, 5)]
    spots = sheet_spots(trims, shelf, PlanChoices())
    areas = [
        box(s.x_mm, s.y_mm, s.x_mm + (76.2 if s.turned else 50.8), s.y_mm + (50.8 if s.turned else 76.2))
        for s in spots.values()
    ]
    assert all(
        not a.intersects(b) or a.intersection(b).area < 1e-6 for a in areas for b in areas if a is not b
    )
    assert all(box(0, 0, 304.8, 304.8).buffer(1e-6).covers(area) for area in areas)


def test_a_one_way_paper_is_never_cut_sideways() -> None:
    shelf = Shelf((Paper("p1", "Oat", "#e9dfc9", direction=Direction.ONE_WAY),))
    trims = [a_trim(placed(0, 0, 0), f"p1-{count}") for count in range(1, 20)]
    assert not any(spot.turned for spot in sheet_spots(trims, shelf, PlanChoices()).values())


def test_a_trim_from_a_scrap_begins_at_the_scraps_corner() -> None:
    shelf = Shelf((Paper("p1", "Oat", "#e9dfc9"),))
    trims = [a_trim(placed(0, 0, 0), "p1-1"), a_trim(placed(0, 0, 0), "p1-2", scrap="s1")]
    assert sheet_spots(trims, shelf, PlanChoices())["p1-2"] == Spot(1, 0.0, 0.0, False)
