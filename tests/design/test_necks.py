import numpy as np
import pytest
from panels import design_of
from shapely import MultiPolygon, Polygon, box

from peekpaper.design.bars.bars import bar_triangulation
from peekpaper.design.bars.necks import Neck, find_necks
from peekpaper.design.design import Design


def necks_of(design: Design, limit: float = 1.5) -> tuple[Neck, ...]:
    openings = [opening.area for opening in design.openings]
    return find_necks(bar_triangulation(design.card, openings), limit)


def frame_with(tongue: Polygon) -> Design:
    return design_of(box(0, 0, 60, 40).difference(box(5, 5, 55, 35)).union(tongue))


def test_a_tongue_that_hangs_on_by_a_thin_neck_is_found():
    design = frame_with(box(29.5, 4, 30.5, 15).union(box(22, 14, 38, 26)))
    (neck,) = necks_of(design)
    assert neck.width_mm == pytest.approx(1.0, abs=0.05)
    assert neck.strip.intersects(box(29.5, 5, 30.5, 14))
    assert not neck.strip.intersects(box(22, 16, 38, 26))
    assert "thin-necks" in {warning.code for warning in design.warnings}


def test_two_parts_of_the_card_held_by_a_thin_neck_outside_are_found():
    halves = box(0, 0, 20, 20).union(box(20, 9.6, 30, 10.4)).union(box(30, 0, 50, 20))
    design = design_of(halves.difference(box(5, 5, 15, 15)).difference(box(35, 5, 45, 15)))
    (neck,) = necks_of(design)
    assert neck.width_mm == pytest.approx(0.8, abs=0.05)


def test_a_tongue_that_is_thin_along_its_whole_length_is_one_neck():
    assert len(necks_of(frame_with(box(29.6, 4, 30.4, 28)))) == 1


@pytest.mark.parametrize(
    "tongue",
    [box(25, 4, 35, 20), Polygon([(28, 4), (32, 4), (30, 12)]), box(4, 4, 4.5, 4.5)],
    ids=["a wide tongue", "a pointed tip", "nothing but the frame"],
)
def test_what_is_wide_where_it_hangs_on_is_no_neck(tongue):
    assert necks_of(frame_with(tongue)) == ()


def test_smooth_edges_have_no_neck_where_one_begins_with_a_node_drawn_twice():
    """Both nodes lie within rounding of one another, where the card's outline begins and ends."""
    turns = np.linspace(0, 2 * np.pi, 240, endpoint=False)
    directions = np.stack([np.cos(turns), np.sin(turns)], axis=1)
    outline = 30 + 25 * directions
    outline = np.vstack([outline, outline[:1] - [0, 2e-14], outline[:1]])
    petals = 30 + (10 - 2 * np.cos(3 * turns))[:, None] * directions
    card = MultiPolygon([Polygon(outline, [petals])])
    triangulation = bar_triangulation(card, [Polygon(petals)])
    assert find_necks(triangulation, 1.5) == ()
