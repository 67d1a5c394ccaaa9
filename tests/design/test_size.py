import pytest
from panels import PX_PER_MM, design_of, drawing_of
from shapely import box

from peekpaper.design.design import Limits, Reading
from peekpaper.design.make import make_design, tolerance_for
from peekpaper.drawing.read import read_drawing
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
    with pytest.raises(Refusal, match="Px per inch"):
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
