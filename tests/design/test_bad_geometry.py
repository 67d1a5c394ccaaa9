"""Whatever a file draws, the answer is a valid design or a sentence; never a crash."""

import math

import numpy as np
import pytest
import shapely
from english import english
from hypothesis import given, settings
from hypothesis import strategies as st
from panels import drawing_of, lines_of, page_of
from shapely import LineString, MultiPolygon, Polygon, affinity, box

from peekpaper.design.design import Design, Habit, Limits, Reading
from peekpaper.design.make import make_design, tolerance_for
from peekpaper.drawing.drawing import Contour, Drawing, Paint, PaintedShape
from peekpaper.refusal import Refusal

coarse = st.integers(-3, 12).map(float)
"""Coordinates on a coarse grid, so that points, edges and whole shapes coincide often."""

rings = st.lists(st.tuples(coarse, coarse), min_size=3, max_size=8)
colours = st.sampled_from(["#000000", "#ffffff", "#cc3333", "#f0f0e0"])


def made(drawing: Drawing, reading: Reading | None = None) -> Design | None:
    try:
        return make_design(drawing, reading or Reading(), Limits())
    except Refusal as refusal:
        return None if str(refusal).endswith(".") else pytest.fail(f"no sentence: {refusal}")


def assert_sound(design: Design) -> None:
    assert design.card.is_valid
    assert not design.card.is_empty
    assert [opening.number for opening in design.openings] == list(range(1, len(design.openings) + 1))
    assert all(opening.area.is_valid and opening.area.area > 0 for opening in design.openings)
    rings = sum(len(part.interiors) for part in design.card.geoms)
    assert rings == len(design.openings)
    assert design.width_mm > 0 or design.height_mm > 0
    for bar in design.bars:
        assert math.isfinite(bar.width_mm)
        assert bar.strip.is_valid
    for warning in design.warnings:
        assert math.isfinite(warning.at.x + warning.at.y)
        assert english(warning.message).endswith(".")


@st.composite
def messy_shapes(draw: st.DrawFn) -> PaintedShape:
    nodes = draw(rings)
    line = LineString([*nodes, nodes[0]])
    area = shapely.make_valid(Polygon(nodes))
    parts = [part for part in shapely.get_parts(shapely.get_parts(area)) if isinstance(part, Polygon)]
    fill = Paint(MultiPolygon(parts), draw(colours), 1.0) if draw(st.booleans()) else None
    width = draw(st.sampled_from([0.0, 0.05, 1.0]))
    stroke = Paint(line.buffer(width / 2), draw(colours), 1.0) if width and line.length else None
    closed = draw(st.booleans())
    contour = Contour(line if closed else LineString(nodes), closed)
    return PaintedShape(fill, stroke, width, (contour,), None, None)


@settings(max_examples=150)
@given(shapes=st.lists(messy_shapes(), max_size=7), habit=st.sampled_from([None, *Habit]))
def test_messy_drawings_make_sound_designs_or_are_refused(shapes, habit):
    design = made(page_of(*shapes), Reading(habit=habit))
    if design is not None:
        assert_sound(design)


@settings(max_examples=40)
@given(shapes=st.lists(messy_shapes(), min_size=1, max_size=4), scale=st.sampled_from([1e-9, 1e-4, 1e4, 1e9]))
def test_huge_and_tiny_drawings_make_the_same_design_at_a_set_width(shapes, scale):
    plain = made(page_of(*shapes), Reading(width_mm=200))
    scaled = made(page_of(*[scaled_shape(shape, scale) for shape in shapes]), Reading(width_mm=200))
    assert (plain is None) == (scaled is None)
    if plain is not None and scaled is not None:
        assert_sound(scaled)
        assert len(plain.openings) == len(scaled.openings)


def scaled_shape(shape: PaintedShape, scale: float) -> PaintedShape:
    def paint(old: Paint | None) -> Paint | None:
        return old and Paint(affinity.scale(old.area, scale, scale, origin=(0, 0)), old.colour, old.alpha)

    contours = tuple(
        Contour(affinity.scale(contour.line, scale, scale, origin=(0, 0)), contour.closed)
        for contour in shape.contours
    )
    return PaintedShape(
        paint(shape.fill), paint(shape.stroke), shape.stroke_width * scale, contours, None, None
    )


@settings(max_examples=60)
@given(lines=st.lists(rings, min_size=1, max_size=8), closed=st.booleans())
def test_scribbled_lines_make_sound_designs_or_are_refused(lines, closed):
    drawn = [LineString([*nodes, nodes[0]] if closed else nodes) for nodes in lines]
    design = made(lines_of(*drawn, closed=closed), Reading(habit=Habit.CUT_LINES))
    if design is not None:
        assert_sound(design)


@pytest.mark.parametrize("distance", [0.0, 1e-12, 1e-9, 1e-6, 1e-3])
def test_openings_that_share_an_edge_or_all_but_do(distance):
    left, right = box(5, 5, 20, 30), box(20 + distance, 5, 40, 30)
    design = made(drawing_of(box(0, 0, 45, 35).difference(left).difference(right)))
    assert design is not None
    assert_sound(design)
    assert sum(opening.area.area for opening in design.openings) == pytest.approx(15 * 25 + 20 * 25, rel=1e-3)


def test_a_checkerboard_whose_openings_touch_corner_to_corner():
    card = box(-1, -1, 9, 9)
    for x in range(8):
        for y in range(x % 2, 8, 2):
            card = card.difference(box(x, y, x + 1, y + 1))
    design = made(drawing_of(card), Reading(width_mm=100))
    assert design is not None
    assert_sound(design)
    assert {"loose-bit", "touching-edges"} & {warning.code for warning in design.warnings}


def test_nested_rings_forty_deep():
    rings = [box(-r, -r, r, r).difference(box(1 - r, 1 - r, r - 1, r - 1)) for r in range(80, 2, -2)]
    design = made(drawing_of(*rings))
    assert design is not None
    assert_sound(design)
    assert len(design.loose_bits) == 38


def test_slivers_far_longer_than_wide():
    card = box(0, 0, 200, 50)
    for i in range(10):
        card = card.difference(box(5, 2 + 4 * i, 195, 2.03 + 4 * i))
    design = made(drawing_of(card))
    assert design is not None
    assert_sound(design)
    assert len(design.openings) == 10


@pytest.mark.parametrize(("width", "height"), [(0.0, 0.0), (-5.0, 10.0)])
def test_pages_of_no_size_still_show_their_design(width, height):
    shapes = drawing_of(box(0, 0, 30, 30).difference(box(5, 5, 20, 20))).shapes
    drawing = Drawing(width, height, False, 1.0, 0.01, shapes, (), ())
    design = made(drawing)
    assert design is not None
    assert_sound(design)
    assert tolerance_for(drawing, Reading()) > 0


def test_a_drawing_of_nothing_has_a_tolerance_and_no_design():
    nothing = Drawing(100, 100, True, 1.0, 0.01, (), (), ())
    assert tolerance_for(nothing, Reading()) > 0
    assert made(nothing) is None


def test_two_thousand_openings_at_random_make_a_sound_design():
    random = np.random.default_rng(3)
    holes = shapely.buffer(
        shapely.points(random.uniform(5, 995, (2000, 2))), random.uniform(1, 6, 2000), quad_segs=4
    )
    design = made(drawing_of(box(0, 0, 1000, 1000).difference(shapely.union_all(holes))))
    assert design is not None
    assert_sound(design)
