"""What is shown is always of what is open, also while answers are late."""

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from playwright.sync_api import expect

from e2e.panels import window_svg
from e2e.table import Table

Visit = Callable[[str], Table]

# Calls of the names in `window.late` go to Python only once they are let go.
HOLD = """window.late = [];
window.kept = [];
window.Worker = class extends Worker {
    postMessage(message, ...rest) {
        if (window.late.includes(message.call)) window.kept.push(() => super.postMessage(message, ...rest));
        else super.postMessage(message, ...rest);
    }
};"""
LET_GO = "window.late = []; for (const send of window.kept.splice(0)) send();"
ONE_PANE = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="90mm" viewBox="0 0 120 90">'
    '<path fill-rule="evenodd" d="M0 0H120V90H0ZM20 20H100V70H20Z"/></svg>'
)

# Three files let go over the page at once.
DROP_ALL = """(text) => {
    const data = new DataTransfer();
    for (const name of ["first.svg", "second.svg", "third.svg"]) data.items.add(new File([text], name));
    const drop = new DragEvent("drop", {dataTransfer: data, bubbles: true});
    document.querySelector("#stage").dispatchEvent(drop);
}"""


@contextmanager
def late(table: Table, *calls: str) -> Iterator[None]:
    """Hold back some calls of Python's for a while."""
    table.page.evaluate("(calls) => { window.late = calls; }", list(calls))
    yield
    table.page.evaluate(LET_GO)


def test_what_is_shown_is_of_what_is_open(visit: Visit) -> None:
    table = visit("tablet")
    page = table.page
    table.context.add_init_script(HOLD)
    page.reload()
    table.wait_until_ready()
    table.drop("window.svg", window_svg())
    expect(table.openings).to_have_count(6)
    behind = page.locator(".stage-behind")
    expect(behind).to_be_hidden()

    # A size: what is seen is dimmed and says so until the new one is there; no paper goes to old numbers.
    with late(table, "design"):
        width = page.get_by_label("Width", exact=True).first
        width.fill("100 mm")
        width.press("Enter")
        expect(behind).to_contain_text("still as it was")
        expect(page.locator(".stage-canvas")).to_have_css("opacity", "0.4")
        table.picture("dimmed")
        table.go("Papers")
        page.get_by_role("listbox", name="Openings of the design").press("Home")
        page.get_by_role("listbox", name="Openings of the design").press("Enter")
        expect(table.opening(1)).to_contain_text("left open")
    expect(behind).to_be_hidden()
    expect(page.locator(".stage-canvas")).to_have_css("opacity", "1")
    expect(table.opening(1)).to_contain_text("left open")

    # Another design, opened from the page tab: all changes together, and the page is left.
    page.get_by_role("tab", name="Page").click()
    expect(page.get_by_text("Grid")).to_be_visible()
    with late(table, "design", "backing"):
        table.drop("pane.svg", ONE_PANE)
        expect(page.locator("#project-name")).to_have_text("pane")
        expect(table.openings).to_have_count(1)
        expect(page.locator("[data-place=design]")).to_have_attribute("aria-current", "page")
    expect(page.locator(".design-count")).to_have_text("1 opening")

    # Of several designs all are shown by name; what was open stays till one of them is chosen.
    page.evaluate(DROP_ALL, window_svg())
    tray = page.locator("dialog[open] .tray-design")
    expect(tray).to_have_text([re.compile(name) for name in ("first", "second", "third")])
    expect(page.locator("#project-name")).to_have_text("pane")
    table.press(tray.first)
    expect(page.locator("#project-name")).to_have_text("first")
    expect(table.openings).to_have_count(6)
