"""Trims on mats: few mats, grid lines, and layouts whose best is known."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from peekpaper.plan.mats import Block, Board, Spot, free_spots, lay_on_mats

SQUARED_SQUARE = (2, 4, 6, 7, 8, 9, 11, 15, 16, 17, 18, 19, 24, 25, 27, 29, 33, 35, 37, 42, 50)
"""Sides of the order-21 perfect squared square of side 112 (Duijvestijn 1978)."""


def outline(block: Block, spot: Spot) -> shapely.Polygon:
    width, height = (block.height_mm, block.width_mm) if spot.turned else (block.width_mm, block.height_mm)
    return shapely.box(spot.x_mm, spot.y_mm, spot.x_mm + width, spot.y_mm + height)


def assert_valid(blocks: list[Block], spots: list[Spot], board: Board) -> None:
    rim = board.rim_mm
    usable = shapely.box(rim, rim, board.width_mm - rim, board.height_mm - rim).buffer(1e-6)
    for index, (block, spot) in enumerate(zip(blocks, spots, strict=True)):
        assert usable.covers(outline(block, spot))
        assert block.may_turn or not spot.turned
        assert spot.x_mm / board.grid_mm == pytest.approx(round(spot.x_mm / board.grid_mm))
        assert spot.y_mm / board.grid_mm == pytest.approx(round(spot.y_mm / board.grid_mm))
        for other, there in list(zip(blocks, spots, strict=True))[:index]:
            if there.mat == spot.mat:
                assert outline(block, spot).intersection(outline(other, there)).area < 1e-6


@settings(max_examples=60)
@given(
    st.lists(st.builds(Block, st.floats(5, 280), st.floats(5, 280), st.booleans()), min_size=1, max_size=12),
    st.sampled_from([0.0, 6.0]),
    st.sampled_from([10.0, 12.7]),
)
def test_blocks_lie_on_grid_lines_clear_of_each_other_and_of_the_rim(
    blocks: list[Block], rim: float, grid: float
) -> None:
    board = Board(304.8, 304.8, rim, grid)
    assert_valid(blocks, lay_on_mats(blocks, board, [None] * len(blocks), 1, tries=12), board)


def test_quarters_of_a_mat_share_one_mat() -> None:
    blocks = [Block(152.4, 152.4, False)] * 4
    spots = lay_on_mats(blocks, Board(304.8, 304.8, 0.0, 12.7), [None] * 4, 1)
    assert {spot.mat for spot in spots} == {1}


def test_a_block_is_turned_only_where_that_is_allowed() -> None:
    blocks = [Block(304.8, 101.6, False), Block(203.2, 304.8, True)]
    board = Board(304.8, 304.8, 0.0, 12.7)
    assert [spot.turned for spot in lay_on_mats(blocks, board, [None, None], 1)] == [False, True]
    stiff = [blocks[0], Block(203.2, 304.8, False)]
    assert max(spot.mat for spot in lay_on_mats(stiff, board, [None, None], 1)) == 2


def test_a_block_may_end_between_grid_lines_at_the_edge_of_the_mat() -> None:
    [spot] = lay_on_mats([Block(210.0, 297.0, False)], Board(210.0, 297.0, 0.0, 12.7), [None], 1)
    assert (spot.x_mm, spot.y_mm) == (0.0, 0.0)


@pytest.mark.parametrize("height", [112, 120])
def test_the_squares_of_the_squared_square_take_at_most_eight_percent_more_than_they_must(
    height: int,
) -> None:
    blocks = [Block(side, side, False) for side in SQUARED_SQUARE]
    board = Board(height, 200, 0.0, 1.0)
    spots = lay_on_mats(blocks, board, [None] * 21, 1, tries=1500)
    assert_valid(blocks, spots, board)
    assert {spot.mat for spot in spots} == {1}
    right = max(spot.x_mm + block.width_mm for block, spot in zip(blocks, spots, strict=True))
    bottom = max(spot.y_mm + block.height_mm for block, spot in zip(blocks, spots, strict=True))
    assert right * bottom <= 1.08 * 112**2


def test_fixed_blocks_stay_and_others_go_round_them() -> None:
    blocks = [Block(152.4, 304.8, False), Block(152.4, 304.8, False)]
    fixed = Spot(1, 0.0, 0.0, False)
    spots = lay_on_mats(blocks, Board(304.8, 304.8, 0.0, 12.7), [None, fixed], 1)
    assert spots == [Spot(1, pytest.approx(152.4), 0.0, False), fixed]


def test_free_spots_are_all_grid_corners_that_others_leave() -> None:
    board = Board(40.0, 20.0, 0.0, 10.0)
    taken = [(Block(10.0, 20.0, False), Spot(1, 10.0, 0.0, False))]
    assert free_spots(Block(10.0, 20.0, False), False, board, taken) == [(0.0, 0.0), (20.0, 0.0), (30.0, 0.0)]
    assert free_spots(Block(20.0, 10.0, True), True, board, []) == [(0, 0), (10, 0), (20, 0), (30, 0)]
