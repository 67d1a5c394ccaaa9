"""Every way of giving a paper: finger, mouse, keyboard; and looking about meanwhile."""

from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from e2e.panels import CARD_COLOUR, HEIGHT_MM, WIDTH_MM, middle, window_svg
from e2e.table import Screen, Table

Visit = Callable[[str], Table]


def at_papers(table: Table) -> Table:
    """Pick the second paper."""
    table.go("Papers")
    table.press(table.page.locator(".sheet").nth(1))
    return table


def spot(table: Table, number: int) -> tuple[float, float]:
    """Return where an opening's middle is seen on the screen."""
    left, top, right, bottom = table.card_box(CARD_COLOUR)
    x, y = middle(number)
    return left + (right - left) * x / WIDTH_MM, top + (bottom - top) * y / HEIGHT_MM


def test_the_keyboard_walks_openings_and_gives_papers(lay_anew: Visit) -> None:
    table = at_papers(lay_anew("laptop"))
    table.page.get_by_role("listbox", name="Openings of the design").focus()
    for key in ("ArrowRight", "ArrowDown", "Enter"):
        table.page.keyboard.press(key)
    expect(table.opening(5)).not_to_contain_text("left open")
    expect(table.opening(2)).to_contain_text("left open")
    table.page.keyboard.press("Control+z")
    expect(table.opening(5)).to_contain_text("left open")
    for key in ("Escape", "ArrowRight"):
        table.page.keyboard.press(key)
    expect(table.opening(1)).to_have_attribute("aria-selected", "true")


def test_a_sweep_across_openings_gives_to_each_and_is_one_step_to_undo(lay_anew: Visit) -> None:
    table = at_papers(lay_anew("laptop"))
    first, *others = [spot(table, number) for number in (1, 2, 3)]
    table.page.mouse.move(*first)
    table.page.mouse.down()
    for other in others:
        table.page.mouse.move(*other, steps=12)
    table.page.mouse.up()
    for number in (1, 2, 3):
        expect(table.opening(number)).not_to_contain_text("left open")
    table.press(table.page.get_by_role("button", name="Undo"))
    for number in (1, 2, 3):
        expect(table.opening(number)).to_contain_text("left open")


def test_all_alike_get_the_paper_in_one_tap(lay_anew: Visit) -> None:
    table = at_papers(lay_anew("tablet"))
    table.press(table.page.get_by_title("all alike", exact=True))
    table.tap_at(*spot(table, 4))
    for number in range(1, 7):
        expect(table.opening(number)).not_to_contain_text("left open")
    table.press(table.page.get_by_title("this opening", exact=True))


def test_a_tap_reaches_the_same_shape_at_any_size_and_no_other(visit: Visit) -> None:
    small, large, oblong = (14.0, 14.0), (20.0, 20.0), (20.0, 14.0)
    table = visit("tablet")
    table.wait_until_ready()
    table.drop("window.svg", window_svg((large, small, oblong, small, large, oblong)))
    expect(table.openings).to_have_count(6)
    expect(table.page.get_by_text("Nothing to worry about")).to_be_visible()
    at_papers(table)
    table.press(table.page.get_by_title("all of this shape, any size", exact=True))
    table.tap_at(*spot(table, 1))
    for number in (1, 2, 4, 5):
        expect(table.opening(number)).not_to_contain_text("left open")
    for number in (3, 6):
        expect(table.opening(number)).to_contain_text("left open")


def test_a_finger_beside_an_opening_still_means_it(lay_anew: Visit) -> None:
    table = at_papers(lay_anew("tablet"))
    x, y = spot(table, 1)
    left, _, right, _ = table.card_box(CARD_COLOUR)
    half = (right - left) * 10 / WIDTH_MM
    table.tap_at(x - half - 15, y)
    expect(table.opening(1)).not_to_contain_text("left open")


@pytest.mark.parametrize("name", ["tablet-upright", "phone"])
def test_the_job_fits_upright_screens(revisit: Visit, name: str) -> None:
    table = at_papers(revisit(name))
    table.tap_at(*spot(table, 6))
    expect(table.opening(6)).not_to_contain_text("left open")
    for place in ("Design", "Papers", "Mats", "Glue-up"):
        table.go(place)
        overflow = table.page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert overflow <= 0
        table.picture(place.lower())


def test_looking_closer_and_at_the_back_keeps_what_was_given(lay_anew: Visit, screen: Screen) -> None:
    table = at_papers(lay_anew(screen.name))
    table.press(table.page.get_by_role("button", name="Closer"))
    table.press(table.page.get_by_role("button", name="See all of it"))
    table.press(table.page.get_by_role("button", name="See the back"))
    left, top, right, bottom = table.card_box(CARD_COLOUR)
    x, y = middle(1)
    table.tap_at(right - (right - left) * x / WIDTH_MM, top + (bottom - top) * y / HEIGHT_MM)
    expect(table.opening(1)).not_to_contain_text("left open")
    table.press(table.page.get_by_role("button", name="See the front"))
