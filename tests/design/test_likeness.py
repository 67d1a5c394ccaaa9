"""What looks alike to the eye: traced petals, mirrored wings, and what must stay apart."""

from collections import Counter
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from panels import design_of
from shapely import Point, Polygon, affinity, box

from peekpaper.design.openings.likeness import likeness, looked_alike
from peekpaper.geometry.symmetry import Symmetry, symmetries


def petal() -> Polygon:
    """A shape without any symmetry, some 20 mm long."""
    return Polygon([(14, -3), (24, -5), (33, -1), (34, 4), (25, 6), (16, 3)])


def traced(outline: Polygon, stray: float, seed: int) -> Polygon:
    """The outline as an unsteady hand draws it: points strayed by so many mm, and joined smoothly."""
    random = np.random.default_rng(seed)
    points = shapely.get_coordinates(outline.segmentize(2.0))[:-1]
    return Polygon(points + random.uniform(-stray, stray, points.shape)).buffer(0.4).buffer(-0.4)


def rosette(count: int, stray: float, seed: int = 1, mirrors: bool = False) -> list[Polygon]:
    """A ring of traced petals, every second one mirrored if asked, about the origin."""
    petals = []
    for turn in range(count):
        one = affinity.scale(petal(), 1, -1, origin=(0, 0)) if mirrors and turn % 2 else petal()
        placed = affinity.rotate(one, 360 / count * turn, origin=(0, 0))
        petals.append(traced(placed, stray, seed + turn))
    return petals


def groups_of(openings: list[Polygon], degree: int) -> list[int]:
    """Sizes of the groups at a degree of likeness, the largest first."""
    card = box(-60, -60, 60, 60).difference(shapely.union_all(openings))
    groups = likeness(design_of(card).openings).groups[degree]
    return sorted(Counter(groups).values(), reverse=True)


@pytest.mark.parametrize("mirrors", [False, True])
def test_twelve_traced_petals_are_one_kind_though_no_two_are_congruent(mirrors: bool):
    openings = rosette(12, stray=0.7, mirrors=mirrors)
    assert groups_of(openings, 0) == [1] * 12
    assert groups_of(openings, 1) == [12]


def test_wings_that_a_slanting_mirror_lays_on_one_another_are_pairs():
    left = [affinity.translate(petal(), 0, 12 * row) for row in range(-1, 2)]
    left = [affinity.scale(wing, 1 - 0.2 * row, 1 - 0.2 * row) for row, wing in enumerate(left)]
    right = [affinity.scale(wing, -1, 1, origin=(0, 0)) for wing in left]
    both = [traced(affinity.rotate(wing, 37, origin=(0, 0)), 0.4, at) for at, wing in enumerate(left + right)]
    assert groups_of(both, 1) == [2, 2, 2]


def test_slats_that_grow_from_a_mirror_are_paired_with_their_own_images_alone():
    slats = [
        affinity.translate(box(0, -6 - 0.7 * at, 2, 6 + 0.7 * at), side * (6 + 5 * at) - 1, 0)
        for side in (-1, 1)
        for at in range(6)
    ]
    # A crumb at one side takes the middle of the whole half a step aside, where neighbours seem to be images.
    openings = [traced(slat, 0.05, at) for at, slat in enumerate(slats)] + [Point(37, 0).buffer(0.5)]
    assert groups_of(openings, 1) == [2] * 6 + [1]


def test_what_no_symmetry_pairs_is_alike_once_outlines_may_stray():
    random = np.random.default_rng(4)
    places = [(-40, -30), (5, -38), (-12, 2), (38, 20), (-36, 34), (16, 44)]
    openings = [
        traced(affinity.translate(affinity.rotate(petal(), random.uniform(0, 360)), x - 24, y), 0.3, at)
        for at, (x, y) in enumerate(places)
    ]
    assert groups_of(openings, 1) == [1] * 6
    assert groups_of(openings, 3) == [6]


def test_a_disc_a_square_and_a_sliver_do_not_look_alike():
    openings = [Point(-30, 18).buffer(12), box(10, -30, 31, -10), box(-50, 40, 50, 44)]
    assert groups_of(openings, 3) == [1, 1, 1]


@settings(max_examples=40, deadline=None)
@given(angle=st.floats(0, 6.28), mirrors=st.booleans(), shift=st.floats(-50, 50), seed=st.integers(0, 10**6))
def test_a_symmetry_is_laid_where_most_of_what_it_pairs_lies(
    angle: float, mirrors: bool, shift: float, seed: int
):
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    linear = turn @ np.diag([1.0, -1.0 if mirrors else 1.0])
    true = Symmetry(np.zeros(2), linear, np.array([shift, 3.0]))
    points = np.random.default_rng(seed).uniform(-80, 80, (6, 2))
    rough = Symmetry(np.array([1.0, 2.0]), np.diag([1.0, -1.0 if mirrors else 1.0]), np.zeros(2))
    laid = rough.fitted(points, true.moved(points))
    assert np.abs(laid.moved(points) - true.moved(points)).max() < 1e-6


def test_what_symmetry_pairs_tells_how_close_likeness_is_usual():
    def usual(openings: list[Polygon]) -> int:
        return likeness(
            design_of(box(-60, -60, 60, 60).difference(shapely.union_all(openings))).openings
        ).usual

    scattered = [
        traced(affinity.rotate(petal(), 100 * at, origin=(18 - 3 * at, 5 * at)), 0.3, at) for at in range(4)
    ]
    assert usual(rosette(6, 0.0)) < usual(rosette(6, 0.7)) < usual(scattered)


def test_no_openings_have_no_groups():
    assert set(likeness([]).groups) == {()}


@settings(max_examples=25, deadline=None)
@given(count=st.integers(2, 9), stray=st.floats(0, 1.5), seed=st.integers(0, 10**6), lone=st.booleans())
def test_groups_are_nested_and_bear_the_number_of_their_first_opening(
    count: int, stray: float, seed: int, lone: bool
):
    openings = rosette(count, stray, seed) + ([Point(45, 45).buffer(5)] if lone else [])
    design = design_of(box(-60, -60, 60, 60).difference(shapely.union_all(openings)))
    degrees = likeness(design.openings).groups
    assert degrees[0] == tuple(opening.alike for opening in design.openings)
    for closer, looser in pairwise(degrees):
        assert len(set(zip(closer, looser, strict=True))) == len(set(closer))
    for groups in degrees:
        for group in set(groups):
            assert design.openings[groups.index(group)].alike == group
        assert [opening.alike for opening in looked_alike(design, groups).openings] == list(groups)


@settings(max_examples=25, deadline=None)
@given(fold=st.integers(2, 12), angle=st.floats(0, 360))
def test_the_turns_of_a_figure_are_found_wherever_it_is_turned(fold: int, angle: float):
    figure = [affinity.rotate(petal(), angle + 360 / fold * turn, origin=(0, 0)) for turn in range(fold)]
    shapes = np.array(figure, dtype=object)
    whole = shapely.union_all(shapes)
    turns = [each for each in symmetries(shapes) if np.linalg.det(each.linear) > 0]
    assert turns
    best = affinity.rotate(whole, 360 / fold, origin=(0, 0))
    laid = [shapely.transform(whole, each.moved) for each in turns]
    assert min(shapely.hausdorff_distance(best, each) for each in laid) < 0.5


def test_nothing_to_see_has_no_symmetry():
    assert symmetries(np.array([], dtype=object)) == ()
