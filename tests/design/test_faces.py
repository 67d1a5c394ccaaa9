"""Lines that meet midway, cross or all but touch share out card and openings."""

import numpy as np
import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString, Polygon, box
from test_habits import LINES, assert_is_window, design_from

from peekpaper.design.design import Habit
from peekpaper.design.readings.faces import read_faces
from peekpaper.design.sheet.mended import Fault
from peekpaper.drawing.drawing import Contour

FRAME = f'<path {LINES} d="M0 0h60v40h-60z"/><path {LINES} d="M5 5h50v30h-50z"/>'


@pytest.mark.parametrize(
    "ends", ["5v30", "5.06v29.88", "4.9v30.2"], ids=["meet", "fall short", "reach beyond"]
)
def test_bars_between_lines_that_end_on_a_frame_are_card(ends):
    assert_is_window(
        design_from(f'{FRAME}<path {LINES} d="M25 {ends}"/><path {LINES} d="M35 {ends}"/>'), Habit.FACES
    )


def test_veins_do_not_part_the_leaf_that_they_end_on():
    leaf = "M10 20Q20 5 30 20Q20 35 10 20z"
    design = design_from(
        f'<rect {LINES} width="60" height="40"/><path {LINES} d="{leaf}"/>'
        f'<path {LINES} d="M10 20H30"/><path {LINES} d="M20 20l4 -3"/>'
    )
    assert len(design.openings) == 1
    assert {"not-cut"} <= {warning.code for warning in design.warnings}


def test_bands_that_go_over_and_under_are_card_throughout():
    """Two waves cross seven times; at each crossing the outlines of the lower one are left out."""
    x = np.linspace(0, 60, 481)
    bands = [
        LineString(np.stack([x, 20 + sign * 9 * np.sin(x * np.pi / 10)], axis=1)).buffer(2)
        for sign in (1, -1)
    ]
    over = [
        shapely.union_all([box(c - 4, 14, c + 4, 26) for c in places])
        for places in ((0, 20, 40, 60), (10, 30, 50))
    ]
    lines = [
        line
        for band, other, above in zip(bands, bands[::-1], over, strict=True)
        for line in shapely.get_parts(band.boundary.difference(other.intersection(above)))
    ]
    body = "".join(
        f'<path {LINES} d="M{" ".join(f"{x:.4f} {y:.4f}" for x, y in line.coords)}"/>' for line in lines
    )
    design = design_from(body)
    assert design.habits[0] is Habit.FACES
    drawn = shapely.union_all(bands)
    assert design.card.area == pytest.approx(drawn.area, rel=0.01)
    assert len(design.openings) == len(drawn.interiors) == 6


TRIANGLES = st.lists(
    st.tuples(*[st.tuples(st.integers(0, 50), st.integers(0, 50))] * 3), min_size=2, max_size=6
)


@given(TRIANGLES)
def test_where_lines_cross_in_pairs_the_faces_take_turns(triangles):
    areas = [Polygon(corners) for corners in triangles]
    outlines = [area.boundary for area in areas]
    assume(all(area.area > 0 for area in areas))
    assume(shapely.union_all(outlines).length == pytest.approx(shapely.length(outlines).sum()))
    card = read_faces([Contour(LineString(line), closed=True) for line in outlines], ())
    by_turns = areas[0]
    for area in areas[1:]:
        by_turns = by_turns.symmetric_difference(area)
    if card is not None and all(mended.fault is not Fault.BORDER for mended in card.mended):
        assert card.area.area == pytest.approx(by_turns.area, abs=0.01)
        assert card.uncut == 0


def test_borders_around_two_cards_are_left_out_of_both():
    hole = "M{} 12v16h6v-16z"
    card = "M{0} 0h28v40h-28z M{1} 2h24v36h-24z".format
    panes = "".join(f'<path {LINES} d="{hole.format(x)}"/>' for x in (5, 12, 19, 37, 44, 51))
    design = design_from(f'<path {LINES} d="{card(0, 2)}"/><path {LINES} d="{card(32, 34)}"/>{panes}')
    assert len(design.openings) == 6
    assert len(design.card.geoms) == 2
