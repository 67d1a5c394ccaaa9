"""The papers place by touch alone, by mouse alone and by keyboard alone; scraps; ten thousand taps."""

import io
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import pytest
from PIL import Image
from playwright.sync_api import Locator, expect

from e2e.panels import CARD_COLOUR, HEIGHT_MM, WIDTH_MM, middle, window_svg
from e2e.table import Table

Visit = Callable[[str], Table]
OPEN = "left open"
MOST_TABS = 120
TAPS = 10_000

MANY_TAPS = """async (count) => {
    const list = document.querySelector(".openings");
    list.focus();
    for (let tap = 0; tap < count; tap += 1) {
        const key = tap % 3 === 2 ? "ArrowRight" : "Enter";
        list.dispatchEvent(new KeyboardEvent("keydown", {key, bubbles: true, cancelable: true}));
        if (tap % 100 === 99) await new Promise(requestAnimationFrame);
    }
}"""
"""Locks an opening, unlocks it, walks to the next one, and so on."""


def window(table: Table) -> Table:
    """Lay the tests' own design on the table and go to its papers."""
    table.wait_until_ready()
    table.drop("window.svg", window_svg())
    expect(table.openings).to_have_count(6)
    table.go("Papers")
    expect(sheets(table).first).to_be_visible()
    return table


def sheets(table: Table) -> Locator:
    """The papers on the shelf."""
    return table.page.locator(".sheets > [data-moves='true']")


def name_of(sheet: Locator) -> str:
    """A paper's name."""
    return sheet.locator(".sheet-name span").last.inner_text()


def button(table: Table, name: str) -> Locator:
    """A button by its name."""
    return table.page.get_by_role("button", name=name, exact=True)


def spot(table: Table, x: float, y: float) -> tuple[float, float]:
    """Return where a spot of the design (mm) is seen on the screen."""
    left, top, right, bottom = table.card_box(CARD_COLOUR)
    return left + (right - left) * x / WIDTH_MM, top + (bottom - top) * y / HEIGHT_MM


@contextmanager
def held(table: Table, x: float, y: float) -> Iterator[Callable[[float, float], None]]:
    """Put a finger or the mouse down at a spot; what it yields moves it; then lift it."""
    page = table.page
    if not table.screen.touch:
        page.mouse.move(x, y)
        page.mouse.down()
        yield lambda x, y: page.mouse.move(x, y, steps=6)
        page.mouse.up()
        return
    hand = table.context.new_cdp_session(page)

    def touch(kind: str, *points: tuple[float, float]) -> None:
        touches = [{"x": x, "y": y} for x, y in points]
        hand.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": touches})

    touch("touchStart", (x, y))
    yield lambda x, y: touch("touchMove", (x, y))
    touch("touchEnd")


def centre(target: Locator) -> tuple[float, float]:
    """Return the middle of an element on the screen."""
    target.scroll_into_view_if_needed()
    box = target.bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


@pytest.mark.parametrize("screen_name", ["tablet", "laptop"])
def test_fingers_alone_or_a_mouse_alone_do_all_with_papers(visit: Visit, screen_name: str) -> None:
    table = window(visit(screen_name))
    page = table.page
    second = name_of(sheets(table).nth(1))
    there = centre(sheets(table).nth(1))
    here = centre(sheets(table).first)
    with held(table, *there) as move:
        if table.screen.touch:
            expect(sheets(table).nth(1)).to_have_class("lifted")
        move(*here)
    expect(sheets(table).first).to_contain_text(second)
    expect(button(table, "Undo")).to_be_enabled()
    table.press(sheets(table).first.get_by_role("button"))
    table.press(page.get_by_text("rings openings"))
    corners = [spot(table, x, y) for x, y in ((5, 5), (35, 5), (35, 65), (5, 65))]
    with held(table, *corners[0]) as move:
        for corner in corners[1:]:
            move(*corner)
    for number in (1, 4):
        expect(table.opening(number)).to_contain_text(second)
    expect(table.opening(2)).to_contain_text(OPEN)
    table.press(button(table, "Undo"))
    expect(table.opening(1)).to_contain_text(OPEN)
    table.tap_at(*spot(table, *middle(3)))
    table.press(button(table, "Also the 5 others like it"))
    expect(page.locator("[role=option]", has_text=second)).to_have_count(6)
    table.press(page.get_by_role("tab", name="Page"))
    piece = page.locator("#part-page .row", has_text="The piece")
    expect(piece).to_be_visible()
    across = page.get_by_label("From the left")
    table.press(piece)
    before = across.input_value()
    x, y = spot(table, *middle(5))
    with held(table, x, y) as move:
        move(x - 20, y - 20)
        move(x - 60, y - 40)
    expect(across).not_to_have_value(before)
    table.press(button(table, "Undo"))
    expect(across).to_have_value(before)


def reach(table: Table, target: Locator) -> None:
    """Walk to an element by the Tab key, from wherever the keyboard is."""
    for _ in range(MOST_TABS):
        if target.evaluate("(element) => document.activeElement === element"):
            return
        table.page.keyboard.press("Tab")
    raise AssertionError(f"the keyboard does not come to {target}")


def press_by_key(table: Table, target: Locator) -> None:
    """Walk to a button by the Tab key and press Enter."""
    expect(target).to_be_visible()
    reach(table, target)
    table.page.keyboard.press("Enter")


def test_the_keyboard_alone_does_all_with_papers(visit: Visit) -> None:
    table = window(visit("laptop"))
    page, keyboard = table.page, table.page.keyboard
    second = name_of(sheets(table).nth(1))
    press_by_key(table, sheets(table).nth(1).get_by_role("button"))
    press_by_key(table, button(table, "Move earlier"))
    expect(sheets(table).first).to_contain_text(second)
    reach(table, page.get_by_role("listbox", name="Openings of the design"))
    keyboard.press("Enter")
    expect(table.opening(1)).to_contain_text(second)
    expect(table.opening(2)).to_contain_text(OPEN)
    keyboard.press("a")
    expect(page.locator("[role=option]", has_text=second)).to_have_count(6)
    keyboard.press("Control+z")
    expect(table.opening(2)).to_contain_text(OPEN)
    press_by_key(table, page.locator(".fold summary", has_text="Openings in rows"))
    press_by_key(table, page.get_by_role("button", name="6 alike"))
    expect(page.locator("[role=option]", has_text=second)).to_have_count(6)
    reach(table, page.get_by_role("tab", name="Give"))
    for _ in range(3):
        keyboard.press("ArrowRight")
    piece = page.locator("#part-page .row", has_text="The piece")
    expect(piece).to_be_visible()
    reach(table, piece)
    keyboard.press("Enter")
    across = page.get_by_label("From the left")
    expect(across).to_be_visible()
    before = across.input_value()
    keyboard.press("ArrowRight")
    expect(across).not_to_have_value(before)


def test_blocks_are_turned_layered_and_shown_in_a_picture_of_the_page(visit: Visit) -> None:
    table = window(visit("laptop"))
    page = table.page
    table.press(page.get_by_role("tab", name="Page"))
    rows = page.locator("#part-page .row")
    expect(rows.first).to_be_visible()
    table.press(page.locator("#part-page").get_by_role("button", name="Photo", exact=True))
    photo = rows.first
    expect(photo).to_contain_text("photo")
    table.press(button(table, "Send back"))
    expect(rows.nth(1)).to_contain_text("photo")
    table.press(button(table, "Bring forward"))
    expect(rows.first).to_contain_text("photo")
    for _ in range(2):
        table.press(button(table, "Turn right"))
    page.get_by_label("Page size").select_option(index=1)
    table.press(page.get_by_text("Show thirds"))
    with page.expect_download() as waiting:
        table.press(button(table, "PNG"))
    picture = Image.open(io.BytesIO(waiting.value.path().read_bytes()))
    assert max(picture.size) == 2400


def test_a_scrap_is_kept_with_its_paper_and_is_what_the_plan_cuts_from(visit: Visit) -> None:
    table = window(visit("laptop"))
    page = table.page
    table.press(button(table, "Change this paper"))
    dialog = page.get_by_role("dialog")
    table.press(dialog.get_by_text("Scraps of it"))
    scrap = dialog.locator(".scrap-new")
    scrap.get_by_label("Width").fill("5 in")
    scrap.get_by_label("Height").fill("4 in")
    table.press(button(table, "Add a scrap"))
    expect(dialog.locator(".scraps li")).to_have_count(1)
    table.press(button(table, "Keep the changes"))
    expect(dialog).to_have_count(0)
    page.get_by_role("listbox", name="Openings of the design").focus()
    page.keyboard.press("a")
    expect(page.locator("[role=option]", has_text=OPEN)).to_have_count(0)
    table.go("Mats")
    expect(page.get_by_text("Done.")).to_be_visible()
    expect(page.locator(".trim-row", has_text="from a scrap").first).to_be_visible()


def test_ten_thousand_taps_leave_the_page_as_quick_and_as_it_should_be(visit: Visit) -> None:
    table = window(visit("laptop"))
    table.press(table.page.locator(".sheet", has_text="Lock"))
    table.page.evaluate(MANY_TAPS, TAPS)
    # The last tap of all locked the opening that it came to; every other lock was taken back.
    expect(table.page.locator("[role=option]", has_text="locked")).to_have_count(1)
    table.press(button(table, "Undo"))
    expect(table.page.locator("[role=option]", has_text="locked")).to_have_count(0)
