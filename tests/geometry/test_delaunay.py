import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from peekpaper.geometry.delaunay import as_complex, delaunay, delaunay_with


def unique(points: np.ndarray) -> np.ndarray:
    return np.unique(as_complex(points)).view(np.float64).reshape(-1, 2)


@given(seed=st.integers(0, 2**32 - 1), on_a_grid=st.booleans())
def test_points_may_come_later_without_a_difference(seed, on_a_grid):
    rng = np.random.default_rng(seed)
    points = rng.random((200, 2)) * 20
    if on_a_grid:  # where most points share circles with others
        points = np.round(points)
    early = unique(points[:180])
    every = unique(np.concatenate([points, early[:5] + early[1:6] / 2]))
    is_new = ~np.isin(as_complex(every), as_complex(early))
    later = delaunay_with(every, np.flatnonzero(~is_new)[delaunay(early)], is_new)
    assert (later == delaunay(every)).all()


def test_few_new_points_leave_the_rest_as_it_is():
    points = unique(np.random.default_rng(1).random((2000, 2)))
    middle = np.array([[0.5, 0.5]])
    every = unique(np.concatenate([points, middle]))
    is_new = ~np.isin(as_complex(every), as_complex(points))
    before = np.flatnonzero(~is_new)[delaunay(points)]
    after = delaunay_with(every, before, is_new)
    kept = {tuple(triangle) for triangle in before.tolist()} & {
        tuple(triangle) for triangle in after.tolist()
    }
    assert len(kept) > 0.98 * len(before)


def test_no_new_points_change_nothing():
    points = unique(np.random.default_rng(2).random((50, 2)))
    triangles = delaunay(points)
    assert (delaunay_with(points, triangles, np.zeros(len(points), bool)) == triangles).all()


@pytest.mark.parametrize("on_a_grid", [False, True])
def test_where_the_search_loses_its_way_another_order_gives_the_same_triangles(monkeypatch, on_a_grid):
    points = np.random.default_rng(3).random((300, 2)) * 20
    points = unique(np.round(points) if on_a_grid else points)
    expected = delaunay(points)
    search = shapely.delaunay_triangles

    def lost_at_first(cloud, tolerance):
        if (shapely.get_coordinates(cloud) == points).all():
            raise shapely.GEOSException("LocateFailureException: Could not locate vertex.")
        return search(cloud, tolerance)

    monkeypatch.setattr(shapely, "delaunay_triangles", lost_at_first)
    assert (delaunay(points) == expected).all()
