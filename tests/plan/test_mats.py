"""Trims on mats: few mats, grid lines, and layouts whose best is known."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from peekpaper.plan.mats.bin_packing import Board, Item, Placement, free_placements, pack

SQUARED_SQUARE = (2, 4, 6, 7, 8, 9, 11, 15, 16, 17, 18, 19, 24, 25, 27, 29, 33, 35, 37, 42, 50)
"""Sides of the order-21 perfect squared square of side 112 (Duijvestijn 1978)."""


def outline(item: Item, placement: Placement) -> shapely.Polygon:
    width, height = (item.height_mm, item.width_mm) if placement.turned else (item.width_mm, item.height_mm)
    return shapely.box(placement.x_mm, placement.y_mm, placement.x_mm + width, placement.y_mm + height)


def assert_valid(items: list[Item], placements: list[Placement], board: Board) -> None:
    rim = board.rim_mm
    usable = shapely.box(rim, rim, board.width_mm - rim, board.height_mm - rim).buffer(1e-6)
    for index, (item, placement) in enumerate(zip(items, placements, strict=True)):
        assert usable.covers(outline(item, placement))
        assert item.may_turn or not placement.turned
        assert placement.x_mm / board.grid_mm == pytest.approx(round(placement.x_mm / board.grid_mm))
        assert placement.y_mm / board.grid_mm == pytest.approx(round(placement.y_mm / board.grid_mm))
        for other, there in list(zip(items, placements, strict=True))[:index]:
            if there.board == placement.board:
                assert outline(item, placement).intersection(outline(other, there)).area < 1e-6


@settings(max_examples=60)
@given(
    st.lists(st.builds(Item, st.floats(5, 280), st.floats(5, 280), st.booleans()), min_size=1, max_size=12),
    st.sampled_from([0.0, 6.0]),
    st.sampled_from([10.0, 12.7]),
)
def test_items_lie_on_grid_lines_clear_of_each_other_and_of_the_rim(
    items: list[Item], rim: float, grid: float
) -> None:
    board = Board(304.8, 304.8, rim, grid)
    assert_valid(items, pack(items, board, [None] * len(items), 1, tries=12), board)


def test_quarters_of_a_mat_share_one_mat() -> None:
    items = [Item(152.4, 152.4, False)] * 4
    placements = pack(items, Board(304.8, 304.8, 0.0, 12.7), [None] * 4, 1)
    assert {placement.board for placement in placements} == {1}


def test_an_item_is_turned_only_where_that_is_allowed() -> None:
    items = [Item(304.8, 101.6, False), Item(203.2, 304.8, True)]
    board = Board(304.8, 304.8, 0.0, 12.7)
    assert [placement.turned for placement in pack(items, board, [None, None], 1)] == [False, True]
    stiff = [items[0], Item(203.2, 304.8, False)]
    assert max(placement.board for placement in pack(stiff, board, [None, None], 1)) == 2


def test_an_item_may_end_between_grid_lines_at_the_edge_of_the_mat() -> None:
    [placement] = pack([Item(210.0, 297.0, False)], Board(210.0, 297.0, 0.0, 12.7), [None], 1)
    assert (placement.x_mm, placement.y_mm) == (0.0, 0.0)


@pytest.mark.parametrize("height", [112, 120])
def test_the_squares_of_the_squared_square_take_at_most_eight_percent_more_than_they_must(
    height: int,
) -> None:
    items = [Item(side, side, False) for side in SQUARED_SQUARE]
    board = Board(height, 200, 0.0, 1.0)
    placements = pack(items, board, [None] * 21, 1, tries=1500)
    assert_valid(items, placements, board)
    assert {placement.board for placement in placements} == {1}
    right = max(placement.x_mm + item.width_mm for item, placement in zip(items, placements, strict=True))
    bottom = max(placement.y_mm + item.height_mm for item, placement in zip(items, placements, strict=True))
    assert right * bottom <= 1.08 * 112**2


def test_fixed_items_stay_and_others_go_round_them() -> None:
    items = [Item(152.4, 304.8, False), Item(152.4, 304.8, False)]
    fixed = Placement(1, 0.0, 0.0, False)
    placements = pack(items, Board(304.8, 304.8, 0.0, 12.7), [None, fixed], 1)
    assert placements == [Placement(1, pytest.approx(152.4), 0.0, False), fixed]


def test_free_placements_are_all_grid_corners_that_others_leave() -> None:
    board = Board(40.0, 20.0, 0.0, 10.0)
    taken = [(Item(10.0, 20.0, False), Placement(1, 10.0, 0.0, False))]
    assert free_placements(Item(10.0, 20.0, False), False, board, taken) == [
        (0.0, 0.0),
        (20.0, 0.0),
        (30.0, 0.0),
    ]
    assert free_placements(Item(20.0, 10.0, True), True, board, []) == [(0, 0), (10, 0), (20, 0), (30, 0)]
