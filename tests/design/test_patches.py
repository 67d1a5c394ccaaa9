"""Areas of patches of triangles, against the union that GEOS makes."""

import numpy as np
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from peekpaper.design.bars.patches import joined_patches, patch_areas, triangles_area

SIDE = 6


def grid() -> tuple[np.ndarray, np.ndarray]:
    """Points of a square grid and the two triangles of each of its cells."""
    x, y = np.meshgrid(np.arange(SIDE, dtype=float), np.arange(SIDE, dtype=float))
    corner = (np.arange(SIDE - 1)[:, None] * SIDE + np.arange(SIDE - 1)).ravel()
    lower = np.stack([corner, corner + 1, corner + SIDE], axis=1)
    upper = np.stack([corner + 1, corner + SIDE + 1, corner + SIDE], axis=1)
    return np.stack([x.ravel(), y.ravel()], axis=1), np.concatenate([lower, upper])


@settings(derandomize=True, max_examples=150, deadline=None)
@given(st.lists(st.integers(0, 2), min_size=2 * (SIDE - 1) ** 2, max_size=2 * (SIDE - 1) ** 2))
def test_patches_with_holes_parts_and_points_that_touch_are_the_union_of_their_triangles(owners):
    points, triangles = grid()
    owner = np.array(owners)
    chosen = np.flatnonzero(owner < 2)
    present, patch = np.unique(owner[chosen], return_inverse=True)
    areas = patch_areas(points, triangles[chosen], patch, len(present))
    for number, area in enumerate(areas):
        own = np.asarray(shapely.polygons(points[triangles[chosen[patch == number]]]))
        assert area.is_valid
        assert area.equals(triangles_area(own))
    whole = joined_patches(areas)
    assert whole.is_valid
    assert whole.equals(shapely.union_all(shapely.polygons(points[triangles[chosen]])))


def test_no_patches_have_no_areas():
    nothing = np.empty((0, 3), np.int64)
    assert patch_areas(np.empty((0, 2)), nothing, np.empty(0, np.int64), 0) == []
    assert joined_patches([]).is_empty
