import pytest
from english import english
from panels import design_of, drawing_of, filled, page_of
from shapely import MultiPolygon, Polygon, affinity, box

from peekpaper.design.design import Design, DesignWarning, Limits, MatSize, Reading
from peekpaper.design.make import make_design
from peekpaper.drawing.drawing import Drawing, LeftOutKind
from peekpaper.drawing.read import read_drawing
from peekpaper.message import message


def plain() -> Polygon:
    return box(0, 0, 60, 40).difference(box(10, 10, 50, 30))


def warning_of(design: Design, code: str) -> DesignWarning:
    (warning,) = [warning for warning in design.warnings if warning.code == code]
    return warning


def test_a_sound_design_gets_no_warning():
    assert design_of(plain()).warnings == ()


def test_each_loose_bit_is_told_with_its_place():
    bits = [box(15, 15, 18, 18), box(30, 20, 31, 21)]
    design = design_of(MultiPolygon([plain(), *bits]))
    places = [warning.at for warning in design.warnings if warning.code == "loose-bit"]
    assert [bit.contains(place) for bit, place in zip(bits, places, strict=True)] == [True, True]


def test_hundreds_of_loose_bits_are_summed_up():
    bits = [box(11 + i % 35, 11 + i // 35, 11.5 + i % 35, 11.5 + i // 35) for i in range(400)]
    design = design_of(MultiPolygon([plain().difference(box(2, 10, 8, 30)), *bits]))
    assert len(design.warnings) == 51
    assert english(design.warnings[-1].message).startswith("350 more bits")


def test_thin_bars_are_drawn_as_strips_and_placed_at_the_narrowest():
    card = box(0, 0, 60, 40)
    for left, right in ((5, 20), (21.2, 40), (40.7, 55)):
        card = card.difference(box(left, 5, right, 35))
    warning = warning_of(design_of(card), "thin-bars")
    assert (
        warning.where.symmetric_difference(MultiPolygon([box(20, 5, 21.2, 35), box(40, 5, 40.7, 35)])).area
        < 0.5
    )
    assert 40 <= warning.at.x <= 40.7
    assert english(warning.message).startswith("2 bars are")
    assert "0.7 mm" in english(warning.message)


def test_the_width_that_a_thin_bar_asks_for_mends_it():
    card = box(0, 0, 60, 40).difference(box(5, 5, 29.5, 35)).difference(box(30.5, 5, 55, 35))
    drawing = drawing_of(card)
    warning = warning_of(make_design(drawing, Reading(), Limits()), "thin-bars")
    assert "91 mm wide" in english(warning.message)
    assert make_design(drawing, Reading(width_mm=91), Limits()).warnings == ()


def test_a_wedge_is_drawn_only_where_it_is_thin():
    card = box(0, 0, 60, 40).difference(Polygon([(5, 5), (29.8, 5), (20, 35), (5, 35)]))
    card = card.difference(Polygon([(30.2, 5), (55, 5), (55, 35), (40, 35)]))
    strip = warning_of(design_of(card), "thin-bars").where
    assert strip.bounds[3] < 8


def test_openings_under_the_limit_are_shown():
    card = plain().difference(box(55, 20, 57, 21.9)).difference(box(2, 20, 4, 22.1))
    warning = warning_of(design_of(card, Limits(opening_mm2=4.0)), "small-openings")
    assert warning.where.area == pytest.approx(3.8)
    assert warning.action == "leave-open"


def test_edges_that_touch_are_the_cards_end():
    card = box(0, 0, 60, 40).difference(box(5, 5, 20, 20)).difference(box(20, 20, 50, 35))
    warning = warning_of(design_of(card), "touching-edges")
    assert (warning.at.x, warning.at.y) == (pytest.approx(20), pytest.approx(20))
    assert warning.severity == 3


def test_parts_that_nothing_holds_together_are_told():
    design = design_of(MultiPolygon([plain(), box(70, 0, 80, 10)]))
    assert warning_of(design, "separate-parts").where.area == pytest.approx(100)


@pytest.mark.parametrize(("width", "height", "fits"), [(300, 250, True), (250, 300, True), (310, 100, False)])
def test_a_design_larger_than_the_mat_is_told_either_way_up(width, height, fits):
    card = box(0, 0, width, height).difference(box(50, 30, 90, 70))
    design = make_design(drawing_of(card), Reading(), Limits(), mat=MatSize(304.8, 254))
    codes = {warning.code for warning in design.warnings}
    assert ("larger-than-mat" not in codes) == fits


@pytest.mark.parametrize(("side", "is_told"), [(3, True), (19.9, True), (21, False)])
def test_a_card_too_small_for_anybody_is_told_though_the_file_says_so(side, is_told):
    card = box(0, 0, side, side / 2).difference(box(0.2 * side, 0.1 * side, 0.8 * side, 0.4 * side))
    codes = {warning.code for warning in design_of(card).warnings}
    assert ("very-small" in codes) == is_told


def test_parts_beyond_the_page_are_shown():
    drawing = drawing_of(plain())
    small = Drawing(drawing.width / 2, drawing.height, True, 1.0, 0.01, drawing.shapes, (), ())
    warning = warning_of(make_design(small, Reading(), Limits()), "off-the-page")
    assert warning.where.bounds == pytest.approx((30, 0, 60, 40), abs=1e-3)


def test_what_was_left_out_and_mended_while_reading_is_passed_on():
    drawing = page_of(filled(plain()))
    told = Drawing(
        drawing.width, drawing.height, True, 1.0, 0.01, drawing.shapes,
        (LeftOutKind("text", 2, message("left-out.text", count=2)),), (message("notice.broken-off"),),
    )  # fmt: skip
    messages = [warning.message for warning in make_design(told, Reading(), Limits()).warnings]
    assert messages == [message("left-out.text", count=2), message("notice.broken-off")]


def test_what_was_left_out_is_shown_where_it_would_lie():
    body = (
        '<rect x="5" y="5" width="190" height="90"/><text x="50" y="50" font-size="10">Hello</text>'
        '<g transform="translate(100 0)"><image x="10" y="10" width="30" height="20" href="a.png"/></g>'
        '<filter id="f"><feGaussianBlur/></filter><g filter="url(#f)"><circle cx="60" cy="70" r="5"/></g>'
        '<pattern id="p" width="2" height="2"/><rect x="80" y="60" width="10" height="10" fill="url(#p)"/>'
    )
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">'
    drawing = read_drawing(f"{head}{body}</svg>".encode())
    warnings = make_design(drawing, Reading(), Limits()).warnings
    # The card's corner, at 5 by 5 mm on the page, is the origin of the design.
    places = [warning.where.bounds for warning in warnings if warning.code == "left-out"]
    text, *others = places
    assert text[:2] == pytest.approx((45, 37), abs=0.1)
    assert text[3] == pytest.approx(47, abs=0.1)
    assert others == [
        pytest.approx(box, abs=0.1) for box in [(105, 5, 135, 25), (50, 60, 60, 70), (75, 55, 85, 65)]
    ]


def test_a_card_without_openings_says_what_to_try():
    warning = warning_of(design_of(box(0, 0, 50, 50)), "no-openings")
    assert warning.action == "change-habit"


def test_filled_contours_that_cross_themselves_or_lie_double_are_told():
    bow = Polygon([(20, 12), (30, 28), (30, 12), (20, 28)]).buffer(0)
    crossed = filled(affinity.translate(bow, 50, 0))
    lines = [contour.line for contour in filled(Polygon([(70, 12), (80, 28), (80, 12), (70, 28)])).contours]
    contours = tuple(type(crossed.contours[0])(line, True) for line in lines)
    shape = type(crossed)(crossed.fill, None, 0.0, contours, None, None)
    design = make_design(page_of(filled(plain()), filled(plain()), shape), Reading(), Limits())
    assert {"crossing-contours", "doubled-contours"} <= {warning.code for warning in design.warnings}


def test_the_worst_comes_first():
    card = plain().difference(box(55, 20, 57, 21.9)).difference(box(51, 12, 54, 16))
    design = design_of(MultiPolygon([card, box(20, 20, 25, 25)]))
    severities = [warning.severity for warning in design.warnings]
    assert severities == sorted(severities, reverse=True)
    assert len(set(severities)) == 3


def test_every_place_lies_on_the_design():
    card = plain().difference(box(55, 20, 57, 21.9)).difference(box(51, 5, 52, 8))
    design = design_of(MultiPolygon([card, box(20, 20, 25, 25)]))
    for warning in design.warnings:
        assert box(0, 0, design.width_mm, design.height_mm).covers(warning.at)


def test_the_figures_of_a_warning_are_those_of_its_sentence():
    card = box(0, 0, 60, 40)
    for left, right in ((5, 20), (21.2, 40), (40.7, 55)):
        card = card.difference(box(left, 5, right, 35))
    warning = warning_of(design_of(card), "thin-bars")
    assert warning.message.figures["count"] == 2
    assert warning.message.figures["narrowest_mm"] == pytest.approx(0.7)
    assert f"{warning.message.figures['wanted_least_mm']} mm wide" in english(warning.message)


def test_at_the_width_that_thin_bars_want_none_is_thin():
    """At the width that the narrowest of them wants, a bar of next to no width becomes a thin one."""
    card = box(0, 0, 20, 10)
    for left, right in ((1, 5), (5.3, 9), (9.045, 14)):
        card = card.difference(box(left, 2, right, 8))
    limits = Limits(bar_mm=0.6)
    warning = warning_of(design_of(card, limits), "thin-bars")
    scale = warning.message.figures["wanted_least_mm"] / 20
    larger = design_of(affinity.scale(card, scale, scale, origin=(0, 0)), limits)
    assert "thin-bars" not in {other.code for other in larger.warnings}
    assert "touching-edges" not in {other.code for other in larger.warnings}


def test_no_width_beyond_the_mat_is_advised():
    card = box(0, 0, 60, 40).difference(box(5, 5, 20, 35)).difference(box(20.06, 5, 55, 35))
    warning = warning_of(design_of(card), "thin-bars")
    assert "wanted_least_mm" not in warning.message.figures
    assert "wide" not in english(warning.message)
    assert warning.action is None
