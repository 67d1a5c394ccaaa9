"""The parts of the search, each against shapely or counting by hand."""

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from made_pieces import paper, petal, pieces_of, star, wave
from shapely import Polygon

from peekpaper.papers.paper import Direction, Shelf
from peekpaper.plan.cutting import calibrated, cut_seconds
from peekpaper.plan.overlap.descent import Descent
from peekpaper.plan.overlap.penalty import Frame, PenaltyModel, find_contacts, penalty_at
from peekpaper.plan.plan import CutSpeed, PlanChoices, TrimShape
from peekpaper.plan.shapes.bitmap import Bitmap, make_mask
from peekpaper.plan.shapes.distance_field import make_distance_fields
from peekpaper.plan.shapes.exact_distances import make_exact_distances
from peekpaper.plan.shapes.sample_points import make_sample_points
from peekpaper.plan.shapes.shape import make_shape
from peekpaper.plan.trims.sizes import largest_sizes, smaller_sizes
from peekpaper.plan.trims.task import make_tasks
from peekpaper.refusal import Refusal

SHAPES = [make_shape(piece) for piece in pieces_of([star(5, 15, 7), petal(40, 12), wave(40, 6, 8)])]


def distances_by_shapely(points: np.ndarray, which: np.ndarray) -> np.ndarray:
    polygons = np.array([Polygon(shape.outline) for shape in SHAPES])[which]
    places = shapely.points(points)
    to_edge = shapely.distance(shapely.boundary(polygons), places)
    return np.where(shapely.contains(polygons, places), -to_edge, to_edge)


def scattered(count: int) -> tuple[np.ndarray, np.ndarray]:
    random = np.random.default_rng(4)
    return random.uniform(-24, 24, (count, 2)), random.integers(0, len(SHAPES), count)


def test_exact_distances_are_shapelys() -> None:
    points, which = scattered(3000)
    distance, slope_x, slope_y = make_exact_distances(SHAPES).distances_and_slopes(which, *points.T)
    assert distance == pytest.approx(distances_by_shapely(points, which), abs=1e-9)
    assert np.hypot(slope_x, slope_y) == pytest.approx(1.0)


def test_distances_from_fields_are_near_the_exact_ones() -> None:
    points, which = scattered(3000)
    true = distances_by_shapely(points, which)
    near = make_distance_fields(SHAPES, 3.5).distances(which, *points.T)
    known = true < 3.0
    assert np.abs(near - true)[known].mean() < 0.05
    assert np.abs(near - true)[known].max() < 0.8


def test_nodes_are_thinned_without_losing_any_of_the_piece() -> None:
    piece = pieces_of([petal(60, 25).buffer(2, quad_segs=64)])[0]
    shape = make_shape(piece)
    assert len(shape.outline) < len(piece.outline.exterior.coords) / 2
    moved = Polygon(shape.outline + np.array(shape.centre))
    assert moved.buffer(1e-9).covers(piece.outline)
    assert moved.area < piece.outline.area * 1.01


@settings(max_examples=60)
@given(st.integers(1, 12), st.integers(1, 12), st.integers(0, 10**6))
def test_free_places_of_a_mask_are_the_ones_that_counting_finds(columns: int, rows: int, seed: int) -> None:
    random = np.random.default_rng(seed)
    taken = random.random((rows, columns)) < 0.3
    mask = random.random((random.integers(1, 5), random.integers(1, 5))) < 0.7
    bitmap = Bitmap(columns, rows)
    bitmap.take_pixels(taken)
    found = [tuple(place) for place in bitmap.all_free(make_mask(mask), columns, rows).tolist()]
    counted = [
        (x, y)
        for y in range(rows - mask.shape[0] + 1)
        for x in range(columns - mask.shape[1] + 1)
        if not (taken[y : y + mask.shape[0], x : x + mask.shape[1]] & mask).any()
    ]
    assert found == counted
    assert bitmap.first_free(make_mask(mask), columns, rows) == (counted[0] if counted else None)


def model_of(count: int) -> tuple[PenaltyModel, np.ndarray]:
    shapes = SHAPES[:count]
    frame = Frame(3, 3, 80, 60, 1.5)
    bodies = make_sample_points(shapes, 0.0)
    model = PenaltyModel(bodies, make_exact_distances(shapes), frame, np.ones((count, 3)), 1.0)
    return model, np.array([[30.0, 30.0, 0.1], [38.0, 33.0, 0.5], [34.0, 24.0, 1.2]])[:count]


def test_the_gradient_is_what_the_energy_changes_by() -> None:
    model, poses = model_of(3)
    weights = np.ones((3, 3))
    here = penalty_at(model, find_contacts(model, poses), weights, poses)
    for index in np.ndindex(3, 3):
        step = np.zeros((3, 3))
        step[index] = 1e-6
        ahead, behind = (
            penalty_at(model, find_contacts(model, moved), weights, moved).energy
            for moved in (poses + step, poses - step)
        )
        assert (ahead - behind) / 2e-6 == pytest.approx(here.gradient[index], rel=1e-3, abs=1e-2)


def test_relaxed_pieces_keep_their_spacing_and_held_ones_their_place() -> None:
    model, _ = model_of(3)
    poses = np.array([[20.0, 30.0, 0.1], [41.0, 31.0, 1.57], [58.0, 31.0, 1.57]])
    model.freedom[0] = 0.0
    descent = Descent(model, np.ones((3, 3)), poses)
    descent.advance(200, 1e-9)
    assert descent.penalty.energy < 1e-6
    assert descent.poses[0] == pytest.approx(poses[0])
    assert descent.penalty.depths(model.bodies).max() < 0.01


def test_sizes_on_offer_are_smaller_fit_the_sheet_and_come_in_steps() -> None:
    choices = PlanChoices(trim_shape=TrimShape.ANY)
    largest = largest_sizes((304.8, 203.2), Direction.ONE_WAY, choices)
    sizes = smaller_sizes((254.0, 203.2), largest, Direction.ONE_WAY, choices)
    assert sizes
    for width, height in sizes:
        assert width * height < 254.0 * 203.2
        assert width <= 304.8 + 1e-6
        assert height <= 203.2 + 1e-6
        assert width / 12.7 == pytest.approx(round(width / 12.7))


def test_one_timed_cut_sets_the_speed() -> None:
    speed = calibrated(CutSpeed(), 6000.0, 40, 540.0)
    assert cut_seconds(6000.0, 40, speed) == pytest.approx(540.0)
    with pytest.raises(Refusal, match="Time one cut"):
        calibrated(CutSpeed(), 6000.0, 40, 0.0)


def test_shelf_order_sets_the_order_of_trims() -> None:
    pieces = pieces_of([petal(20, 8)], "b") + pieces_of([petal(20, 8)], "a", first=2)
    tasks = make_tasks(pieces, Shelf((paper("a"), paper("b"))), PlanChoices())
    assert [task.paper.id for task in tasks] == ["a", "b"]
