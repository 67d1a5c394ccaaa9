"""Access for everyone: what axe-core finds, sizes for fingers, large text, the keyboard, high contrast."""

from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import expect
from pypdfium2 import PdfDocument

from e2e.table import Table
from workshop.javascript import access_rules

Visit = Callable[[str], Table]
PLACES = ("Design", "Papers", "Mats", "Glue-up")
TARGET_PX = 44

FINDINGS = """async (rules) => (await axe.run(document, {rules})).violations.flatMap(
    ({id, nodes}) => nodes.map(({target, failureSummary}) => `${id}: ${target} ${failureSummary}`))"""

# What a finger reaches for; a field's own label and a choice's whole option count as one with it.
SMALL_TARGETS = """(least) => [...document.querySelectorAll("button, a[href], select, input, [role=tab]")]
    .map((each) => each.closest("label") ?? each)
    .filter((each) => !each.closest(".unseen") && each.checkVisibility({visibilityProperty: true}))
    .map((each) => [each, each.getBoundingClientRect()])
    .filter(([each, {width, height}]) => !each.classList.contains("unseen") && height > 0
        && (height < least - 0.5 || width < least - 0.5))
    .map(([each, {width, height}]) => [each.className || each.tagName, each.textContent.trim().slice(0, 30),
        Math.round(width), Math.round(height)].join(" "))"""

CUT_OFF = """() => [...document.querySelectorAll("#shelf-room, #shelf-foot, .places, .head, body")]
    .filter((each) => each.scrollWidth > each.clientWidth + 1)
    .map((each) => [each.id || each.className, each.scrollWidth, each.clientWidth, "for",
        ...[...each.querySelectorAll("*")]
            .filter((part) => part.getBoundingClientRect().right > each.getBoundingClientRect().right + 1)
            .map((part) => part.className || part.tagName)].join(" "))"""

STILL_CUT_OFF = f"""async () => {{
    let found = [];
    for (let frames = 0; frames < 120; frames += 1) {{
        found = ({CUT_OFF})();
        if (found.length === 0) break;
        await new Promise(requestAnimationFrame);
    }}
    return found;
}}"""
"""What stays cut off once two seconds' frames were drawn: large text may come a moment after the page."""


SMALLEST_PX, TITLE_PX = 9, 14
"""What is written smallest on the table, an opening's number, and a mat's title, at the usual size."""

NOTE_WRITING = """
    window.written = [];
    const write = CanvasRenderingContext2D.prototype.fillText;
    CanvasRenderingContext2D.prototype.fillText = function (...what) {
        window.written.push(this.font.match(/[\\d.]+px/)[0]);
        return write.apply(this, what);
    };"""


@pytest.fixture
def demo(visit: Visit) -> Table:
    """The demo on a tablet, with the rules of axe-core at hand."""
    table = visit("tablet")
    table.wait_until_ready()
    table.page.evaluate(access_rules())
    return table


def findings(table: Table, *, forced: bool = False) -> list[str]:
    """Return what axe-core finds on the page as it is.

    Under forced colours the device's own are drawn, while computed styles still tell the page's (used values
    alone change: CSS Color Adjustment Level 1, section 3.1); so contrast can't be read from them.
    """
    table.wait_for_frames()
    found: list[str] = table.page.evaluate(FINDINGS, {"color-contrast": {"enabled": not forced}})
    return found


def test_nothing_shuts_people_out_in_any_look_at_any_place(demo: Table) -> None:
    looks: dict[str, dict[str, Any]] = {
        "light": {"color_scheme": "light", "forced_colors": "none", "contrast": "no-preference"},
        "dark": {"color_scheme": "dark", "forced_colors": "none", "contrast": "no-preference"},
        "more contrast": {"color_scheme": "light", "forced_colors": "none", "contrast": "more"},
        "forced colours": {"color_scheme": "dark", "forced_colors": "active", "contrast": "more"},
    }
    demo.page.emulate_media(reduced_motion="reduce")
    found = []
    for place in PLACES:
        demo.go(place)
        for look, media in looks.items():
            demo.page.emulate_media(**media)
            found += [
                f"{place}, {look}: {finding}" for finding in findings(demo, forced=look == "forced colours")
            ]
            demo.picture(f"access-{place.lower()}-{look.replace(' ', '-')}")
    demo.page.emulate_media(**looks["light"])
    demo.press(demo.page.locator("#menu-button"))
    demo.press(demo.page.get_by_text("High contrast"))
    found += [f"menu: {finding}" for finding in findings(demo)]
    demo.press(demo.page.get_by_text("How it goes"))
    found += [f"guide: {finding}" for finding in findings(demo)]
    demo.picture("guide")
    assert len(PdfDocument(demo.page.pdf(format="A4"))) == 1
    demo.page.keyboard.press("Escape")
    for place in PLACES:
        demo.go(place)
        found += [f"{place}, high contrast: {finding}" for finding in findings(demo)]
    assert found == [], "\n".join(found)


def test_fingers_reach_everything_and_large_text_stays_whole(demo: Table) -> None:
    small, cut_off = [], []
    for place in PLACES:
        demo.go(place)
        small += [f"{place}: {each}" for each in demo.page.evaluate(SMALL_TARGETS, TARGET_PX)]
    twice = {"fontSizes": {"standard": 32, "fixed": 26}}
    demo.context.new_cdp_session(demo.page).send("Page.setFontSizes", twice)
    demo.page.add_init_script(NOTE_WRITING)
    demo.page.reload()
    demo.wait_until_ready()
    for place in PLACES:
        demo.go(place)
        if place == "Mats":
            demo.settle_for_first_plan()
        cut_off += [f"{place}: {each}" for each in demo.page.evaluate(STILL_CUT_OFF)]
        demo.picture(f"large-text-{place.lower()}")
    written = demo.page.evaluate("window.written.map(parseFloat)")
    assert small + cut_off == [], "\n".join(small + cut_off)
    assert min(written) >= 2 * SMALLEST_PX, "what is written on the table grows, too"
    assert max(written) >= 2 * TITLE_PX


def test_the_keyboard_alone_gives_papers_and_its_focus_is_seen(visit: Visit) -> None:
    table = visit("laptop")
    table.wait_until_ready()
    keyboard = table.page.keyboard
    papers = table.page.locator("[data-place=papers]")
    papers.focus()
    keyboard.press("Enter")
    assert papers.evaluate("(each) => getComputedStyle(each).outlineStyle") != "none"
    sheets = table.page.locator(".sheet")
    wanted = sheets.nth(2)
    wanted.focus()
    keyboard.press("Enter")
    table.page.get_by_role("listbox", name="Openings of the design").focus()
    chosen = table.page.get_by_role("option", selected=True)
    keyboard.press("End")
    before = chosen.inner_text()
    keyboard.press("Enter")
    expect(chosen).not_to_have_text(before)
    keyboard.press("Control+z")
    expect(chosen).to_have_text(before)
