"""Strokes: SVG 2, 13.5 (width, caps, joins, dashes); areas by closed forms, and by GEOS's own buffer."""

import math

import numpy as np
import pytest
from drawn import ink_of, is_painted
from hypothesis import assume, given
from hypothesis import strategies as st
from shapely import LineString, Polygon

from peekpaper.drawing.areas.stroke import Cap, Join, Nib, stroke_area
from peekpaper.drawing.outlines.path import Polyline

LINE = '<path d="M20 50H80" stroke="#000" stroke-width="10" {}/>'
CORNER = '<path d="M20 80V20H80" fill="none" stroke="#000" stroke-width="10" {}/>'


@pytest.mark.parametrize(
    ("cap", "area"), [("butt", 600), ("square", 700), ("round", 600 + 25 * math.pi), ("odd", 600)]
)
def test_each_cap_adds_its_own_area(cap: str, area: float) -> None:
    assert ink_of(LINE.format(f'stroke-linecap="{cap}"')).area == pytest.approx(area, rel=1e-3)


@pytest.mark.parametrize(
    ("join", "area"),
    # The outer quarter of a right corner: a square, half of it, or a quarter disc.
    [("miter", 25), ("bevel", 12.5), ("round", 25 * math.pi / 4), ("arcs", 25), ("miter-clip", 25)],
)
def test_each_join_fills_its_own_part_of_a_right_corner(join: str, area: float) -> None:
    both_sides = 60 * 10 * 2 - 25
    assert ink_of(CORNER.format(f'stroke-linejoin="{join}"')).area == pytest.approx(
        both_sides + area, rel=1e-3
    )


def test_a_miter_is_as_long_as_the_limit_allows_and_else_a_bevel() -> None:
    # SVG 2, 13.5.5: miter length / stroke width = 1 / sin(angle / 2); 4 at an angle of 28.96 degrees.
    for degrees, reaches in ((29.5, True), (28.5, False)):
        turn = math.radians(degrees / 2)
        x, y = 60 * math.cos(turn), 60 * math.sin(turn)
        path = f'<path d="M{80 - x} {50 - y}L80 50L{80 - x} {50 + y}" fill="none" '
        right = ink_of(path + 'stroke="#000" stroke-width="4"/>').bounds[2]
        assert (right > 80 + 7) is reaches
        if reaches:
            assert right == pytest.approx(80 + 2 / math.sin(turn), abs=0.01)


def test_a_clipped_miter_ends_at_half_the_limit_times_the_width() -> None:
    # SVG 2, 13.5.5: clipped by a line at half the miter limit times the stroke width from the corner.
    path = '<path d="M20 45 80 50 20 55" fill="none" stroke="#000" stroke-width="4" {}/>'
    assert ink_of(path.format('stroke-linejoin="miter-clip"')).bounds[2] == pytest.approx(88, abs=0.01)
    assert ink_of(path.format('stroke-linejoin="bevel"')).bounds[2] < 81


def test_a_nib_wider_than_its_curve_sweeps_over_the_other_side_too() -> None:
    # Half a turn of radius 5: outwards to 35, and through the centre to 25 on the other side.
    body = '<path d="M45 50A5 5 0 0 1 55 50" fill="none" stroke="#000" stroke-width="60"/>'
    area = ink_of(body)
    assert area.area == pytest.approx(math.pi / 2 * (35**2 + 25**2), rel=0.03)
    assert all(is_painted(area, 50 + 24 * math.cos(a), 50 + 24 * math.sin(a)) for a in (0.3, 0.8, 1.5, 2.5))


def test_a_convex_shape_s_round_outline_grows_as_steiner_says() -> None:
    # Steiner's formula: growing by r adds P r + pi r^2; the inside loses what shrinking takes.
    shape = Polygon([(30, 30), (70, 35), (60, 70)])
    path = (
        '<path d="M30 30 70 35 60 70z" fill="#000" stroke="#000" stroke-width="6" stroke-linejoin="round"/>'
    )
    assert ink_of(path).area == pytest.approx(shape.area + shape.length * 3 + math.pi * 9, rel=3e-4)


@pytest.mark.parametrize(("cap", "area"), [("butt", 0), ("round", 25 * math.pi), ("square", 100)])
@pytest.mark.parametrize("data", ["M50 50h0", "M50 50z", "M50 50C50 50 50 50 50 50"])
def test_a_line_of_no_length_shows_its_caps_alone(data: str, cap: str, area: float) -> None:
    path = f'<path d="{data}" stroke="#000" stroke-width="10" stroke-linecap="{cap}"/>'
    assert ink_of(path).area == pytest.approx(area, rel=1e-2)


@pytest.mark.parametrize(
    ("dashes", "painted"),
    [
        ("10", [(20, 30), (40, 50), (60, 70)]),
        ("10 5", [(20, 30), (35, 45), (50, 60), (65, 75)]),
        ("10,5,20", [(20, 30), (35, 55), (65, 70), (90, 95)]),
        ("0 20", []),
        ("none", [(20, 80)]),
        ("10 -5", [(20, 80)]),
        ("0 0", [(20, 80)]),
        ("10%", [(20, 30), (40, 50), (60, 70)]),
        ("1em", [(20, 36), (52, 68)]),
        ("ten", [(20, 80)]),
    ],
)
def test_dashes(dashes: str, painted: list[tuple[float, float]]) -> None:
    area = ink_of(LINE.format(f'stroke-dasharray="{dashes}"'))
    for x in np.arange(20.5, 80, 1):
        assert is_painted(area, x, 50) is any(low < x < high for low, high in painted), x


@pytest.mark.parametrize(("offset", "first"), [("4", 26), ("-4", 34), ("24", 26), ("4%", 26)])
def test_the_dash_offset_moves_the_pattern(offset: str, first: float) -> None:
    area = ink_of(LINE.format(f'stroke-dasharray="10" stroke-dashoffset="{offset}"'))
    assert is_painted(area, first - 0.5, 50)
    assert not is_painted(area, first + 0.5, 50)


def test_path_length_scales_the_dashes() -> None:
    area = ink_of(LINE.format('pathLength="6" stroke-dasharray="1"'))
    assert [is_painted(area, x, 50) for x in (25, 35, 45, 55, 65, 75)] == [True, False] * 3


def test_the_last_dash_of_a_closed_line_joins_the_first() -> None:
    square = '<rect x="20" y="20" width="60" height="60" fill="none" stroke="#000" stroke-width="8" {}/>'
    area = ink_of(square.format('stroke-dasharray="60 0"'))
    assert is_painted(area, 17, 17)
    assert not is_painted(area, 83, 83)


def test_a_slanted_pen_draws_a_slanted_line() -> None:
    body = '<path d="M10 10V40" stroke="#000" stroke-width="2" transform="scale(5 1)"/>'
    assert ink_of(body).bounds == pytest.approx((45, 10, 55, 40))
    still = body.replace("/>", ' vector-effect="non-scaling-stroke"/>')
    assert ink_of(still).bounds == pytest.approx((49, 10, 51, 40))


def test_stroke_width_in_percent_is_of_the_diagonal() -> None:
    body = '<path d="M0 10H10" stroke="#000" stroke-width="10%"/>'
    assert ink_of(body, 'viewBox="0 0 140 20"').area == pytest.approx(100)


coordinates = st.integers(0, 40).map(float)
polylines = st.lists(st.builds(complex, coordinates, coordinates), min_size=2, max_size=8, unique=True)


@given(polylines, st.sampled_from([0.5, 2.0, 7.0, 30.0]))
def test_round_strokes_are_what_a_buffer_covers(points: list[complex], width: float) -> None:
    line = Polyline(np.array(points), np.ones(len(points), dtype=bool), closed=False)
    ours = stroke_area([line], Nib(width, Cap.ROUND, Join.ROUND), 0.001)
    theirs = LineString([(point.real, point.imag) for point in points]).buffer(width / 2, quad_segs=64)
    assert ours.is_valid
    assert ours.symmetric_difference(theirs).area < 0.01 * theirs.length


@given(polylines, st.sampled_from([0.5, 2.0, 7.0, 30.0]), st.sampled_from(Join), st.sampled_from(Cap))
def test_every_stroke_covers_its_line_and_stays_near_it(
    points: list[complex], width: float, join: Join, cap: Cap
) -> None:
    line = Polyline(np.array(points), np.ones(len(points), dtype=bool), closed=False)
    area = stroke_area([line], Nib(width, cap, join), 0.01)
    spine = LineString([(point.real, point.imag) for point in points])
    assert area.is_valid
    assert spine.difference(area.buffer(1e-6)).length < 1e-6
    # The far corners of a clipped miter lie at sqrt(4^2 + 1) half widths.
    assert area.difference(spine.buffer(width / 2 * 4.13, quad_segs=32)).area < 1e-3


@given(st.integers(3, 60), st.floats(1, 20), st.floats(0.5, 60))
def test_a_closed_curve_s_stroke_is_a_ring(count: int, radius: float, width: float) -> None:
    assume(abs(width / 2 - radius) > 0.1)
    points = radius * np.exp(2j * np.pi * np.linspace(0, 1, count + 1))
    points[-1] = points[0]
    line = Polyline(points, np.zeros(count + 1, dtype=bool), closed=True)
    area = stroke_area([line], Nib(width, Cap.BUTT, Join.MITER), 0.001)
    ring = LineString([(p.real, p.imag) for p in points]).buffer(width / 2, quad_segs=64)
    assert area.is_valid
    assert area.symmetric_difference(ring).area < 0.06 * ring.length


@pytest.mark.parametrize("turn", range(1, 180, 7))
def test_corners_hold_on_to_the_lines_that_they_join(turn: int) -> None:
    """Rounding must part neither: a card drawn with strokes would lose bits of its corners."""
    ink = ink_of(
        f'<path transform="rotate({turn} 50 50) translate(20 20) scale(0.6)" '
        'fill="none" stroke="#000" stroke-width="0.8" d="M50 20'
        "C60 0 95 -2 97 22C99 37 85 42 75 42C90 47 87 72 70 72C57 72 52 57 50 50C47 57 42 72 30 72"
        'C12 72 10 47 25 42C15 42 1 37 3 22C5 -2 40 0 50 20Z"/>'
    )
    assert isinstance(ink, Polygon)
