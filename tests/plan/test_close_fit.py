"""Pieces cut from one rectangle go back into it."""

import sys
from pathlib import Path

import numpy as np
import pytest
import shapely
from made_pieces import SPEED, paper, pieces_of, promises_broken
from shapely import Polygon, affinity

from peekpaper.papers.paper import Direction, Shelf
from peekpaper.plan.cluster import Spot, joined, single
from peekpaper.plan.corners import make_corners
from peekpaper.plan.make import plans
from peekpaper.plan.plan import PlanChoices
from peekpaper.plan.sides import Exactness, Side, make_side

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))

import puzzles


def times_their_area(outlines: list[Polygon], direction: Direction, rounds: int) -> float:
    """How much larger the trim is than the pieces, without spacing and margin, after so many rounds."""
    pieces, shelf = pieces_of(outlines), Shelf((paper(direction=direction),))
    choices = PlanChoices(trim_step_mm=None, spacing_mm=0.0, margin_mm=0.0, rounds=rounds)
    *_, plan = plans(pieces, shelf, choices, SPEED, 0)
    assert promises_broken(plan, pieces, shelf, choices) == []
    return plan.paper_area_mm2[0][1] / sum(outline.area for outline in outlines)


@pytest.mark.parametrize("count", [5, 12, 25, 60])
def test_a_rectangle_cut_into_convex_pieces_is_found_again(count: int) -> None:
    assert times_their_area(puzzles.jigsaw(count, count, 200.0, 150.0), Direction.ANY, 90) < 1.01


@pytest.mark.parametrize("count", [25, 60])
def test_it_is_found_again_where_pieces_may_not_turn(count: int) -> None:
    random = np.random.default_rng(count)
    frame = shapely.box(0, 0, 200, 150)
    seeds = shapely.MultiPoint(random.uniform((0, 0), (200, 150), (count, 2)))
    cells = shapely.get_parts(shapely.voronoi_polygons(seeds, extend_to=frame))
    outlines = [affinity.translate(cell.intersection(frame), *random.uniform(-50, 50, 2)) for cell in cells]
    assert times_their_area(outlines, Direction.ONE_WAY, 90) < 1.01


def test_the_tangram_is_laid_into_a_rectangle_of_its_area() -> None:
    assert times_their_area(puzzles.tangram(80.0), Direction.ANY, 200) < 1.01


@pytest.mark.parametrize("direction", list(Direction))
def test_the_pentominoes_are_laid_into_a_rectangle_of_their_area(direction: Direction) -> None:
    assert times_their_area(puzzles.pentominoes(12.0), direction, 40) < 1.01


def test_pentominoes_turned_askew_and_rounded_are_laid_into_a_rectangle_of_their_area() -> None:
    askew = [affinity.rotate(outline, 37 * k) for k, outline in enumerate(puzzles.pentominoes(12.0))]
    assert times_their_area(list(shapely.set_precision(askew, 0.01)), Direction.ANY, 40) < 1.01


@pytest.mark.parametrize("count", [5, 25, 60])
def test_a_rectangle_cut_across_again_and_again_is_found_again(count: int) -> None:
    assert times_their_area(puzzles.cut_across(count, count, 200.0, 150.0), Direction.ANY, 60) < 1.01


def test_it_is_found_again_where_coordinates_are_rounded() -> None:
    outlines = list(shapely.set_precision(puzzles.cut_across(15, 2, 200.0, 150.0), 0.01))
    assert times_their_area(outlines, Direction.ANY, 60) < 1.02


ROUNDED = {
    "convex pieces": puzzles.jigsaw(25, 1, 200.0, 150.0),
    "pieces cut by lines": puzzles.cut_by_lines(20, 1, 200.0, 150.0),
    "pieces cut by waves": puzzles.cut_by_waves(5, 4, 1, 40.0),
}


@pytest.mark.parametrize("name", ROUNDED)
def test_it_is_found_again_where_coordinates_are_rounded_to_a_tenth_of_a_millimetre(name: str) -> None:
    assert times_their_area(puzzles.rounded(ROUNDED[name], 0.1), Direction.ANY, 40) < 1.05


def test_pieces_with_tabs_are_put_together_again() -> None:
    assert times_their_area(puzzles.tabbed(6, 4, 1, 30.0), Direction.ANY, 60) < 1.01


FINELY_ROUNDED = {
    "interlocked pieces": puzzles.tabbed(4, 3, 1, 40.0),
    "triangles": puzzles.triangles(22, 3, 200.0, 150.0),
    "much the same quadrilaterals": puzzles.quadrilaterals(9, 7, 3, 22.0),
    "pieces cut by waves": puzzles.cut_by_waves(9, 7, 1, 20.0),
}


@pytest.mark.parametrize("name", FINELY_ROUNDED)
def test_it_is_found_again_where_coordinates_are_rounded_to_a_hundredth(name: str) -> None:
    assert times_their_area(puzzles.rounded(FINELY_ROUNDED[name], 0.01), Direction.ANY, 160) < 1.01


def test_a_piece_that_is_reached_through_a_crack_only_leaves_a_whole_outline() -> None:
    hole = [(10.0, 15.0), (15.0, 11.0), (21.0, 15.0), (15.0, 21.0)]
    around = [(0.0, 0.0), (30.0, 0.0), (30.0, 30.0), (0.0, 30.0), (0.0, 15.0), hole[0], *hole[:0:-1], hole[0]]
    one = single(0, [_sides([*around, (0.0, 15.0)])])
    other = single(1, [_sides(hole)])
    run = [(Spot(0, 0, 5 + k, 1), Spot(1, 0, 3 - k, 1)) for k in range(4)]
    exactness = Exactness(0.04, 0.004, 0.1, 0.012, 0.4, 0.0002, 0.00005, None)
    [ring] = joined(one, other, run, (0.0, 0.0, 0.0), exactness).rings
    assert sum(np.pi - side.angle for side in ring) == pytest.approx(2 * np.pi)
    assert sum(side.length for side in ring) == pytest.approx(120.0)


def _sides(corners: list[tuple[float, float]]) -> list[Side]:
    """The sides of piece 0 or 1 between corners, which run with the inside on the left."""
    nodes = np.array(corners)
    out = np.roll(nodes, -1, axis=0) - nodes
    heading = np.arctan2(out[:, 1], out[:, 0])
    turn = (heading - np.roll(heading, 1) + np.pi) % (2 * np.pi) - np.pi
    piece = int(len(corners) == 4)
    return [
        make_side(piece, np.array([start, start + step]), float(np.pi - angle), 0.0)
        for start, step, angle in zip(nodes, out, turn, strict=True)
    ]


def test_pieces_cut_with_the_spacing_between_them_are_put_together_again() -> None:
    outlines = [
        outline.buffer(-0.75, join_style="mitre") for outline in puzzles.cut_across(12, 4, 200.0, 150.0)
    ]
    choices = PlanChoices(trim_step_mm=None, rounds=60)
    pieces, shelf = pieces_of(outlines), Shelf((paper(),))
    *_, plan = plans(pieces, shelf, choices, SPEED, 0)
    assert promises_broken(plan, pieces, shelf, choices) == []
    assert plan.paper_area_mm2[0][1] < 1.01 * (200.0 + 4.5) * (150.0 + 4.5)


def test_corners_open_to_the_inside_of_outlines_and_holes() -> None:
    square = Polygon([(0, 0), (0, 9), (9, 9), (9, 4), (9, 0)], [[(3, 3), (6, 3), (6, 6), (3, 6)]])
    angles = np.sort(np.degrees(make_corners([square]).angle))
    assert angles == pytest.approx([90.0] * 4 + [270.0] * 4)


@pytest.mark.parametrize(("direction", "most"), [(Direction.ANY, 1.07), (Direction.ONE_WAY, 1.1)])
def test_sixty_rectangles_of_many_sizes_are_laid_with_little_loss(direction: Direction, most: float) -> None:
    random = np.random.default_rng(60)
    parts = [(200.0, 150.0)]
    while len(parts) < 60:
        parts.sort(key=lambda part: part[0] * part[1])
        wide, high = parts.pop()
        cut = random.uniform(0.3, 0.7)
        halves = [(wide * cut, high), (wide - wide * cut, high)]
        parts += halves if wide > high else [(wide, high * cut), (wide, high - high * cut)]
    outlines = [shapely.box(0, 0, *part) for part in parts]
    if direction is Direction.ANY:
        outlines = [affinity.rotate(outline, random.uniform(0, 360)) for outline in outlines]
    assert times_their_area(outlines, direction, 80) < most
