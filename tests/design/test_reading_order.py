import numpy as np
import pytest
from hypothesis import given, settings
from panels import drawing_of, panels
from shapely import affinity, box

from peekpaper.demo.panel import svg_text
from peekpaper.design.design import Reading
from peekpaper.design.make import numbered_openings
from peekpaper.design.openings.reading_order import reading_order
from peekpaper.drawing.read import read_drawing


def test_openings_are_numbered_in_rows_from_left_to_right():
    shuffled = np.random.default_rng(1).permutation(12)
    cells = [box(10 * (i % 4), 10 * (i // 4), 10 * (i % 4) + 8, 10 * (i // 4) + 8) for i in shuffled]
    assert [shuffled[index] for index in reading_order(cells)] == list(range(12))


def test_a_row_may_waver_by_less_than_half_the_height_of_its_openings():
    heights = [0, 1.5, -1.5, 2, 1]
    row = [box(10 * i, y, 10 * i + 8, y + 8) for i, y in enumerate(heights)]
    assert reading_order(row) == [0, 1, 2, 3, 4]


def test_of_openings_one_above_the_other_in_a_row_the_upper_comes_first():
    assert reading_order([box(0, 1.5, 10, 5.5), box(1, 0, 9, 4), box(20, 0, 30, 8)]) == [1, 0, 2]


@settings(max_examples=40)
@given(panel=panels())
def test_numbers_do_not_change_with_the_finished_size(panel):
    drawing = drawing_of(panel.card)
    small, large = (numbered_openings(drawing, Reading(width_mm=width)) for width in (90.0, 777.7))
    width = panel.card.bounds[2] - panel.card.bounds[0]
    for one, other in zip(small, large, strict=True):
        scaled = affinity.scale(one, 777.7 / 90, 777.7 / 90, origin=(0, 0))
        assert scaled.symmetric_difference(other).area < 1e-9 * width**2 * 100


@pytest.mark.parametrize("tolerance", [0.01, 0.03, 0.1])
def test_numbers_do_not_change_with_how_finely_curves_are_read(tolerance):
    coarse = numbered_openings(read_drawing(svg_text().encode(), 0.07), Reading())
    fine = numbered_openings(read_drawing(svg_text().encode(), tolerance), Reading())
    assert len(coarse) == len(fine)
    for one, other in zip(coarse, fine, strict=True):
        assert one.centroid.distance(other.centroid) < 0.05
