"""Choosing openings with a box or a lasso."""

from hypothesis import given
from hypothesis import strategies as st
from panels import design_of, random_panel

from peekpaper.papers.lasso import openings_inside

DESIGN = design_of(random_panel(4).card)


def test_a_box_around_everything_takes_all_and_a_lasso_takes_what_it_encloses() -> None:
    width, height = DESIGN.width_mm, DESIGN.height_mm
    everything = ((0, 0), (width, 0), (width, height), (0, height))
    assert openings_inside(DESIGN, everything) == tuple(one.number for one in DESIGN.openings)
    first = DESIGN.openings[0]
    lasso = tuple(first.area.buffer(0.1).exterior.coords)
    assert openings_inside(DESIGN, lasso) == (first.number,)
    assert openings_inside(DESIGN, ((0, 0), (5, 5))) == ()


@given(st.lists(st.tuples(st.floats(-50, 200), st.floats(-50, 200)), max_size=12))
def test_any_scribble_is_a_lasso(points: list[tuple[float, float]]) -> None:
    assert set(openings_inside(DESIGN, tuple(points))) <= {one.number for one in DESIGN.openings}
