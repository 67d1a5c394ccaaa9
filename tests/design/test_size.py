import math

import pytest
from panels import PX_PER_MM, design_of, drawing_of
from shapely import box

from peekpaper.design.design import Limits, Reading
from peekpaper.design.habits import Sheet
from peekpaper.design.make import designs, make_design
from peekpaper.design.size import first_tolerance, tolerance_for
from peekpaper.drawing.read import read_drawing
from peekpaper.pipeline import Pipeline
from peekpaper.project.document import new_project
from peekpaper.refusal import Refusal

FRAME = box(0, 0, 96, 48).difference(box(12, 12, 84, 36))


def test_a_physical_size_is_kept():
    """An inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""
    svg = (
        b'<svg xmlns="http://www.w3.org/2000/svg" width="4in" height="2in" viewBox="0 0 400 200">'
        b'<path fill-rule="evenodd" d="M0 0h400v200h-400zM50 50h300v100h-300z"/></svg>'
    )
    design = make_design(read_drawing(svg, 0.05), Reading(), Limits())
    assert (design.width_mm, design.height_mm) == (pytest.approx(101.6), pytest.approx(50.8))
    assert not design.size_is_a_guess


@pytest.mark.parametrize(
    ("px_per_inch", "width_mm"), [(96, 25.4), (72, 25.4 * 96 / 72), (90, 25.4 * 96 / 90)]
)
def test_px_alone_are_a_guess_at_so_many_px_per_inch(px_per_inch, width_mm):
    """96 px make an inch (W3C CSS Values and Units); older programs wrote 72 or 90."""
    drawing = drawing_of(box(0, 0, 25.4, 25.4).difference(box(5, 5, 20, 20)), physical=False)
    design = make_design(drawing, Reading(px_per_inch=px_per_inch), Limits())
    assert design.width_mm == pytest.approx(width_mm)
    assert design.size_is_a_guess
    assert "size-is-a-guess" in {warning.code for warning in design.warnings}


@pytest.mark.parametrize("reading", [Reading(width_mm=200), Reading(height_mm=100)])
def test_a_set_width_or_height_gives_the_whole_size(reading):
    design = make_design(drawing_of(FRAME, physical=False), reading, Limits())
    assert (design.width_mm, design.height_mm) == (pytest.approx(200), pytest.approx(100))
    assert not design.size_is_a_guess


def test_the_card_lies_at_the_origin_wherever_the_file_draws_it():
    design = design_of(box(30, 50, 60, 80).difference(box(40, 60, 50, 70)))
    assert design.card.bounds == pytest.approx((0, 0, 30, 30))


def test_openings_scale_with_the_design():
    one, ten = (make_design(drawing_of(FRAME), Reading(width_mm=width), Limits()) for width in (50, 500))
    assert ten.openings[0].area.area == pytest.approx(100 * one.openings[0].area.area)
    assert ten.bars[0].width_mm == pytest.approx(10 * one.bars[0].width_mm)


def test_the_tolerance_is_a_fiftieth_of_a_millimetre_at_the_finished_size():
    assert tolerance_for(drawing_of(FRAME), Reading()) == pytest.approx(0.02 * PX_PER_MM)
    assert tolerance_for(drawing_of(FRAME), Reading(width_mm=960)) == pytest.approx(0.002 * PX_PER_MM)


@pytest.mark.parametrize("width", [0.0, -5.0, float("nan"), float("inf")])
@pytest.mark.parametrize("name", ["width_mm", "height_mm"])
def test_a_size_that_is_none_is_refused(name, width):
    with pytest.raises(Refusal, match="larger than zero"):
        make_design(drawing_of(FRAME), Reading(**{name: width}), Limits())


@pytest.mark.parametrize("px", [0.0, -96.0, float("nan")])
def test_px_per_inch_must_be_above_zero(px):
    with pytest.raises(Refusal, match="dots to an inch"):
        make_design(drawing_of(FRAME, physical=False), Reading(px_per_inch=px), Limits())


def test_a_size_at_which_nothing_could_be_cut_is_refused():
    with pytest.raises(Refusal, match="larger finished width"):
        make_design(drawing_of(FRAME), Reading(width_mm=0.01), Limits())


@pytest.mark.parametrize("width", [5001.0, 99_999_999.0])
def test_a_size_that_no_table_holds_is_refused_before_it_takes_all_memory(width):
    with pytest.raises(Refusal, match="5 m is the most"):
        make_design(drawing_of(FRAME), Reading(width_mm=width), Limits())


@pytest.mark.parametrize("width", [0.5, 5000.0])
def test_odd_sizes_still_make_a_design(width):
    design = make_design(drawing_of(FRAME), Reading(width_mm=width), Limits())
    assert design.width_mm == pytest.approx(width)
    assert len(design.openings) == 1


DEFAULT = Reading()


def width_of(attributes, reading=DEFAULT, side=400):
    """Return the width of a square card with a hole as wide as its page of `side`."""
    hole = f"M{side / 4} {side / 4}h{side / 2}v{side / 2}h{-side / 2}z"
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" xmlns:tool="https://example.org/tool" {attributes}>'
        f'<path fill-rule="evenodd" d="M0 0h{side}v{side}h{-side}z{hole}"/></svg>'
    )
    drawing = read_drawing(svg.encode(), 0.05)
    design = make_design(drawing, reading, Limits())
    assert design.size_is_a_guess is (reading.width_mm is None)
    return design.width_mm


@pytest.mark.parametrize(
    ("attributes", "px_per_inch"),
    [
        ('width="400" height="400"', 96),
        ('width="400" height="400" tool:version="0.48.2 r9819"', 90),
        ('width="400" height="400" tool:version="0.91"', 90),
        ('width="400" height="400" tool:version="0.92.4 (5da689c313)"', 96),
        ('width="400" height="400" tool:version="1.2"', 96),
        ('width="400px" height="400px" enable-background="new 0 0 400 400"', 72),
        ('viewBox="0 0 400 400" style="enable-background:new 0 0 400 400;"', 72),
        ('viewBox="0 0 400 400" enable-background="new 0 0 400 400" tool:version="0.48"', 90),
    ],
)
def test_px_are_as_large_as_the_program_that_wrote_the_file_meant_them(attributes, px_per_inch):
    assert width_of(attributes) == pytest.approx(400 / px_per_inch * 25.4)
    assert width_of(attributes, Reading(px_per_inch=100)) == pytest.approx(101.6)


@pytest.mark.parametrize("side", [1, 24, 3000])
def test_px_that_make_no_usual_size_make_one_to_start_from(side):
    attributes = f'width="100%" height="100%" viewBox="0 0 {side} {side}"'
    assert width_of(attributes, side=side) == pytest.approx(200)
    assert width_of(attributes, Reading(width_mm=50), side=side) == pytest.approx(50)


@pytest.mark.parametrize(
    ("side", "usual"),
    [(400, [96, 90, 72]), (1120, [96]), (1200, []), (3000, []), (1, []), (60, []), (150, [72])],
)
def test_only_px_that_give_a_usual_size_are_offered(side, usual):
    """A mat of 12 in holds 1152 px of 1/96 in; what is under 50 mm was hardly meant."""
    width = side * 25.4 / 96
    card = box(0, 0, width, width).difference(box(width / 4, width / 4, width / 2, width / 2))
    drawing = drawing_of(card, physical=False)
    assert list(make_design(drawing, Reading(), Limits()).usual_px_per_inch) == usual


def test_curves_are_as_fine_as_the_size_to_start_from_asks_for():
    """A circle of 100 mm across out of 1 px has an area of pi / 4 of its box, within a fiftieth of a mm."""
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1 1"><path fill-rule="evenodd" '
        'd="M0 0h1v1h-1z M.25 .5a.25 .25 0 0 0 .5 0a.25 .25 0 0 0 -.5 0z"/></svg>'
    )
    (hole,) = Pipeline().design(new_project("ring.svg", svg)).openings
    assert hole.area.area == pytest.approx(math.pi * 50**2, rel=2 * 0.02 / 50)


def test_what_is_drawn_is_read_once_for_all_sizes():
    sheet = Sheet(drawing_of(FRAME))
    for width_mm in (30.0, 200.0):
        reading = Reading(width_mm=width_mm)
        *_, kept = designs(sheet, reading, Limits())
        assert kept == make_design(sheet.drawing, reading, Limits())
    assert len(sheet.meant) == 1


@pytest.mark.parametrize("side", [0.4, 24, 3000])
def test_curves_are_flattened_once_for_all_sizes_up_to_a_mat(side):
    curves = f"M0 {side / 2}C0 0 {side} 0 {side} {side / 2}C{side} {side} 0 {side} 0 {side / 2}"
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {side} {side}"><path d="{curves}"/></svg>'
    drawing = read_drawing(svg.encode(), first_tolerance)
    for width_mm in (None, 40, 304.8):
        assert tolerance_for(drawing, Reading(width_mm=width_mm)) >= drawing.tolerance * (1 - 1e-9)
