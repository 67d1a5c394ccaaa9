"""Pieces that are rectangles, or nearly so, lie side by side."""

import numpy as np
import pytest
import shapely
from made_pieces import SPEED, each, paper, petal, pieces_of, promises_broken
from shapely import Polygon, affinity, box

from peekpaper.papers.paper import Direction, Shelf
from peekpaper.plan.fill.rectangles import RectanglePacking
from peekpaper.plan.make import plans
from peekpaper.plan.plan import PlanChoices, TrimShape
from peekpaper.plan.search import searched
from peekpaper.plan.trims.task import make_tasks

SPACING = PlanChoices().spacing_mm
PANES = [box(0, 0, 22, 34)] * 12 + [box(0, 0, 22, 16)] * 6 + [box(0, 0, 46, 34)] * 3
STRIPS = [box(0, 0, length, 8) for length in (180, 120, 60) for _ in range(4)]


def trim_area(outlines: list[Polygon], direction: Direction, choices: PlanChoices) -> float:
    """The trims' area after as many rounds as rectangles take, all promises kept."""
    pieces, shelf = pieces_of(outlines), Shelf((paper(direction=direction),))
    *_, plan = plans(pieces, shelf, choices, SPEED, 0)
    assert promises_broken(plan, pieces, shelf, choices) == []
    return sum(area for _, area in plan.paper_area_mm2)


def with_spacing(outlines: list[Polygon]) -> float:
    """The area of rectangles, each with half the spacing all round it."""
    return sum(outline.buffer(SPACING / 2, join_style="mitre").area for outline in outlines)


@pytest.mark.parametrize("direction", list(Direction))
@pytest.mark.parametrize(("outlines", "most"), [(PANES, 1.11), (STRIPS, 1.17)])
def test_window_panes_and_border_strips_lie_edge_along_edge(
    outlines: list[Polygon], most: float, direction: Direction
) -> None:
    """What is lost goes to margins and to sides in steps of half an inch."""
    area = trim_area(outlines, direction, PlanChoices(rounds=each(60)))
    assert area < most * with_spacing(outlines)


def test_corners_that_are_rounded_make_no_difference() -> None:
    rounded = [outline.buffer(-1.5).buffer(1.5) for outline in PANES]
    choices = PlanChoices(rounds=each(60))
    assert trim_area(rounded, Direction.ANY, choices) <= trim_area(PANES, Direction.ANY, choices)


def test_rectangles_that_lie_askew_are_set_upright_where_the_paper_lets_them() -> None:
    askew = [affinity.rotate(outline, 37.0 * number) for number, outline in enumerate(PANES)]
    choices = PlanChoices(rounds=each(60))
    straight = trim_area(PANES, Direction.ANY, choices)
    assert trim_area(askew, Direction.ANY, choices) == pytest.approx(straight, rel=0.05)
    assert trim_area(askew, Direction.ONE_WAY, choices) > straight


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
    outlines = [box(0, 0, *part) for part in parts]
    choices = PlanChoices(trim_step_mm=None, spacing_mm=0.0, margin_mm=0.0, rounds=each(80))
    assert trim_area(outlines, direction, choices) < most * 200.0 * 150.0


def test_trims_keep_the_shape_that_is_wished() -> None:
    pieces, shelf = pieces_of(PANES), Shelf((paper(),))
    choices = PlanChoices(trim_shape=TrimShape.LONG, rounds=each(60))
    *_, plan = plans(pieces, shelf, choices, SPEED, 0)
    for trim in plan.trims:
        long, short = sorted((trim.width_mm, trim.height_mm), reverse=True)
        assert long >= 2.5 * short - 1e-6


@pytest.mark.parametrize("outlines", [[petal(30, 12)] * 4, [*PANES, shapely.Point(0, 0).buffer(9)]])
def test_other_shapes_are_not_packed_as_rectangles(outlines: list[Polygon]) -> None:
    [task] = make_tasks(pieces_of(outlines), Shelf((paper(),)), PlanChoices())
    found = next(step for step in searched(task) if step is not None)
    assert RectanglePacking(task, found.layouts[-1]).is_done
