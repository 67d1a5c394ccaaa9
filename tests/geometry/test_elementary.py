"""The elementary functions against those of this machine's library, and triangles where several are right."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from shapely import Polygon

from peekpaper.geometry.delaunay import delaunay
from peekpaper.geometry.delaunay_ties import with_ties_broken
from peekpaper.geometry.elementary import (
    cosines_and_sines,
    directions,
    hypot,
    inner_product,
    turned_by_radians,
)
from peekpaper.geometry.grid import PITCH, grown

LAST_BITS = 1e-15


@pytest.fixture
def vectors() -> np.ndarray:
    return np.random.default_rng(1).normal(size=(2, 20_000))


def test_cosines_and_sines_are_right_to_the_last_bits_within_a_thousand_turns():
    turns = np.random.default_rng(2).uniform(-1000, 1000, 20_000) * 2 * math.pi
    cosine, sine = cosines_and_sines(turns)
    assert np.abs(cosine - np.cos(turns)).max() < LAST_BITS
    assert np.abs(sine - np.sin(turns)).max() < LAST_BITS


def test_directions_are_right_in_every_quarter(vectors):
    x, y = vectors
    assert np.abs(directions(x, y) - np.arctan2(y, x)).max() < LAST_BITS
    axes = np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, 0.0], [0.0, -1.0]])
    assert directions(*axes.T).tolist() == [0.0, math.pi / 2, math.pi, -math.pi / 2]


def test_lengths_and_products_are_right(vectors):
    x, y = vectors
    assert hypot(x, y) == pytest.approx(np.hypot(x, y), rel=LAST_BITS)
    assert inner_product(x, y) == pytest.approx(math.fsum(x * y), rel=1e-12)


def test_points_turn_from_the_x_axis_towards_the_y_axis():
    corner = np.array([[2.0, 0.0]])
    assert turned_by_radians(corner, math.pi / 2) == pytest.approx(np.array([[0.0, 2.0]]))
    several = turned_by_radians(corner, np.array([0.0, math.pi]))
    assert several == pytest.approx(np.array([[[2.0, 0.0]], [[-2.0, 0.0]]]))


def test_what_is_grown_lies_on_the_grid_and_is_valid():
    star = Polygon([(0, 0), (7, 1), (3, 2), (6, 6), (1, 3)])
    (around,) = grown(np.array([star], dtype=object), 0.7, 8)
    lines = shapely.get_coordinates(around) / PITCH
    assert (lines == np.rint(lines)).all()
    assert around.is_valid
    assert around.symmetric_difference(star.buffer(0.7, quad_segs=8)).area < 1e-4


def test_however_a_polygon_on_a_circle_is_cut_the_same_triangles_come_out():
    angles = np.arange(8) * math.pi / 4
    ring = np.stack([np.cos(angles), np.sin(angles)], axis=1)
    points = ring[np.lexsort(ring.T[::-1])]
    place = {tuple(point): number for number, point in enumerate(points.tolist())}
    around = [place[tuple(point)] for point in ring.tolist()]
    told = [
        with_ties_broken(
            points,
            np.array([[start[0], one, other] for one, other in pairwise(start[1:])]),
        )
        for start in (around[k:] + around[:k] for k in range(8))
    ]
    assert all((one == told[0]).all() for one in told)
    assert told[0].tolist() == delaunay(points).tolist()
    assert shapely.area(shapely.polygons(points[told[0]])).sum() == pytest.approx(Polygon(ring).area)
