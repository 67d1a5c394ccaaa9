"""What is left of a sheet: rectangles clear of all that was cut, none larger to be had."""

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st

from peekpaper.plan.booking.left_over import Rectangle, left_over


def area(rectangle: Rectangle) -> float:
    x0, y0, x1, y1 = rectangle
    return (x1 - x0) * (y1 - y0)


def overlap(one: Rectangle, other: Rectangle) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


@st.composite
def cut_sheets(draw: st.DrawFn, side: int, most: int) -> tuple[Rectangle, list[Rectangle]]:
    """A sheet in whole units, and trims cut from it that do not overlap."""
    wide, high = draw(st.integers(2, side)), draw(st.integers(2, side))
    trims: list[Rectangle] = []
    for _ in range(draw(st.integers(0, most))):
        x, y = draw(st.integers(0, wide - 1)), draw(st.integers(0, high - 1))
        trim = (x, y, draw(st.integers(x + 1, wide)), draw(st.integers(y + 1, high)))
        if not any(overlap(trim, other) for other in trims):
            trims.append(trim)
    return (0, 0, wide, high), trims


def best_by_trying_all(room: Rectangle, trims: list[Rectangle], least: float, most: int) -> float:
    """The largest sum of areas, of all ways to choose at most `most` rectangles on whole units."""
    free = [
        (x0, y0, x1, y1)
        for x0, x1 in itertools.combinations(range(int(room[2]) + 1), 2)
        for y0, y1 in itertools.combinations(range(int(room[3]) + 1), 2)
        if min(x1 - x0, y1 - y0) >= least and not any(overlap((x0, y0, x1, y1), trim) for trim in trims)
    ]
    cells = {
        one: sum(
            1 << (y * int(room[2]) + x)
            for x in range(int(one[0]), int(one[2]))
            for y in range(int(one[1]), int(one[3]))
        )
        for one in free
    }
    best = {0: 0}
    for _ in range(most):
        best |= {taken | cell: 0 for taken in best for cell in cells.values() if not taken & cell}
    return max(taken.bit_count() for taken in best)


@given(cut_sheets(5, 4), st.integers(1, 2))
@settings(max_examples=120)
def test_no_choice_of_rectangles_is_larger(sheet: tuple[Rectangle, list[Rectangle]], least: int) -> None:
    room, trims = sheet
    for most in (1, 2, 3):
        if most == 3 and room[2] * room[3] > 16:
            continue
        found = left_over(room, trims, least, most)
        assert sum(map(area, found)) == best_by_trying_all(room, trims, least, most)


@given(cut_sheets(48, 12), st.integers(1, 8))
def test_left_overs_lie_clear_of_trims_and_of_one_another_within_the_sheet(
    sheet: tuple[Rectangle, list[Rectangle]], least: int
) -> None:
    room, trims = sheet
    found = left_over(room, trims, least)
    assert len(found) <= 3
    for index, one in enumerate(found):
        assert min(one[2] - one[0], one[3] - one[1]) >= least
        assert min(one[0], one[1]) >= 0
        assert max(one[2] - room[2], one[3] - room[3]) <= 0
        assert not any(overlap(one, other) for other in [*trims, *found[:index]])


def test_a_sheet_with_one_trim_at_its_corner_leaves_a_large_piece_and_the_rest_beside_the_trim() -> None:
    assert left_over((0, 0, 304.8, 304.8), [(0, 0, 101.6, 152.4)], 50.8) == (
        (101.6, 0, 304.8, 304.8),
        (0, 152.4, 101.6, 304.8),
    )


def test_slivers_are_not_kept() -> None:
    assert left_over((0, 0, 304.8, 304.8), [(0, 0, 280, 304.8)], 50.8) == ()
