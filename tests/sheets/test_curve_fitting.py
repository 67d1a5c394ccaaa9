import numpy as np
import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LinearRing, LineString, Point, Polygon, box

from peekpaper.geometry.fitting.curves import TOLERANCE_MM, fit_outlines
from peekpaper.sheets.cut.arcs import bulged

PROMISED_MM = 0.02


def ring_of(shape: Polygon) -> np.ndarray:
    return shapely.get_coordinates(shape.exterior)


def apart(points: np.ndarray, shape: Polygon) -> float:
    """How far a ring of points lies from an outline, both ways."""
    line, outline = LineString(points), shape.exterior
    there = shapely.distance(shapely.points(shapely.get_coordinates(line.segmentize(0.05))), outline).max()
    back = shapely.distance(shapely.points(shapely.get_coordinates(outline.segmentize(0.05))), line).max()
    return max(there, back)


def along_arcs(rows: np.ndarray) -> np.ndarray:
    """Sample a polyline by what a bulge means: the tangent of a quarter of the angle of the arc."""
    points = []
    for (x, y, bulge), (end_x, end_y, _) in zip(rows, np.roll(rows, -1, axis=0), strict=True):
        chord = complex(end_x - x, end_y - y)
        angle = 4 * np.arctan(bulge)
        if abs(angle) < 1e-9:
            points.append(complex(x, y))
            continue
        radius = abs(chord) / (2 * np.sin(abs(angle) / 2))
        to_centre = chord / abs(chord) * np.exp(1j * np.sign(angle) * (np.pi / 2 - abs(angle) / 2)) * radius
        centre = complex(x, y) + to_centre
        points += [centre - to_centre * np.exp(1j * angle * step) for step in np.linspace(0, 1, 24)[:-1]]
    found = np.array([(point.real, point.imag) for point in points])
    return np.vstack([found, found[:1]])


def blob(radius: float, lobes: int, depth: float, count: int) -> Polygon:
    angle = np.linspace(0, 2 * np.pi, count, endpoint=False)
    reach = radius * (1 + depth * np.cos(lobes * angle))
    return Polygon(np.column_stack([reach * np.cos(angle), reach * np.sin(angle)]))


SHAPES = {
    "disc": Point(3, 4).buffer(12, quad_segs=32),
    "small disc": Point(0, 0).buffer(0.6, quad_segs=8),
    "rounded pane": box(0, 0, 30, 20).buffer(3, quad_segs=12),
    "petal": Point(-5, 0).buffer(10, quad_segs=48) & Point(5, 0).buffer(10, quad_segs=48),
    "blob": blob(15, 5, 0.15, 300),
    "star": Polygon(
        [
            (np.cos(k * np.pi / 5) * (9 if k % 2 else 4), np.sin(k * np.pi / 5) * (9 if k % 2 else 4))
            for k in range(10)
        ]
    ),
}


@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES.keys())
def test_curves_stay_within_the_promised_distance(shape):
    (outline,) = fit_outlines([ring_of(shape)])
    assert apart(outline.sampled(0.0005), shape) <= PROMISED_MM


@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES.keys())
def test_arcs_stay_within_the_promised_distance(shape):
    (rows,) = bulged(fit_outlines([ring_of(shape)]))
    assert apart(along_arcs(rows), shape) <= PROMISED_MM


@settings(max_examples=60)
@given(
    radius=st.floats(1.0, 60.0),
    lobes=st.integers(0, 7),
    depth=st.floats(0.0, 0.25),
    count=st.integers(24, 400),
    corner=st.booleans(),
)
def test_any_outline_is_kept_to_whole_and_in_order(radius, lobes, depth, count, corner):
    shape = blob(radius, lobes, depth, count)
    if corner:
        shape = shape.intersection(box(-2 * radius, -2 * radius, 0.3 * radius, 2 * radius))
    (outline,) = fit_outlines([ring_of(shape)])
    assert np.allclose(outline.cubics[1:, 0], outline.cubics[:-1, 3])
    assert np.allclose(outline.cubics[0, 0], outline.cubics[-1, 3])
    sampled = outline.sampled(0.0005)
    assert apart(sampled, shape) <= PROMISED_MM
    assert apart(along_arcs(bulged([outline])[0]), shape) <= PROMISED_MM
    assert LinearRing(sampled).is_simple


@settings(max_examples=60)
@given(seed=st.integers(0, 2**32 - 1), radius=st.floats(2.0, 30.0), aside=st.floats(0.0, 0.05))
def test_points_that_lie_unevenly_and_a_little_aside_are_kept_to_all_the_same(seed, radius, aside):
    chance = np.random.default_rng(seed)
    angle = np.sort(chance.uniform(0, 2 * np.pi, chance.integers(8, 120)))
    reach = radius * (1 + 0.2 * np.cos(3 * angle)) + chance.uniform(-aside, aside, len(angle))
    shape = Polygon(np.column_stack([reach * np.cos(angle), reach * np.sin(angle)]))
    (outline,) = fit_outlines([ring_of(shape)])
    assert apart(outline.sampled(0.0005), shape) <= PROMISED_MM
    assert apart(along_arcs(bulged([outline])[0]), shape) <= PROMISED_MM


@settings(max_examples=60)
@given(
    seed=st.integers(0, 2**32 - 1),
    radius=st.floats(0.2, 1.5),
    lobes=st.integers(1, 4),
    depth=st.floats(0.0, 0.3),
)
def test_small_outlines_are_kept_to_as_closely_as_the_fit_says(seed, radius, lobes, depth):
    chance = np.random.default_rng(seed)
    angle = np.sort(chance.uniform(0, 2 * np.pi, chance.integers(5, 40)))
    reach = radius * (1 + depth * np.cos(lobes * angle)) + chance.uniform(-0.06, 0.06, len(angle))
    shape = Polygon(np.column_stack([reach * np.cos(angle), reach * np.sin(angle)]))
    assume(shape.is_valid and shape.area > 0.02)
    (outline,) = fit_outlines([ring_of(shape)])
    assert apart(outline.sampled(0.0002), shape) <= 1.1 * TOLERANCE_MM
    assert apart(along_arcs(bulged([outline])[0]), shape) <= PROMISED_MM


def test_straight_edges_stay_straight_and_corners_sharp():
    (outline,) = fit_outlines([ring_of(box(0, 0, 30, 20))])
    assert outline.straight.all()
    assert sorted(map(tuple, outline.cubics[:, 0])) == [(0, 0), (0, 20), (30, 0), (30, 20)]


def test_a_rounded_pane_becomes_four_lines_and_four_curves_that_meet_without_a_kink():
    (outline,) = fit_outlines([ring_of(SHAPES["rounded pane"])])
    assert outline.straight.sum() == 4
    assert len(outline.cubics) <= 12
    arriving = outline.cubics[:, 3] - outline.cubics[:, 2]
    leaving = np.roll(outline.cubics[:, 1] - outline.cubics[:, 0], -1, axis=0)
    crossing = arriving[:, 0] * leaving[:, 1] - arriving[:, 1] * leaving[:, 0]
    sine = crossing / np.hypot(*arriving.T) / np.hypot(*leaving.T)
    assert np.abs(sine).max() < 1e-6


def test_a_disc_takes_a_handful_of_curves_instead_of_its_chords():
    (outline,) = fit_outlines([ring_of(SHAPES["disc"])])
    assert len(outline.cubics) <= 6


def test_arcs_of_a_disc_all_have_its_radius():
    (rows,) = bulged(fit_outlines([ring_of(Point(0, 0).buffer(10, quad_segs=64))]))
    ends = np.roll(rows, -1, axis=0)
    chords = np.hypot(*(ends - rows)[:, :2].T)
    radii = chords * (1 + rows[:, 2] ** 2) / (4 * np.abs(rows[:, 2]))
    assert np.allclose(radii, 10, atol=0.15)


def test_many_outlines_at_once_are_the_same_as_one_by_one():
    rings = [ring_of(shape) for shape in SHAPES.values()]
    together = fit_outlines(rings)
    for ring, outline in zip(rings, together, strict=True):
        (alone,) = fit_outlines([ring])
        assert np.allclose(alone.cubics, outline.cubics)
