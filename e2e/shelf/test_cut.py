"""What is cut leaves the papers for all projects, what is left comes back, and both can be undone."""

from collections.abc import Callable

from playwright.sync_api import Locator, expect

from e2e.keeping.test_travel import bring, saved_file
from e2e.panels import window_svg
from e2e.shelf.test_papers import at_papers, button
from e2e.shelf.test_stash import new_paper, open_stash
from e2e.table import Table

Visit = Callable[[str], Table]


def told_of(table: Table, stash: Locator, paper: str) -> Locator:
    return stash.locator("[data-paper]", has_text=paper).locator("small")


def test_sheets_leave_when_they_are_cut_and_the_plan_stays_as_it_was_cut(revisit: Visit) -> None:
    table = at_papers(revisit("tablet"))
    page = table.page
    new_paper(table, "Samphire", "#3f9a4c", "Marsh", "3")
    table.drop("first.svg", window_svg())
    expect(page.get_by_role("heading", level=1)).to_contain_text("first")
    expect(table.openings).to_have_count(6)
    table.go("Papers")
    table.pick("Samphire")
    table.press(page.get_by_title("all alike", exact=True))
    page.get_by_role("listbox", name="Openings of the design").focus()
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    expect(page.locator("#opening-1")).to_contain_text("Samphire")

    table.go("Glue-up")
    cut = button(table, "I have cut this")
    expect(cut).to_be_enabled()
    table.press(cut)
    dialog = page.locator("dialog[open]")
    expect(dialog).to_contain_text("Out: 1 sheet")
    expect(dialog).to_contain_text("Back as scraps:")
    table.picture("cut-dialog")
    table.press(dialog.get_by_role("button", name="Yes, it is cut"))
    expect(page.get_by_text("its sheets and scraps have left My papers")).to_be_visible()
    table.picture("cut")

    table.go("Mats")
    expect(page.locator(".by-paper", has_text="Samphire").first, "as it was cut").to_contain_text("1 sheet")
    at_papers(table)
    stash = open_stash(table)
    expect(told_of(table, stash, "Samphire")).to_contain_text("2 sheets")
    expect(stash.get_by_text("Only what runs low")).to_be_hidden()
    table.press(stash.get_by_text("What was cut"))
    expect(stash.locator(".version")).to_contain_text("first")
    table.picture("cut-history")
    table.press(stash.get_by_role("button", name="Close"))

    # A step back in the project brings no paper back that was cut.
    page.keyboard.press("Control+z")
    stash = open_stash(table)
    expect(told_of(table, stash, "Samphire")).to_contain_text("2 sheets")
    table.press(stash.get_by_role("button", name="Close"))
    page.keyboard.press("Control+Shift+z")

    # On another computer all is as it was here, and what was cut can still be taken back.
    table.press(page.locator("#menu-button"))
    table.press(page.get_by_role("button", name="Save everything as a file"))
    packed = page.get_by_role("dialog", name="Save everything as a file")
    data = saved_file(table, packed.get_by_role("button", name="Save as a file"))
    devtools = table.context.new_cdp_session(page)
    origin = {"origin": page.evaluate("location.origin"), "storageTypes": "indexeddb"}
    devtools.send("Storage.clearDataForOrigin", origin)
    page.reload()
    table.wait_until_ready()
    bring(table, "everything.zip", data)
    dialog = page.get_by_role("dialog", name="Everything from a file")
    table.press(dialog.get_by_role("button", name="Add what is not here"))
    expect(dialog).to_contain_text("1 paper was added")
    table.press(dialog.get_by_role("button", name="Show the projects"))
    table.press(page.locator("dialog[open] .kept .tile", has_text="first"))
    expect(page.get_by_role("heading", level=1)).to_contain_text("first")
    table.go("Glue-up")
    expect(page.get_by_text("its sheets and scraps have left My papers")).to_be_visible()
    table.press(button(table, "Take it back"))
    expect(button(table, "I have cut this")).to_be_visible()
    at_papers(table)
    stash = open_stash(table)
    expect(told_of(table, stash, "Samphire")).to_contain_text("3 sheets")
    expect(stash.get_by_text("What was cut")).to_be_hidden()

    # Changed in the stash, a paper is changed here too.
    table.press(stash.locator(".sheet", has_text="Samphire"))
    table.press(stash.get_by_role("button", name="Change this paper"))
    change = page.locator("dialog[open]").last
    change.get_by_label("Name").fill("Glasswort")
    change.get_by_label("Sheets at hand").fill("1")
    table.picture("stash-change")
    table.press(change.get_by_role("button", name="Keep the changes"))
    expect(told_of(table, stash, "Glasswort")).to_contain_text("1 sheet")
    table.press(stash.get_by_text("Only what runs low"))
    expect(stash.locator(".sheet")).to_have_count(1)
    table.picture("stash-low")
    table.press(stash.get_by_role("button", name="Close"))
    expect(page.locator(".sheet", has_text="Glasswort").first).to_be_visible()
