"""Units and percentages: SVG 1.1, 7.10 and CSS Values and Units 4, chapters 5 and 6."""

import pytest
from drawn import drawing_of, ink_of


@pytest.mark.parametrize(
    ("written", "px"),
    [
        ("48", 48), ("48px", 48), ("0.5in", 48), ("1.27cm", 48), ("12.7mm", 48), ("50.8Q", 48), ("36pt", 48),
        ("3pc", 48), ("3em", 48), ("6ex", 48), ("3rem", 48), ("48%", 48), ("48vw", 48), ("48VH", 48),
        ("48vmin", 48), ("48vmax", 48), ("48vi", 48), ("48vb", 48), ("6rex", 48),
        ("4.8e1", 48), ("+48", 48), (" 48 ", 48),
    ],
)  # fmt: skip
def test_a_width_in_each_unit(written: str, px: float) -> None:
    assert ink_of(f'<rect width="{written}" height="10"/>').area == pytest.approx(px * 10)


@pytest.mark.parametrize("written", ["48 px", "48parsec", "", "a", "4,8", "1e999", "-5"])
def test_widths_that_are_none_paint_nothing(written: str) -> None:
    assert ink_of(f'<rect width="{written}" height="10"/>').is_empty


@pytest.mark.parametrize("unit", ["ch", "ic", "cap", "lh", "rlh", "rch", "ric", "rcap"])
def test_units_that_need_a_font_are_named_as_left_out(unit: str) -> None:
    drawing = drawing_of(f'<rect width="5{unit}" height="10"/>')
    assert [left_out.kind for left_out in drawing.left_out] == ["font-unit"]


def test_inline_and_block_are_along_the_width_and_the_height() -> None:
    box = ink_of('<rect x="5vi" y="5vb" width="30vb" height="30vi"/>', 'viewBox="0 0 200 100"').bounds
    assert box == pytest.approx((10, 5, 40, 65))


def test_percentages_are_of_the_width_the_height_and_the_diagonal() -> None:
    # SVG 1.1, 7.10: others are of sqrt(width^2 + height^2) / sqrt(2).
    box = ink_of('<rect x="10%" y="10%" width="50%" height="50%"/>', 'viewBox="0 0 200 100"').bounds
    assert box == pytest.approx((20, 10, 120, 60))
    disc = ink_of('<circle cx="50%" cy="50%" r="10%"/>', 'viewBox="0 0 140 20"').bounds
    assert disc[2] - disc[0] == pytest.approx(2 * 10, abs=0.01)


def test_em_follows_the_font_size_of_the_element_and_rem_of_the_root() -> None:
    body = '<g font-size="2em"><rect font-size="50%" width="1em" height="1rem"/></g>'
    assert ink_of(body, 'viewBox="0 0 100 100" font-size="10"').bounds == pytest.approx((0, 0, 10, 10))


@pytest.mark.parametrize(
    ("attributes", "size", "is_physical"),
    [
        ('width="2in" height="25.4mm"', (192, 96), True),
        ('width="100" height="50"', (100, 50), False),
        ('viewBox="0 0 30 40"', (30, 40), False),
        ('viewBox="0 0 30 40" width="60mm"', (60 / 25.4 * 96, 80 / 25.4 * 96), True),
        ('viewBox="0 0 30 40" height="20"', (15, 20), False),
        ('viewBox="0 0 30 40" width="100%" height="100%"', (30, 40), False),
        ('style="width: 60mm; height: 30mm" width="10" height="20"', (60 / 25.4 * 96, 30 / 25.4 * 96), True),
        ('style="width: 100%; height: auto" width="2in" height="1in"', (192, 96), True),
        ('style="width: calc(2in - 3 * 4px); height: calc((10px + 20px) / 3)"', (180, 10), True),
        ("", (50, 60), False),
    ],
)
def test_the_page_s_size(attributes: str, size: tuple[float, float], is_physical: bool) -> None:
    drawing = drawing_of('<rect x="10" y="20" width="40" height="40"/>', attributes)
    assert (drawing.width, drawing.height) == pytest.approx(size)
    assert drawing.has_physical_size is is_physical


@pytest.mark.parametrize(
    ("written", "px"),
    [
        ("calc(2px * 3 + 4px)", 10), ("calc(50% - 30px)", 20), ("calc(1em + (2em - 1em)/2)", 24),
        ("calc(calc(1in) / 96 * 7)", 7), ("CALC(5px)", 5),
    ],
)  # fmt: skip
def test_calculated_lengths(written: str, px: float) -> None:
    # CSS Values and Units 4, 10.1.
    line = f'<path d="M0 50H10" style="stroke: red; stroke-width: {written}"/>'
    assert ink_of(line).area == pytest.approx(10 * px)


@pytest.mark.parametrize("written", ["calc(1px + )", "calc(2px * 3px)", "calc(1px / 0)", "calc()"])
def test_calculations_in_error_count_as_not_declared(written: str) -> None:
    line = f'<path d="M0 50H10" stroke="red" stroke-width="4" style="stroke-width: {written}"/>'
    assert ink_of(line).area == pytest.approx(10 * 4)


def test_a_sheet_sets_the_page_s_size() -> None:
    drawing = drawing_of("<style>svg { width: 3in; height: 2in }</style>", 'viewBox="0 0 30 20"')
    assert (drawing.width, drawing.height) == pytest.approx((288, 192))


def test_a_drawing_tells_how_many_units_of_its_view_box_make_a_px() -> None:
    drawing = drawing_of('<rect width="9" height="9"/>', 'viewBox="0 0 720 720" width="10in" height="10in"')
    assert drawing.view_box_units == pytest.approx(0.75)
