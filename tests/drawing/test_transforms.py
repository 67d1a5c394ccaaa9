"""Transforms: SVG 1.1, 7.6 and CSS Transforms 1; viewBox and preserveAspectRatio: SVG 1.1, 7.7 and 7.8."""

import math

import pytest
from drawn import ink_of

from peekpaper.drawing.css.transform import parse_transform

SQUARE = '<rect x="10" y="10" width="20" height="10" transform="{}"/>'


@pytest.mark.parametrize(
    ("transform", "bounds"),
    [
        ("translate(5)", (15, 10, 35, 20)),
        ("translate(5,-5)", (15, 5, 35, 15)),
        ("scale(2)", (20, 20, 60, 40)),
        ("scale(.5 3)", (5, 30, 15, 60)),
        ("rotate(90 20 15)", (15, 5, 25, 25)),
        ("matrix(1 0 0 1 7 8)", (17, 18, 37, 28)),
        ("skewX(45)", (20, 10, 50, 20)),
        ("skewY(45)", (10, 20, 30, 50)),
        ("translate(50 0) rotate(90)", (30, 10, 40, 30)),
        ("translate(5),scale(2)\ttranslate( 1 , 1 )", (27, 22, 67, 42)),
        ("none", (10, 10, 30, 20)),
        ("", (10, 10, 30, 20)),
    ],
)
def test_each_transform(transform: str, bounds: tuple[float, ...]) -> None:
    assert ink_of(SQUARE.format(transform)).bounds == pytest.approx(bounds)


@pytest.mark.parametrize("transform", ["rotate(1 2)", "scale()", "spin(3)", "translate(5", "matrix(1 2 3)"])
def test_a_transform_in_error_counts_as_none(transform: str) -> None:
    assert parse_transform(transform) is None
    assert ink_of(SQUARE.format(transform)).bounds == pytest.approx((10, 10, 30, 20))


@pytest.mark.parametrize("transform", ["scale(0)", "scale(1 0)", "matrix(1 1 1 1 0 0)"])
def test_what_is_flattened_to_a_line_paints_nothing(transform: str) -> None:
    assert ink_of(SQUARE.format(transform)).is_empty


def test_css_transforms_take_units_and_go_before_the_attribute() -> None:
    body = '<rect width="10" height="10" transform="scale(9)" '
    body += 'style="transform: translateX(10px) rotate(.25turn)"/>'
    assert ink_of(body).bounds == pytest.approx((0, 0, 10, 10))


@pytest.mark.parametrize(
    ("origin", "centre"),
    [
        ("0 0", (0, 0)), ("center", (50, 50)), ("left", (0, 50)), ("top", (50, 0)),
        ("right bottom", (100, 100)), ("bottom right", (100, 100)), ("25% 10px", (25, 10)),
        ("20 30", (20, 30)),
    ],
)  # fmt: skip
def test_each_transform_origin(origin: str, centre: tuple[float, float]) -> None:
    body = f'<circle cx="50" cy="40" r="1" transform="rotate(90)" transform-origin="{origin}"/>'
    x, y = 50 - centre[0], 40 - centre[1]
    spot = ink_of(body, 'viewBox="0 0 100 100" overflow="visible"').centroid
    expected = (centre[0] - y, centre[1] + x)
    if 0 <= expected[0] <= 100 and 0 <= expected[1] <= 100:
        assert (spot.x, spot.y) == pytest.approx(expected, abs=0.6)


def test_the_origin_of_fill_box_lies_on_the_shape() -> None:
    body = '<rect x="40" y="40" width="20" height="10" transform="rotate(90)" transform-origin="center" '
    assert ink_of(body + 'style="transform-box: fill-box"/>').bounds == pytest.approx((45, 35, 55, 55))


@pytest.mark.parametrize(
    ("aspect", "bounds"),
    # A viewBox of 20 by 10 on a page of 60 by 60: meet scales by 3, slice by 6 (figure of 7.8).
    [
        ("xMinYMin", (0, 0, 60, 30)),
        ("xMidYMid", (0, 15, 60, 45)),
        ("xMaxYMax meet", (0, 30, 60, 60)),
        ("none", (0, 0, 60, 60)),
        ("none slice", (0, 0, 60, 60)),
        ("xMinYMin slice", (0, 0, 60, 60)),
        ("defer xMinYMax", (0, 30, 60, 60)),
        ("nonsense", (0, 15, 60, 45)),
    ],
)
def test_each_preserve_aspect_ratio(aspect: str, bounds: tuple[float, ...]) -> None:
    attributes = f'width="60" height="60" viewBox="0 0 20 10" preserveAspectRatio="{aspect}"'
    assert ink_of('<rect width="20" height="10"/>', attributes).bounds == pytest.approx(bounds)


@pytest.mark.parametrize(("align", "left"), [("xMin", 0), ("xMid", -30), ("xMax", -60)])
def test_slice_shows_the_part_that_the_alignment_asks_for(align: str, left: float) -> None:
    attributes = f'width="60" height="60" viewBox="0 0 20 10" preserveAspectRatio="{align}YMid slice"'
    spot = ink_of('<rect x="8" width="4" height="10"/>', attributes).bounds
    assert spot[0] == pytest.approx(max(0, left + 48))


@pytest.mark.parametrize(
    ("view_box", "is_understood"),
    [
        ("0 0 50 50", True),
        ("0,0,50,50", True),
        ("0+0+50+50", True),
        ("0 0 -5 5", False),
        ("0 0 50", False),
        ("0 050 50", False),
        ("a b c d", False),
    ],
)
def test_a_view_box_in_error_counts_as_none(view_box: str, is_understood: bool) -> None:
    area = ink_of('<rect width="50" height="50"/>', f'width="100" height="100" viewBox="{view_box}"')
    assert area.area == pytest.approx(100 * 100 if is_understood else 50 * 50)


def test_lengths_grow_with_the_root_of_the_area() -> None:
    matrix = parse_transform("scale(2 8)")
    assert matrix is not None
    assert matrix.scale == pytest.approx(4)
    assert matrix.stretch == pytest.approx(8)
    turned = parse_transform("rotate(30) scale(2) scale(-1 1)")
    assert turned is not None
    assert turned.is_similarity
    assert math.isclose(turned.stretch, 2)
