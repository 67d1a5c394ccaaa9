"""What is drawn is not lost by the way a file is read."""

import pytest
from shapely import Point, box
from test_habits import LINES, WINDOW, design_from

from peekpaper.design.design import Habit, Reading
from peekpaper.design.habits import Sheet
from peekpaper.design.possible import possible_readings
from peekpaper.drawing.read import read_drawing


def test_a_picture_of_thin_rings_keeps_its_rings():
    """Were it read as openings in a page, all rings but the outermost would be gone."""
    rings = "".join(
        f'<circle cx="30" cy="20" r="{radius}" fill="none" stroke="#000" stroke-width="1.2"/>'
        for radius in range(3, 19, 3)
    )
    design = design_from(f'{rings}<path stroke="#000" stroke-width="1.2" d="M12 20h36M30 2v36"/>')
    assert design.habits[0] is Habit.SOLIDS
    assert len(design.openings) == 24


def test_one_closed_outline_is_the_card_and_no_hole_in_a_page():
    design = design_from(f'<path {LINES} d="M10 5h40v15l-8 4l8 4v8h-40z"/>')
    assert design.habits[0] is Habit.CUT_LINES
    assert design.width_mm == pytest.approx(40)


def test_a_body_in_several_colours_is_kept_whole():
    body = "".join(
        f'<rect x="{x}" y="8" width="12" height="24" fill="{colour}"/>'
        for x, colour in ((6, "#2d5016"), (18, "#447821"), (30, "#5aa02c"), (42, "#71c837"))
    )
    assert design_from(body).card.area == pytest.approx(48 * 24)


def test_all_colours_but_one_can_be_the_card():
    body = (
        '<rect width="30" height="40" fill="#c33"/><rect x="30" width="30" height="40" fill="#36c"/>'
        '<path fill="#fc3" d="M10 10h10v20h-10z M40 10h10v20h-10z"/>'
    )
    design = design_from(body, Reading(opening_colour="#ffcc33"))
    assert design.habits[0] is Habit.ALL_BUT
    assert [opening.given_colour for opening in design.openings] == ["#ffcc33", "#ffcc33"]
    assert design.card.symmetric_difference(
        box(0, 0, 60, 40) - box(10, 10, 20, 30) - box(40, 10, 50, 30)
    ).area == pytest.approx(0, abs=1e-6)


def test_a_choice_gives_the_card_that_was_shown_for_it():
    svg = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">'
        f'<path fill="#222" d="{WINDOW}"/><path fill="#c33" d="M5 5h20v30h-20z"/>'
        '<path fill="#36c" d="M35 5h20v30h-20z M40 10v20h5v-20z"/></svg>'
    )
    drawing = read_drawing(svg.encode(), 0.05)
    shown = list(possible_readings(Sheet(drawing)))
    assert (shown[0].habit, shown[0].card_colour) == (Habit.LAYERS, "#222222")
    assert len({(each.habit, each.card_colour, each.opening_colour) for each in shown}) == len(shown)


def test_a_fine_line_around_filled_shapes_is_no_colour_of_its_own():
    leaves = "".join(
        f'<path fill="#222" stroke="#c33" stroke-width="0.1" d="M{x} 4h16v32h-16z M{x + 4} 8v24h8v-24z"/>'
        for x in (4, 20, 36)
    )
    design = design_from(leaves)
    assert (design.habits[0], design.colours) == (Habit.SOLIDS, ("#222222",))
    assert len(design.openings) == 3


def test_a_dial_in_a_line_is_a_card_whose_ticks_are_openings():
    """Lines beside the dials don't make one of the page."""
    dials = "".join(
        f'<circle cx="{x}" cy="15" r="13" fill="none" stroke="#000" stroke-width="0.3"/>'
        + "".join(f'<path d="M{x + step} 8h1v6h-1z"/>' for step in range(-8, 8, 2))
        for x in (15, 45)
    )
    design = design_from(dials + '<path d="M5 34h50v.3h-50z"/>', Reading(Habit.INVERTED))
    assert (len(design.card.geoms), len(design.openings)) == (2, 16)


def test_a_thin_line_around_other_ink_does_not_swallow_it():
    blocks = "".join(f'<path d="M{x} {y}h5v5h-5z"/>' for x in (4, 12, 44, 52) for y in (4, 12, 20, 28))
    ring = '<circle cx="30" cy="20" r="9" fill="none" stroke="#000" stroke-width="0.6"/>'
    design = design_from(blocks + ring + '<path d="M27 17h6v6h-6z"/>', Reading(Habit.INVERTED))
    assert len(design.openings) == 17
    (bit,) = design.loose_bits
    assert bit.area.interiors


def test_a_body_in_one_stroke_is_no_sheet_behind_its_face():
    body = '<path d="M58 20C58 2 2 2 2 20C2 38 50 38 56 26l1 1C50 42 1 40 1 20C1 0 59 0 59 20z"/>'
    face = "".join(f'<path d="M{x} 12h4v4h-4z"/>' for x in (20, 30, 40))
    design = design_from(body + face)
    assert not not_read(design)
    assert design.width_mm > 55


def test_parts_side_by_side_with_openings_of_their_own_are_no_openings_of_the_page():
    parts = "".join(f'<path {LINES} d="M{x} 5h10v30h-10z"/>' for x in (2, 14, 26, 38))
    design = design_from(parts + f'<path {LINES} d="M4 10h6v6h-6z M28 10h6v6h-6z"/>')
    assert design.habits[0] is Habit.CUT_LINES
    assert (len(design.card.geoms), len(design.openings)) == (4, 2)


def test_what_is_drawn_within_a_coloured_opening_is_told():
    frame = '<path d="M2 2h56v36h-56z M8 8v24h20v-24z M32 8v24h20v-24z" fill="#222222" fill-rule="evenodd"/>'
    panes = '<path d="M8 8h20v24h-20z M32 8h20v24h-20z" fill="#cc3333"/>'
    plain = design_from(panes + frame, Reading(Habit.LAYERS, "#222222"))
    starred = design_from(panes + '<path d="M14 14h8v8h-8z" fill="#3366cc"/>' + frame, Reading(Habit.LAYERS))
    assert not not_read(plain)
    (where,) = not_read(starred)
    assert where.centroid.distance(Point(16, 16)) < 2
    assert [opening.given_colour for opening in starred.openings] == ["#cc3333", "#cc3333"]


def not_read(design):
    """Return where a design's file draws what its reading leaves out."""
    return [warning.where for warning in design.warnings if warning.code == "not-read"]


def test_a_colour_beside_the_card_is_told_of_with_its_place():
    card = '<path fill="#222" fill-rule="evenodd" d="M2 2h38v36h-38z M6 6h10v10h-10z M20 20h10v10h-10z"/>'
    shown = '<path fill="#36c" d="M6 6h10v10h-10z"/>'
    beside = '<path fill="#c33" d="M44 4h12v12h-12z"/>'
    assert not_read(design_from(card + shown)) == []
    (where,) = not_read(design_from(card + shown + beside, Reading(Habit.LAYERS, "#222222")))
    assert box(41, 1, 57, 17).covers(where)
    assert where.intersects(box(44, 4, 56, 16).exterior)


def test_lines_that_a_reading_swallows_are_told_of():
    rings = "".join(
        f'<circle cx="30" cy="20" r="{radius}" fill="none" stroke="#000" stroke-width="0.4"/>'
        for radius in (6, 12, 18)
    )
    assert not_read(design_from(rings, Reading(Habit.SOLIDS))) == []
    assert not_read(design_from(rings, Reading(Habit.INVERTED)))


def sheet_of(body):
    size = 'width="60mm" height="40mm" viewBox="0 0 60 40"'
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" {size}>{body}</svg>'
    return Sheet(read_drawing(svg.encode(), 0.05))


def test_what_runs_beyond_all_sides_of_the_page_is_trimmed_and_can_be_had_whole():
    holes = "M5 5h20v30h-20z M35 5h20v30h-20z M-15 5h10v30h-10z"
    panel = f'<path fill-rule="evenodd" d="M-20 -10h100v60h-100z {holes}"/>'
    whole, cut = design_from(panel, Reading(to_page=False)), design_from(panel)
    assert (whole.width_mm, len(whole.openings)) == (pytest.approx(100), 3)
    assert (cut.width_mm, cut.height_mm, len(cut.openings)) == (pytest.approx(60), pytest.approx(40), 2)
    shown = possible_readings(sheet_of(panel))
    assert [(each.to_page, each.openings) for each in shown][:2] == [(True, 2), (False, 3)]


def test_what_lies_beyond_one_side_of_the_page_belongs_to_the_card():
    panel = '<path fill-rule="evenodd" d="M5 5h70v30h-70z M10 10h20v20h-20z M40 10h30v20h-30z"/>'
    assert [(each.to_page, each.openings) for each in possible_readings(sheet_of(panel))][:2] == [
        (False, 2),
        (True, 1),
    ]


def test_each_of_several_cards_on_a_sheet_can_be_taken_by_itself():
    frames = "".join(f'<path d="M{x} 5h20v30h-20z M{x + 4} 10v20h12v-20z"/>' for x in (5, 35))
    bit = '<path d="M13 18h3v3h-3z"/>'
    cross = '<path d="M39 19h12v2h-12z"/>'
    shown = list(possible_readings(sheet_of(frames + bit + cross)))
    assert [(each.card_number, each.openings) for each in shown if each.card_number] == [(1, 1), (2, 2)]
    first, second = (design_from(frames + bit + cross, Reading(card_number=number)) for number in (1, 2))
    assert (first.width_mm, len(first.openings), len(first.loose_bits)) == (pytest.approx(20), 1, 1)
    assert (second.width_mm, len(second.openings), len(second.loose_bits)) == (pytest.approx(20), 2, 0)
    assert len(design_from(frames + bit + cross).openings) == 3


def test_chips_that_come_off_a_panel_do_not_make_it_a_hole_in_a_page():
    chips = "".join(f"M{x} 1.2h1.5v1.5h-1.5z" for x in range(6, 54, 4))
    panel = "M4 4h52v32h-52z M10 10v20h8v-20z M22 10v20h8v-20z M34 10v20h8v-20z"
    design = design_from(f'<path d="{panel} {chips}"/>')
    assert design.habits[0] is Habit.SOLIDS
    assert len(design.openings) == 3


def test_a_picture_in_a_coloured_frame_falls_out_of_it_rather_than_turn_into_openings():
    """Were the colour the card, or all within the frame one opening, some of the black would be lost."""
    sign = '<path d="M30 1l22 37h-44z"/><path fill="#fc0" d="M30 5l18 31h-36z"/>'
    figure = "".join(
        f'<rect x="{x}" y="{y}" width="3" height="3"/>' for x, y in ((28, 16), (25, 22), (31, 22), (28, 28))
    )
    design = design_from(sign + figure)
    assert (design.habits[0], design.colours[0]) == (Habit.LAYERS, "#000000")
    assert (len(design.openings), len(design.loose_bits)) == (1, 4)
    assert design.openings[0].given_colour == "#ffcc00"


def test_a_picture_in_a_border_is_not_lost_behind_one_opening():
    """Were the border alone the card, nothing of the picture would show in the paper of its one opening."""
    circles = "".join(f'<circle cx="{x}" cy="20" r="4" fill="#fff"/>' for x in (14, 25, 36, 47))
    design = design_from(f'<rect x="2" y="2" width="56" height="36" fill="#0a0" stroke="#000"/>{circles}')
    assert len(design.openings) == 4


def test_a_large_page_around_small_shapes_is_not_their_card():
    shapes = "".join(f'<rect x="{x}" y="10" width="3" height="4"/>' for x in (10, 16, 22))
    design = design_from(shapes)
    assert (design.habits[0], len(design.openings)) == (Habit.INVERTED, 3)
    assert design.width_mm < 20
