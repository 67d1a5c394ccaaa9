"""Files that could be read in several ways, as different programs and people write them."""

import pytest
from test_habits import LINES, WINDOW, codes, design_from

from peekpaper.design.design import Design, Habit

PANES = [f"M{x} {y}h10v12h-10z" for y in (6, 22) for x in (5, 18, 31, 44)]
"""Eight panes of 10 by 12."""
HOUSE = "M2 2h56v36h-56z"
CARD = f'<path fill-rule="evenodd" d="{HOUSE} {" ".join(PANES)}"/>'
HAIR = 'fill="none" stroke="#000" stroke-width="0.02"'
COLOURS = ("#e63946", "#f1a208", "#2a9d8f", "#457b9d")


def drawn(outlines: list[str], attributes: str) -> str:
    return "".join(f'<path {attributes} d="{outline}"/>' for outline in outlines)


def coloured() -> str:
    return "".join(f'<path fill="{COLOURS[at % 4]}" d="{pane}"/>' for at, pane in enumerate(PANES))


def assert_holds_the_panes(design: Design, habit: Habit) -> None:
    assert design.habits[0] is habit
    assert [opening.area.area for opening in design.openings] == pytest.approx([120] * 8, rel=0.01)
    assert design.loose_bits == ()


def assert_is_house(design: Design, habit: Habit) -> None:
    assert_holds_the_panes(design, habit)
    assert (design.width_mm, design.height_mm) == (pytest.approx(56, abs=0.6), pytest.approx(36, abs=0.6))


@pytest.mark.parametrize(
    "around",
    [
        '<rect width="60" height="40" fill="#333"/>',
        '<rect width="60" height="40" fill="#ddd"/>',
        '<rect width="60" height="40" fill="#2a5caa"/>',
    ],
    ids=["dark", "grey", "blue"],
)
def test_a_white_card_on_a_page_of_colour_is_the_card(around):
    assert_is_house(design_from(around + CARD.replace("<path", '<path fill="#fff"')), Habit.SOLIDS)
    over = f'<path fill="#fff" d="{HOUSE}"/>' + coloured()
    assert_is_house(design_from(around + over), Habit.LAYERS)


def test_white_shapes_on_a_dark_card_are_its_openings_though():
    design = design_from('<rect width="60" height="40" fill="#333"/>' + drawn(PANES, 'fill="#fff"'))
    assert_holds_the_panes(design, Habit.KNOCK_OUTS)
    assert design.width_mm == pytest.approx(60)


@pytest.mark.parametrize(
    "around",
    [
        '<rect width="60" height="40" fill="none" stroke="#000" stroke-width="0.2"/>',
        '<rect width="60" height="40" fill="#fff" stroke="#999" stroke-width="0.2"/>',
        '<circle cx="30" cy="20" r="36" fill="none" stroke="#000" stroke-width="0.2"/>',
    ],
    ids=["line", "sheet with a line", "circle"],
)
def test_a_border_around_a_card_is_no_card(around):
    assert_is_house(design_from(around + drawn([HOUSE, *PANES], HAIR)), Habit.CUT_LINES)
    for card in (CARD, CARD.replace("<path", '<path fill="#999"')):
        design = design_from(around + card)
        assert_is_house(design, design.habits[0])


def test_a_border_in_the_same_path_as_the_card_is_left_out_and_told():
    border = "M0 0h60v40h-60z M0.2 0.2v39.6h59.6v-39.6z"
    design = design_from(CARD.replace('d="', f'd="{border} '))
    assert_is_house(design, Habit.SOLIDS)
    lines = design_from(drawn(["M0 0h60v40h-60z", HOUSE, *PANES], HAIR))
    assert_is_house(lines, Habit.CUT_LINES)
    assert "border-left-out" in codes(design)
    assert "border-left-out" in codes(lines)


@pytest.mark.parametrize(
    "frame",
    [
        f'<path fill="none" stroke="#000" stroke-width="0.5" d="{HOUSE}"/>',
        f'<path fill="#fff" stroke="#000" stroke-width="0.5" d="{HOUSE}"/>',
        f'<path {LINES} d="{HOUSE}"/>',
        f'<path {HAIR} d="M0 0h60v40h-60z"/><path {HAIR} d="{HOUSE}"/>',
        "",
    ],
    ids=["thin", "filled with white", "a red hairline", "two lines", "none"],
)
def test_openings_painted_in_a_frame_line_are_openings_in_any_colour(frame):
    black = design_from(frame + drawn(PANES, ""))
    assert_holds_the_panes(black, Habit.INVERTED)
    design = design_from(frame + coloured())
    assert_holds_the_panes(design, Habit.INVERTED)
    assert [opening.given_colour for opening in design.openings] == [*COLOURS, *COLOURS]


@pytest.mark.parametrize(
    "shapes", ['<circle cx="30" cy="20" r="12"/>', '<path d="M5 5h20v30h-20z M40 8h9v9z"/>']
)
def test_a_frame_line_around_one_or_two_shapes_makes_openings_of_them(shapes):
    design = design_from(f'<path fill="none" stroke="#000" stroke-width="0.4" d="{HOUSE}"/>{shapes}')
    assert design.habits[0] is Habit.INVERTED
    assert len(design.openings) == shapes.count("circle") + shapes.count("M")
    assert design.loose_bits == ()


def test_letters_side_by_side_are_openings():
    letters = "M3 5h6v30h-6z M12 5h6v30h-6z M21 5h6v30h-6z M30 5h6v30h-6z"
    ring = "M40 5h16v30h-16z M44 9v22h8v-22z"
    design = design_from(f'<path d="{letters}"/><path d="{ring}"/>')
    assert design.habits[0] is Habit.INVERTED
    assert len(design.openings) == 5
    assert len(design.loose_bits) == 1


def test_a_traced_line_drawing_is_read_by_what_its_lines_go_around():
    traced = "M2 2h56v36h-56z M2.3 2.3v35.4h55.4v-35.4z " + " ".join(
        f"M{x} {y}h10v12h-10z M{x + 0.3} {y + 0.3}v11.4h9.4v-11.4z" for y in (6, 22) for x in (5, 18, 31, 44)
    )
    design = design_from(f'<path d="{traced}"/>')
    assert [opening.area.area for opening in design.openings] == pytest.approx([120] * 8, rel=0.06)
    assert design.loose_bits == ()


def test_red_lines_are_cut_and_blue_ones_scored():
    blue = [f"M{x + 1} {y + 1}h8v10h-8z" for y in (6, 22) for x in (5, 18, 31, 44)]
    design = design_from(drawn([HOUSE, *PANES], LINES) + drawn(blue, LINES.replace("#f00", "#00f")))
    assert_is_house(design, Habit.CUT_LINES)
    assert "not-cut" in codes(design)


def test_lines_in_a_colour_for_each_order_of_cutting_are_all_cut():
    design = design_from(drawn([HOUSE], LINES) + drawn(PANES, LINES.replace("#f00", "#00f")))
    assert_is_house(design, Habit.CUT_LINES)
    assert "not-cut" not in codes(design)


def test_a_line_scored_across_a_card_does_not_part_it():
    score = '<path fill="none" stroke="#00f" stroke-width="0.1" d="M2 20H58"/>'
    for colour in ("#ddd", "#000"):
        design = design_from(CARD.replace("<path", f'<path fill="{colour}"') + score)
        assert_is_house(design, Habit.SOLIDS)
        assert len(design.card.geoms) == 1


def test_filled_areas_beside_cut_lines_are_engraved():
    design = design_from(drawn([HOUSE, *PANES], LINES) + '<circle cx="4" cy="4" r="1"/>')
    assert_is_house(design, Habit.CUT_LINES)
    assert "not-cut" in codes(design)


def test_hollow_lines_on_a_filled_card_are_cut():
    design = design_from(f'<path fill="#e6e6e6" {HAIR[12:]} d="{HOUSE}"/>' + drawn(PANES, HAIR))
    assert_is_house(design, Habit.CUT_LINES)


def test_every_edge_drawn_twice_as_a_line_of_its_own_counts_once():
    corners = [(0, 0, 60, 40), (5, 5, 25, 35), (35, 5, 55, 35)]
    sides = [
        edge
        for left, top, right, bottom in corners
        for edge in (
            (left, top, right, top), (right, top, right, bottom),
            (right, bottom, left, bottom), (left, top, left, bottom),
        )
    ]  # fmt: skip
    lines = "".join('<line {} x1="{}" y1="{}" x2="{}" y2="{}"/>'.format(HAIR, *side) for side in sides)
    design = design_from(lines + lines)
    assert design.habits[0] is Habit.CUT_LINES
    assert [opening.area.area for opening in design.openings] == pytest.approx([600, 600])
    assert "doubled-contours" in codes(design)


def test_thin_bars_that_hold_together_are_card_and_thin_rings_are_cut_lines():
    grid = '<path d="M1 1h58v38h-58z M20 1v38 M40 1v38 M1 20h58"/>'
    assert len(design_from(f'<g fill="none" stroke="#000" stroke-width="0.6">{grid}</g>').openings) == 6
    rings = drawn([HOUSE, *PANES], 'fill="none" stroke="#000" stroke-width="0.6"')
    assert_is_house(design_from(rings), Habit.CUT_LINES)


def test_panes_of_colour_between_thin_lines_are_openings():
    panes = "".join(
        f'<rect x="{2 + 14 * (at % 4)}" y="{2 + 18 * (at // 4)}" width="14" height="18" fill="{colour}" '
        'stroke="#000" stroke-width="0.5"/>'
        for at, colour in enumerate((*COLOURS, *reversed(COLOURS)))
    )
    design = design_from(panes)
    assert design.habits[0] is Habit.LAYERS
    assert design.colours[0] == "#000000"
    assert [opening.given_colour for opening in design.openings] == [*COLOURS, *reversed(COLOURS)]


def test_a_backing_that_is_larger_than_the_card_is_no_card():
    design = design_from('<path fill="#f1a208" d="M0 0h58v1h2v39h-60z"/>' + CARD)
    assert_is_house(design, design.habits[0])


def test_blacks_of_several_programs_are_one_colour():
    right = WINDOW.partition(" M35")[2]
    design = design_from(
        f'<path fill="#231f20" d="M0 0h30v40h-30z M5 5v30h20v-30z"/>'
        f'<path fill="#000" d="M30 0h30v40h-30z M35{right}"/>'
    )
    assert design.habits[0] is Habit.SOLIDS
    assert len(design.openings) == 2


def test_dust_of_a_tracing_does_not_change_the_habit():
    dust = "".join(f"M{x} {y}h0.2v0.2h-0.2z" for x in range(1, 60, 2) for y in (0.5, 39.2))
    design = design_from(f'<path d="{dust}"/>{CARD}')
    assert_holds_the_panes(design, Habit.SOLIDS)
