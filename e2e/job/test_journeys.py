"""The whole job on upright screens and by keyboard; undo by a tap of fingers; stillness.

The tests of the main job do it on a tablet by touch and on a laptop by mouse.
"""

from collections.abc import Callable, Sequence

import pytest
from playwright.sync_api import Locator, expect

from e2e.drawn import card_is_drawn
from e2e.panels import window_svg
from e2e.table import Table

Visit = Callable[[str], Table]

BEYOND = "document.documentElement.scrollHeight - innerHeight"
"""By how many px the page is taller than the window: what is focused would push it about."""
MOVING = "document.getAnimations().filter((each) => each.effect.getComputedTiming().duration > 1).length"


class Keyboard:
    """Hands that have nothing but keys."""

    def __init__(self, table: Table) -> None:
        self.table = table

    def press(self, target: Locator) -> None:
        """Reach a control and press Enter, as after Tab."""
        target.focus()
        self.table.page.keyboard.press("Enter")


@pytest.mark.parametrize(
    ("name", "by_keys"),
    [("tablet-upright", False), ("phone", False), ("laptop", True)],
)
def test_a_design_becomes_sheets(visit: Visit, name: str, by_keys: bool) -> None:
    table = visit(name)
    page = table.page
    press = Keyboard(table).press if by_keys else table.press
    page.emulate_media(reduced_motion="reduce")
    table.wait_until_ready()
    table.drop("window.svg", window_svg())
    expect(table.openings).to_have_count(6)
    width = page.get_by_role("textbox", name="Width", exact=True)
    width.fill("120 mm")
    width.press("Enter")
    expect(width).to_have_value("4 23/32 in")
    assert card_is_drawn(table)
    table.picture("journey-design")
    press(page.get_by_role("button", name="That is right"))
    press(page.get_by_role("button", name="Choose papers"))
    expect(page.locator("[data-place=papers]")).to_have_attribute("aria-current", "page")
    press(page.locator(".sheet").nth(1))
    page.get_by_role("listbox", name="Openings of the design").focus()
    for key in ("Home", "Enter", "End", "Enter"):
        page.keyboard.press(key)
    expect(table.opening(1)).not_to_contain_text("left open")
    expect(table.opening(6)).not_to_contain_text("left open")
    assert page.evaluate(BEYOND) <= 0
    assert page.evaluate(MOVING) == 0, "nothing moves where the person asked for stillness"
    table.picture("journey-papers")
    press(page.get_by_role("button", name="Lay out the mats"))
    expect(page.locator(".trim-row").first).to_be_visible()
    table.picture("journey-mats")
    press(page.get_by_role("button", name="Glue up"))
    press(page.get_by_role("button", name="Take the sheets"))
    zipped = page.locator("a.file", has_text="zip").first
    expect(zipped).to_be_visible()
    with page.expect_download() as waiting:
        press(zipped)
    assert waiting.value.suggested_filename.endswith(".zip")
    table.picture("journey-sheets")
    press(page.locator("[data-place=mats]"))
    expect(table.search_ended).to_be_visible()
    press(page.locator("[data-place=design]"))
    assert card_is_drawn(table)


def test_two_fingers_take_back_and_three_do_again_while_a_pinch_does_neither(visit: Visit) -> None:
    table = visit("tablet")
    table.wait_until_ready()
    table.drop("window.svg", window_svg())
    expect(table.openings).to_have_count(6)
    table.go("Papers")
    table.press(table.page.locator(".sheet").nth(1))
    listed = table.page.get_by_role("listbox", name="Openings of the design")
    listed.focus()
    table.page.keyboard.press("Home")
    table.page.keyboard.press("Enter")
    expect(table.opening(1)).not_to_contain_text("left open")
    fingers = Fingers(table)
    fingers.pinch()
    expect(table.page.get_by_role("button", name="Undo")).to_be_enabled()
    expect(table.opening(1)).not_to_contain_text("left open")
    fingers.tap(2)
    expect(table.opening(1)).to_contain_text("left open")
    fingers.tap(3)
    expect(table.opening(1)).not_to_contain_text("left open")


class Fingers:
    """Several fingers on the screen at once."""

    def __init__(self, table: Table) -> None:
        self.devtools = table.context.new_cdp_session(table.page)

    def touch(self, kind: str, spots: Sequence[tuple[float, float]]) -> None:
        """Put fingers down, move or lift them."""
        points = [{"x": x, "y": y, "id": at} for at, (x, y) in enumerate(spots)]
        self.devtools.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    def tap(self, count: int) -> None:
        """Tap with several fingers at once."""
        self.touch("touchStart", [(250.0 + 70 * at, 300.0) for at in range(count)])
        self.touch("touchEnd", [])

    def pinch(self) -> None:
        """Spread two fingers."""
        self.touch("touchStart", [(250, 300), (330, 300)])
        for step in range(1, 9):
            self.touch("touchMove", [(250 - 8 * step, 300), (330 + 8 * step, 300)])
        self.touch("touchEnd", [])
