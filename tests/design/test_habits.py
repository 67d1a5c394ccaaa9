"""Each habit as files draw it, read from SVG text; sizes are given in mm so that areas can be told."""

import pytest
from shapely import MultiPolygon, box

from peekpaper.design.design import Design, Habit, Limits, Reading
from peekpaper.design.make import make_design
from peekpaper.drawing.read import read_drawing
from peekpaper.refusal import Refusal

WINDOW = "M0 0h60v40h-60z M5 5v30h20v-30z M35 5v30h20v-30z"
"""A frame of 60 by 40 with two openings of 20 by 30."""


def design_from(
    body: str, reading: Reading | None = None, size: str = 'width="60mm" height="40mm"'
) -> Design:
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 60 40">{body}</svg>'
    return make_design(read_drawing(svg.encode(), 0.05), reading or Reading(), Limits())


def assert_is_window(design: Design, habit: Habit) -> None:
    assert design.habits[0] is habit
    assert [opening.area.area for opening in design.openings] == pytest.approx([600, 600])
    assert design.card.area == pytest.approx(60 * 40 - 1200)


@pytest.mark.parametrize(
    "body",
    [
        f'<path d="{WINDOW}"/>',
        f'<path fill="#24476b" fill-rule="evenodd" d="{WINDOW}"/>',
        '<path d="M0 0h60v5h-60z M0 35h60v5h-60z"/><path d="M0 0h5v40h-5z M25 0h10v40h-10z M55 0h5v40h-5z"/>',
        '<path fill="none" stroke="#000" stroke-width="5" d="M2.5 2.5h55v35h-55z"/>'
        '<path stroke="#000" stroke-width="10" d="M30 2v36"/>',
        f'<rect width="60" height="40" fill="#fff"/><path d="{WINDOW}"/>',
        f'<rect width="60" height="40" fill="#f4eedd"/><path fill="#31506e" d="{WINDOW}"/>',
    ],
    ids=["one path", "even-odd", "overlapping parts", "thick lines", "on a white sheet", "on a cream sheet"],
)
def test_filled_solids(body):
    assert_is_window(design_from(body), Habit.SOLIDS)


LINES = 'fill="none" stroke="#f00" stroke-width="0.1"'


@pytest.mark.parametrize(
    "body",
    [
        f'<path {LINES} d="{WINDOW}"/>',
        f'<rect {LINES} width="60" height="40"/><rect {LINES} x="5" y="5" width="20" height="30"/>'
        f'<rect {LINES} x="35" y="5" width="20" height="30"/>',
        '<g fill="#fff" stroke="#000" stroke-width="0.2"><rect width="60" height="40"/>'
        '<rect x="5" y="5" width="20" height="30"/><rect x="35" y="5" width="20" height="30"/></g>',
        '<rect width="60" height="40"/><rect x="5" y="5" width="20" height="30"/>'
        '<rect x="35" y="5" width="20" height="30"/>',
        f'<path {LINES} d="M0 0H60V40H0Z"/><path {LINES} d="M5 5h20v30"/><path {LINES} d="M25 35h-20V5"/>'
        f'<path {LINES} d="M35 5v30"/><path {LINES} d="M35 35h20"/><path {LINES} d="M55 5v30"/>'
        f'<path {LINES} d="M55 5h-20"/>',
        f'<path fill="none" d="{WINDOW}"/>',
    ],
    ids=["one path", "separate shapes", "filled with white", "black by default", "in pieces", "unpainted"],
)
def test_cut_lines(body):
    assert_is_window(design_from(body), Habit.CUT_LINES)


def test_a_line_around_several_cards_is_no_card():
    cards = f'<path {LINES} d="M3 3h25v34h-25z M6 6h8v28h-8z M17 6h8v28h-8z"/>'
    border, moved = f'<rect {LINES} width="60" height="40"/>', f'<g transform="translate(28)">{cards}</g>'
    design = design_from(border + cards + moved)
    assert (len(design.openings), len(design.card.geoms)) == (4, 2)
    assert design.openings[0].area.area == pytest.approx(224)
    assert "border-left-out" in codes(design)


def test_eyelets_in_a_card_are_its_openings():
    rings = "".join(
        f'<circle {LINES} cx="{x}" cy="20" r="4"/><circle {LINES} cx="{x}" cy="20" r="2"/>'
        for x in (12, 24, 36, 48)
    )
    design = design_from(f'<rect {LINES} width="60" height="40"/>{rings}')
    assert (len(design.openings), len(design.loose_bits)) == (4, 4)


def test_a_white_card_on_a_dark_sheet_is_the_card():
    """As an opening of the sheet it would drop all that shows through it."""
    panes = "".join(f"M{x} 14v12h2v-12z" for x in (12, 18, 24, 30, 36, 42))
    design = design_from(
        f'<rect width="60" height="40" fill="#111"/><path fill="#fff" d="M8 10h44v20h-44z {panes}"/>'
    )
    assert (len(design.openings), len(design.loose_bits)) == (6, 0)


@pytest.mark.parametrize(
    "body",
    [
        '<rect width="60" height="40"/><rect x="5" y="5" width="20" height="30" fill="#fff"/>'
        '<rect x="35" y="5" width="20" height="30" fill="#ffffff"/>',
        '<rect width="60" height="40" fill="#222"/><path fill="#fefefe" '
        'd="M5 5h20v30h-20z M35 5h20v30h-20z"/>',
        '<rect x="-9" y="-9" width="78" height="58" fill="#eec"/><rect width="60" height="40" fill="#333"/>'
        '<path fill="#eec" d="M5 5h20v30h-20z M35 5h20v30h-20z"/>',
        '<rect width="60" height="40"/><rect x="3" y="3" width="54" height="34" fill="#fff"/>'
        '<path d="M0 0h60v5h-60z M0 35h60v5h-60z M0 0h5v40h-5z M25 0h10v40h-10z M55 0h5v40h-5z"/>',
    ],
    ids=["white shapes", "nearly white", "the sheet's colour", "card over white over card"],
)
def test_knock_outs(body):
    assert_is_window(design_from(body), Habit.KNOCK_OUTS)


def test_layers_behind_the_card_give_their_colours_to_the_openings():
    design = design_from(
        '<rect x="4" y="4" width="23" height="32" fill="#e0b030"/>'
        '<rect x="33" y="4" width="24" height="32" fill="#3080c0"/>'
        f'<path fill="#222" d="{WINDOW}"/>'
    )
    assert_is_window(design, Habit.LAYERS)
    assert [opening.given_colour for opening in design.openings] == ["#e0b030", "#3080c0"]
    assert design.colours[0] == "#222222"
    assert set(design.colours[1:]) == {"#e0b030", "#3080c0"}


def test_coloured_shapes_painted_over_the_card_make_openings_of_their_colour():
    design = design_from(
        '<rect width="60" height="40" fill="#222"/><rect x="5" y="5" width="20" height="30" fill="#c33"/>'
        '<rect x="35" y="5" width="20" height="30" fill="#3c3"/>'
    )
    assert_is_window(design, Habit.LAYERS)
    assert [opening.given_colour for opening in design.openings] == ["#cc3333", "#33cc33"]


def test_what_shines_through_a_translucent_colour_is_seen():
    """Bars under a glaze are card; the glaze is as pale as on the screen, and what nobody sees is none."""
    bars = '<path fill="#222" d="M14 5h2v30h-2z"/>'
    pane = '<rect x="5" y="5" width="20" height="30" fill="#999900" fill-opacity="0.1"/>'
    faint = '<rect x="35" y="5" width="20" height="30" fill="#000000" fill-opacity="0.02"/>'
    design = design_from(f'<path fill="#222" d="{WINDOW}"/>{bars}{pane}{faint}')
    assert [opening.area.area for opening in design.openings] == pytest.approx([270, 270, 600])
    assert [opening.given_colour for opening in design.openings] == ["#f5f5e6", "#f5f5e6", None]


def test_translucent_parts_that_overlap_are_one_card():
    parts = "M0 0h60v5h-60z", "M0 35h60v5h-60z", "M0 0h5v40h-5z", "M25 0h10v40h-10z", "M55 0h5v40h-5z"
    design = design_from("".join(f'<path fill="#225" fill-opacity="0.6" d="{part}"/>' for part in parts))
    assert_is_window(design, Habit.SOLIDS)


def test_an_opening_that_shows_no_colour_gets_none():
    design = design_from(f'<rect x="4" y="4" width="23" height="32" fill="#e0b030"/><path d="{WINDOW}"/>')
    assert [opening.given_colour for opening in design.openings] == ["#e0b030", None]


def test_another_colour_can_be_the_card():
    body = f'<path fill="#222" d="{WINDOW}"/><path fill="#c33" d="M5 5h20v30h-20z M10 10v20h10v-20z"/>'
    design = design_from(body, Reading(card_colour="#cc3333"))
    assert design.colours[0] == "#cc3333"
    assert [opening.area.area for opening in design.openings] == [pytest.approx(200)]


@pytest.mark.parametrize(
    "body",
    [
        '<rect x="0" y="0" width="60" height="40" fill="none" stroke="#000" stroke-width="0.5"/>'
        + "".join(f'<rect x="{x}" y="8" width="8" height="24"/>' for x in (6, 20, 34, 48)),
    ],
    ids=["in a frame line"],
)
def test_openings_drawn_as_ink_in_a_frame(body):
    design = design_from(body)
    assert design.habits[0] is Habit.INVERTED
    assert [opening.area.area for opening in design.openings] == pytest.approx([192] * 4)
    assert design.width_mm == pytest.approx(60.5)


def test_openings_drawn_as_ink_on_the_bare_page():
    design = design_from("".join(f'<circle cx="{x}" cy="20" r="4"/>' for x in (12, 24, 36, 48)))
    assert design.habits[0] is Habit.INVERTED
    assert (design.width_mm, design.height_mm) == (pytest.approx(60), pytest.approx(40))
    assert len(design.openings) == 4


def test_openings_may_be_drawn_in_any_two_colours():
    """Neither is behind the other."""
    design = design_from(
        "".join(
            f'<circle cx="{x}" cy="20" r="4" fill="{colour}"/>'
            for x, colour in ((12, "#c33"), (24, "#36c"), (36, "#c33"), (48, "#36c"))
        ),
        Reading(Habit.INVERTED),
    )
    assert len(design.openings) == 4


def test_openings_drawn_as_lines_on_the_bare_page():
    design = design_from("".join(f'<circle {LINES} cx="{x}" cy="20" r="4"/>' for x in (12, 24, 36, 48)))
    assert design.habits[0] is Habit.INVERTED
    assert [opening.area.area for opening in design.openings] == pytest.approx([50.3] * 4, rel=0.01)


def test_ink_without_a_page_around_it_gets_a_rim():
    design = design_from("".join(f'<rect x="{x}" width="12" height="40"/>' for x in (0, 16, 32, 48)))
    assert design.habits[0] is Habit.INVERTED
    assert len(design.openings) == 4
    assert design.width_mm == pytest.approx(66)


def test_the_person_may_choose_another_habit():
    body = f'<path d="{WINDOW}"/>'
    inverted = design_from(body, Reading(habit=Habit.INVERTED))
    assert inverted.habits[0] is Habit.INVERTED
    assert Habit.SOLIDS in inverted.habits
    lines = design_from(body, Reading(habit=Habit.CUT_LINES))
    assert lines.card.symmetric_difference(design_from(body).card).area < 1e-6


def test_all_habits_that_make_sense_are_offered_once():
    habits = design_from(f'<path d="{WINDOW}"/>').habits
    assert habits == (Habit.SOLIDS, Habit.CUT_LINES, Habit.INVERTED)


def codes(design: Design) -> list[str]:
    return [warning.code for warning in design.warnings]


def test_a_line_drawn_twice_counts_once_and_is_reported():
    rim = f'<path {LINES} d="M0 0h60v40h-60z"/>'
    hole = f'<path {LINES} d="M5 5h20v30h-20z"/>'
    design = design_from(rim + hole + hole.replace("M5 5", "M5.02 5") + hole.replace("M5", "M35"))
    assert_is_window(design, Habit.CUT_LINES)
    assert "doubled-contours" in codes(design)


def test_a_small_gap_is_closed_and_reported():
    design = design_from(
        f'<path {LINES} d="M0 0h60v40h-60z"/><path {LINES} d="M5 5v30h20v-29.95"/>'
        f'<path {LINES} d="M25 5.05L25 5H5.03"/><path {LINES} d="M35 5v30h20v-30z"/>'
    )
    assert [opening.area.area for opening in design.openings] == pytest.approx([600, 600], rel=1e-3)
    assert "gaps-closed" in codes(design)


def test_a_line_that_stays_open_cuts_nothing_and_is_reported():
    design = design_from(f'<path {LINES} d="{WINDOW}"/><path {LINES} d="M28 10v20"/>')
    assert_is_window(design, Habit.CUT_LINES)
    assert "open-contours" in codes(design)


def test_a_line_that_crosses_itself_is_reported():
    design = design_from(f'<path {LINES} d="M0 0h60v40h-60z M10 10L40 30V10L10 30z"/>')
    assert "crossing-contours" in codes(design)
    assert [opening.area.area for opening in design.openings] == pytest.approx([150, 150])


def test_a_bit_inside_an_opening_is_loose_in_every_habit():
    bit = "M10 10v20h10v-20z"
    filled = design_from(f'<path fill-rule="evenodd" d="{WINDOW} {bit}"/>')
    lines = design_from(f'<path {LINES} d="{WINDOW} {bit}"/>')
    painted = design_from(
        '<rect width="60" height="40"/><path fill="#fff" d="M5 5h20v30h-20z M35 5h20v30h-20z"/>'
        f'<path d="{bit}"/>'
    )
    for design in (filled, lines, painted):
        assert sum(bit.area.area for bit in design.loose_bits) == pytest.approx(200)
        assert [opening.area.area for opening in design.openings] == pytest.approx([600, 600])


@pytest.mark.parametrize(
    "body", ["", "<text>card</text>", '<rect width="0" height="9"/>', f'<path {LINES} d="M3 3h50"/>']
)
def test_a_file_without_anything_to_cut_is_refused(body):
    with pytest.raises(Refusal):
        design_from(body)


def test_lines_that_enclose_nothing_are_refused_with_what_to_do_about_them():
    with pytest.raises(Refusal, match="closed outlines, or with lines as wide"):
        design_from(f'<path {LINES} d="M10 2L50 38"/><path {LINES} d="M10 38L50 2"/>')


@pytest.mark.parametrize("habit", list(Habit))
@pytest.mark.parametrize(
    "body",
    ['<path d="M0 0h60v40h-60z"/>', f'<path {LINES} d="{WINDOW}"/>', f'<path fill="#fff" d="{WINDOW}"/>'],
)
def test_any_habit_asked_for_gives_a_design_or_a_refusal(habit, body):
    try:
        design = design_from(body, Reading(habit=habit))
    except Refusal:
        return
    assert design.card.is_valid
    assert isinstance(design.card, MultiPolygon)
    assert design.card.within(box(-1, -1, 100, 100))


def test_shapes_that_nothing_paints_do_not_count_beside_others():
    """Icon sets put an unpainted square behind each icon to keep its size."""
    design = design_from(f'<path fill="none" d="M-20 -20h100v100h-100z"/><path d="{WINDOW}"/>')
    assert_is_window(design, Habit.SOLIDS)
    bars = "".join(f'<rect x="{x}" y="5" width="10" height="30"/>' for x in (5, 25, 45))
    framed = design_from(f'<path fill="none" d="M0 0h60v40h-60z"/>{bars}')
    assert framed.habits[0] is Habit.INVERTED
