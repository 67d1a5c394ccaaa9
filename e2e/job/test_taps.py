"""How many taps the job takes."""

from collections.abc import Callable

from playwright.sync_api import expect

from e2e.table import Table
from peekpaper.demo.harbour import demo_project

Visit = Callable[[str], Table]
MOST_TAPS = 8

COUNT_TAPS = """() => {
    window.taps = 0;
    addEventListener("pointerdown", (event) => { window.taps += event.isTrusted ? 1 : 0; }, {capture: true});
}"""


def test_a_dropped_file_becomes_downloaded_sheets_in_eight_taps(visit: Visit) -> None:
    table = visit("tablet")
    table.wait_until_ready()
    page = table.page
    page.locator("[data-place=glue-up]").press("Enter")
    page.evaluate(COUNT_TAPS)
    table.drop("harbour.svg", demo_project().source.svg)
    expect(page.locator(".openings [role=option]", has_not_text="left open")).to_have_count(0)
    # What comes in is looked at first, wherever the person was: its size and its readings.
    expect(page.locator("[data-place=design]")).to_have_attribute("aria-current", "page")
    expect(page.locator(".size-picture canvas")).to_be_visible()
    expect(page.get_by_role("textbox", name="Width", exact=True)).to_be_visible()
    # It stands below what it is about, and covers none of it.
    table.press(page.locator("#shelf-foot").get_by_role("button", name="That is right"))
    expect(page.get_by_role("textbox", name="Width", exact=True)).to_be_hidden()
    expect(page.locator(".summary")).to_contain_text("to mend")
    table.press(page.get_by_role("button", name="Choose papers"))
    expect(page.locator("#shelf-room")).to_be_focused()
    table.press(page.get_by_role("tab", name="Suggest"))
    table.press(page.get_by_role("tabpanel").get_by_role("button", name="Suggest", exact=True))
    expect(page.locator(".openings [role=option]", has_not_text="left open").first).to_be_attached()
    table.press(page.get_by_role("button", name="Lay out the mats"))
    expect(page.get_by_text("Done.")).to_be_visible()
    table.press(page.get_by_role("button", name="Glue up"))
    table.press(page.get_by_role("button", name="Take the sheets"))
    saved = table.take(page.locator("a.file", has_text="zip").first)
    assert saved.suggested_filename.endswith(".zip")
    assert page.evaluate("window.taps") <= MOST_TAPS
