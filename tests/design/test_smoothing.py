"""Smoother outlines and eased corners, against closed forms."""

import math

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from panels import random_panel
from shapely import MultiPolygon, Point, Polygon

from peekpaper.design.mending.smoothing import smoothed, without_sharp_corners


def traced(shape: Polygon, pixel: float) -> Polygon:
    """Return a shape as a tracing of pixels has it: in steps."""
    across = np.arange(shape.bounds[0], shape.bounds[2], pixel)
    down = np.arange(shape.bounds[1], shape.bounds[3], pixel)
    squares = [shapely.box(x, y, x + pixel, y + pixel) for x in across for y in down]
    inside = shapely.contains_xy(
        shape, [square.centroid.x for square in squares], [s.centroid.y for s in squares]
    )
    drawn = shapely.union_all(np.array(squares, dtype=object)[inside])
    assert isinstance(drawn, Polygon)
    return drawn


def test_a_traced_disc_is_a_disc_again_with_few_points_and_strays_no_more_than_the_tolerance() -> None:
    disc, pixel, tolerance = Point(20, 20).buffer(15, quad_segs=64), 0.25, 0.3
    steps = traced(disc, pixel)
    [smooth] = smoothed(MultiPolygon([steps]), tolerance).geoms
    assert len(smooth.exterior.coords) < 0.35 * len(steps.exterior.coords)
    assert shapely.hausdorff_distance(smooth.exterior, steps.exterior) <= 1.5 * tolerance
    assert smooth.area == pytest.approx(disc.area, rel=0.05)
    # A polygon whose turns are gentle all round: no step is left.
    nodes = shapely.get_coordinates(smooth.exterior)
    sides = np.diff(nodes, axis=0)
    ways = np.unwrap(np.arctan2(sides[:, 1], sides[:, 0]))
    assert np.abs(np.diff(ways)).max() < math.radians(45)


@pytest.mark.parametrize("angle", [20, 36, 60, 90])
def test_a_sharp_corner_is_filled_by_as_much_as_the_closed_form_has_it(angle: float) -> None:
    half, radius = math.radians(angle / 2), 0.4
    window = Polygon(
        [
            (10, 10),
            (10 + 30 * math.cos(half), 10 - 30 * math.sin(half)),
            (10 + 30 * math.cos(half), 10 + 30 * math.sin(half)),
        ]
    )
    card = MultiPolygon([shapely.box(0, -20, 60, 40).difference(window)])
    corners = (angle, (180 - angle) / 2, (180 - angle) / 2)
    # A kite of two tangents less the sector of the disc between them.
    left = [
        radius**2 * (1 / math.tan(math.radians(c / 2)) - (math.pi - math.radians(c)) / 2) for c in corners
    ]
    assert without_sharp_corners(card, radius).area - card.area == pytest.approx(sum(left), rel=0.05)


def test_a_slit_narrower_than_the_disc_stays_open() -> None:
    slit = shapely.box(10, 10, 40, 10.5)
    card = MultiPolygon([shapely.box(0, 0, 50, 20).difference(slit)])
    assert without_sharp_corners(card, 0.4).area == pytest.approx(card.area)


@settings(max_examples=15, deadline=None)
@given(st.integers(0, 50), st.floats(0.01, 3), st.floats(0.05, 2))
def test_smooth_cards_are_sound_and_eased_ones_hold_all_card(
    seed: int, tolerance: float, radius: float
) -> None:
    card = random_panel(seed, rows=2, columns=2, cell=20).card
    whole = card if isinstance(card, MultiPolygon) else MultiPolygon([card])
    assert smoothed(whole, tolerance).is_valid
    eased = without_sharp_corners(whole, radius)
    assert eased.is_valid
    assert whole.difference(eased).area < 1e-6
