import pytest
from hypothesis import given, settings
from panels import design_of, panels
from shapely import LineString, Polygon, affinity, box

from peekpaper.design.design import Bar, Design


def bar_between(design: Design, first: int, second: int | None) -> Bar:
    (bar,) = [bar for bar in design.bars if (bar.first, bar.second) == (first, second)]
    return bar


def panes(columns: int, rows: int, size: float, bar: float) -> Polygon:
    step = size + bar
    card = box(0, 0, columns * step + bar, rows * step + bar)
    for column in range(columns):
        for row in range(rows):
            card = card.difference(affinity.translate(box(bar, bar, step, step), column * step, row * step))
    return card


@pytest.mark.parametrize("width", [0.2, 1.0, 2.54, 11.0])
def test_straight_parallel_bars_have_their_exact_width(width):
    design = design_of(panes(3, 2, 12, width))
    assert {round(bar.width_mm, 9) for bar in design.bars} == {width}


@pytest.mark.parametrize("degrees", [10, 33, 45])
def test_slanted_bars_have_their_exact_width(degrees):
    design = design_of(affinity.rotate(panes(2, 1, 12, 1.7), degrees))
    assert bar_between(design, 1, 2).width_mm == pytest.approx(1.7, abs=1e-9)


def test_a_bar_between_circles_is_as_wide_as_their_distance():
    card = box(-10, -10, 30, 10)
    for x in (0, 14):
        card = card.difference(
            affinity.translate(LineString([(0, 0), (0, 0.001)]).buffer(6, quad_segs=64), x, 0)
        )
    assert bar_between(design_of(card), 1, 2).width_mm == pytest.approx(2.0, abs=1e-3)


def test_the_narrowest_segment_spans_from_edge_to_edge():
    design = design_of(panes(2, 2, 9, 1.3))
    for bar in design.bars:
        assert bar.narrowest.length == pytest.approx(bar.width_mm)
        assert bar.narrowest.buffer(-1e-9).difference(design.card).length == 0
        assert design.openings[bar.first - 1].area.distance(bar.narrowest) < 1e-9


def test_a_strip_between_panes_is_the_rectangle_between_them():
    design = design_of(panes(2, 1, 12, 2))
    left, right = (opening.area.bounds for opening in design.openings)
    between = box(left[2], left[1], right[0], right[3])
    assert bar_between(design, 1, 2).strip.symmetric_difference(between).area < 1e-6


def test_panes_that_only_meet_corner_to_corner_share_no_bar():
    pairs = {(bar.first, bar.second) for bar in design_of(panes(2, 2, 10, 2)).bars}
    assert pairs == {(1, 2), (1, 3), (2, 4), (3, 4), (1, None), (2, None), (3, None), (4, None)}


def test_diamonds_tip_to_tip_share_a_bar_as_wide_as_their_tips_are_apart():
    diamond = Polygon([(0, 0), (8, -8), (16, 0), (8, 8)])
    card = box(-10, -20, 60, 20).difference(diamond).difference(affinity.translate(diamond, 17))
    assert bar_between(design_of(card), 1, 2).width_mm == pytest.approx(1.0, abs=1e-9)


def test_a_bar_is_measured_where_no_other_opening_lies_between():
    """The two long openings are 4 apart across the slot between them, but touch card only beyond its ends."""
    card = box(-5, -5, 45, 25)
    for hole in (box(0, 0, 40, 8), box(10, 9, 30, 11), box(0, 12, 40, 20)):
        card = card.difference(hole)
    design = design_of(card)
    assert bar_between(design, 1, 2).width_mm == pytest.approx(1.0)
    assert bar_between(design, 1, 3).width_mm == pytest.approx(4.0)


def test_a_bar_to_the_outside_names_no_second_opening():
    design = design_of(box(0, 0, 30, 20).difference(box(3, 4, 25, 14)))
    assert bar_between(design, 1, None).width_mm == pytest.approx(3.0)


def test_openings_that_touch_at_a_point_share_a_bar_of_no_width():
    card = box(0, 0, 30, 20).difference(box(4, 4, 10, 10)).difference(box(10, 10, 16, 16))
    design = design_of(card)
    assert bar_between(design, 1, 2).width_mm == 0


@settings(max_examples=60)
@given(panel=panels())
def test_bars_lie_on_the_card_and_are_as_wide_as_their_edges_are_apart(panel):
    design = design_of(panel.card)
    edges = {opening.number: opening.area.exterior for opening in design.openings}
    edges[None] = design.card.geoms[0].exterior
    for bar in design.bars:
        apart = edges[bar.first].distance(edges[bar.second])
        assert bar.width_mm >= apart - 1e-9
        assert bar.strip.difference(design.card.buffer(1e-6)).area < 1e-6
        assert bar.narrowest.difference(design.card.buffer(1e-6)).length < 1e-6


@settings(max_examples=40)
@given(panel=panels())
def test_every_opening_is_held_by_bars_and_its_nearest_edge_is_across_one(panel):
    design = design_of(panel.card)
    outside = design.card.geoms[0].exterior
    for opening in design.openings:
        others = [other.area.exterior for other in design.openings if other is not opening]
        nearest = min(opening.area.exterior.distance(edge) for edge in [outside, *others])
        widths = [bar.width_mm for bar in design.bars if opening.number in (bar.first, bar.second)]
        assert min(widths) == pytest.approx(nearest, abs=1e-6)
