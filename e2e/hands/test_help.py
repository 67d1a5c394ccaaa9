"""Help in place: every control at every place tells in a line and a small picture what it does."""

from collections.abc import Callable

import pytest
from playwright.sync_api import expect

from e2e.table import Table

Visit = Callable[[str], Table]

# Controls that are seen and have no line, or a picture that is not drawn.
UNTOLD = """async () => {
    const {CONTROLS, lineOf} = await import(new URL("help/lines.js", document.baseURI));
    const drawn = new Map();
    const isDrawn = async (href) => {
        const [file, symbol] = href.split("#");
        if (!drawn.has(file)) drawn.set(file, await (await fetch(file)).text());
        return drawn.get(file).includes(`<symbol id="${symbol}"`);
    };
    const top = [...document.querySelectorAll("dialog[open]")].at(-1) ?? document.body;
    for (const fold of top.querySelectorAll("details")) fold.open = true;
    const untold = [];
    for (const control of top.querySelectorAll(CONTROLS)) {
        if (!control.checkVisibility() || control.closest("label.choice-option, label.toggle") !== null
            && control instanceof HTMLInputElement) continue;
        if (control.matches("[aria-hidden=true], .help-toggle")) continue;
        const found = lineOf(control);
        if (found && found.line && await isDrawn(found.picture)) continue;
        untold.push(`${control.tagName} ${control.className} ${control.getAttribute("aria-label") ??
            control.textContent.trim().slice(0, 40)} ${found?.picture ?? ""}`);
    }
    return untold;
}"""


@pytest.fixture
def demo(visit: Visit) -> Table:
    table = visit("tablet")
    table.wait_until_ready()
    return table


def untold(table: Table, where: str) -> list[str]:
    return [f"{where}: {each}" for each in table.page.evaluate(UNTOLD)]


def untold_by(table: Table, button: str) -> list[str]:
    """Open a dialog by its button, look, and close it."""
    table.press(table.page.get_by_role("button", name=button))
    expect(table.page.locator("dialog[open]")).to_be_visible()
    found = untold(table, button)
    table.page.keyboard.press("Escape")
    expect(table.page.locator("dialog[open]")).to_have_count(0)
    return found


def test_every_control_tells_in_a_line_and_a_picture_what_it_does(demo: Table) -> None:
    page = demo.page
    found = untold(demo, "Design")
    demo.go("Papers")
    found += untold(demo, "Give")
    for name in ("New paper", "Change this paper", "Take off the shelf"):
        found += untold_by(demo, name)
    for part in ("Suggest", "Colourways", "Page"):
        demo.press(page.get_by_role("tab", name=part))
        page.wait_for_function("document.querySelector('[role=tabpanel]:not([hidden]) button')")
        found += untold(demo, part)
    demo.press(page.get_by_role("tabpanel").get_by_role("button", name="Photo", exact=True))
    expect(page.get_by_role("button", name="Choose its photo")).to_be_visible()
    found += untold(demo, "photo on the page")
    demo.press(page.get_by_role("tab", name="Colourways"))
    for name in ("Compare", "Rename", "Swap a paper everywhere"):
        found += untold_by(demo, name)
    demo.go("Mats")
    expect(page.locator(".trim-row").first).to_be_visible()
    found += untold(demo, "Mats")
    # A better plan lays the trim in hand down.
    demo.settle_for_first_plan()
    demo.press(page.locator(".trim-row").first)
    demo.press(page.locator(".piece-chip").first)
    expect(page.get_by_role("button", name="Whole trim")).to_be_visible()
    found += untold(demo, "piece in hand")
    demo.go("Glue-up")
    found += untold(demo, "Sheets")
    demo.press(page.get_by_role("tab", name="Glue, step by step"))
    demo.unfold("All pieces, to tick")
    expect(page.locator(".glue-chip").first).to_be_visible()
    found += untold(demo, "Glue, step by step")
    demo.press(page.locator("#menu-button"))
    expect(page.locator(".kept-more").first).to_be_visible()
    found += untold(demo, "menu")
    demo.press(page.locator(".kept-more").first)
    found += untold(demo, "kept project")
    page.keyboard.press("Escape")
    demo.press(page.get_by_role("button", name="Link for a friend"))
    expect(page.get_by_role("button", name="Copy the link")).to_be_visible()
    found += untold(demo, "link")
    page.keyboard.press("Escape")
    demo.press(page.locator("#menu-button"))
    demo.press(page.get_by_role("button", name="How it goes"))
    found += untold(demo, "guide")
    assert found == [], "\n".join(found)


def test_help_tells_of_what_is_tapped_and_reached_by_tab_and_does_nothing(demo: Table) -> None:
    page = demo.page
    card = page.locator(".help-card")
    ask = page.locator(".help-toggle").first
    demo.unfold("Finer settings")
    demo.press(ask)
    expect(card).to_contain_text("Tap or point at anything")
    demo.picture("help")
    demo.press(page.locator("[data-place=papers]"))
    expect(card).to_contain_text("which opening gets which")
    expect(page.locator("[data-place=design]")).to_have_attribute("aria-current", "page")
    strength = page.get_by_role("switch", name="Show how strong the bars are")
    strength.focus()
    expect(card).to_contain_text("from thin to sturdy")
    page.keyboard.press("Space")
    expect(strength).not_to_be_checked()
    demo.picture("help-toggle")
    demo.tap_at(300, 300)
    expect(card).to_contain_text("The table with your work")
    expect(page.locator(".detail")).to_have_count(0)
    demo.press(ask)
    expect(card).to_have_count(0)
    demo.go("Papers")
    expect(page.locator("[data-place=papers]")).to_have_attribute("aria-current", "page")
    demo.press(page.get_by_text("More papers"))
    demo.press(page.get_by_role("button", name="New paper"))
    demo.press(page.locator("dialog[open] .help-toggle"))
    demo.press(page.locator("dialog[open]").get_by_role("button", name="Put on the shelf"))
    expect(page.locator("dialog[open] .help-card")).to_contain_text("Puts the paper on the shelf.")
    demo.picture("help-dialog")
    page.keyboard.press("Escape")
    expect(card).to_have_count(0)
    expect(page.locator("dialog[open]")).to_have_count(1)
