"""Overlays come out also where the exact overlay of GEOS stops, and are the exact ones where it does not."""

import numpy as np
import pytest
import shapely
from shapely import Polygon, box

from peekpaper.design.bars.patches import triangles_area
from peekpaper.geometry import overlay
from peekpaper.geometry.delaunay import as_complex, delaunay

TIE = Polygon([(0, 0), (2, 2), (2, 0), (0, 2)])
"""Crosses itself at (1, 1), so that the exact overlay stops; its area is 2."""
WINDOW = box(0.5, -1, 1.5, 3)
"""Holds 0.5 of the tie's area."""


def test_the_exact_overlay_stops_at_an_outline_that_crosses_itself():
    with pytest.raises(shapely.GEOSException):
        shapely.intersection(TIE, box(0.5, -1, 1.5, 1.2))


@pytest.mark.parametrize(
    ("name", "area"),
    [("union", 5.5), ("difference", 1.5), ("intersection", 0.5), ("symmetric_difference", 5.0)],
)
def test_an_overlay_that_stops_is_done_on_a_grid(name: str, area: float):
    work = getattr(overlay, name)
    assert work(TIE, WINDOW).area == pytest.approx(area, abs=1e-4)
    both = work(np.array([TIE, box(0, 0, 1, 1)], dtype=object), WINDOW)
    assert shapely.area(both[0]) == pytest.approx(area, abs=1e-4)
    assert both[1].equals(getattr(shapely, name)(box(0, 0, 1, 1), WINDOW))


def test_a_union_that_stops_is_done_on_a_grid():
    assert overlay.union_all([TIE, WINDOW]).area == pytest.approx(5.5, abs=1e-4)


def test_triangles_that_overlap_by_rounding_still_have_an_area():
    hair = 1e-7
    low, high = Polygon([(0, 0), (10, 0), (10, 10)]), Polygon([(0, 0), (10, 10), (0, 10)])
    over = Polygon([(4, 4 - hair), (4 + hair, 4), (10, 10), (0, 0)])
    assert triangles_area(np.array([low, high, over], dtype=object)).area == pytest.approx(100, abs=1e-4)


def test_points_that_all_but_coincide_are_triangulated():
    """With these the search of GEOS for a point's place fails."""
    seed = 2752
    random = np.random.default_rng(seed)
    count = random.integers(3, 12)
    places = random.uniform(0, 100, (count, 2)).round(1)
    hairs = random.choice([1, -1], (count, 2)) * np.spacing(places) * random.integers(0, 3, (count, 2))
    beside = places + hairs
    points = np.unique(np.vstack([places, beside, beside + np.spacing(beside)]), axis=0)
    with pytest.raises(shapely.GEOSException):
        shapely.delaunay_triangles(shapely.multipoints(points))
    points = np.unique(as_complex(points)).view(np.float64).reshape(-1, 2)
    triangles = delaunay(points)
    corners = shapely.polygons(points[triangles])
    assert shapely.area(corners).sum() == pytest.approx(shapely.multipoints(points).convex_hull.area)
