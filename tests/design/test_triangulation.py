import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from panels import Panel, panels, random_panel
from shapely import MultiPolygon, Polygon, box

from peekpaper.design.bars.triangulation import OUTSIDE, CardTriangulation, triangulate_card


def triangulated(card: Polygon, step: float = 0.5) -> CardTriangulation:
    return triangulate_card(MultiPolygon([card]), Panel(card).openings, step)


def areas(triangulation: CardTriangulation) -> np.ndarray:
    return shapely.area(shapely.polygons(triangulation.corners))


@settings(max_examples=60)
@given(panel=panels())
def test_triangles_cover_the_card_and_nothing_else(panel):
    triangulation = triangulated(panel.card)
    covered = shapely.union_all(shapely.polygons(triangulation.corners))
    assert areas(triangulation).sum() == pytest.approx(panel.card.area, rel=1e-7)
    assert covered.symmetric_difference(panel.card).area <= 1e-7 * panel.card.area


def test_every_point_lies_on_the_edge_that_it_is_numbered_by():
    panel = random_panel(3)
    triangulation = triangulated(panel.card)
    edges = [panel.card.exterior, *(opening.exterior for opening in panel.openings)]
    for number, edge in enumerate(edges):
        points = shapely.points(triangulation.points[triangulation.ring == number])
        assert len(points) > 0
        assert shapely.distance(points, edge).max() < 1e-9


def test_edges_are_densified_to_the_step():
    panel = random_panel(5)
    triangulation = triangulated(panel.card, 0.25)
    outside = shapely.points(triangulation.points[triangulation.ring == OUTSIDE])
    along = np.sort(shapely.line_locate_point(panel.card.exterior, outside))
    assert np.diff(along).max() <= 0.25 + 1e-9


def test_openings_may_come_in_any_order_direction_and_start():
    panel = random_panel(7)
    turned = [Polygon(list(o.exterior.coords)[:0:-1]) for o in reversed(panel.openings)]
    triangulation = triangulate_card(MultiPolygon([panel.card]), turned, 1.0)
    for number, opening in enumerate(turned, start=1):
        points = shapely.points(triangulation.points[triangulation.ring == number])
        assert shapely.distance(points, opening.exterior).max() < 1e-9


def test_a_hole_that_is_no_opening_is_refused():
    with pytest.raises(ValueError, match="not among the openings"):
        triangulate_card(MultiPolygon([random_panel(1).card]), [], 1.0)


def test_no_card_gives_no_triangles():
    assert len(triangulate_card(MultiPolygon(), [], 1.0).triangles) == 0


@pytest.mark.parametrize("degrees", [0.1, 1, 5, 15])
def test_sharp_corners_are_covered(degrees):
    tip = np.tan(np.radians(degrees)) * 80
    card = box(-10, -100, 100, 100).difference(Polygon([(0, 0), (80, 0), (80, tip)]))
    assert areas(triangulated(card)).sum() == pytest.approx(card.area, rel=1e-7)


@pytest.mark.parametrize("gap", [1e-3, 1e-6, 0.0])
def test_openings_that_all_but_touch_are_kept_apart(gap):
    left, right = Polygon([(0, 0), (10, 5), (0, 10)]), Polygon([(20 + gap, 0), (10 + gap, 5), (20 + gap, 10)])
    card = box(-5, -5, 30, 15).difference(left).difference(right)
    triangulation = triangulated(card)
    assert areas(triangulation).sum() == pytest.approx(card.area, rel=1e-7)
    assert set(triangulation.ring) == {0, 1, 2}
