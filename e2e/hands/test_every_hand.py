"""Every hand: a screen reader's tap, the keyboard's way, a pen with a resting palm, small and old devices."""

from collections.abc import Callable
from typing import Any

from playwright.sync_api import expect

from e2e.hands.test_hands import at_papers, spot
from e2e.job.test_mats import planned
from e2e.table import Table

Visit = Callable[[str], Table]
ANNOUNCER = "#announcer"
WHERE_FOCUS_IS = "document.activeElement.closest('nav') !== null"
CANVAS_PIXELS = "[...document.querySelectorAll('.stage-canvas')].map(({width, height}) => width * height)[0]"


def test_a_tap_by_a_screen_reader_gives_an_opening_the_paper_and_that_is_said_once(lay_anew: Visit) -> None:
    """It comes as a click on the option, and not through the table."""
    table = at_papers(lay_anew("tablet"))
    table.opening(3).dispatch_event("click")
    expect(table.opening(3)).not_to_contain_text("left open")
    expect(table.page.locator(ANNOUNCER)).to_have_text(table.opening(3).inner_text())
    table.press(table.page.get_by_role("button", name="Undo"))
    expect(table.opening(3)).to_contain_text("left open")
    expect(table.page.locator(ANNOUNCER)).to_have_text("Undone.")
    table.press(table.page.get_by_role("button", name="Redo"))
    expect(table.page.locator(ANNOUNCER)).to_have_text("Redone.")


def test_the_way_between_places_is_a_few_tabs_from_the_top(lay_anew: Visit) -> None:
    table = lay_anew("laptop")
    table.page.locator("#menu-button").focus()
    tabs = 0
    while not table.page.evaluate(WHERE_FOCUS_IS):
        table.page.keyboard.press("Tab")
        tabs += 1
        assert tabs <= 4, "far from the head"


def test_the_list_of_openings_takes_no_focus_where_there_is_none(lay_anew: Visit) -> None:
    table = at_papers(lay_anew("laptop"))
    expect(table.page.get_by_role("listbox", name="Openings of the design")).to_have_count(1)
    table.go("Mats")
    expect(table.page.get_by_role("listbox", name="Openings of the design")).to_have_count(0)


def test_a_single_letter_does_nothing_unless_the_focus_is_at_what_it_acts_on(revisit: Visit) -> None:
    table = planned(revisit("laptop"))
    row = table.page.locator(".trim-row").first
    table.press(row)
    table.page.locator("#menu-button").focus()
    pins = table.page.get_by_role("button", name="Take all pins out")
    table.page.keyboard.press("p")
    table.wait_for_frames()
    expect(pins).to_be_hidden()
    row.focus()
    table.page.keyboard.press("p")
    expect(pins).to_be_visible()


def pen(session: Any, kind: str, x: float, y: float) -> None:
    """Let a pen do something at a spot of the screen."""
    button = {"button": "left", "buttons": int(kind != "mouseReleased"), "clickCount": 1}
    session.send("Input.dispatchMouseEvent", {"type": kind, "x": x, "y": y, "pointerType": "pen", **button})


def palm(session: Any, kind: str, *spots: tuple[float, float]) -> None:
    points = [{"x": x, "y": y, "id": number} for number, (x, y) in enumerate(spots)]
    session.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})


def test_a_pen_gives_papers_while_the_palm_rests_on_the_table(lay_anew: Visit) -> None:
    table = at_papers(lay_anew("tablet"))
    session = table.context.new_cdp_session(table.page)
    at, rest = spot(table, 2), spot(table, 6)
    # The palm comes down before the pen, and goes after it.
    palm(session, "touchStart", rest)
    pen(session, "mousePressed", *at)
    palm(session, "touchMove", (rest[0] + 14, rest[1] + 3))
    pen(session, "mouseReleased", *at)
    palm(session, "touchEnd")
    expect(table.opening(2)).not_to_contain_text("left open")
    expect(table.opening(6)).to_contain_text("left open")
    # The palm comes down after the pen.
    at = spot(table, 1)
    pen(session, "mousePressed", *at)
    palm(session, "touchStart", rest)
    palm(session, "touchEnd")
    pen(session, "mouseReleased", *at)
    expect(table.opening(1)).not_to_contain_text("left open")
    expect(table.opening(6)).to_contain_text("left open")


def test_a_device_with_little_memory_gets_smaller_canvases(revisit: Visit) -> None:
    table = revisit("tablet")
    table.page.add_init_script("Object.defineProperty(navigator, 'deviceMemory', {get: () => 2})")
    table.page.set_viewport_size({"width": 2732, "height": 2048})
    table.page.reload()
    table.wait_until_ready()
    assert 1e6 < table.page.evaluate(CANVAS_PIXELS) <= 3.01e6


def test_a_browser_without_what_the_page_is_drawn_and_unpacked_with_is_told_first(visit: Visit) -> None:
    table = visit("tablet")
    table.wait_until_ready()
    for name in ("OffscreenCanvas", "DecompressionStream"):
        table.page.add_init_script(f"delete window.{name}")
        table.page.reload(wait_until="domcontentloaded")
        expect(table.page.locator("#too-old")).to_be_visible()
