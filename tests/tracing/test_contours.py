"""Rings around px against OpenCV's connected components (opencv-python-headless, dev only)."""

import cv2
import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra import numpy as arrays

from peekpaper.tracing.contours import zero_rings

shapes = st.tuples(st.integers(1, 12), st.integers(1, 12))


@given(arrays.arrays(bool, shapes))
def test_each_part_has_a_ring_and_each_hole_in_it_another(inside):
    padded = np.pad(inside, 1)
    areas = zero_rings(np.where(padded, 1, -1).astype(np.float32)).areas()
    parts, _ = cv2.connectedComponents(padded.astype(np.uint8), connectivity=4)
    around, _ = cv2.connectedComponents((~padded).astype(np.uint8), connectivity=8)
    # OpenCV counts the ground of either picture as one more.
    assert np.count_nonzero(areas > 0) == parts - 1
    assert np.count_nonzero(areas < 0) == around - 2


@given(st.floats(3, 20), st.floats(-0.5, 0.5), st.floats(-0.5, 0.5))
def test_a_disc_comes_back_within_a_tenth_of_a_px(radius, x, y):
    side = np.arange(48) + 0.5
    away = np.hypot(side - 24 - x, side[:, None] - 24 - y)
    rings = zero_rings(np.clip(radius - away, -1, 1).astype(np.float32))
    assert len(rings.heads) == 1
    found = np.hypot(*(rings.points - (24 + x, 24 + y)).T)
    assert np.abs(found - radius).max() < 0.1
