"""Exact cover, against counting by hand."""

import numpy as np

from peekpaper.plan.exact_cover import ExactCover


def solved(rows: list[list[int]], often: list[int], spare: int = 0) -> list[int] | None:
    cover = ExactCover(np.array(rows, bool), often, spare)
    while not cover.is_done:
        for _ in cover.advance(10):
            pass
    return cover.solution


def test_the_one_cover_is_found() -> None:
    # The example of Knuth, "Dancing links" (2000): rows 0, 3 and 4 cover seven columns once each.
    rows = [
        [0, 0, 1, 0, 1, 1, 0],
        [1, 0, 0, 1, 0, 0, 1],
        [0, 1, 1, 0, 0, 1, 0],
        [1, 0, 0, 1, 0, 0, 0],
        [0, 1, 0, 0, 0, 0, 1],
        [0, 0, 0, 1, 1, 0, 1],
    ]
    found = solved(rows, [])
    assert found is not None
    assert sorted(found) == [0, 3, 4]


def test_what_has_no_cover_is_done_without_one() -> None:
    assert solved([[1, 1, 0], [0, 1, 1]], []) is None


def test_a_kind_is_chosen_as_often_as_asked_and_spare_cells_stay_empty() -> None:
    rows = [[1, *(int(cell == at) for cell in range(4))] for at in range(4)]
    found = solved(rows, [3], spare=1)
    assert found is not None
    assert len(found) == 3
    assert solved(rows, [3], spare=0) is None
